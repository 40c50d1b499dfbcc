package templates

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/charmbracelet/glamour"
	"github.com/charmbracelet/x/ansi"
)

// prose sets words for a terminal. Glamour styles them and leaves the lines
// whole; breaking them here lets the lines of a list hang behind their mark.
type prose struct {
	glamour *glamour.TermRenderer
	width   int
	color   bool
}

func newProse(width int, color bool) (*prose, error) {
	g, err := glamour.NewTermRenderer(glamour.WithStyles(style(color)), glamour.WithWordWrap(0))
	if err != nil {
		return nil, fmt.Errorf("showing the document: %w", err)
	}
	return &prose{g, width, color}, nil
}

func (p *prose) block(b block) (string, error) {
	switch b.kind {
	case tableBlock:
		return drawTable(b.lines, p.width, p.color), nil
	case codeBlock:
		return drawCode(b.lines), nil
	case quoteBlock:
		return p.each(b.lines, quoteMark)
	case listBlock:
		return p.each(b.lines, itemMarks)
	}
	return p.set(strings.Join(b.lines, "\n"), "", "")
}

// itemMark is what an item of a list begins with; an item is one line.
var itemMark = regexp.MustCompile(`^(- |[0-9]{1,3}\. )`)

func isItem(line string) bool { return itemMark.MatchString(line) }

// itemMarks returns an item's mark, what its further lines begin with, and its
// words.
func itemMarks(line string) (first, further, words string) {
	mark := itemMark.FindString(line)
	first = strings.Replace(mark, "- ", "• ", 1)
	return first, strings.Repeat(" ", ansi.StringWidth(first)), line[len(mark):]
}

func quoteMark(line string) (first, further, words string) {
	return "┃ ", "┃ ", strings.TrimPrefix(line, "> ")
}

// each sets every line by itself behind its marks.
func (p *prose) each(lines []string, marks func(string) (first, further, words string)) (string, error) {
	var out []string
	for _, line := range lines {
		first, further, words := marks(line)
		set, err := p.set(words, first, further)
		if err != nil {
			return "", err
		}
		out = append(out, set)
	}
	return strings.Join(out, "\n"), nil
}

// set styles words, breaks their lines and puts first before the first line and
// further before the others.
func (p *prose) set(words, first, further string) (string, error) {
	styled, err := p.glamour.Render(entities(words))
	if err != nil {
		return "", err
	}
	var out []string
	for line := range strings.SplitSeq(strings.Trim(styled, "\n"), "\n") {
		out = append(out, wrap(line, p.width-ansi.StringWidth(first))...)
	}
	for i := range out {
		mark := further
		if i == 0 {
			mark = first
		}
		out[i] = strings.TrimRight(mark+out[i], " ")
	}
	return strings.Join(out, "\n"), nil
}

var escaped = regexp.MustCompile(`\\.`)

// entities writes the escapes that glamour does not know as references, which
// it resolves.
func entities(words string) string {
	return escaped.ReplaceAllStringFunc(words, func(e string) string {
		if strings.ContainsAny(e[1:], "~$@:=") {
			return fmt.Sprintf("&#%d;", e[1])
		}
		return e
	})
}

// drawCode shows commands as they are typed, set in and in whole lines.
func drawCode(lines []string) string {
	var out []string
	for i, line := range lines {
		if last := i == len(lines)-1; i > 0 && !(last && strings.HasPrefix(line, fence)) {
			out = append(out, "    "+line)
		}
	}
	return strings.Join(out, "\n")
}

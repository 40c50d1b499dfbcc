package templates

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	markdown "github.com/yuin/goldmark/text"

	"proveout/templates/page"
)

// inlines reads what stands in a cell.
var inlines = goldmark.New(goldmark.WithExtensions(extension.Strikethrough)).Parser()

// inline returns the words of a cell without its Markdown; of a link, its text.
func inline(cell string) string {
	const lead = "x " // so that nothing in the cell begins a block
	source := []byte(lead + cell)
	var b strings.Builder
	_ = ast.Walk(inlines.Parse(markdown.NewReader(source)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok && entering {
			b.WriteString(page.Text(t, source))
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(strings.TrimPrefix(b.String(), strings.TrimSpace(lead)))
}

// piece is a part of a text that no line may break.
type piece struct {
	text string
	glue string // what stands before it in the same line: a space, or nothing
}

// pieces splits a text where lines may break it. A number stays with the number
// and with the word that follow it, so "5 1/2 in" is one piece; a long name,
// such as that of a hold, may break behind its signs.
func pieces(text string) []piece {
	var all []piece
	open := false // the last piece wants the next word
	for _, word := range strings.Fields(text) {
		if open {
			all[len(all)-1].text += " " + word
		} else {
			for i, part := range nameParts(word) {
				all = append(all, piece{part, []string{" ", ""}[min(i, 1)]})
			}
		}
		open = opens(ansi.Strip(word))
	}
	return all
}

// opens reports whether a word stays with the one that follows it.
func opens(word string) bool { return isNumber(word) || word == "%" || word == "°" }

// keepUnits ties each number to its unit, so that no line of a page breaks
// between them.
func keepUnits(text string) string {
	words := strings.Split(text, " ")
	var b strings.Builder
	for i, word := range words {
		b.WriteString(word)
		switch {
		case i == len(words)-1:
		case opens(word) && words[i+1] != "":
			b.WriteRune('\u00a0')
		default:
			b.WriteByte(' ')
		}
	}
	return b.String()
}

// isNumber reports whether a word begins a quantity whose unit follows.
func isNumber(word string) bool {
	digits := strings.TrimLeft(word, "(+-−±")
	return digits != "" && digit(digits[0]) && strings.Trim(digits, "0123456789./") == ""
}

// longName is the length from which a name may be broken.
const longName = 18

// nameParts breaks a long name behind the dots, hyphens and slashes between its
// letters.
func nameParts(word string) []string {
	if len(word) < longName {
		return []string{word}
	}
	var parts []string
	start := 0
	for i := 1; i+1 < len(word); i++ {
		if strings.IndexByte(".-/", word[i]) >= 0 && letter(word[i-1]) && letter(word[i+1]) {
			parts = append(parts, word[start:i+1])
			start = i + 1
		}
	}
	return append(parts, word[start:])
}

// wrap breaks a text, which may be in color, into lines of at most width; a
// piece that is wider stands alone.
func wrap(text string, width int) []string {
	var lines []string
	for _, p := range pieces(text) {
		last := len(lines) - 1
		if last >= 0 && ansi.StringWidth(lines[last]+p.glue+p.text) <= width {
			lines[last] += p.glue + p.text
			continue
		}
		lines = append(lines, p.text)
	}
	if lines == nil {
		return []string{""}
	}
	return lines
}

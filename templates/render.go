package templates

import (
	"fmt"
	"strings"
	"unicode"
)

// Render sets a document for a terminal of the given width: words by glamour,
// tables by this package. Without color the text has no escape sequence at all.
// A number is never broken from its unit, and the lines of commands are never
// broken.
func Render(markdown string, width int, color bool) (string, error) {
	p, err := newProse(max(width, leastWidth), color)
	if err != nil {
		return "", err
	}
	var parts []string
	for _, b := range blocks(visible(markdown)) {
		part, err := p.block(b)
		if err != nil {
			return "", fmt.Errorf("showing the document: %w", err)
		}
		if part = strings.Trim(part, "\n"); part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, "\n\n") + "\n", nil
}

// leastWidth is the narrowest terminal that documents are set for.
const leastWidth = 40

// visible drops the characters that steer a terminal, and keeps references to
// them from being resolved; no document of ours has one.
func visible(markdown string) string {
	markdown = strings.ReplaceAll(markdown, "&#", "&amp;#")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && !joiner(r):
			return -1
		}
		return r
	}, markdown)
}

// block is a run of lines of one kind.
type block struct {
	kind  blockKind
	lines []string
}

type blockKind int

const (
	wordBlock blockKind = iota
	tableBlock
	listBlock
	quoteBlock
	codeBlock
)

const fence = "```"

// blocks cuts a document into its blocks.
func blocks(markdown string) []block {
	lines := strings.Split(markdown, "\n")
	var all []block
	for i := 0; i < len(lines); {
		kind, n := kindOf(lines[i:])
		last := len(all) - 1
		if last >= 0 && all[last].kind == kind && kind != tableBlock && kind != codeBlock {
			all[last].lines = append(all[last].lines, lines[i:i+n]...)
		} else {
			all = append(all, block{kind, lines[i : i+n : i+n]})
		}
		i += n
	}
	return all
}

// kindOf says what the lines begin with, and how many of them belong to it.
func kindOf(lines []string) (blockKind, int) {
	switch {
	case strings.HasPrefix(lines[0], fence):
		mark := lines[0][:len(lines[0])-len(strings.TrimLeft(lines[0], "`"))]
		for n := 1; n < len(lines); n++ {
			if strings.HasPrefix(lines[n], mark) {
				return codeBlock, n + 1
			}
		}
		return codeBlock, len(lines)
	case strings.HasPrefix(lines[0], "> "):
		return quoteBlock, 1
	case isItem(lines[0]):
		return listBlock, 1
	}
	if n := tableLength(lines); n > 0 {
		return tableBlock, n
	}
	return wordBlock, 1
}

package templates

import (
	"github.com/charmbracelet/glamour/ansi"
	"github.com/charmbracelet/glamour/styles"
)

// style is how prose looks in a terminal. The colors are the terminal's own
// sixteen, which its owner can read on any background; each comes with another
// sign.
func style(color bool) ansi.StyleConfig {
	s := styles.NoTTYStyleConfig
	s.Document.Margin = number(0)
	s.CodeBlock.Margin = number(2)
	s.List.LevelIndent = 2
	s.BlockQuote.IndentToken = str("┃ ")
	s.H1.Prefix, s.H2.Prefix, s.H3.Prefix = "", "", ""
	s.Strong.BlockPrefix, s.Strong.BlockSuffix = "", ""
	s.Code.BlockPrefix, s.Code.BlockSuffix = "", ""
	if !color {
		s.H1.Prefix, s.H2.Prefix, s.H3.Prefix = "# ", "## ", "### "
		return s
	}
	yes := true
	s.H1.Bold, s.H1.Underline = &yes, &yes
	s.H2.Bold, s.H2.Color = &yes, str("6")
	s.H3.Bold = &yes
	s.Strong.Bold = &yes
	s.Code.Color = str("6")
	s.Link.Underline = &yes
	return s
}

func str(s string) *string { return &s }

func number(n uint) *uint { return &n }

// outcomeColors are the words of a table that stand out, and how.
var outcomeColors = map[string]string{"pass": "32", "FAIL": "1;31", "undecided": "33"}

// paint sets a text in one of the terminal's own colors.
func paint(text, how string, color bool) string {
	if !color || how == "" || text == "" {
		return text
	}
	return "\x1b[" + how + "m" + text + "\x1b[0m"
}

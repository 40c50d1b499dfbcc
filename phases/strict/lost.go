package strict

import (
	"bytes"
	"strings"

	"gopkg.in/yaml.v3"
)

// lost refuses what is sound YAML but reads as something else than a person
// wrote.
func (c *checker) lost(n *yaml.Node, at place) {
	// "stud #3" reads as "stud".
	if text := n.LineComment; len(text) > 1 && '0' <= text[1] && text[1] <= '9' {
		c.fail(n, "what follows on this line from %q on is a comment and would be lost; put the value in quotes, or a space after the #", clip(text))
	}
	if at.flow != nil && n.Line > at.flow.Line && n.Column-1 <= at.indent {
		c.leftOpen(at.flow, "bracket", n.Line)
	}
	switch {
	case n.Kind != yaml.ScalarNode:
	case n.Style == 0 && (strings.Contains(n.Value, " -") || strings.Contains(n.Value, "\n-")):
		c.swallowedItem(n)
	case n.Style == yaml.DoubleQuotedStyle || n.Style == yaml.SingleQuotedStyle:
		c.swallowedKey(n, at.indent)
	}
}

// swallowedKey refuses a quote that was left open and takes in the keys below
// up to the next quote, such as an inch mark. YAML 1.2.2 section 7.3 wants the
// lines of a quoted text indented more than its key; yaml.v3 does not.
func (c *checker) swallowedKey(n *yaml.Node, most int) {
	at := c.lines.offset(n.Line, n.Column)
	if at < 0 || c.lines.data[at] != '"' && c.lines.data[at] != '\'' {
		return // a tag stands before it
	}
	quoted := c.lines.data[at : at+quoteEnd(c.lines.data[at:])]
	if bytes.IndexByte(quoted, '\n') < 0 {
		return
	}
	line := n.Line
	for part := range bytes.Lines(quoted) {
		if line > n.Line && len(bytes.TrimSpace(part)) > 0 && indent(string(part)) <= most {
			c.leftOpen(n, "quote", line)
			return
		}
		line++
	}
}

// leftOpen reports a quote or a bracket once.
func (c *checker) leftOpen(n *yaml.Node, what string, line int) {
	if c.open != n {
		c.open = n
		c.fail(n, "this %s is still open on line %d; close it, or indent that line", what, line)
	}
}

// swallowedItem refuses a list that was meant to stand under a key and became
// part of the text beside the key: "after: framing" with "  - electrical" below
// reads as "framing - electrical".
func (c *checker) swallowedItem(n *yaml.Node) {
	at := c.lines.offset(n.Line, n.Column)
	if at < 0 || bytes.HasPrefix(c.lines.data[at:], []byte(n.Value)) {
		return // it stands on one line
	}
	first, _, _ := bytes.Cut(c.lines.data[at:], []byte("\n"))
	rest := n.Value
	text := string(bytes.TrimSpace(first))
	for line := n.Line + 1; len(text) < len(rest) && line <= c.lines.count(); line++ {
		rest = strings.TrimLeft(rest[len(text):], " \n")
		whole := c.lines.text(line)
		text = strings.TrimSpace(whole)
		if text == "-" || strings.HasPrefix(text, "- ") {
			at := Pos{c.file, line, indent(whole) + 1}
			c.errs = append(c.errs, &Error{at, `this list item becomes part of the text above; move that text into the list, or put it in quotes`})
			return
		}
	}
}

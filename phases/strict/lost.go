package strict

import (
	"bytes"
	"strings"

	"gopkg.in/yaml.v3"
)

// lost refuses what is sound YAML but reads as something else than a person
// wrote.
func (c *checker) lost(n *yaml.Node) {
	// "stud #3" reads as "stud".
	if text := n.LineComment; len(text) > 1 && '0' <= text[1] && text[1] <= '9' {
		c.fail(n, "what follows on this line from %q on is a comment and would be lost; put the value in quotes, or a space after the #", clip(text))
	}
	if n.Kind == yaml.ScalarNode && n.Style == 0 && strings.Contains(n.Value, " -") {
		c.swallowedItem(n)
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

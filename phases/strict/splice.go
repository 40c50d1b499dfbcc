package strict

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Splice replaces the scalar old, which is written at line and column pos,
// with new, and keeps every other byte: comments, order, line ends. The new
// text is quoted as the old one was, or more where it must be. With old ""
// the value of a key that has none is written.
//
// It reads the result to prove that this value changed and nothing else. A
// text that runs over several lines without quotes is refused.
func Splice(file string, data []byte, pos Pos, old, new string) ([]byte, error) {
	pos.File = file
	fail := func(format string, args ...any) ([]byte, error) {
		return nil, &Error{pos, fmt.Sprintf(format, args...)}
	}
	if strings.TrimSpace(new) == "" || !utf8.ValidString(new) {
		return fail("%q cannot be written as a value; give text in UTF-8, or delete the line by hand", new)
	}
	before, err := parse(file, data, false)
	if err != nil {
		return nil, err
	}
	n, flow := scalarAt(before, pos, false)
	if n == nil || n.Value != old {
		return fail("%q is not written here; read the file again, it has changed", clip(old))
	}
	body := withoutBOM(data)
	start, end, err := extent(body, n)
	if err != nil {
		return fail("%v", err)
	}
	text := styled(n, flow, new)
	skipped := len(data) - len(body)
	out := concat(data[:skipped+start], text, data[skipped+end:])
	after, err := parse(file, out, false)
	want := yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: new}
	if err != nil || !sameBut(before, after, n, &want) {
		return fail("%q cannot take the place of %q without touching its neighbours; edit the line by hand", clip(new), clip(old))
	}
	return out, nil
}

func concat(head []byte, text string, tail []byte) []byte {
	out := make([]byte, 0, len(head)+len(text)+len(tail))
	out = append(out, head...)
	out = append(out, text...)
	return append(out, tail...)
}

// scalarAt returns the scalar at a position, and whether it stands in a flow
// collection.
func scalarAt(n *yaml.Node, pos Pos, flow bool) (*yaml.Node, bool) {
	if n.Kind == yaml.ScalarNode {
		if n.Line == pos.Line && n.Column == pos.Column {
			return n, flow
		}
		return nil, false
	}
	flow = flow || n.Style&yaml.FlowStyle != 0
	for _, child := range n.Content {
		if found, inFlow := scalarAt(child, pos, flow); found != nil {
			return found, inFlow
		}
	}
	return nil, false
}

// extent returns where the bytes of a scalar start and end.
func extent(data []byte, n *yaml.Node) (start, end int, err error) {
	lines := lineIndex{data: data}
	if start = lines.offset(n.Line, n.Column); start < 0 {
		return 0, 0, errors.New("no value is written here; edit the line by hand")
	}
	rest := data[start:]
	switch n.Style {
	case yaml.DoubleQuotedStyle, yaml.SingleQuotedStyle:
		return start, start + quoteEnd(rest), nil
	case 0:
		if bytes.HasPrefix(rest, []byte(n.Value)) {
			return start, start + len(n.Value), nil
		}
	}
	return 0, 0, errors.New("the value runs over several lines; edit it by hand")
}

// styled returns new in the style of the scalar that it replaces.
func styled(n *yaml.Node, flow bool, new string) string {
	quoted := doubleQuoted(new)
	switch {
	case n.Style == 0 && plainSafe(new, flow):
		quoted = new
	case n.Style == yaml.SingleQuotedStyle && visible(new):
		quoted = "'" + strings.ReplaceAll(new, "'", "''") + "'"
	}
	if n.Value == "" && n.Style == 0 {
		return " " + quoted
	}
	return quoted
}

package strict

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// InsertAfter adds a field to a file that a person wrote: a new line, or lines,
// after the value of the key at line and column pos, with that key's
// indentation. Every other byte stays. It reads the result to prove that this
// field was added and nothing else changed. A key in a flow collection, {a: 1},
// is refused.
func InsertAfter(file string, data []byte, pos Pos, f Field) ([]byte, error) {
	pos.File = file
	before, err := parse(file, data, false)
	if err != nil {
		return nil, err
	}
	added, err := parse(file, Encode([]Field{f}), true)
	if err != nil || len(added.Content) == 0 {
		return nil, &Error{pos, fmt.Sprintf("key %q cannot be added without a value", clip(f.Key))}
	}
	m, i := keyAt(before, pos)
	if m == nil {
		return nil, &Error{pos, "no key is written here; read the file again, it has changed"}
	}
	want := *m
	want.Content = slices.Insert(slices.Clone(m.Content), i+2, added.Content...)
	for _, at := range lineEnds(data, m, i) {
		out := insertLines(data, at, pos.Column-1, f)
		after, err := parse(file, out, false)
		if err == nil && sameBut(before, after, m, &want) {
			return out, nil
		}
	}
	return nil, &Error{pos, fmt.Sprintf("key %q cannot be added below this line without touching its neighbours; edit the file by hand", clip(f.Key))}
}

// keyAt returns the map whose key is at a position and the key's place in its
// Content.
func keyAt(n *yaml.Node, pos Pos) (*yaml.Node, int) {
	for i, child := range n.Content {
		isKey := n.Kind == yaml.MappingNode && i%2 == 0
		if isKey && child.Line == pos.Line && child.Column == pos.Column {
			return n, i
		}
		if m, j := keyAt(child, pos); m != nil {
			return m, j
		}
	}
	return nil, 0
}

// lineEnds returns the byte offsets after which the new line may go: the ends
// of the lines from the last that the value of m.Content[i] is known to reach,
// to the next key's or, at most, a hundred further.
func lineEnds(data []byte, m *yaml.Node, i int) []int {
	first := lastLine(m.Content[i+1])
	last := first + 100
	if i+2 < len(m.Content) {
		last = min(last, max(first, m.Content[i+2].Line-1))
	}
	var ends []int
	line, at := 1, 0
	for part := range bytes.Lines(data) {
		at += len(part)
		if first <= line && line <= last {
			ends = append(ends, at)
		}
		line++
	}
	return ends
}

// lastLine returns the last line on which something of a value begins.
func lastLine(n *yaml.Node) int {
	line := n.Line
	for _, child := range n.Content {
		line = max(line, lastLine(child))
	}
	return line
}

// insertLines writes a field with the file's line ends at a byte offset.
func insertLines(data []byte, at, indent int, f Field) []byte {
	var e encoder
	e.fields([]Field{f}, indent)
	text := string(e.out)
	ending := "\n"
	if bytes.Contains(data, []byte("\r\n")) {
		ending = "\r\n"
		text = strings.ReplaceAll(text, "\n", ending)
	}
	if at > 0 && data[at-1] != '\n' {
		text = ending + strings.TrimSuffix(text, ending)
	}
	return concat(data[:at], text, data[at:])
}

// sameBut reports whether b is a with the node old replaced by new.
func sameBut(a, b, old, new *yaml.Node) bool {
	if a == old {
		a = new
	}
	if a.Kind != b.Kind || a.Value != b.Value || isNull(a) != isNull(b) || len(a.Content) != len(b.Content) {
		return false
	}
	for i := range a.Content {
		if !sameBut(a.Content[i], b.Content[i], old, new) {
			return false
		}
	}
	return true
}

package strict

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// mostDepth is the deepest nesting of maps and lists; the deepest of the
// program's own formats needs six.
const mostDepth = 20

// checker walks a tree once and notes what the package does not accept.
type checker struct {
	file  string
	lines *lineIndex
	tags  bool       // a tag may be in the file
	open  *yaml.Node // the last reported by leftOpen
	errs  Errors
}

// checkTree refuses aliases, anchors, merge keys, tags, keys that are not
// text, duplicate keys and deep nesting anywhere below root, and a root that
// is not a map.
func checkTree(file string, data []byte, root *yaml.Node) Errors {
	c := &checker{file: file, lines: &lineIndex{data: data}, tags: bytes.IndexByte(data, '!') >= 0}
	c.node(root, place{depth: 1, indent: -1})
	if root.Kind != yaml.MappingNode && root.Kind != yaml.AliasNode {
		c.fail(root, "file is %s; write it as lines of \"key: value\"%s", describe(root), colonHint(root))
	}
	return c.errs
}

func (c *checker) fail(n *yaml.Node, format string, args ...any) {
	c.errs = append(c.errs, &Error{Pos{c.file, n.Line, n.Column}, fmt.Sprintf(format, args...)})
}

// place is where a node stands.
type place struct {
	depth  int        // 1 for the root
	indent int        // spaces before the key or dash that it belongs to
	flow   *yaml.Node // the outermost [ ] or { } around it, or nil
}

func (c *checker) node(n *yaml.Node, at place) {
	switch {
	case n.Kind == yaml.AliasNode:
		c.fail(n, `alias "*%s" is not accepted; write the value out, or put text that starts with "*" in quotes`, n.Value)
		return
	case n.Anchor != "":
		c.fail(n, `anchor "&%s" is not accepted; delete it, or put text that starts with "&" in quotes`, n.Anchor)
	case n.Style&yaml.TaggedStyle != 0 || c.tags && c.lines.at(n.Line, n.Column) == '!':
		c.fail(n, `a tag is not accepted; delete it, or put text that starts with "!" in quotes`)
	}
	c.lost(n, at)
	if n.Kind == yaml.ScalarNode {
		return
	}
	if at.depth > mostDepth {
		c.fail(n, "maps and lists are nested more than %d deep; flatten them", mostDepth)
		return
	}
	if n.Kind == yaml.MappingNode {
		c.keys(n)
	}
	for i, child := range n.Content {
		c.node(child, at.inside(n, i))
	}
}

// inside returns the place of n.Content[i].
func (at place) inside(n *yaml.Node, i int) place {
	at.depth++
	switch {
	case at.flow != nil:
	case n.Style&yaml.FlowStyle != 0:
		at.flow = n
	case n.Kind == yaml.MappingNode:
		at.indent = n.Content[i&^1].Column - 1
	default:
		at.indent = n.Column - 1
	}
	return at
}

// few is the number of keys up to which comparing them all is faster than a
// map from key to position.
const few = 16

const emptyKey = "a key is empty; write its name before the colon"

func (c *checker) keys(n *yaml.Node) {
	var seen map[string]*yaml.Node
	if len(n.Content) > 2*few {
		seen = make(map[string]*yaml.Node, len(n.Content)/2)
	}
	for i := 0; i < len(n.Content); i += 2 {
		key, value := n.Content[i], n.Content[i+1]
		if value.Value == "" && isNull(value) && value.Line != key.Line {
			// yaml.v3 puts the value that "? key" lacks on a later line, even
			// one that the file does not have.
			value.Line, value.Column = key.Line, key.Column
		}
		switch {
		case key.Kind == yaml.AliasNode: // reported as such
		case key.Kind != yaml.ScalarNode:
			c.fail(key, "a key must be text, not %s", describe(key))
		case key.Tag == "!!merge":
			c.fail(key, `the merge key "<<" is not accepted; write the keys out`)
		case key.Value == "" || isNull(key):
			c.fail(key, emptyKey)
		default:
			if first := earlier(n, i, seen); first != nil {
				c.fail(key, "key %q is written twice, first on line %d; keep one", clip(key.Value), first.Line)
			}
		}
	}
}

// earlier returns the key node before n.Content[i] with the same text, or nil.
func earlier(n *yaml.Node, i int, seen map[string]*yaml.Node) *yaml.Node {
	key := n.Content[i]
	if seen != nil {
		first := seen[key.Value]
		if first == nil {
			seen[key.Value] = key
		}
		return first
	}
	for j := 0; j < i; j += 2 {
		if n.Content[j].Kind == yaml.ScalarNode && n.Content[j].Value == key.Value {
			return n.Content[j]
		}
	}
	return nil
}

// isNull reports whether n is a value that was left out, or written as null.
func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Style == 0 && n.Tag == "!!null" }

// describe names what was written, for "… is a list".
func describe(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.SequenceNode:
		return "a list"
	case n.Kind == yaml.MappingNode:
		return "a map of keys"
	case isNull(n):
		return "blank"
	}
	return fmt.Sprintf("the text %q", clip(n.Value))
}

// colonHint adds the usual reason why text stands where a map was meant.
func colonHint(n *yaml.Node) string {
	if n.Kind == yaml.ScalarNode && n.Style == 0 {
		if key, value, found := strings.Cut(n.Value, ":"); found && key != "" && value != "" {
			return ", with a space after the colon"
		}
	}
	return ""
}

// clip shortens text that a message quotes.
func clip(s string) string {
	const most = 60
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	return string([]rune(s)[:most]) + "…"
}

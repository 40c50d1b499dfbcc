package strict

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"gopkg.in/yaml.v3"
)

// Kind tells what was written.
type Kind int

const (
	NullKind   Kind = iota // nothing, ~ or null
	ScalarKind             // text
	ListKind
	MapKind
)

// Value is what is written under a key or as an item of a list. Its questions
// note what is wrong in the Document and return the zero value.
//
// The zero Value stands for one whose absence has been reported already.
type Value struct {
	in   *Map // the map that the value belongs to
	node *yaml.Node
	key  string
	item int // counts from 1; zero for the key's own value
}

// Kind returns what was written.
func (v Value) Kind() Kind {
	switch {
	case v.node == nil || isNull(v.node):
		return NullKind
	case v.node.Kind == yaml.SequenceNode:
		return ListKind
	case v.node.Kind == yaml.MappingNode:
		return MapKind
	}
	return ScalarKind
}

// Pos returns where the value is written.
func (v Value) Pos() Pos {
	if v.node == nil {
		return v.in.Pos()
	}
	return v.in.doc.pos(v.node)
}

// Fail notes a problem that the caller found. The text begins with the map's
// name; in a map without one, with the key.
func (v Value) Fail(format string, args ...any) {
	if v.node != nil {
		v.in.doc.fail(v.Pos(), v.in.subject(v.key), format, args...)
	}
}

// fail notes a problem of the value's form, naming the key.
func (v Value) fail(format string, args ...any) {
	if v.node == nil {
		return
	}
	subject := fmt.Sprintf("key %q", clip(v.key))
	if v.item > 0 {
		subject = fmt.Sprintf("item %d of %q", v.item, clip(v.key))
	}
	v.in.doc.fail(v.Pos(), v.in.label, "%s "+format, append([]any{subject}, args...)...)
}

// mismatch notes that something else is wanted.
func (v Value) mismatch(wanted string) {
	v.fail("is %s; %s is wanted", describe(v.node), wanted)
}

// Exact returns the scalar without trimming and "" for anything else; it
// notes nothing.
func (v Value) Exact() string {
	if v.Kind() != ScalarKind {
		return ""
	}
	return v.node.Value
}

// Text returns the scalar without the white space around it. Anything else,
// and a scalar without text, is an error.
func (v Value) Text() string {
	switch {
	case v.node == nil:
		return ""
	case v.Kind() != ScalarKind:
		v.mismatch("text")
		return ""
	}
	text := strings.TrimSpace(v.node.Value)
	if text == "" {
		v.fail("has no text; write some, or delete the line")
	}
	return text
}

// OneOf returns the text if it is one of the known words, and names near ones
// if it is not.
func (v Value) OneOf(known ...string) string {
	text := v.Text()
	if text == "" || slices.Contains(known, text) {
		return text
	}
	v.fail("is %q%s", clip(text), DidYouMean(text, known))
	return ""
}

// Int returns a whole number written in decimal digits.
func (v Value) Int() int {
	n, _ := v.number()
	return n
}

// number refuses what reads differently elsewhere: 017 is 15 to some readers.
func (v Value) number() (n int, ok bool) {
	text := v.Text()
	if text == "" {
		return 0, false
	}
	n, err := strconv.Atoi(text)
	if err != nil || strconv.Itoa(n) != text {
		v.fail("is %q; write a whole number such as 5", clip(text))
		return 0, false
	}
	return n, true
}

// Bool returns true for yes or true, false for no or false. Nothing else is
// accepted.
func (v Value) Bool() bool {
	yes, _ := v.yesNo()
	return yes
}

func (v Value) yesNo() (yes, ok bool) {
	switch text := v.Text(); text {
	case "yes", "true":
		return true, true
	case "no", "false":
		return false, true
	case "":
	default:
		v.fail("is %q; write yes or no", clip(text))
	}
	return false, false
}

// Time returns an instant written as RFC 3339 with its offset from UTC, which
// the result keeps.
func (v Value) Time() time.Time {
	text := v.Text()
	if text == "" {
		return time.Time{}
	}
	var t time.Time
	if err := t.UnmarshalText([]byte(text)); err != nil {
		v.fail("is %q; write date, time and offset from UTC, such as 2026-05-04T10:15:00-05:00", clip(text))
		return time.Time{}
	}
	// Parsing gives the machine's own zone where the offset fits; the file's
	// meaning must not depend on the machine.
	_, offset := t.Zone()
	if offset == 0 {
		return t.UTC()
	}
	return t.In(time.FixedZone("", offset))
}

// Date returns a day written as 2026-05-04, at midnight UTC.
func (v Value) Date() time.Time {
	text := v.Text()
	if text == "" {
		return time.Time{}
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil {
		v.fail("is %q; write a date such as 2026-05-04", clip(text))
		return time.Time{}
	}
	return t
}

// Map returns the map, nil if it is something else.
func (v Value) Map() *Map {
	switch {
	case v.node == nil:
		return nil
	case v.Kind() != MapKind:
		v.mismatch(`a map of "key: value" lines` + colonHint(v.node))
		return nil
	}
	return v.in.doc.cursor(v.node, v.label())
}

// label returns what errors about the map begin with: its key or, in a list,
// its first value, which is a name as a rule.
func (v Value) label() string {
	if v.item == 0 {
		return v.key
	}
	if c := v.node.Content; len(c) > 1 && c[1].Kind == yaml.ScalarNode && !strings.Contains(c[1].Value, "\n") {
		return clip(c[1].Value)
	}
	return ""
}

// List returns the items of a list.
func (v Value) List() []Value {
	switch {
	case v.node == nil:
		return nil
	case v.Kind() != ListKind:
		v.mismatch("a list")
		return nil
	}
	items := make([]Value, len(v.node.Content))
	for i, n := range v.node.Content {
		items[i] = Value{v.in, n, v.key, i + 1}
	}
	return items
}

// filled notes an empty list, and lets anything else pass.
func (v Value) filled() Value {
	if v.Kind() == ListKind && len(v.node.Content) == 0 {
		v.fail("is an empty list; write an item")
		return Value{in: v.in}
	}
	return v
}

// Texts returns the texts of a list of scalars, or of one scalar, which counts
// as a list of one. Items that are not text are left out.
func (v Value) Texts() []string {
	items := []Value{v}
	if k := v.Kind(); k == ListKind || k == MapKind {
		items = v.List()
	}
	var texts []string
	for _, item := range items {
		if text := item.Text(); text != "" {
			texts = append(texts, text)
		}
	}
	return texts
}

// Maps returns the maps of a list of maps. Items that are not maps are left
// out.
func (v Value) Maps() []*Map {
	var maps []*Map
	for _, item := range v.List() {
		if m := item.Map(); m != nil {
			maps = append(maps, m)
		}
	}
	return maps
}

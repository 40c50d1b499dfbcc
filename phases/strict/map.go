package strict

import (
	"fmt"
	"slices"
	"time"

	"gopkg.in/yaml.v3"
)

// Map is a cursor on one map of a file. A question about a key makes the key
// known; what is wrong with the answer is noted in the Document and the zero
// value returned, so that reading goes on.
//
// A key that is written without a value is an error, also where the key is
// optional: a limit left blank must not count as a limit left out.
//
// All methods work on a nil Map, which stands for a map whose absence has been
// reported already: they return zero values and note nothing.
type Map struct {
	doc   *Document
	node  *yaml.Node
	label string
	index map[string]int // position in node.Content, for maps with many keys
	asked []string       // in the order of the questions
	free  bool           // every key is known
}

// Pair is one line of a map whose keys are free, such as {wall: R-19}.
type Pair struct {
	Key    string
	KeyPos Pos
	Value  Value
}

// Fail notes a problem that the caller found with the key itself, where it is
// written. The text begins with the map's name; in a map without one, with the
// key.
func (p Pair) Fail(format string, args ...any) {
	m := p.Value.in
	m.doc.fail(p.KeyPos, m.subject(p.Key), format, args...)
}

// Name sets the words that errors about this map begin with: the check's or
// the person's name, say. Without it they are the key that the map stands
// under or, in a list, the item's first value.
func (m *Map) Name(text string) {
	if m != nil {
		m.label = text
	}
}

// Pos returns where the map begins: its first key.
func (m *Map) Pos() Pos {
	if m == nil {
		return Pos{}
	}
	return m.doc.pos(m.node)
}

// PosOf returns where the key's value is, or Pos if the key is missing.
func (m *Map) PosOf(key string) Pos { return m.peek(key).Pos() }

// KeyPos returns where the key itself is, or Pos if it is missing.
func (m *Map) KeyPos(key string) Pos {
	if m == nil {
		return Pos{}
	}
	if i := m.find(key); i >= 0 {
		return m.doc.pos(m.node.Content[i])
	}
	return m.Pos()
}

// Has reports whether the key is written, with or without a value.
func (m *Map) Has(key string) bool {
	m.ask(key)
	return m != nil && m.find(key) >= 0
}

// Len returns the number of keys.
func (m *Map) Len() int {
	if m == nil {
		return 0
	}
	return len(m.node.Content) / 2
}

// AnyKeys makes every key known. Use it when an earlier problem, such as an
// unknown kind of record, leaves open which keys belong here.
func (m *Map) AnyKeys() {
	if m != nil {
		m.free = true
	}
}

// Pairs returns all keys and values in the order of the file and makes every
// key known.
func (m *Map) Pairs() []Pair {
	if m == nil {
		return nil
	}
	m.free = true
	pairs := make([]Pair, 0, m.Len())
	for i := 0; i < len(m.node.Content); i += 2 {
		key, value := m.node.Content[i], m.node.Content[i+1]
		pairs = append(pairs, Pair{key.Value, m.doc.pos(key), Value{in: m, node: value, key: key.Value}})
	}
	return pairs
}

// Fail notes a problem that the caller found, at the key's value, or at the
// map if the key is missing or empty. The text begins with the map's name; in
// a map without one, with the key.
func (m *Map) Fail(key, format string, args ...any) {
	if m != nil {
		m.doc.fail(m.PosOf(key), m.subject(key), format, args...)
	}
}

func (m *Map) subject(key string) string {
	if m.label != "" {
		return m.label
	}
	return key
}

// Value returns what is written under a key that must be there: a scalar, a
// list or a map.
func (m *Map) Value(key string) Value {
	v, found := m.OptionalValue(key)
	if !found && m != nil && m.find(key) < 0 {
		m.doc.fail(m.Pos(), m.label, "key %q is missing", key)
	}
	return v
}

// OptionalValue is Value for a key that may be missing.
func (m *Map) OptionalValue(key string) (Value, bool) {
	m.ask(key)
	v := m.peek(key)
	if v.node != nil && isNull(v.node) {
		v.fail("has no value; write one, or delete the line")
		v.node = nil
	}
	return v, v.node != nil
}

func (m *Map) optional(key string) Value {
	v, _ := m.OptionalValue(key)
	return v
}

// Text returns the key's scalar as Value.Text does. The key must be there.
func (m *Map) Text(key string) string { return m.Value(key).Text() }

// OptionalText is Text, or "" if the key is missing.
func (m *Map) OptionalText(key string) string { return m.optional(key).Text() }

// Int returns the key's whole number. The key must be there.
func (m *Map) Int(key string) int { return m.Value(key).Int() }

// OptionalInt is Int; false if the key is missing or wrong.
func (m *Map) OptionalInt(key string) (int, bool) { return m.optional(key).number() }

// Bool returns the key's yes or no. The key must be there.
func (m *Map) Bool(key string) bool { return m.Value(key).Bool() }

// OptionalBool is Bool; found is false if the key is missing or wrong.
func (m *Map) OptionalBool(key string) (yes, found bool) { return m.optional(key).yesNo() }

// Time returns the key's instant. The key must be there.
func (m *Map) Time(key string) time.Time { return m.Value(key).Time() }

// OptionalTime is Time, or the zero time if the key is missing or wrong.
func (m *Map) OptionalTime(key string) time.Time { return m.optional(key).Time() }

// Date returns the key's day at midnight UTC. The key must be there.
func (m *Map) Date(key string) time.Time { return m.Value(key).Date() }

// OptionalDate is Date, or the zero time if the key is missing or wrong.
func (m *Map) OptionalDate(key string) time.Time { return m.optional(key).Date() }

// Map returns the map under the key, nil if it is missing or something else.
// The key must be there.
func (m *Map) Map(key string) *Map { return m.Value(key).Map() }

// OptionalMap is Map; false if the key is missing or wrong.
func (m *Map) OptionalMap(key string) (*Map, bool) {
	sub := m.optional(key).Map()
	return sub, sub != nil
}

// List returns the items under the key, which must be there and have one.
func (m *Map) List(key string) []Value { return m.Value(key).filled().List() }

// OptionalList is List for a key that may be missing or [].
func (m *Map) OptionalList(key string) []Value { return m.optional(key).List() }

// Texts returns the texts under the key: a list of scalars, or one scalar,
// which counts as a list of one. The key must be there and not [].
func (m *Map) Texts(key string) []string { return m.Value(key).filled().Texts() }

// OptionalTexts is Texts for a key that may be missing or [].
func (m *Map) OptionalTexts(key string) []string { return m.optional(key).Texts() }

// Maps returns the list of maps under the key, which must be there and not [].
func (m *Map) Maps(key string) []*Map { return m.Value(key).filled().Maps() }

// OptionalMaps is Maps for a key that may be missing or [].
func (m *Map) OptionalMaps(key string) []*Map { return m.optional(key).Maps() }

// ask makes a key known.
func (m *Map) ask(key string) {
	if m != nil && !slices.Contains(m.asked, key) {
		if m.asked == nil {
			m.asked = make([]string, 0, few)
		}
		m.asked = append(m.asked, key)
	}
}

// peek returns what is written under a key; a Value without a node if nothing.
func (m *Map) peek(key string) Value {
	v := Value{in: m, key: key}
	if m != nil {
		if i := m.find(key); i >= 0 {
			v.node = m.node.Content[i+1]
		}
	}
	return v
}

// find returns the position of a key in node.Content, or −1.
func (m *Map) find(key string) int {
	content := m.node.Content
	if len(content) <= 4*few {
		for i := 0; i < len(content); i += 2 {
			if content[i].Value == key {
				return i
			}
		}
		return -1
	}
	if m.index == nil {
		m.index = make(map[string]int, len(content)/2)
		for i := 0; i < len(content); i += 2 {
			m.index[content[i].Value] = i
		}
	}
	if i, found := m.index[key]; found {
		return i
	}
	return -1
}

// unknown appends an error for each key that nobody asked for.
func (m *Map) unknown(errs Errors) Errors {
	if m.free {
		return errs
	}
	for i := 0; i < len(m.node.Content); i += 2 {
		key := m.node.Content[i]
		if slices.Contains(m.asked, key.Value) {
			continue
		}
		text := fmt.Sprintf("unknown key %q", clip(key.Value))
		if len(errs) < mostErrors {
			text += DidYouMean(key.Value, m.asked)
		}
		errs = append(errs, &Error{m.doc.pos(key), labelled(m.label, text)})
	}
	return errs
}

// Package strict reads the YAML files that people and the program write, and
// writes them back.
//
// A job lives for twenty years and is edited by hand, so a file is either
// understood whole or refused with the line and column of every problem in
// it. The package takes the small part of YAML that a crew needs: maps, lists
// and text. There are no anchors, aliases, merge keys or tags, a key is
// written once, a file holds one document, and nesting ends at 20 levels.
//
// Every scalar is the text that was written. 017, 5.5, yes, 1e3 and
// 2026-05-04 come back letter by letter; what they mean is decided by whoever
// asks for them, with units and limits that YAML knows nothing of.
//
// Reading goes in three steps. [Read] checks bytes and structure and gives a
// [Document]. Its [Map] is a cursor: each question about a key remembers the
// key, notes what is wrong and carries on, so that one missing key does not
// hide the next problem. [Document.Err] ends the reading: it returns all that
// was noted, and the keys that nobody asked for.
//
//	d, err := strict.Read("company.yaml", data, strict.Options{})
//	if err != nil {
//		return err
//	}
//	m := d.Map()
//	c := Company{Name: m.Text("name"), Zone: m.OptionalText("time zone")}
//	return c, d.Err()
//
// A file that the program writes ends with YAML's document end marker "...",
// because more than half of all prefixes of a YAML file still parse: only the
// marker tells a whole file from one that was cut off. [Encode] writes it and
// [Options].Ended asks for it.
//
// A file that a person wrote is never written anew, since that would lose
// comments and order. [Splice] replaces one value and [InsertAfter] adds one
// line; both keep every other byte and read the result to prove it.
package strict

import (
	"fmt"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Size limits in bytes, checked before anything else looks at a file.
const (
	RecordLimit = 256 << 10 // one fact, sign-off or other small file
	PlanLimit   = 1 << 20   // a phase plan, job or company file
)

// Options say what Read expects of a file.
type Options struct {
	// MaxBytes is the size limit; zero means PlanLimit.
	MaxBytes int
	// Ended is set for a file that the program wrote: its last line is the
	// document end marker "...", and without it the file was cut off.
	Ended bool
}

// Document is a file whose structure is sound. Ask its Map for what it holds,
// then Err for what was wrong.
type Document struct {
	file string
	root *Map
	maps map[*yaml.Node]*Map // cursors below the root, one for each map
	list []*Map              // the same in the order of asking
	errs Errors
}

// Read checks size, encoding, syntax and structure of a file. The error is an
// Errors with every problem found at the stage that failed; a later stage
// would only guess.
func Read(file string, data []byte, o Options) (*Document, error) {
	if most := limit(o); len(data) > most {
		text := fmt.Sprintf("file has %d bytes; at most %d are read", len(data), most)
		return nil, Errors{{Pos{file, 1, 1}, text}}
	}
	root, err := parse(file, data, o.Ended)
	if err != nil {
		return nil, err
	}
	d := &Document{file: file}
	d.root = &Map{doc: d, node: root}
	return d, nil
}

func limit(o Options) int {
	if o.MaxBytes == 0 {
		return PlanLimit
	}
	return o.MaxBytes
}

// parse returns the root mapping of a sound file of any size.
func parse(file string, data []byte, ended bool) (*yaml.Node, error) {
	data = withoutBOM(data)
	if ended {
		// First, since a file may be cut off within a character.
		if e := checkEnd(file, data); e != nil {
			return nil, Errors{e}
		}
	}
	if errs := checkBytes(file, data); errs != nil {
		return nil, sorted(errs)
	}
	if line := directive(data); line > 0 {
		return nil, Errors{{Pos{file, line, 1}, `a line that starts with "%" is not accepted before the first key; delete it`}}
	}
	root, e := decode(file, data)
	if e != nil {
		return nil, Errors{e}
	}
	if errs := checkTree(file, data, root); errs != nil {
		return nil, sorted(errs)
	}
	return root, nil
}

// Map returns the file's outermost map.
func (d *Document) Map() *Map { return d.root }

// Err returns nil, or Errors with every problem noted so far and every key
// that no question asked for, in order of position. Call it when all is read.
func (d *Document) Err() error {
	errs := append(Errors(nil), d.errs...)
	errs = d.root.unknown(errs)
	for _, m := range d.list {
		errs = m.unknown(errs)
	}
	return orNil(errs)
}

// cursor returns the one cursor of a map, so that two readers of the same map
// share what they asked for.
func (d *Document) cursor(n *yaml.Node, label string) *Map {
	if m := d.maps[n]; m != nil {
		return m
	}
	if d.maps == nil {
		d.maps = make(map[*yaml.Node]*Map)
	}
	m := &Map{doc: d, node: n, label: label}
	d.maps[n] = m
	d.list = append(d.list, m)
	return m
}

func (d *Document) pos(n *yaml.Node) Pos { return Pos{d.file, n.Line, n.Column} }

func (d *Document) fail(p Pos, label, format string, args ...any) {
	d.errs = append(d.errs, &Error{p, labelled(label, fmt.Sprintf(format, args...))})
}

// labelled puts a map's name before a message, in quotes if it is text that a
// terminal might act on.
func labelled(label, text string) string {
	switch {
	case label == "" || strings.HasPrefix(text, label+" ") || strings.HasPrefix(text, label+":"):
		return text // it begins with its subject already
	case !visible(label):
		label = strconv.Quote(label)
	}
	return label + ": " + text
}

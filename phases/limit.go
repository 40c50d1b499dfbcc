package phases

import (
	"fmt"

	"proveout/checks"
	"proveout/phases/strict"
)

// NewLimit is a limit of one check that replaces the default.
type NewLimit struct {
	Check  string // its name in the phase
	Key    string // at least, at most, above, below, wait, before, hold
	Value  string
	Reason string
	Source string // "" keeps the default's
	Mark   string
}

// SetLimit writes a new limit into a phase file and leaves every other byte as
// it is. A safety limit may only be tightened.
func SetLimit(file string, data []byte, l NewLimit) ([]byte, error) {
	before, err := ReadPhase(file, data)
	if err != nil {
		return nil, err
	}
	out, err := spliceLimit(file, data, l)
	if err != nil {
		return nil, err
	}
	after, err := ReadPhase(file, out)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", l.Check, err)
	}
	old, new := before.question(l.Check), after.question(l.Check)
	if old.Safety && Looser(old, new) {
		return nil, fmt.Errorf("%s.%s is a safety limit: it may be tightened, not loosened from %q to %q", before.Name, l.Check, limitText(old), limitText(new))
	}
	return out, nil
}

func (ph *Phase) question(name string) *checks.Question {
	for _, q := range ph.questions() {
		if q.Name == name {
			return q
		}
	}
	return nil
}

// spliceLimit replaces the limit's value and adds the reason behind it.
func spliceLimit(file string, data []byte, l NewLimit) ([]byte, error) {
	at, err := findLimit(file, data, l)
	if err != nil {
		return nil, err
	}
	out := data
	for _, e := range []struct{ key, text string }{{"reason", l.Reason}, {"mark", l.Mark}, {"source", l.Source}} {
		if e.text == "" {
			continue
		}
		if pos, ok := at[e.key]; ok {
			out, err = strict.Splice(file, out, pos.pos, pos.text, e.text)
		} else {
			out, err = strict.InsertAfter(file, out, at[l.Key].key, strict.Field{Key: e.key, Value: e.text})
		}
		if err != nil {
			return nil, err
		}
		if at, err = findLimit(file, out, l); err != nil {
			return nil, err
		}
	}
	return strict.Splice(file, out, at[l.Key].pos, at[l.Key].text, l.Value)
}

type scalarPlace struct {
	key, pos strict.Pos
	text     string
}

// findLimit returns where the texts of a check stand.
func findLimit(file string, data []byte, l NewLimit) (map[string]scalarPlace, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	for _, h := range doc.Map().Maps("holds") {
		for _, c := range h.Maps("checks") {
			if c.Text("check") != l.Check {
				continue
			}
			at := map[string]scalarPlace{}
			for _, p := range c.Pairs() {
				if p.Value.Kind() == strict.ScalarKind {
					at[p.Key] = scalarPlace{p.KeyPos, p.Value.Pos(), p.Value.Exact()}
				}
			}
			if _, ok := at[l.Key]; !ok {
				return nil, fmt.Errorf("%s: check %q has no single %q that could be changed", file, l.Check, l.Key)
			}
			return at, nil
		}
	}
	return nil, fmt.Errorf("%s: there is no check %q", file, l.Check)
}

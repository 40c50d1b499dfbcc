package checks

import (
	"slices"
	"strings"
)

// Condition says when something applies: every term must hold.
type Condition []Term

// Term compares one decision or property of the job with values.
type Term struct {
	Name   string
	Not    bool
	Values []string
}

// Decisions are what is known of the job: its properties ("services": "cavity")
// and the decisions taken ("lead": "on", "demo.mold-work": "large").
type Decisions map[string]string

// Holds reports whether the condition holds. A name that is not decided yet
// counts as holding: unknown keeps a check on.
func (c Condition) Holds(d Decisions) bool {
	for _, t := range c {
		v, known := d[t.Name]
		if !known || v == "" {
			continue
		}
		if t.matches(v) == t.Not {
			return false
		}
	}
	return true
}

// matches reports whether a value is one of the term's; a region takes in its
// parts: us takes in us-ny.
func (t Term) matches(value string) bool {
	return slices.ContainsFunc(t.Values, func(want string) bool {
		return want == value || t.Name == "region" && strings.HasPrefix(value, want+"-")
	})
}

// Undecided returns the names in c that are not decided yet.
func (c Condition) Undecided(d Decisions) []string {
	var names []string
	for _, t := range c {
		if d[t.Name] == "" {
			names = append(names, t.Name)
		}
	}
	return names
}

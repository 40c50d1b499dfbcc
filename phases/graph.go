package phases

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
)

// check reports what is wrong with the plan as a whole: names used twice or
// not at all, a cycle in the holds.
func (p *Plan) check() error {
	var problems []error
	fail := func(pos, format string, args ...any) {
		problems = append(problems, fmt.Errorf("%s: %s", pos, fmt.Sprintf(format, args...)))
	}
	seen := map[string]string{}
	for _, h := range p.Holds() {
		if first, twice := seen[h.ID()]; twice {
			fail(h.Pos, "hold %q stands already at %s", h.ID(), first)
		}
		seen[h.ID()] = h.Pos
	}
	for _, h := range p.Holds() {
		for _, e := range h.After {
			if p.Hold(e.Hold) == nil {
				fail(h.Pos, "hold %s comes after %q, which no phase has%s", h.ID(), e.Hold, didYouMean(e.Hold, p.holdNames()))
			}
		}
		for _, q := range h.Checks {
			if q.Uses != "" && p.usedBy(q) == nil {
				fail(q.Pos, "check %s uses %q, which no phase asks", q.ID(), q.Uses)
			}
		}
	}
	if problems == nil {
		if cycle := p.cycle(); cycle != nil {
			fail(p.Hold(cycle[0]).Pos, "these holds wait for each other: %s", strings.Join(cycle, " after "))
		}
	}
	if problems != nil {
		return joinLines(problems)
	}
	return nil
}

func (p *Plan) usedBy(q *checks.Question) *checks.Question {
	name := q.Uses
	if !strings.Contains(name, ".") {
		name = q.Phase + "." + name
	}
	return p.Questions()[name]
}

func (p *Plan) holdNames() []string {
	var names []string
	for _, h := range p.Holds() {
		names = append(names, h.ID())
	}
	return names
}

// cycle returns holds that wait for each other, or nil. Conditions do not
// count: edges that can never apply together must still not close a ring
// unless their conditions exclude each other.
func (p *Plan) cycle() []string {
	for _, services := range Services {
		d := checks.Decisions{"services": services}
		state := map[string]int{} // 1: on the path, 2: done
		var path []string
		for _, h := range p.Holds() {
			if ring := p.visit(h.ID(), d, state, &path); ring != nil {
				return ring
			}
		}
	}
	return nil
}

// Services are the places where wires and lines may run; they select edges of
// the graph.
var Services = []string{"cavity", "service space", "surface"}

func (p *Plan) visit(id string, d checks.Decisions, state map[string]int, path *[]string) []string {
	switch state[id] {
	case 1:
		i := slices.Index(*path, id)
		return append(slices.Clone((*path)[i:]), id)
	case 2:
		return nil
	}
	state[id] = 1
	*path = append(*path, id)
	for _, e := range p.Hold(id).After {
		if !e.When.Holds(d) {
			continue
		}
		if ring := p.visit(e.Hold, d, state, path); ring != nil {
			return ring
		}
	}
	*path = (*path)[:len(*path)-1]
	state[id] = 2
	return nil
}

// Before returns the holds that must be released before h, under the decisions
// taken: its own edges, with holds that do not apply passed through.
func (p *Plan) Before(h *Hold, d checks.Decisions) []*Hold {
	var before []*Hold
	for _, e := range h.After {
		if !e.When.Holds(d) {
			continue
		}
		up := p.Hold(e.Hold)
		if up.When.Holds(d) {
			before = append(before, up)
		} else {
			before = append(before, p.Before(up, d)...)
		}
	}
	slices.SortStableFunc(before, func(a, b *Hold) int { return strings.Compare(a.ID(), b.ID()) })
	return slices.Compact(before)
}

package phases

import (
	"slices"
	"strings"

	"proveout/checks"
)

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

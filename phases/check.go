package phases

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks"
)

// check reports what is wrong with the plan as a whole: names that stand twice
// or nowhere, conditions on what never comes, a cycle in the holds.
func (p *Plan) check() error {
	c := planCheck{plan: p, questions: p.Questions()}
	c.names()
	for _, ph := range p.Phases {
		for _, t := range slices.Concat(ph.Cautions, ph.Steps) {
			c.condition(ph.File, t.When)
		}
	}
	for _, h := range p.Holds() {
		c.hold(h)
	}
	if c.problems == nil {
		if cycle := p.cycle(); cycle != nil {
			c.fail(p.Hold(cycle[0]).Pos, "these holds wait for each other: %s", strings.Join(cycle, " after "))
		}
	}
	if c.problems != nil {
		return joinLines(c.problems)
	}
	return nil
}

// planCheck collects the problems of a plan.
type planCheck struct {
	plan      *Plan
	questions map[string]*checks.Question
	problems  []error
}

func (c *planCheck) fail(pos, format string, args ...any) {
	c.problems = append(c.problems, fmt.Errorf("%s: %s", pos, fmt.Sprintf(format, args...)))
}

// names reports phases and holds that are called the same.
func (c *planCheck) names() {
	files, holds := map[string]string{}, map[string]string{}
	for _, ph := range c.plan.Phases {
		if first, twice := files[ph.Name]; twice {
			c.fail(ph.File, "phase %q stands already in %s", ph.Name, first)
		}
		files[ph.Name] = ph.File
		for _, h := range ph.Holds {
			if first, twice := holds[h.ID()]; twice {
				c.fail(h.Pos, "hold %q stands already at %s", h.ID(), first)
			}
			holds[h.ID()] = h.Pos
		}
	}
}

func (c *planCheck) hold(h *Hold) {
	c.condition(h.Pos, h.When)
	for _, e := range h.After {
		c.condition(h.Pos, e.When)
		if c.plan.Hold(e.Hold) == nil {
			c.fail(h.Pos, "hold %s comes after %q, which no phase has%s", h.ID(), e.Hold, didYouMean(e.Hold, c.plan.holdNames()))
		}
	}
	for _, r := range h.SignedBy {
		c.condition(h.Pos, r.When)
	}
	for _, q := range h.Checks {
		c.condition(q.Pos, q.When)
		if q.Uses != "" && c.questions[q.UsedID()] == nil {
			c.fail(q.Pos, "check %s uses %q, which no phase asks", q.ID(), q.Uses)
		}
	}
}

func (c *planCheck) condition(pos string, when checks.Condition) {
	if what := c.plan.unknownChoice(when, c.questions); what != "" {
		c.fail(pos, "%s", what)
	}
}

func (p *Plan) holdNames() []string {
	var names []string
	for _, h := range p.Holds() {
		names = append(names, h.ID())
	}
	return names
}

// Package phases holds the eleven phases of a job: their plans, which are
// YAML files meant to be read and edited by an owner, the graph of their hold
// points, and the gate that says whether a hold may be released.
//
// A plan is data. Every number in it is a default that a company or a job may
// change with a reason. The package reads plans, checks them as a whole (each
// hold named in `after:` exists, no cycle, each check known) and evaluates a
// hold from facts that its caller passes in. It reads no files of a job and no
// clock.
package phases

import (
	"slices"
	"strings"

	"proveout/checks"
)

// Plan is the inspection and test plan of a job: its phases in reading order.
type Plan struct {
	Phases []*Phase
}

// Phase is one of the eleven.
type Phase struct {
	Number     int // 1 to 11, from the file name
	Name       string
	Title      string
	Purpose    string
	Crew       []string
	Materials  []string
	Cautions   []Text
	Steps      []Text
	Photos     []string
	LastChance []string
	HandOff    string
	Holds      []*Hold
	File       string
}

// Text is a sentence that may apply only under a condition.
type Text struct {
	Text string
	When checks.Condition
}

// Hold is a hold point: work may not pass it without release.
type Hold struct {
	Phase      *Phase
	Name       string
	Title      string
	Covers     string
	When       checks.Condition
	After      []Edge
	FaceByFace bool
	SignedBy   []Role
	Invite     []string
	Checks     []*checks.Question
	Pos        string
}

// ID is the hold's full name, phase.hold.
func (h *Hold) ID() string { return h.Phase.Name + "." + h.Name }

// Edge names a hold that must be released first.
type Edge struct {
	Hold string
	When checks.Condition
}

// Role must sign a hold, perhaps only under a condition.
type Role struct {
	Name string
	When checks.Condition
}

// Phase returns the phase of that name, or nil.
func (p *Plan) Phase(name string) *Phase {
	i := slices.IndexFunc(p.Phases, func(ph *Phase) bool { return ph.Name == name })
	if i < 0 {
		return nil
	}
	return p.Phases[i]
}

// Holds returns all hold points in reading order.
func (p *Plan) Holds() []*Hold {
	var holds []*Hold
	for _, ph := range p.Phases {
		holds = append(holds, ph.Holds...)
	}
	return holds
}

// Hold returns the hold called phase.hold, or nil.
func (p *Plan) Hold(id string) *Hold {
	phase, name, _ := strings.Cut(id, ".")
	ph := p.Phase(phase)
	if ph == nil {
		return nil
	}
	return ph.Hold(name)
}

// Hold returns the phase's hold of that name, or nil.
func (ph *Phase) Hold(name string) *Hold {
	i := slices.IndexFunc(ph.Holds, func(h *Hold) bool { return h.Name == name })
	if i < 0 {
		return nil
	}
	return ph.Holds[i]
}

// Questions returns every check of the plan by phase.check.
func (p *Plan) Questions() map[string]*checks.Question {
	all := map[string]*checks.Question{}
	for _, h := range p.Holds() {
		for _, q := range h.Checks {
			all[q.ID()] = q
		}
	}
	return all
}

// HoldOf returns the hold that asks the check called phase.check, or nil.
func (p *Plan) HoldOf(check string) *Hold {
	for _, h := range p.Holds() {
		for _, q := range h.Checks {
			if q.ID() == check {
				return h
			}
		}
	}
	return nil
}

// ForDecisions returns the texts that apply.
func ForDecisions(texts []Text, d checks.Decisions) []string {
	var apply []string
	for _, t := range texts {
		if t.When.Holds(d) {
			apply = append(apply, t.Text)
		}
	}
	return apply
}

// Figures returns the figures of the job that the hold's computed checks use.
func (h *Hold) Figures() []string {
	var figures []string
	for _, q := range h.Checks {
		if check := checks.ByName(q.Compute); check != nil {
			figures = append(figures, check.Figures...)
		}
	}
	return figures
}

// Roles returns the roles that must sign the hold.
func (h *Hold) Roles(d checks.Decisions) []string {
	var roles []string
	for _, r := range h.SignedBy {
		if r.When.Holds(d) {
			roles = append(roles, r.Name)
		}
	}
	return roles
}

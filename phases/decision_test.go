package phases

import (
	"strings"
	"testing"

	"proveout/checks"
)

// A choice switches checks on and off. Not taken, or taken in two ways, it
// leaves them on; one that is not asked any more decides nothing.
func TestDecisions(t *testing.T) {
	asked := func(s *site) bool { return s.gate().Asked(s.plan.Questions()["insulation.batt"]) }
	s := newSite(t)
	if asked(s) {
		t.Error("batts are asked about in a foamed room")
	}
	s.answer("insulation.which", "point 1", "batts")
	if !asked(s) {
		t.Error("batts are not asked about")
	}
	s.answer("insulation.which", "point 1", "foam")
	s.answer("insulation.which", "elsewhere", "batts")
	if !asked(s) {
		t.Error("two decisions switch the check off")
	}
	delete(s.e.Facts, "insulation.which")
	if !asked(s) {
		t.Error("no decision switches the check off")
	}
	s = newSite(t)
	s.plan.Questions()["insulation.which"].When = checks.Condition{{Name: "permit", Values: []string{"yes"}}}
	s.e.Room.Properties["permit"] = "no"
	if !asked(s) {
		t.Error("a choice that is not asked any more still switches the check off")
	}
}

// The lead path in the default plan: on by year, off by an inspection that the
// chosen method asks for, on again when lead is assumed.
func TestLeadDecision(t *testing.T) {
	plan := defaultPlan(t)
	room := cellar(t, map[string]string{"region": "us"})
	questions := plan.Questions()
	finding := answer(questions["assess.lead-determination"], "r-1", "point 1")
	method := answer(questions["assess.lead-method"], "r-2", "point 1")
	method.Answer = "test for lead"
	e := Evidence{Room: room, Now: noon, Facts: checks.Facts{finding.Check: {finding}, method.Check: {method}}}
	if got := NewGate(plan, e).Decisions["lead"]; got != "off" {
		t.Errorf("tested and found free: lead %q", got)
	}
	method.Answer = "assume lead"
	e.Facts[method.Check] = []checks.Fact{method}
	if got := NewGate(plan, e).Decisions["lead"]; got != "on" {
		t.Errorf("lead is assumed: lead %q", got)
	}
	room.YearBuilt = 0
	g := NewGate(plan, e)
	if got := g.Decisions["lead"]; got != "" || !g.Asked(questions["demo.lead-pamphlet"]) {
		t.Errorf("year unknown: lead %q", got)
	}
	room.YearBuilt = 1978
	if g := NewGate(plan, e); g.Decisions["lead"] != "off" || g.Asked(questions["demo.lead-pamphlet"]) {
		t.Errorf("built 1978: lead %q", g.Decisions["lead"])
	}
}

// CompareVerdicts finds edits of the job file that no text tells: a check not
// asked any more, and one that would not fail any more.
func TestCompareVerdicts(t *testing.T) {
	s := newSite(t)
	s.read("insulation.depth", "lid/point 2", "4 in")
	s.read("insulation.lift", "point 1", "3 in")
	was := s.gate()
	plan, err := ReadPlan(map[string][]byte{"05-insulation.yaml": []byte(strings.NewReplacer("at least: 5 in", "at least: 3 in", "at most: 2 in", "at most: 4 in", "hold: cover\n", "hold: cover\n    when: {permit: \"yes\"}\n").Replace(sitePlan))})
	if err != nil {
		t.Fatal(err)
	}
	s.plan, s.e.Room.Properties = plan, map[string]string{"permit": "no"}
	got := map[string]Difference{}
	for _, d := range CompareVerdicts(was, s.gate()) {
		got[d.Check+d.Text] = d
	}
	for _, want := range []Difference{
		{Check: "insulation.depth", Text: "it fails, and with the edit it would not", Loosens: true},
		{Check: "insulation.lift", Text: "it fails, and with the edit it would not", Loosens: true, Safety: true},
		{Text: "insulation.seen is not asked any more", Loosens: true},
	} {
		if got[want.Check+want.Text] != want {
			t.Errorf("%+v is not among %+v", want, got)
		}
	}
	if len(got) != 3 {
		t.Errorf("%d differences, want 3: %+v", len(got), got)
	}
}

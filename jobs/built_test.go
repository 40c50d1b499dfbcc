package jobs

import (
	"context"
	"slices"
	"strings"
	"testing"

	"proveout/checks"
	"proveout/phases"
)

// proved is a phase behind the small plan that judges the room as it was built.
const proved = `phase: commissioning
title: Commissioning
purpose: Prove it.
holds:
  - hold: room
    title: Room
    after: [insulation.before-board]
    signed by: [crew lead]
    checks:
      - check: capacity
        ask: Capacity against the load
        compute: capacity
        at least: 110 %
        source: test
        mark: computed
      - check: concealed
        ask: Dampest plane
        compute: concealed-humidity
        at most: 80 %
        points: {per face: 1}
        source: test
        mark: computed
`

const planned = `
unit as planned: {refrigerant: R134a, capacity: 200 W, room: 55 °F, outdoor: 75 °F, rejects heat to: house}
use:
  people: 1
  people stay: 20 min
  appliances:
    - {appliance: fan, power: 30 W, runs: 24 h}
`

// builtRoom is the small job with a phase that judges what was built, released up to
// that phase with 5 in of foam.
func builtRoom(t *testing.T) *fixture {
	t.Helper()
	f := &fixture{t: t, now: start, more: map[string]string{"11-commissioning.yaml": proved}}
	f.text = func(s string) string {
		return strings.Replace(s, "  pull-down load: empty\n", "  pull-down load: empty\n  air changes: 0.1 /h\n", 1) + planned
	}
	f.start()
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	f.mustSign("Ana", "framing.frame", "")
	f.depths("5 in")
	f.mustSign("Ana", "insulation.before-board", "")
	f.mustSign("Ben", "insulation.before-board", "owner")
	return f
}

func (f *fixture) verdict(hold, check string) checks.Verdict {
	f.t.Helper()
	for _, v := range f.state(hold).Verdicts {
		if v.Check == check {
			return v
		}
	}
	f.t.Fatalf("%s does not ask %s", hold, check)
	return checks.Verdict{}
}

// A thinner foam recorded on site closes the phases behind it: the unit that was
// enough for the design is not enough for what was built, and the sign-off that
// rested on the old depth is stale.
func TestThinnerFoamClosesWhatFollows(t *testing.T) {
	f := builtRoom(t)
	f.wantState("commissioning.room", phases.Ready)
	f.mustSign("Ana", "commissioning.room", "")
	if v := f.verdict("commissioning.room", "commissioning.capacity"); v.Outcome != checks.Pass || len(v.Facts) != 3 {
		t.Errorf("capacity: %v %s on %v, want a pass on the three depths", v.Outcome, v.Value, v.Facts)
	}
	for _, bay := range []string{"north wall/bay 1", "north wall/bay 2", "east wall/bay 1"} {
		f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: bay, Text: "1/2 in", Instrument: "DG-2", Rework: "cut back"})
	}
	v := f.verdict("commissioning.room", "commissioning.capacity")
	if v.Outcome != checks.Fail || !slices.ContainsFunc(v.Steps, func(s checks.Step) bool { return strings.Contains(s.Name, "depth") && s.Value == "0.5 in" }) {
		t.Errorf("with half an inch of foam: %v %s, steps %+v", v.Outcome, v.Value, v.Steps)
	}
	s := f.state("commissioning.room")
	if s.State != phases.Stale || !slices.ContainsFunc(s.Stale, func(text string) bool {
		return strings.Contains(text, "added since: insulation.foam-depth at north wall/bay 1")
	}) {
		t.Errorf("the hold is %s: %q", s.State, s.Stale)
	}
}

// A sign-off goes stale when something in job.yaml changes that its checks compute
// with, and does not when only others do.
func TestStaleByTheDesign(t *testing.T) {
	for _, tt := range []struct{ from, to, stale string }{
		{"capacity: 200 W", "capacity: 210 W", "have changed what this hold asks for"},
		{"power: 30 W", "power: 31 W", "have changed what this hold asks for"},
		{"air changes: 0.1 /h", "air changes: 0.2 /h", "have changed what this hold asks for"},
		{"humidity: 50 % RH}", "humidity: 51 % RH}", "have changed what this hold asks for"},
		{"altitude: 600 ft", "altitude: 900 ft", "have changed what this hold asks for"},
		{"title: Room under", "title: Room below", ""},
	} {
		f := builtRoom(t)
		f.mustSign("Ana", "commissioning.room", "")
		f.edit(f.file(JobFile), tt.from, tt.to)
		if _, err := f.j.Adopt(context.Background(), f.entry("Ben"), "as built"); err != nil {
			t.Fatalf("%s: %v", tt.to, err)
		}
		s := f.state("commissioning.room")
		if is := slices.ContainsFunc(s.Stale, func(text string) bool { return tt.stale != "" && strings.Contains(text, tt.stale) }); is != (tt.stale != "") {
			t.Errorf("%s: %s %q, want stale that says %q", tt.to, s.State, s.Stale, tt.stale)
		}
		// Framing asks for none of these figures.
		if framing := f.state("framing.frame"); strings.Contains(tt.from, "W") && framing.State != phases.Signed {
			t.Errorf("%s: framing is %s %q", tt.to, framing.State, framing.Stale)
		}
	}
}

// With a unit in job.yaml the capacity is computed and wants no record.
func TestComputedCapacityWantsNoRecord(t *testing.T) {
	f := builtRoom(t)
	_, err := f.j.Record(context.Background(), f.c, f.entry("Ana"), Answer{
		Phase: "commissioning", Check: "capacity", Values: []NamedText{{Name: "load", Text: "100 W"}, {Name: "capacity", Text: "900 W"}},
	})
	f.wantError(err, ErrInput, "wants no record of its own")
}

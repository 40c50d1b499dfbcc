package phases

import (
	"slices"
	"strings"
	"testing"

	"proveout/checks"
)

// before lists all holds that must be released before one, right or far.
func before(plan *Plan, h *Hold, d checks.Decisions) []string {
	var all []string
	for _, up := range plan.Before(h, d) {
		all = append(all, up.ID())
		all = append(all, before(plan, up, d)...)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// In every job the handover waits for all other holds that apply, no hold waits
// for itself, and each hold that is waited for applies.
func TestGraphOfEveryJob(t *testing.T) {
	plan := defaultPlan(t)
	for _, d := range each("services", "retarder", "insulation", "floor", "permit") {
		d := checks.Decisions(d)
		var apply []string
		for _, h := range plan.Holds() {
			if h.When.Holds(d) {
				apply = append(apply, h.ID())
			}
			up := before(plan, h, d)
			if slices.Contains(up, h.ID()) {
				t.Errorf("%v: %s waits for itself", d, h.ID())
			}
			for _, id := range up {
				if !plan.Hold(id).When.Holds(d) {
					t.Errorf("%v: %s waits for %s, which does not apply", d, h.ID(), id)
				}
			}
		}
		got := append(before(plan, plan.Hold("commissioning.handover"), d), "commissioning.handover")
		slices.Sort(got)
		slices.Sort(apply)
		if !slices.Equal(got, apply) {
			t.Errorf("%v: handover waits for %q, and these apply: %q", d, got, apply)
		}
	}
}

// What must come first by where the services run: in the cavity, rough electrical and line set come
// before retarder, insulation and board, and their finals after; in a service
// space or on the surface they come later.
func TestOrderByServices(t *testing.T) {
	plan := defaultPlan(t)
	for _, tt := range []struct{ services, hold, first string }{
		{"cavity", "vapor-retarder.before-insulation", "electrical.rough-in"},
		{"cavity", "vapor-retarder.before-insulation", "line-set.rough-in"},
		{"cavity", "insulation.before-board", "electrical.rough-in"},
		{"cavity", "framing.inspection", "line-set.rough-in"},
		{"cavity", "electrical.rough-in", "framing.frame"},
		{"service space", "electrical.rough-in", "insulation.before-board"},
		{"service space", "drywall.cover-up", "electrical.rough-in"},
		{"surface", "electrical.rough-in", "drywall.finish"},
		{"surface", "line-set.rough-in", "drywall.finish"},
	} {
		d := checks.Decisions{"services": tt.services, "retarder": "film"}
		if up := before(plan, plan.Hold(tt.hold), d); !slices.Contains(up, tt.first) {
			t.Errorf("%s: %s does not wait for %s, only for %q", tt.services, tt.hold, tt.first, up)
		}
	}
	for _, services := range Services {
		d := checks.Decisions{"services": services, "retarder": "film"}
		for hold, first := range map[string]string{
			"demo.first-cut": "assess.diagnosis", "demo.clearance": "demo.first-cut", "framing.frame": "demo.clearance",
			"insulation.before-board": "vapor-retarder.before-insulation", "drywall.cover-up": "insulation.before-board",
			"electrical.final": "drywall.finish", "line-set.final": "drywall.finish", "racking.racks": "door.seal",
			"commissioning.empty-room": "electrical.final", "commissioning.handover": "commissioning.empty-room",
		} {
			if up := before(plan, plan.Hold(hold), d); !slices.Contains(up, first) {
				t.Errorf("%s: %s does not wait for %s", services, hold, first)
			}
		}
	}
}

// A hold that does not apply is passed through: what comes after it waits for
// what came before it.
func TestHoldsThatDoNotApply(t *testing.T) {
	plan := defaultPlan(t)
	film, foam := checks.Decisions{"services": "cavity", "retarder": "film"}, checks.Decisions{"services": "cavity", "retarder": "foam"}
	insulation := plan.Hold("insulation.before-board")
	direct := func(d checks.Decisions) []string {
		var ids []string
		for _, h := range plan.Before(insulation, d) {
			ids = append(ids, h.ID())
		}
		return ids
	}
	if !slices.Contains(direct(film), "vapor-retarder.before-insulation") {
		t.Errorf("with film it waits for %q", direct(film))
	}
	if ids := direct(foam); slices.Contains(ids, "vapor-retarder.before-insulation") || !slices.Contains(ids, "framing.inspection") {
		t.Errorf("with foam it waits for %q", ids)
	}
	// What is not decided keeps the hold on.
	if !slices.Contains(direct(checks.Decisions{}), "vapor-retarder.before-insulation") {
		t.Error("with the retarder undecided its hold is left out")
	}
}

// small are two phases as files, to be spoiled.
func small(change ...string) map[string][]byte {
	files := map[string]string{
		"01-first.yaml":  smallPhase("first", "cut", "[]"),
		"02-second.yaml": smallPhase("second", "board", "[first.cut]"),
	}
	out := map[string][]byte{}
	for name, text := range files {
		for i := 0; i+1 < len(change); i += 2 {
			text = strings.ReplaceAll(text, change[i], change[i+1])
		}
		out[name] = []byte(text)
	}
	return out
}

func smallPhase(name, hold, after string) string {
	return `phase: ` + name + `
title: Title
purpose: A purpose.
holds:
  - hold: ` + hold + `
    title: Title
    covers: all
    after: ` + after + `
    signed by: [crew lead]
    checks:
      - check: ` + hold + `-choice
        ask: Which?
        choose: [one, two]
        source: test
        mark: read
      - check: ` + hold + `-seen
        ask: Seen?
        answer: "yes"
        source: test
        mark: read
`
}

func TestPlanProblems(t *testing.T) {
	if _, err := ReadPlan(small()); err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		change []string
		says   string
	}{
		{[]string{"[first.cut]", "[first.cu]"}, `02-second.yaml:5:5: hold second.board comes after "first.cu", which no phase has; did you mean first.cut?`},
		{[]string{"after: []", "after: [second.board]"}, "these holds wait for each other: first.cut after second.board after first.cut"},
		{[]string{"phase: second", "phase: first"}, `02-second.yaml: phase "first" stands already in 01-first.yaml`},
		{[]string{"choose: [one, two]", "choose: [one, two]\n        when: {first.cut-choice: three}"}, `choice first.cut-choice is never "three"; it is one of: one, two`},
		{[]string{"choose: [one, two]", "choose: [one, two]\n        when: {first.cut-seen: \"yes\"}"}, "condition first.cut-seen is no choice that a phase asks for"},
		{[]string{"choose: [one, two]", "choose: [one, two]\n        when: {lead: maybe}"}, `lead is never "maybe"; write one of: on, off`},
		{[]string{"choose: [one, two]", "choose: [one, two]\n        when: {leed: \"on\"}"}, `there is no condition "leed"; did you mean lead?`},
		{[]string{"choose: [one, two]", "compute: spatial-spread\n        uses: first.logs\n        at most: 2 K"}, `uses "first.logs", which no phase asks`},
	} {
		_, err := ReadPlan(small(tt.change...))
		wantProblem(t, err, tt.says)
	}
	// Edges that exclude each other by where the services run make no cycle.
	files := small("after: []", "after: [{hold: second.board, when: {services: surface}}]", "after: [first.cut]", "after: [{hold: first.cut, when: {services: cavity}}]")
	if _, err := ReadPlan(files); err != nil {
		t.Errorf("edges that exclude each other: %v", err)
	}
}

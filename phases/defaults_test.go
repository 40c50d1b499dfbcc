package phases

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks"
	"proveout/checks/units"
)

func TestDefaults(t *testing.T) {
	plan := defaultPlan(t)
	if len(plan.Phases) != 11 {
		t.Errorf("%d phases, want 11", len(plan.Phases))
	}
	for i, ph := range plan.Phases {
		if ph.Number != i+1 || ph.Purpose == "" || len(ph.Cautions) == 0 || len(ph.Steps) == 0 || len(ph.Holds) == 0 || ph.HandOff == "" {
			t.Errorf("phase %d, %s, lacks a purpose, cautions, steps, a hold or a hand-off", i+1, ph.Name)
		}
		for _, h := range ph.Holds {
			if h.Title == "" || h.Covers == "" || len(h.SignedBy) == 0 || len(h.Checks) == 0 {
				t.Errorf("hold %s lacks a title, what it covers, signatures or checks", h.ID())
			}
			for _, q := range h.Checks {
				if q.Ask == "" || q.Source == "" || !slices.Contains(Marks, q.Mark) {
					t.Errorf("%s: ask %q, source %q, mark %q", q.ID(), q.Ask, q.Source, q.Mark)
				}
			}
		}
	}
}

// Two holds, or one, as the trade has them.
func TestHoldsOfThePhases(t *testing.T) {
	want := map[string][]string{
		"assess": {"diagnosis"}, "demo": {"first-cut", "clearance"}, "framing": {"frame", "inspection"}, "vapor-retarder": {"before-insulation"},
		"insulation": {"before-board"}, "electrical": {"rough-in", "final"}, "line-set": {"rough-in", "final"}, "drywall": {"cover-up", "finish"},
		"door": {"seal"}, "racking": {"racks"}, "commissioning": {"empty-room", "handover"},
	}
	for _, ph := range defaultPlan(t).Phases {
		var names []string
		for _, h := range ph.Holds {
			names = append(names, h.Name)
		}
		if !slices.Equal(names, want[ph.Name]) {
			t.Errorf("%s has the holds %q, want %q", ph.Name, names, want[ph.Name])
		}
	}
}

// Every region reads, and each of its limits can be set, one after the other.
func TestRegions(t *testing.T) {
	_, names := RegionNamed("")
	if len(names) != 9 {
		t.Errorf("regions %q, want nine", names)
	}
	for _, name := range names {
		r, _ := RegionNamed(name)
		if r.Name != name || r.Title == "" || r.Units != "US" && r.Units != "SI" || len(r.Notes) == 0 {
			t.Errorf("region %s: %+v", name, r)
		}
		if s, known := Scheme(r.Scheme); s == nil {
			t.Errorf("region %s has the mold scheme %q, known are %q", name, r.Scheme, known)
		}
		files := Defaults()
		for _, l := range r.Limits {
			setLimit(t, files, l.Check, l.NewLimit)
			if l.Reason == "" || l.Source != "" && !slices.Contains(Marks, l.Mark) {
				t.Errorf("region %s, %s: reason %q, source %q, mark %q", name, l.Check, l.Reason, l.Source, l.Mark)
			}
		}
		if _, err := ReadPlan(files); err != nil {
			t.Errorf("region %s: %v", name, err)
		}
	}
}

func setLimit(t testing.TB, files map[string][]byte, id string, l NewLimit) {
	t.Helper()
	phase, check, _ := strings.Cut(id, ".")
	l.Check = check
	for _, file := range slices.Collect(maps.Keys(files)) {
		if !strings.Contains(file, "-"+phase+".") {
			continue
		}
		out, err := SetLimit(file, files[file], l)
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		files[file] = out
		return
	}
	t.Fatalf("no phase has the check %s", id)
}

func TestSchemes(t *testing.T) {
	for _, s := range allSchemes() {
		if s.Title == "" || s.Source == "" || !slices.Contains(Marks, s.Mark) || len(s.Tiers) < 2 {
			t.Errorf("scheme %s lacks title, source, mark or tiers", s.Name)
		}
		last := 0.0
		for i, tier := range s.Tiers {
			bound := tier.Below
			if !bound.Known() {
				bound = tier.UpTo
			}
			open := i == len(s.Tiers)-1
			if open == bound.Known() || !open && !(bound.Base() > last) || tier.Needs == "" {
				t.Errorf("scheme %s, tier %s: bound %v after %v; the last one is open, the others rise", s.Name, tier.Name, bound, last)
			}
			if !open {
				last = bound.Base()
			}
		}
	}
	if s, names := Scheme("no-such"); s != nil || !slices.Contains(names, "epa") {
		t.Errorf("Scheme = %v, %q", s, names)
	}
}

// The edges of the published schemes: EPA 402-K-01-001 table 2 (below 10, to
// 100 ft²), 16 TAC 78.110 (25 contiguous ft²), New York Labor Law 930 (more
// than 10 ft²), Schimmelleitfaden 2017 (20 cm², 0.5 m²), as their files quote
// them.
func TestSchemeEdges(t *testing.T) {
	for _, tt := range []struct{ scheme, area, want string }{
		{"epa", "9.9 ft²", "small"}, {"epa", "10 ft²", "medium"}, {"epa", "100 ft²", "medium"}, {"epa", "101 ft²", "large"},
		{"nyc-2008", "9.9 ft²", "small"}, {"nyc-2008", "10 ft²", "medium"}, {"nyc-2008", "100.1 ft²", "large"},
		{"us-navy", "10 ft²", "level 1"}, {"us-navy", "10.1 ft²", "level 2"}, {"us-navy", "100 ft²", "level 2"}, {"us-navy", "101 ft²", "level 3"},
		{"texas", "24.9 ft²", "below notice"}, {"texas", "25 ft²", "licensed"},
		{"new-york-state", "10 ft²", "below project"}, {"new-york-state", "10.1 ft²", "project"},
		{"german-uba", "19 cm²", "category 1"}, {"german-uba", "20 cm²", "category 2"}, {"german-uba", "0.49 m²", "category 2"}, {"german-uba", "0.5 m²", "category 3"},
		{"canada", "0.99 m²", "minor"}, {"canada", "1 m²", "moderate"}, {"canada", "10 m²", "moderate"}, {"canada", "10.1 m²", "major"},
		{"epa", "0 ft²", "none"},
	} {
		plan := defaultPlan(t)
		room := cellar(t, map[string]string{})
		room.Scheme, _ = Scheme(tt.scheme)
		patch := plan.Questions()["assess.mold-patch"]
		f := answer(patch, "r-1", "wall")
		f.Quantity = quantity(t, units.AreaKind, tt.area)
		g := NewGate(plan, Evidence{Room: room, Facts: checks.Facts{patch.ID(): {f}}, Now: noon})
		if got := g.Decisions["mold"]; got != tt.want {
			t.Errorf("%s, %s: tier %q, want %q", tt.scheme, tt.area, got, tt.want)
		}
	}
}

// Whatever the job, every hold that applies can be opened: with a good answer at
// every place it is ready, and signed, the next ones follow.
func TestEveryHoldCanBeOpened(t *testing.T) {
	plan := defaultPlan(t)
	jobs := each("services", "insulation", "retarder", "floor")
	for i, properties := range jobs {
		choose := map[string]string{}
		if i%3 == 1 {
			choose = map[string]string{"line-set.refrigerant-lines": "sealed at the factory", "framing.floor-basis": "engineer's letter", "commissioning.mapping": "nine points", "demo.asbestos-notice": "no notice needed"}
		}
		if i%3 == 2 {
			choose = map[string]string{
				"line-set.line-sizing": "worked out", "line-set.line-charge": "yes",
				"assess.fan-test-made": "made", "commissioning.standard-fan-test": "made",
			}
		}
		properties["region"] = []string{"us", "us-ny", "us-tx", "de", "ca"}[i%5]
		properties["permit"], properties["collection"] = []string{"yes", "no"}[i%2], []string{"in place", "none"}[i%2]
		properties["refrigerant class"], properties["drain"], properties["finish"] = []string{"A1", "A2L"}[i%2], []string{"pump", "gravity"}[i%2], "painted"
		openAll(t, plan, properties, choose)
	}
}

func openAll(t *testing.T, plan *Plan, properties, choose map[string]string) {
	t.Helper()
	room := cellar(t, properties)
	fill(plan, room)
	facts := checks.Facts{}
	for id, q := range plan.Questions() {
		facts[id] = answers(t, plan, q, room, choose)
	}
	e := Evidence{Room: room, Facts: facts, Now: noon}
	for _, s := range NewGate(plan, e).States() {
		if s.State == Ready && len(s.Hold.After) > 0 {
			t.Errorf("%v: %s is ready while %v are not released", properties, s.Hold.ID(), s.Hold.After)
		}
	}
	left := plan.Holds()
	for len(left) > 0 {
		g := NewGate(plan, e)
		before := len(left)
		left = slices.DeleteFunc(left, func(h *Hold) bool {
			s := g.State(h)
			if s.State == Ready {
				e.Releases = append(e.Releases, released(g, h)...)
			}
			return s.State == Ready || s.State == NotApplicable
		})
		if len(left) == before {
			for _, h := range left {
				explain(t, properties, g.State(h))
			}
			return
		}
	}
}

func explain(t *testing.T, properties map[string]string, s *HoldState) {
	t.Helper()
	t.Errorf("%v: %s is %s, blocked by %q", properties, s.Hold.ID(), s.State, s.BlockedBy)
	for _, v := range s.Verdicts {
		if !v.Settled() {
			t.Errorf("  %s: %s %q, %q", v.Check, v.Outcome, v.Value, v.Reasons)
		}
	}
}

// A default that is only text in the plan has its figure in job.yaml.
func TestEveryJobValueHasItsKind(t *testing.T) {
	for _, q := range defaultPlan(t).Questions() {
		for _, b := range q.Limits.Bounds() {
			if kind, named := checks.JobValues[b.Name]; named && kind != q.Measures {
				t.Errorf("%s measures %s and is limited by %q, a %s", q.ID(), q.Measures, b.Name, kind)
			}
		}
	}
}

func TestDefaultsAreCopies(t *testing.T) {
	a := Defaults()
	for name := range a {
		a[name][0] = '#'
	}
	if _, err := ReadPlan(Defaults()); err != nil {
		t.Errorf("a change of the defaults stays: %v", err)
	}
}

func BenchmarkReadPlan(b *testing.B) {
	files := Defaults()
	for b.Loop() {
		if _, err := ReadPlan(files); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGate(b *testing.B) {
	plan, err := ReadPlan(Defaults())
	if err != nil {
		b.Fatal(err)
	}
	room := cellar(b, map[string]string{"services": "cavity", "insulation": "foam", "retarder": "film", "region": "us"})
	fill(plan, room)
	facts := checks.Facts{}
	for id, q := range plan.Questions() {
		facts[id] = answers(b, plan, q, room, nil)
	}
	for b.Loop() {
		NewGate(plan, Evidence{Room: room, Facts: facts, Now: noon.Add(time.Minute)}).States()
	}
}

package phases

import (
	"slices"
	"strings"
	"testing"

	"proveout/checks"
	"proveout/checks/diagnosis"
	"proveout/checks/units"
)

// visited is the default plan with the records of a healthy room.
func visited(t testing.TB) checks.Case {
	t.Helper()
	plan := defaultPlan(t)
	room := cellar(t, map[string]string{"region": "us", "floor": "framed"})
	facts := checks.Facts{}
	for _, h := range plan.Phase("assess").Holds {
		for _, q := range h.Checks {
			facts[q.ID()] = answers(t, plan, q, room, nil)
		}
	}
	g := NewGate(plan, Evidence{Room: room, Facts: facts, Now: noon})
	return g.judgeCase(g.questions["assess.cause-explained"], "")
}

// Every question that the diagnosis takes its measurements from is asked.
func TestDiagnosisIsAsked(t *testing.T) {
	questions := defaultPlan(t).Questions()
	for _, m := range checks.Measurements() {
		for _, name := range checks.QuestionsFor(m) {
			if q := questions["assess."+name]; q == nil {
				t.Errorf("%s: the plan does not ask assess.%s", m, name)
			}
		}
	}
}

func TestHealthyRoomPasses(t *testing.T) {
	c := visited(t)
	d, err := c.Diagnose()
	if err != nil || d.Outcome != diagnosis.Sound || len(d.Unusable) > 0 {
		t.Errorf("outcome %v, %v, unusable %v; wanted %v", d.Outcome, err, d.Unusable, d.Wanted)
	}
	if v := checks.Judge(c); v.Outcome != checks.Pass || len(v.Facts) < 70 {
		t.Errorf("verdict %v %q on %d records", v.Outcome, v.Reasons, len(v.Facts))
	}
}

// A cause that the records do not lead to keeps the hold shut, as does each reading
// that is missing or cannot be used: the reason names it.
func TestCauseExplainedByRecords(t *testing.T) {
	for _, tt := range []struct {
		name  string
		spoil func(checks.Case)
		says  string
	}{
		{"another cause stated", func(c checks.Case) { c.Facts["assess.cause"][0].Answer = "air leakage" }, "stated: air leakage; the records say: none found, the room is sound"},
		{"no cause stated", func(c checks.Case) { delete(c.Facts, "assess.cause") }, "no cause is stated yet"},
		{"which ones is open", func(c checks.Case) { c.Facts["assess.cause"][0].Answer = "more than one" }, "which ones is still to answer"},
		{"duty not read", func(c checks.Case) { delete(c.Facts, "assess.unit-duty") }, "share of the time that the unit runs would (assess.unit-duty)"},
		{"no condensate", func(c checks.Case) { delete(c.Facts, "assess.condensate") }, "assess.condensate"},
		{"plate not compared", func(c checks.Case) { c.Facts["assess.unit-data-sheet"][0].Answer = "no" }, "the unit's data sheet would (job.yaml)"},
		{"water not looked for", func(c checks.Case) { delete(c.Facts, "assess.water-at-unit") }, "(assess.water-at-unit)"},
		{"two answers", func(c checks.Case) {
			f := c.Facts["assess.unit-duty"][0]
			f.ID = "r-2"
			c.Facts["assess.unit-duty"] = append(c.Facts["assess.unit-duty"], f)
		}, "assess.unit-duty"},
		{"a warm room with a good log", func(c checks.Case) {
			for i := range c.Facts["assess.room-temperature"] {
				c.Facts["assess.room-temperature"][i].Quantity = quantity(t, units.TemperatureKind, "18 °C")
			}
		}, "the records do not decide"},
	} {
		c := visited(t)
		tt.spoil(c)
		v := checks.Judge(c)
		if v.Outcome != checks.Undecided || !strings.Contains(strings.Join(v.Reasons, "; "), tt.says) {
			t.Errorf("%s: %v %q, want undecided that says %q", tt.name, v.Outcome, v.Reasons, tt.says)
		}
	}
}

// What is there and cannot be used is named with its record.
func TestUnusable(t *testing.T) {
	for _, tt := range []struct {
		check string
		spoil func(*checks.Fact)
		says  string
	}{
		{"assess.room-humidity", func(f *checks.Fact) { f.Instrument.Due = noon.AddDate(0, -1, 0) }, "calibration ran out"},
		{"assess.unit-split", func(f *checks.Fact) { f.Quantity = units.Quantity{} }, "no value"},
		{"assess.condensate", func(f *checks.Fact) { f.Quantity = units.Of(units.MassRateKind, 900, units.SI) }, "out of range"},
		{"assess.door-gap", func(f *checks.Fact) { delete(f.Values, "length") }, "missing: length"},
		{"assess.door-gap", func(f *checks.Fact) { f.Values["gap"] = units.Of(units.LengthKind, 0.4, units.SI) }, "gap 400 mm is out of range"},
		{"assess.baseline-log", func(f *checks.Fact) { f.Files = nil }, "no file has a column of temperature"},
		{"assess.framing-moisture", func(f *checks.Fact) { f.Place = "no wall/point 1" }, "no face of that name"},
		{"assess.coil-frost", func(f *checks.Fact) { f.Answer = "perhaps" }, "not one of the answers"},
	} {
		c := visited(t)
		f := &c.Facts[tt.check][0]
		tt.spoil(f)
		d, err := c.Diagnose()
		if err != nil {
			t.Errorf("%s: %v", tt.check, err)
		}
		if !slices.ContainsFunc(d.Unusable, func(u checks.Unusable) bool {
			return u.Check == tt.check && u.Record == f.ID && strings.Contains(u.Reason, tt.says)
		}) {
			t.Errorf("%s: unusable %v, want %s that says %q", tt.check, d.Unusable, f.ID, tt.says)
		}
	}
}

// Mapping and diagnosis of a whole visit, logger files read already: 50 ms is wanted.
func BenchmarkDiagnosis(b *testing.B) {
	c := visited(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := c.Diagnose(); err != nil {
			b.Fatal(err)
		}
	}
}

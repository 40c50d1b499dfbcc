package envelope_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

var wallFilms = envelope.Films{OtherSide: 0.13, Room: 0.13, Direction: envelope.Horizontal}

// ISO 6946 6.7.2: the true resistance lies between the limits, lower ≤ R_T ≤
// upper, and both agree when nothing is beside anything.
func TestLimitsEnclose(t *testing.T) {
	random := rand.New(rand.NewPCG(6946, 1))
	for range 500 {
		wall := randomFramed(random)
		r, err := wall.Resistance(wallFilms)
		if err != nil {
			if !strings.Contains(err.Error(), "above 1.5") {
				t.Fatal(err)
			}
			continue
		}
		if !(r.Lower <= r.Total*(1+1e-12) && r.Total <= r.Upper*(1+1e-12)) {
			t.Errorf("lower %v, total %v, upper %v: out of order", r.Lower, r.Total, r.Upper)
		}
		var area float64
		for _, p := range r.Paths {
			area += p.Fraction
		}
		if !near(area, 1, 1e-12) {
			t.Errorf("the paths take %v of the area, want 1", area)
		}
	}
}

func randomFramed(random *rand.Rand) envelope.Assembly {
	var a envelope.Assembly
	for range 1 + random.IntN(5) {
		l := solid("x", 5+200*random.Float64(), units.Conductivity(0.02+random.Float64()))
		if random.IntN(2) == 0 {
			l = l.WithFraming(0.05+0.4*random.Float64(), solid("y", 0, units.Conductivity(0.02+random.Float64())))
		}
		a.Layers = append(a.Layers, l)
	}
	return a
}

// A stud cut in two by the drawing is still one stud: its path is that of the
// undivided one.
func TestMemberRunsOn(t *testing.T) {
	stud := solid("stud", 0, 0.115)
	whole := envelope.Assembly{Layers: []envelope.Layer{solid("foam", 89, 0.0245).WithFraming(0.25, stud)}}
	var cut envelope.Assembly
	for _, mm := range []float64{30, 59} {
		l := solid("foam", mm, 0.0245).WithFraming(0.25, stud)
		l.Beside[0].Member = "stud"
		cut.Layers = append(cut.Layers, l)
	}
	want, err := whole.Resistance(wallFilms)
	if err != nil {
		t.Fatal(err)
	}
	got, err := cut.Resistance(wallFilms)
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Paths) != 2 || !near(float64(got.Upper), float64(want.Upper), 1e-12) || !near(float64(got.Lower), float64(want.Lower), 1e-12) {
		t.Errorf("cut stud: %d paths, %v/%v, want 2 and %v/%v", len(got.Paths), got.Upper, got.Lower, want.Upper, want.Lower)
	}
}

func TestResistanceRefuses(t *testing.T) {
	nan := math.NaN()
	foam := solid("foam", 89, 0.0245)
	for name, tt := range map[string]struct {
		layers []envelope.Layer
		want   string
	}{
		"no layers":        {nil, "no layers"},
		"no value":         {[]envelope.Layer{{Name: "board", Thickness: 0.01}}, "neither conductivity nor resistance"},
		"no thickness":     {[]envelope.Layer{{Name: "board", Conductivity: 0.1}}, "thickness"},
		"NaN":              {[]envelope.Layer{solid("board", 12, units.Conductivity(nan))}, "conductivity"},
		"NaN resistance":   {[]envelope.Layer{rated("batt", units.ThermalResistance(nan))}, "resistance"},
		"negative":         {[]envelope.Layer{solid("board", 12, -0.1)}, "conductivity"},
		"millimeters":      {[]envelope.Layer{{Name: "board", Thickness: 12.7, Conductivity: 0.16}}, "thickness"},
		"steel stud":       {[]envelope.Layer{foam.WithFraming(0.01, solid("stud", 0, 50))}, "metal"},
		"fraction 25":      {[]envelope.Layer{foam.WithFraming(25, solid("stud", 0, 0.115))}, "fraction"},
		"fraction NaN":     {[]envelope.Layer{foam.WithFraming(nan, solid("stud", 0, 0.115))}, "fraction"},
		"no room left":     {[]envelope.Layer{foam.WithFraming(0.6, solid("a", 0, 0.115)).WithFraming(0.6, solid("b", 0, 0.115))}, "less than 1"},
		"limits too far":   {[]envelope.Layer{rated("board", 3), solid("vacuum panel", 140, 0.004).WithFraming(0.25, solid("oak", 0, 0.2))}, "above 1.5"},
		"member disagrees": {[]envelope.Layer{member(foam, 0.25), member(foam, 0.2)}, "share the member"},
	} {
		r, err := envelope.Assembly{Layers: tt.layers}.Resistance(wallFilms)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: Resistance = %v, %v, want an error with %q", name, r.Total, err, tt.want)
		}
	}
	if _, err := (envelope.Assembly{Layers: []envelope.Layer{foam}}).Resistance(envelope.Films{Room: units.ThermalResistance(nan)}); err == nil {
		t.Error("Resistance with a NaN film: want an error")
	}
}

func member(l envelope.Layer, fraction float64) envelope.Layer {
	l = l.WithFraming(fraction, solid("stud", 0, 0.115))
	l.Beside[0].Member = "stud"
	return l
}

// The steps name each layer, both limits and the result, each with a source.
func TestResistanceSteps(t *testing.T) {
	foam := solid("foam", 89, 0.0245).WithFraming(0.25, solid("stud", 0, 0.115))
	foam.Source, foam.Beside[0].Layer.Source = "data sheet", "table"
	films := wallFilms
	films.Source = "ISO 6946"
	r, err := envelope.Assembly{Layers: []envelope.Layer{foam}}.Resistance(films)
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"surface on the other side", "foam, 75 % of the area", "stud, 25 % of the area", "surface in the room",
		"upper limit (parallel path)", "lower limit (isothermal planes)", "whole assembly", "greatest error", "transmittance"}
	for i, s := range r.Steps {
		if i >= len(want) || s.Name != want[i] || s.Formula == "" || s.Value == "" || s.Source == "" {
			t.Errorf("step %d = %+v, want %q complete", i, s, want[min(i, len(want)-1)])
		}
	}
	if len(r.Steps) != len(want) {
		t.Errorf("%d steps, want %d", len(r.Steps), len(want))
	}
}

// Steel screws, λ 50, ⌀ 4.8 mm, four a square metre through 100 mm of foam of
// λ 0.0245: ΔU_f = 0.8·50·1.80956e-5·4/0.1·(4.08163/4.50038)² = 0.023816
// W/(m²·K). ISO 6946:2017 annex F, formula from memory; the figure computed
// outside this project.
func TestFastenerCorrection(t *testing.T) {
	roof := envelope.Assembly{Layers: []envelope.Layer{solid("foam", 100, 0.0245), rated("rest", 0.158755)}}
	r, err := roof.Resistance(wallFilms)
	if err != nil {
		t.Fatal(err)
	}
	foam, err := r.Plane("foam")
	if err != nil {
		t.Fatal(err)
	}
	screws := envelope.Fasteners{Conductivity: 50, Section: units.Area(math.Pi * 0.0024 * 0.0024), PerArea: 4, Insulation: 0.1}
	got, err := r.Corrected(envelope.Correction{Insulation: foam, Fasteners: screws})
	if err != nil {
		t.Fatal(err)
	}
	if !near(float64(got.Fasteners), 0.023816, 5e-7) || !got.Applied || !near(float64(got.Transmittance), 0.24602, 5e-6) {
		t.Errorf("Corrected = %+v, want ΔUf 0.023816, applied, Uc 0.24602", got)
	}
	screws.Penetration = 0.05
	recessed, err := r.Corrected(envelope.Correction{Insulation: foam, Fasteners: screws})
	if err != nil || !near(float64(recessed.Fasteners), 0.023816/2, 5e-7) {
		t.Errorf("recessed by half: %v, %v, want half of 0.023816", recessed.Fasteners, err)
	}
	screws.PerArea = math.NaN()
	if got, err := r.Corrected(envelope.Correction{Insulation: foam, Fasteners: screws}); err == nil {
		t.Errorf("Corrected with NaN screws = %v, want an error", got.Transmittance)
	}
	if got, err := r.Corrected(envelope.Correction{Insulation: foam, Gaps: 3}); err == nil {
		t.Errorf("Corrected with gap level 3 = %v, want an error", got.Transmittance)
	}
}

// Catalogue panes with 0.13/0.04 films, re-based to a pane between two rooms:
// 1/U' = 1/U + 0.09. Single glass of 6 mm, λ 1.0 (prEN ISO 10077-2): 3.7594.
// Formula of ISO 6946, figures computed outside this project.
func TestRebasedTransmittance(t *testing.T) {
	for _, tt := range []struct{ catalogue, want float64 }{{5.7, 3.767}, {2.8, 2.236}, {1.6, 1.399}, {1.1, 1.001}} {
		got, err := envelope.RebasedTransmittance(units.Transmittance(tt.catalogue), envelope.CatalogueFilms, wallFilms)
		if err != nil || !near(float64(got), tt.want, 0.0005) {
			t.Errorf("RebasedTransmittance(%v) = %v, %v, want %v", tt.catalogue, got, err, tt.want)
		}
	}
	pane, err := envelope.Assembly{Layers: []envelope.Layer{solid("glass", 6, 1)}}.Resistance(wallFilms)
	if err != nil || !near(float64(pane.Transmittance), 3.7594, 0.00005) {
		t.Errorf("single pane U = %v, %v, want 3.7594", pane.Transmittance, err)
	}
	for _, u := range []float64{0, -1, 6, math.NaN(), math.Inf(1)} {
		if got, err := envelope.RebasedTransmittance(units.Transmittance(u), envelope.CatalogueFilms, wallFilms); err == nil {
			t.Errorf("RebasedTransmittance(%v) = %v, want an error", u, got)
		}
	}
}

// ISO 10077-1 (from memory): U_w = (ΣA U + Σl ψ)/ΣA; by hand
// (1.2·1.1 + 0.4·1.6 + 4.4·0.06)/1.6 = 1.39.
func TestWindowTransmittance(t *testing.T) {
	got, err := envelope.WindowTransmittance([]envelope.Pane{{1.2, 1.1}, {0.4, 1.6}}, []envelope.Edge{{4.4, 0.06}})
	if err != nil || !near(float64(got), 1.39, 1e-12) {
		t.Errorf("WindowTransmittance = %v, %v, want 1.39", got, err)
	}
	for _, panes := range [][]envelope.Pane{nil, {{1, units.Transmittance(math.NaN())}}, {{0, 1}}} {
		if got, err := envelope.WindowTransmittance(panes, nil); err == nil {
			t.Errorf("WindowTransmittance(%v) = %v, want an error", panes, got)
		}
	}
}

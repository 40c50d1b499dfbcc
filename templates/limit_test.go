package templates

import (
	"testing"

	"proveout/checks"
	"proveout/checks/units"
)

func quantity(t *testing.T, kind units.Kind, text string) units.Quantity {
	t.Helper()
	q, err := units.Parse(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func atLeast(t *testing.T, kind units.Kind, text string) checks.Limits {
	t.Helper()
	b, err := checks.ParseBound(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return checks.Limits{AtLeast: b}
}

// testRoom has two faces with different design depths.
func testRoom(t *testing.T, system units.System) *checks.Room {
	t.Helper()
	depth := func(text string) map[string]units.Quantity {
		return map[string]units.Quantity{"depth": quantity(t, units.LengthKind, text)}
	}
	return &checks.Room{
		Units: system, SetPoint: quantity(t, units.TemperatureKind, "55 °F"),
		Values: map[string]string{"data sheet cure": "24 h"},
		Faces: []checks.Face{
			{Name: "north wall", Kind: "wall", Bays: 2, Design: depth("5 in")},
			{Name: "east wall", Kind: "wall", Bays: 1, Design: depth("5 in")},
			{Name: "lid", Kind: "ceiling", Bays: 1, Design: depth("7 in")},
		},
	}
}

func TestLimitText(t *testing.T) {
	walls := checks.Sampling{PerBay: 1, Faces: []string{"wall"}}
	all := checks.Sampling{PerBay: 1}
	for _, tt := range []struct {
		want string
		in   units.System
		q    checks.Question
	}{
		{"yes", units.US, checks.Question{Kind: checks.Observation, Want: "yes"}},
		{"pass, with its number", units.US, checks.Question{Kind: checks.Inspection}},
		{"one of: a, b", units.US, checks.Question{Kind: checks.Choice, Options: []string{"a", "b"}}},
		{"document: receipt", units.US, checks.Question{Kind: checks.Paper, Paper: "receipt"}},
		{"24 h", units.US, checks.Question{Kind: checks.Wait, Wait: "24 h"}},
		{"24 h (data sheet cure)", units.US, checks.Question{Kind: checks.Wait, Wait: "data sheet cure"}},
		{"data sheet other (not given yet)", units.US, checks.Question{Kind: checks.Wait, Wait: "data sheet other"}},
		{"recorded, no limit", units.US, checks.Question{Kind: checks.Reading, RecordOnly: true}},
		{"applies to a house built before 1978", units.US, checks.Question{Kind: checks.Computed, Before: "1978"}},
		{"as computed", units.US, checks.Question{Kind: checks.Computed}},
		{"at least 5 in", units.US, checks.Question{Kind: checks.Reading, Measures: units.LengthKind, Limits: atLeast(t, units.LengthKind, "5 in")}},
		{"at least 5 in (127 mm)", units.SI, checks.Question{Kind: checks.Reading, Measures: units.LengthKind, Limits: atLeast(t, units.LengthKind, "5 in")}},
		{"at least 5 in (design depth)", units.US, checks.Question{Kind: checks.Reading, Measures: units.LengthKind, Sampling: walls, Limits: atLeast(t, units.LengthKind, "design depth")}},
		{"at least 5 in for north wall, east wall; 7 in for lid (design depth)", units.US, checks.Question{Kind: checks.Reading, Measures: units.LengthKind, Sampling: all, Limits: atLeast(t, units.LengthKind, "design depth")}},
		{"at least 53.2 °F (set point - 1 K)", units.US, checks.Question{Kind: checks.Reading, Measures: units.TemperatureKind, Limits: atLeast(t, units.TemperatureKind, "set point - 1 K")}},
	} {
		if got := limitText(&tt.q, testRoom(t, tt.in)); got != tt.want {
			t.Errorf("limitText(%+v) = %q, want %q", tt.q, got, tt.want)
		}
	}
}

func TestSamplingText(t *testing.T) {
	for want, s := range map[string]checks.Sampling{
		"1":                               {},
		"12":                              {AtLeast: 12},
		"2: low, high":                    {Places: []string{"low", "high"}},
		"3 per face, 1 per bay; 9 in all": {PerFace: 3, PerBay: 1},
		"each penetration, now 0":         {Each: "penetration"},
	} {
		q := checks.Question{Kind: checks.Reading, Sampling: s}
		if got := samplingText(&q, testRoom(t, units.US)); got != want {
			t.Errorf("samplingText(%+v) = %q, want %q", s, got, want)
		}
	}
	if got := samplingText(&checks.Question{Kind: checks.Computed, Compute: "effective-resistance", Uses: "foam-depth"}, testRoom(t, units.US)); got != "computed" {
		t.Errorf("samplingText of a computed check = %q", got)
	}
}

func TestDecidingLimit(t *testing.T) {
	q := &checks.Question{Measures: units.TemperatureDifferenceKind, Limits: atLeast(t, units.TemperatureDifferenceKind, "3 K")}
	if got := decidingLimit("at least 3 K", q, testRoom(t, units.US)); got != "at least 3 K (5.4 °F)" {
		t.Errorf("decidingLimit = %q", got)
	}
	if got := decidingLimit("complete, with the photos", q, testRoom(t, units.US)); got != "complete, with the photos" {
		t.Errorf("decidingLimit of words = %q", got)
	}
}

func TestStatedResistance(t *testing.T) {
	layer := checks.Layer{Thickness: quantity(t, units.LengthKind, "5 in"), Resistance: quantity(t, units.ThermalResistanceKind, "R-31")}
	depth := func(text string) *checks.Point {
		return &checks.Point{Quantity: quantity(t, units.LengthKind, text)}
	}
	for _, tt := range []struct {
		layer checks.Layer
		worst *checks.Point
		want  Markdown
	}{
		{layer, depth("5 in"), "R-31"},
		{layer, depth("6 in"), "R-31"}, // never more than the product states
		{layer, depth("4 7/8 in"), "______ (R-31 is stated for 5 in, which was not reached)"},
		{layer, nil, "R-31 as planned"},
		{checks.Layer{Thickness: layer.Thickness}, depth("5 in"), "______ from the product's label or data sheet"},
	} {
		if got := statedResistance(tt.layer, tt.worst); got != tt.want {
			t.Errorf("statedResistance(%v, %v) = %q, want %q", tt.layer.Resistance, tt.worst, got, tt.want)
		}
	}
}

package checks

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"proveout/checks/units"
)

func TestBounds(t *testing.T) {
	room := cellar(t)
	room.Values["nominal voltage"] = "120 V"
	room.Values["data sheet lift"] = "1 1/2 in"
	room.Values["data sheet odd"] = "5 kg"
	north := &room.Faces[0]
	for _, tt := range []struct {
		kind units.Kind
		text string
		face *Face
		want string // "" when it cannot be resolved
		says string
	}{
		{units.LengthKind, "5 in", nil, "5 in", ""},
		{units.LengthKind, "design depth", north, "5 in", ""},
		{units.LengthKind, "design depth", nil, "", `"design depth"`},
		{units.LengthKind, "design depth", &room.Faces[2], "", "no design depth for the lid"},
		{units.TemperatureKind, "set point", nil, "55 °F", ""},
		{units.TemperatureKind, "set point + 1 K", nil, "56.8 °F", ""},
		{units.TemperatureKind, "set point - 2 °F", nil, "53 °F", ""},
		{units.TemperatureKind, "set point − 2 °F", nil, "53 °F", ""},
		{units.VoltageKind, "95 % of nominal voltage", nil, "114 V", ""},
		{units.VoltageKind, "105% of nominal voltage", nil, "126 V", ""},
		{units.LengthKind, "data sheet lift", nil, "1 1/2 in", ""},
		{units.LengthKind, "data sheet other", nil, "", "add it to its values"},
		{units.LengthKind, "data sheet odd", nil, "", `"data sheet odd" in job.yaml`},
		{units.LengthKind, "set point", nil, "", "that is a length"},
	} {
		b := bound(t, tt.kind, tt.text)
		q, err := b.Resolve(tt.kind, room, tt.face)
		switch {
		case tt.want != "" && (err != nil || q.String() != tt.want):
			t.Errorf("%q = %v, %v, want %s", tt.text, q, err, tt.want)
		case tt.want == "" && (err == nil || !strings.Contains(err.Error(), tt.says)):
			t.Errorf("%q = %v, %v, want an error that says %q", tt.text, q, err, tt.says)
		}
	}
	for _, text := range []string{"", "5", "five inches", "design depht", "95 % of nominal", "x % of nominal voltage", "set point + 1 kg"} {
		if b, err := ParseBound(units.TemperatureKind, text); err == nil {
			t.Errorf("ParseBound(%q) = %+v, want an error", text, b)
		}
	}
	if q, err := (Bound{}).Resolve(units.LengthKind, room, nil); err == nil {
		t.Errorf("no bound resolves to %v", q)
	}
}

func TestBoundByFace(t *testing.T) {
	room := cellar(t)
	b := Bound{ByFace: map[string]Bound{"wall": bound(t, units.ThermalResistanceKind, "R-19")}}
	if q, err := b.Resolve(units.ThermalResistanceKind, room, &room.Faces[0]); err != nil || q.String() != "R-19" {
		t.Errorf("wall: %v, %v", q, err)
	}
	for _, f := range []*Face{nil, &room.Faces[2]} {
		if q, err := b.Resolve(units.ThermalResistanceKind, room, f); err == nil {
			t.Errorf("face %v has the limit %v", f, q)
		}
	}
	q := depth(t)
	q.Measures, q.Limits = units.ThermalResistanceKind, Limits{AtLeast: b}
	f := fact("lid")
	f.Quantity = quantity(t, units.ThermalResistanceKind, "R-30")
	wantVerdict(t, judge(room, q, f), Undecided, "no limit for a ceiling")
}

// At a limit, at least and at most pass; above and below do not. Float noise of
// 1e-9 of the value is forgiven and no more.
func TestEdges(t *testing.T) {
	const limit = 0.127 // 5 in, exact
	for _, tt := range []struct {
		word string
		off  float64 // relative
		want Outcome
	}{
		{"at least", 0, Pass}, {"at least", 1e-6, Pass}, {"at least", -1e-6, Fail},
		{"at least", -0.9e-9, Pass}, {"at least", -1.1e-9, Fail},
		{"at most", 0, Pass}, {"at most", -1e-6, Pass}, {"at most", 1e-6, Fail},
		{"at most", 0.9e-9, Pass}, {"at most", 1.1e-9, Fail},
		{"above", 0, Fail}, {"above", 1e-6, Pass}, {"above", -1e-6, Fail},
		{"above", 0.9e-9, Fail}, {"above", 1.1e-9, Pass},
		{"below", 0, Fail}, {"below", -1e-6, Pass}, {"below", 1e-6, Fail},
		{"below", -0.9e-9, Fail}, {"below", -1.1e-9, Pass},
	} {
		q := depth(t)
		q.Limits = limits(tt.word, bound(t, units.LengthKind, "5 in"))
		f := fact("point 1")
		f.Quantity = units.Of(units.LengthKind, limit*(1+tt.off), units.SI)
		if v := judge(cellar(t), q, f); v.Outcome != tt.want {
			t.Errorf("%s with %+g of the limit: %v %q, want %v", tt.word, tt.off, v.Outcome, v.Reasons, tt.want)
		}
	}
}

func limits(word string, b Bound) Limits {
	switch word {
	case "at least":
		return Limits{AtLeast: b}
	case "at most":
		return Limits{AtMost: b}
	case "above":
		return Limits{Above: b}
	}
	return Limits{Below: b}
}

// Both bounds count, and the tighter margin is the one shown.
func TestTwoBounds(t *testing.T) {
	q := depth(t)
	q.Limits.AtMost = bound(t, units.LengthKind, "6 in")
	for text, want := range map[string]string{
		"4 in": "at least 5 in", "5 1/4 in": "at least 5 in", "5 3/4 in": "at most 6 in", "7 in": "at most 6 in",
	} {
		v := judge(cellar(t), q, reading(t, "point 1", text))
		if pass := text[0] == '5'; v.Limit != want || (v.Outcome == Pass) != pass {
			t.Errorf("%s: %v against %q, want the limit %q", text, v.Outcome, v.Limit, want)
		}
	}
}

// A temperature in °F and its margin in °F: 1.8 °F is the 1 K of the limit.
func TestTemperatureMargin(t *testing.T) {
	q := depth(t)
	q.Measures = units.TemperatureKind
	q.Limits = Limits{AtMost: bound(t, units.TemperatureKind, "set point + 1 K")}
	f := fact("point 1")
	f.Quantity = quantity(t, units.TemperatureKind, "54.9 °F")
	f.Instrument = &Instrument{ID: "T-1", Uncertainty: quantity(t, units.TemperatureDifferenceKind, "1 K")}
	v := judge(cellar(t), q, f)
	if v.Outcome != Pass || v.Margin != "+1.9 °F" || v.Near {
		t.Errorf("verdict = %v, margin %q, near %v", v.Outcome, v.Margin, v.Near)
	}
	f.Quantity = quantity(t, units.TemperatureKind, "55 °F")
	if v = judge(cellar(t), q, f); !v.Near {
		t.Errorf("1.8 °F from the limit, known to 1 K, is not near: %+v", v)
	}
}

// What is measured in one system and limited in the other is judged as if both
// were in one.
func TestUnitSystemsAgree(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, pair := range []struct {
		kind   units.Kind
		us, si string
		low    float64 // in the base unit
		high   float64
	}{
		{units.LengthKind, "in", "mm", 0.01, 0.3},
		{units.TemperatureKind, "°F", "°C", -10, 40},
		{units.TemperatureDifferenceKind, "°F", "K", 0.1, 20},
		{units.ThermalResistanceKind, "ft²·°F·h/Btu", "m²·K/W", 0.5, 8},
		{units.PermeanceKind, "perm", "ng/(s·m²·Pa)", 1e-12, 1e-9},
		{units.AreaLoadKind, "psf", "kPa", 500, 5000},
		{units.GaugePressureKind, "psig", "kPa", 1e4, 4e6},
		{units.AirflowKind, "cfm", "m³/h", 0.01, 1},
		{units.MassKind, "lb", "kg", 0.1, 100},
	} {
		for range 300 {
			value := pair.low + (pair.high-pair.low)*random.Float64()
			limit := pair.low + (pair.high-pair.low)*random.Float64()
			if random.IntN(4) == 0 {
				limit = value
			}
			var seen []string
			for _, a := range []string{pair.us, pair.si} {
				for _, b := range []string{pair.us, pair.si} {
					seen = append(seen, judgeIn(t, pair.kind, value, a, limit, b))
				}
			}
			for _, s := range seen {
				if s != seen[0] {
					t.Fatalf("%s %v against %v: %v", pair.kind, value, limit, seen)
				}
			}
		}
	}
}

// judgeIn judges a value written in one unit against limits in another.
func judgeIn(t *testing.T, kind units.Kind, value float64, unit string, limit float64, limitUnit string) string {
	t.Helper()
	v, err := units.OfUnit(kind, value, unit)
	if err != nil {
		t.Fatal(err)
	}
	l, err := units.OfUnit(kind, limit, limitUnit)
	if err != nil {
		t.Fatal(err)
	}
	var outcomes []string
	for _, word := range []string{"at least", "at most", "above", "below"} {
		q := depth(t)
		q.Measures, q.Limits = kind, limits(word, Bound{Text: l.Text, Plain: l})
		f := fact("point 1")
		f.Quantity = v
		outcomes = append(outcomes, judge(cellar(t), q, f).Outcome.String())
	}
	return fmt.Sprint(outcomes)
}

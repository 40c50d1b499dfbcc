package units

import (
	"fmt"
	"math"
	"testing"
	"time"
)

func TestAtLeast(t *testing.T) {
	for _, tt := range []struct {
		kind       Kind
		got, limit string
		least      bool
		most       bool
	}{
		{LengthKind, "5 1/2 in", "5.5 in", true, true},
		{LengthKind, "5 1/2 in", "139.7 mm", true, true},
		{LengthKind, "140 mm", "5 1/2 in", true, false},
		{LengthKind, "5.499 in", "5 1/2 in", false, true},
		{LengthKind, "5.49999999 in", "5 1/2 in", false, true}, // 2e-9 of it: more than noise
		{TemperatureKind, "32 °F", "0 °C", true, true},
		{TemperatureKind, "55 °F", "12.8 °C", false, true},
		{TemperatureKind, "0.0000001 °C", "0 °C", true, false},
		{PermeanceKind, "0.1 perm", "0.1 perm", true, true},
		{PermeanceKind, "0.1001 perm", "0.1 perm", true, false}, // a slack of 1e-9 SI units would call them equal
		{PermeanceKind, "0.06 perm", "sd 34 m", false, true},
		{VacuumKind, "500 micron", "0.5 Torr", true, true},
		{WireSizeKind, "10 AWG", "12 AWG", true, false},
		{WireSizeKind, "2.5 mm²", "14 AWG", true, false},
		{ThermalResistanceKind, "RSI 3.35", "R-19", true, false},
		{PressureKind, "-0.03 in. w.c.", "-0.02 in. w.c.", false, true},
		{PressureKind, "0 Pa", "0 in. w.c.", true, true},
		{DurationKind, "1 day", "24 h", true, true},
		{GaugePressureKind, "300 psig", "300 psi", true, true},
	} {
		got, limit := parse(t, tt.kind, tt.got), parse(t, tt.kind, tt.limit)
		if least, most := AtLeast(got, limit), AtMost(got, limit); least != tt.least || most != tt.most {
			t.Errorf("%s and %s: at least %v, at most %v, want %v, %v", got, limit, least, most, tt.least, tt.most)
		}
	}
}

func TestCompareUnknown(t *testing.T) {
	inch := parse(t, LengthKind, "5 in")
	share, moist := parse(t, PercentKind, "5 %"), parse(t, MoistureContentKind, "5 %")
	nan := Quantity{Text: "5 in", Value: math.NaN(), Unit: inch.Unit}
	for _, pair := range [][2]Quantity{{inch, {}}, {{}, inch}, {{}, {}}, {inch, nan}, {nan, nan}, {share, moist}} {
		if a, b := pair[0], pair[1]; AtLeast(a, b) || AtMost(a, b) || Difference(a, b).Known() {
			t.Errorf("%v (%s) and %v (%s) compare", a, a.Kind(), b, b.Kind())
		}
	}
}

// A reading exactly at its limit plus the margin must pass, 800 times of 800,
// and one that is a hundredth short must not. With a bare less-than the noise of
// binary fractions fails some of them: the last check holds that it does, so
// that this test tests something.
func TestExactMargins(t *testing.T) {
	margin := parse(t, TemperatureDifferenceKind, "3 °F")
	noisy := 0
	for i := range 800 {
		surface := parse(t, TemperatureKind, fmt.Sprintf("%d.%d °F", (i+30)/10, (i+30)%10))
		dew := parse(t, TemperatureKind, fmt.Sprintf("%d.%d °F", i/10, i%10))
		short := parse(t, TemperatureKind, fmt.Sprintf("%d.%d1 °F", i/10, i%10))
		d := Difference(surface, dew)
		if !AtLeast(d, margin) || !AtMost(d, margin) || d.Text != "3 °F" {
			t.Errorf("%s − %s = %s (%v), want 3 °F", surface, dew, d, d.Value)
		}
		if AtLeast(Difference(surface, short), margin) {
			t.Errorf("%s − %s passes a margin of %s", surface, short, margin)
		}
		if surface.Base()-dew.Base() < margin.Base() {
			noisy++
		}
	}
	if noisy == 0 {
		t.Error("no margin needed the slack")
	}
}

func TestDifference(t *testing.T) {
	for _, tt := range []struct {
		kind Kind
		a, b string
		want string
		of   Kind
	}{
		{TemperatureKind, "55.1 °F", "55 °F", "0.1 °F", TemperatureDifferenceKind},
		{TemperatureKind, "12.8 °C", "55 °F", "0.04 °F", TemperatureDifferenceKind},
		{TemperatureKind, "55 °F", "12 °C", "0.78 °C", TemperatureDifferenceKind},
		{TemperatureKind, "32 °F", "273.15 K", "0 K", TemperatureDifferenceKind},
		{LengthKind, "5 1/2 in", "5 3/8 in", "0.125 in", LengthKind},
		{LengthKind, "5 3/8 in", "5 1/2 in", "-0.125 in", LengthKind},
		{LengthKind, "140 mm", "5 1/2 in", "0.012 in", LengthKind},
		{LengthKind, "139.7 mm", "5 1/2 in", "0 in", LengthKind},
		{GaugePressureKind, "299.5 psig", "300 psig", "-0.5 psi", GaugePressureKind},
		{ThermalResistanceKind, "R-21", "R-19", "R-2", ThermalResistanceKind},
		{ThermalResistanceKind, "R-17", "R-19", "-2 R", ThermalResistanceKind},
		{WireSizeKind, "10 AWG", "12 AWG", "1.95 mm²", WireSizeKind},
		{PermeanceKind, "0.06 perm", "sd 34 m", "-2.45 ng/(s·m²·Pa)", PermeanceKind},
		{HumidityKind, "72.4 %", "70 %", "2.4 % RH", HumidityKind},
		{CountKind, "12 points", "10 points", "2 points", CountKind},
		{PressureKind, "-0.03 in. w.c.", "-0.02 in. w.c.", "-0.01 in. w.c.", PressureKind},
	} {
		d := Difference(parse(t, tt.kind, tt.a), parse(t, tt.kind, tt.b))
		if d.Text != tt.want || d.Kind() != tt.of || !d.Known() {
			t.Errorf("%s − %s = %q, a %s, want %q, a %s", tt.a, tt.b, d.Text, d.Kind(), tt.want, tt.of)
		}
	}
}

func TestTyped(t *testing.T) {
	if got := parse(t, DurationKind, "1 h 30 min").Duration(); got != 90*time.Minute {
		t.Errorf("1 h 30 min = %v", got)
	}
	if got := parse(t, TemperatureKind, "12.8 °C").Temperature(); got != 12.8 {
		t.Errorf("12.8 °C = %v", got)
	}
	if got := parse(t, ThermalResistanceKind, "RSI 3.3").ThermalResistance(); got != 3.3 {
		t.Errorf("RSI 3.3 = %v", got)
	}
	if got := parse(t, CountKind, "240 bottles").Count(); got != 240 {
		t.Errorf("240 bottles = %v", got)
	}
	for name, use := range map[string]func(){
		"a length as a temperature": func() { parse(t, LengthKind, "5 in").Temperature() },
		"a reading as a difference": func() { parse(t, TemperatureKind, "5 K").TemperatureDifference() },
		"a gauge pressure":          func() { parse(t, GaugePressureKind, "5 psi").Pressure() },
		"an unknown value":          func() { Quantity{}.Length() },
		"NaN":                       func() { Quantity{Value: math.NaN(), Unit: parse(t, LengthKind, "5 in").Unit}.Length() },
	} {
		if !panics(use) {
			t.Errorf("%s: no panic", name)
		}
	}
}

func panics(f func()) (did bool) {
	defer func() { did = recover() != nil }()
	f()
	return false
}

package units

import (
	"fmt"
	"math"
	"testing"
)

// Readings to a tenth of a degree come back as they were written, from the
// quantity and from its base value.
func TestTenthsComeBack(t *testing.T) {
	for _, unit := range []string{"°F", "°C"} {
		system := map[string]System{"°F": US, "°C": SI}[unit]
		for i := range 1001 {
			text := fmt.Sprintf("%g %s", float64(i)/10, unit)
			q := parse(t, TemperatureKind, text)
			if q.String() != text || q.In(system) != text || q.Understood(system) != text {
				t.Errorf("%q prints as %q, %q, %q", text, q, q.In(system), q.Understood(system))
			}
			if back := Of(TemperatureKind, q.Base(), system); back.Text != text {
				t.Errorf("%q comes back from its base value as %q", text, back.Text)
			}
		}
	}
}

// Steps of 0.1 in each everyday unit come back from the base value.
func TestStepsComeBack(t *testing.T) {
	for _, tt := range []struct {
		kind Kind
		unit string
	}{
		{LengthKind, "in"}, {LengthKind, "mm"}, {HumidityKind, "% RH"}, {GaugePressureKind, "psig"}, {PressureKind, "Pa"}, {PercentKind, "%"},
	} {
		for i := range 1001 {
			text := fmt.Sprintf("%g %s", float64(i)/10, tt.unit)
			q, err := OfUnit(tt.kind, parse(t, tt.kind, text).Base(), tt.unit)
			if err != nil || q.Text != text {
				t.Errorf("%q comes back as %q, %v", text, q.Text, err)
			}
		}
	}
}

// samples are base values of many sizes; each kind takes those that nature
// allows it.
func samples(k Kind) []float64 {
	low, high := k.Plausible()
	var all []float64
	for e := -13.0; e <= 9; e += 0.37 {
		for _, sign := range []float64{1, -1} {
			if v := sign * math.Pow(10, e); low <= v && v <= high {
				all = append(all, v)
			}
		}
	}
	return all
}

// TestPrintsParseBack holds that whatever prints is read again as the same
// value, to the digits printed.
func TestPrintsParseBack(t *testing.T) {
	for _, k := range Kinds() {
		for _, base := range samples(k) {
			printed := []Quantity{Of(k, base, US), Of(k, base, SI)}
			for _, u := range k.Units() {
				if u.Symbol == "AWG" || k == CountKind {
					continue // whole sizes and counts: TestWholeNumbersComeBack
				}
				q, err := OfUnit(k, base, u.Symbol)
				if err != nil {
					t.Fatal(err)
				}
				printed = append(printed, q)
			}
			for _, q := range printed {
				if k != CountKind {
					comesBack(t, q)
				}
			}
		}
	}
}

func comesBack(t *testing.T, q Quantity) {
	t.Helper()
	for _, text := range []string{q.Text, q.In(US), q.In(SI)} {
		back, err := Parse(q.Kind(), text)
		if err != nil {
			t.Errorf("%s: %q, printed for %v, does not parse: %v", q.Kind(), text, q.Base(), err)
			continue
		}
		// two digits, or half of the first decimal near 0 °C and 0 °F
		tolerance := 0.05 * math.Abs(q.Base())
		if q.Kind() == TemperatureKind {
			tolerance = max(tolerance, 0.5)
		}
		if math.Abs(back.Base()-q.Base()) > tolerance {
			t.Errorf("%s: %v prints as %q, which is %v", q.Kind(), q.Base(), text, back.Base())
		}
	}
}

func TestWholeNumbersComeBack(t *testing.T) {
	for n := -3.0; n <= 40; n++ {
		q, err := OfUnit(WireSizeKind, gaugeArea(n), "AWG")
		if err != nil {
			t.Fatal(err)
		}
		if back := parse(t, WireSizeKind, q.Text); back.Value != n {
			t.Errorf("gauge %v prints as %q, which is %v", n, q.Text, back.Value)
		}
	}
	for n := range 1000 {
		if q := Of(CountKind, float64(n), US); parse(t, CountKind, q.Text).Value != float64(n) {
			t.Errorf("%d prints as %q", n, q.Text)
		}
	}
}

func TestIn(t *testing.T) {
	for _, tt := range []struct {
		kind                   Kind
		text, us, si, readByUS string
	}{
		{LengthKind, "5 1/2 in", "5.5 in", "139.7 mm", "5 1/2 in"},
		{LengthKind, "140 mm", "5.51 in", "140 mm", "140 mm (5.51 in)"},
		{LengthKind, "12 ft 6 in", "150 in", "3.81 m", "12 ft 6 in"},
		{LengthKind, "6 mil", "6 mil", "0.15 mm", "6 mil"},
		{LengthKind, "1/64 in", "0.015625 in", "0.4 mm", "1/64 in"},
		{LengthKind, "2.4 m", "7.87 ft", "2.4 m", "2.4 m (7.87 ft)"},
		{TemperatureKind, "55 °F", "55 °F", "12.8 °C", "55 °F"},
		{TemperatureKind, "286.15 K", "55.4 °F", "286.15 K", "286.15 K (55.4 °F)"},
		{TemperatureDifferenceKind, "3 °F", "3 °F", "1.7 K", "3 °F"},
		{PressureKind, "−0.02 in. w.c.", "-0.02 in. w.c.", "-4.98 Pa", "−0.02 in. w.c."},
		{PressureKind, "101325 Pa", "14.7 psi", "101325 Pa", "101325 Pa (14.7 psi)"},
		{GaugePressureKind, "300 psig", "300 psig", "20.68 barg", "300 psig"},
		{VacuumKind, "500 micron", "500 micron", "66.7 Pa", "500 micron"},
		{ThermalResistanceKind, "R-19", "R-19", "3.35 m²·K/W", "R-19"},
		{ThermalResistanceKind, "RSI 3.3", "R-18.7", "RSI 3.3", "RSI 3.3 (R-18.7)"},
		{PermeanceKind, "0.06 perm", "0.06 perm", "3.43 ng/(s·m²·Pa)", "0.06 perm"},
		{PermeanceKind, "sd 34 m", "0.103 perm", "sd 34 m", "sd 34 m (0.103 perm)"},
		{AreaLoadKind, "40 psf", "40 psf", "1.92 kPa", "40 psf"},
		{WireSizeKind, "12 AWG", "12 AWG", "3.31 mm²", "12 AWG"},
		{WireSizeKind, "1/0 AWG", "1/0 AWG", "53.48 mm²", "1/0 AWG"},
		{WireSizeKind, "2.5 mm²", "2.5 mm²", "2.5 mm²", "2.5 mm²"}, // no gauge has this size
		{WireSizeKind, "3.31 mm²", "12 AWG", "3.31 mm²", "3.31 mm² (12 AWG)"},
		{HumidityKind, "60%", "60 % RH", "60 % RH", "60%"},
		{CountKind, "240 bottles", "240 bottles", "240 bottles", "240 bottles"},
		{DurationKind, "1 h 30 min", "90 min", "90 min", "1 h 30 min"},
		{DurationKind, "1 day", "1 day", "1 day", "1 day"},
		{PowerKind, "500 W", "500 W", "500 W", "500 W"},
		{PowerKind, "4000 Btu/h", "4000 Btu/h", "1172 W", "4000 Btu/h"},
	} {
		q := parse(t, tt.kind, tt.text)
		if us, si, understood := q.In(US), q.In(SI), q.Understood(US); us != tt.us || si != tt.si || understood != tt.readByUS {
			t.Errorf("%q: %q, %q, %q, want %q, %q, %q", tt.text, us, si, understood, tt.us, tt.si, tt.readByUS)
		}
	}
}

func TestOf(t *testing.T) {
	for _, tt := range []struct {
		kind Kind
		base float64
		s    System
		want string
	}{
		{LengthKind, 0, US, "0 in"},
		{LengthKind, 0, SI, "0 mm"},
		{LengthKind, 0.1397, US, "5.5 in"},
		{LengthKind, 2.4384, US, "8 ft"},
		{LengthKind, 0.0001524, US, "6 mil"},
		{TemperatureKind, 15.7628, US, "60.4 °F"},
		{TemperatureKind, -0.04, SI, "-0.04 °C"},
		{DurationKind, 5400, US, "90 min"},
		{DurationKind, 86400, SI, "24 h"},
		{DurationKind, 10 * 86400, SI, "10 days"},
		{PermeanceKind, 0, US, "0 perm"},
		{PermeanceKind, 5.72135e-12, US, "0.1 perm"},
		{ResistanceKind, 5e8, US, "500 MΩ"},
		{CurrentKind, 0.005, SI, "5 mA"},
		{HumidityKind, 99.9999, US, "100 % RH"},
		{TemperatureKind, -273.15, US, "-459.67 °F"}, // -459.7 °F would be below absolute zero
		{GaugePressureKind, -101325, US, "-14.6959 psig"},
	} {
		q := Of(tt.kind, tt.base, tt.s)
		if q.Text != tt.want || math.Abs(q.Base()-tt.base) > 1e-12*math.Abs(tt.base)+1e-12*q.Unit.of.zero {
			t.Errorf("Of(%s, %v, %s) = %q, %v, want %q", tt.kind, tt.base, tt.s, q.Text, q.Base(), tt.want)
		}
	}
}

// A computed value prints in its own unit as it was rounded.
func TestInOfComputed(t *testing.T) {
	for _, base := range []float64{15.763, 15.5, 15.7628193} {
		if q := Of(TemperatureKind, base, US); q.In(US) != q.Text || q.Understood(US) != q.Text {
			t.Errorf("Of(%v) prints as %q and %q", base, q.Text, q.In(US))
		}
	}
}

func TestUnknown(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	inch := parse(t, LengthKind, "5 in").Unit
	for _, q := range []Quantity{
		{}, {Text: "5 in", Value: 5}, {Value: nan, Unit: inch}, {Value: inf, Unit: inch}, {Value: 5, Unit: Unit{Symbol: "in", Kind: LengthKind}},
		Of(LengthKind, nan, US), Of(LengthKind, inf, SI), Of("warmth", 5, US), Of(LengthKind, math.MaxFloat64, US),
	} {
		if q.Known() || q.In(US) != unknown || q.Understood(SI) != unknown {
			t.Errorf("%#v is known", q)
		}
	}
	if got := (Quantity{}).String(); got != unknown {
		t.Errorf("the zero Quantity prints as %q", got)
	}
	if _, err := OfUnit(LengthKind, nan, "in"); err == nil {
		t.Error("OfUnit shows NaN")
	}
	if _, err := OfUnit(LengthKind, 1, "psi"); err == nil {
		t.Error("OfUnit shows a length in psi")
	}
	if _, err := OfUnit("warmth", 1, "in"); err == nil {
		t.Error("OfUnit knows warmth")
	}
}

package units

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// table reads testdata/tables/name, without its comments.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) == 0 {
		t.Fatalf("%s: no rows", name)
	}
	return rows
}

func parse(t testing.TB, kind Kind, text string) Quantity {
	t.Helper()
	q, err := Parse(kind, text)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

func float(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// halfDigit returns half of the last digit that text prints: 0.0005E-02 for
// 2.831E-02.
func halfDigit(t *testing.T, text string) float64 {
	t.Helper()
	mantissa, exponent, _ := strings.Cut(text, "E")
	_, decimals, _ := strings.Cut(mantissa, ".")
	e := 0
	if exponent != "" {
		var err error
		if e, err = strconv.Atoi(exponent); err != nil {
			t.Fatal(err)
		}
	}
	return 0.5 * math.Pow10(e-len(decimals))
}

func TestFactorsOfSP811(t *testing.T) {
	for _, row := range table(t, "nist-sp811-conversions.csv") {
		kind, writing, factor := Kind(row[0]), row[1], row[2]
		want := float(t, factor)
		got := parse(t, kind, writing).Base()
		if math.Abs(got-want) > halfDigit(t, factor)+1e-12*want {
			t.Errorf("Parse(%s, %q).Base() = %.9g, want %s", kind, writing, got, factor)
		}
	}
}

func TestFactorsOfGNUUnits(t *testing.T) {
	for _, row := range table(t, "gnu-units-conversions.csv") {
		kind, writing, want := Kind(row[0]), row[1], float(t, row[2])
		tolerance := 1e-12
		if writing == "1 perm" {
			tolerance = 1e-6
		}
		got := parse(t, kind, writing).Base()
		if math.Abs(got-want) > tolerance*want {
			t.Errorf("Parse(%s, %q).Base() = %.14g, want %.14g", kind, writing, got, want)
		}
	}
}

// TestEveryUnitIsChecked holds that no conversion is without an outside source:
// a unit is in one of the tables, is a base unit, or has a test of its own here.
func TestEveryUnitIsChecked(t *testing.T) {
	checked := map[Unit]bool{
		{Symbol: "sd m", Kind: PermeanceKind}: true, // TestAirLayer
		{Symbol: "AWG", Kind: WireSizeKind}:   true, // TestGaugeArea
		{Symbol: "in/ft", Kind: SlopeKind}:    true, // TestSlope
		{Symbol: "mm/m", Kind: SlopeKind}:     true,
		{Symbol: "cm/m", Kind: SlopeKind}:     true,
		{Symbol: "°F", Kind: TemperatureKind}: true, // TestFixedPoints
		{Symbol: "K", Kind: TemperatureKind}:  true,
	}
	for _, name := range []string{"nist-sp811-conversions.csv", "gnu-units-conversions.csv"} {
		for _, row := range table(t, name) {
			q := parse(t, Kind(row[0]), row[1])
			checked[Unit{Symbol: q.Unit.Symbol, Kind: q.Kind()}] = true
		}
	}
	same := map[string]bool{"Pa": true, "kPa": true, "hPa": true, "bar": true, "mbar": true} // decimal multiples checked as pressures
	for _, k := range Kinds() {
		for _, u := range k.Units() {
			isBase := u.of.curve == straight && u.of.num == u.of.den && u.of.zero == 0
			if !isBase && !same[u.Symbol] && !checked[Unit{Symbol: u.Symbol, Kind: k}] {
				t.Errorf("%s: no test holds the conversion of %q to a source", k, u.Symbol)
			}
		}
	}
}

// Fixed points of the scales: NIST SP 811 B.8; the SI brochure for 273.15 K.
func TestFixedPoints(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64 // °C
	}{
		{"32 °F", 0}, {"212 °F", 100}, {"-40 °F", -40}, {"0 °C", 0}, {"273.15 K", 0}, {"54.5 °F", 12.5},
	} {
		if got := parse(t, TemperatureKind, tt.text).Base(); got != tt.want {
			t.Errorf("%s = %v °C, want %v", tt.text, got, tt.want)
		}
	}
}

// sd = δ0/W with δ0 = 2.0e-10 kg/(m·s·Pa), ISO 13788:2012: one perm is an air
// layer of 2.0e-10/5.72135e-11 = 3.49568 m (computed).
func TestAirLayer(t *testing.T) {
	perm := parse(t, PermeanceKind, "1 perm")
	layer, err := OfUnit(PermeanceKind, perm.Base(), "sd m")
	if err != nil || math.Abs(layer.Value-3.49568) > 5e-6 || layer.Text != "sd 3.5 m" {
		t.Errorf("1 perm is %v (%v), %v, want sd 3.49568 m", layer, layer.Value, err)
	}
	if got := parse(t, PermeanceKind, "sd 50 m").Base(); math.Abs(got-4e-12) > 1e-24 {
		t.Errorf("sd 50 m = %v kg/(s·m²·Pa), want 4e-12", got)
	}
}

func TestGaugeArea(t *testing.T) {
	for _, row := range table(t, "nec-chapter9-table8-areas.csv") {
		want := float(t, row[1])
		got := parse(t, WireSizeKind, row[0]).Base()
		if math.Abs(got-want) > halfDigit(t, row[1])+0.0006*want {
			t.Errorf("%s = %.4g mm², want %s", row[0], got, row[1])
		}
	}
	// ASTM B258 (from memory): 36 AWG is 0.005 in, 4/0 AWG 0.46 in.
	for text, inches := range map[string]float64{"36 AWG": 0.005, "4/0 AWG": 0.46} {
		want := math.Pi / 4 * inches * inches * 25.4 * 25.4
		if got := parse(t, WireSizeKind, text).Base(); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s = %v mm², want %v", text, got, want)
		}
	}
	for n := -3.0; n <= 40; n++ {
		if got := gaugeNumber(gaugeArea(n)); math.Abs(got-n) > 1e-12*40 {
			t.Errorf("gaugeNumber(gaugeArea(%v)) = %v", n, got)
		}
	}
}

// A slope is rise over run: 12 in to the foot, 1000 mm to the metre.
func TestSlope(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64 // %
	}{
		{"1/4 in/ft", 100 * 0.25 / 12}, {"12 in/ft", 100}, {"10 mm/m", 1}, {"1 cm/m", 1}, {"1:100", 1}, {"1 in 40", 2.5},
	} {
		if got := parse(t, SlopeKind, tt.text).Base(); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%s = %v %%, want %v", tt.text, got, tt.want)
		}
	}
}

package wiring

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"proveout/checks/units"
)

func table(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func numbers(t *testing.T, fields []string) []float64 {
	t.Helper()
	var xs []float64
	for _, s := range fields {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		xs = append(xs, x)
	}
	return xs
}

// halfDigit is half of the last digit that is printed in s.
func halfDigit(s string) float64 {
	_, decimals, _ := strings.Cut(s, ".")
	return 0.5 * math.Pow10(-len(decimals))
}

func TestDropCases(t *testing.T) {
	for _, row := range table(t, "voltage-drop-cases.csv") {
		size, err := SizeNamed(row[0])
		if err != nil {
			t.Fatal(err)
		}
		x := numbers(t, row[1:])
		c := Circuit{Supply: units.Voltage(x[0]), Current: units.Current(x[1]), Length: units.Length(x[2] * foot), Size: size}
		d, err := c.Drop()
		if err != nil {
			t.Fatal(err)
		}
		run, err := c.LongestRun(3)
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []float64{float64(d.Volts), float64(d.Share), float64(run) / foot} {
			if math.Abs(got-x[3+i]) > halfDigit(row[4+i]) {
				t.Errorf("%v: value %d = %v, want %v", row, i, got, row[4+i])
			}
		}
	}
}

// The resistance of a solid wire follows from its diameter, 0.127·92^((36−n)/39)
// mm (ASTM B258), and annealed copper of 1.7241e-8 Ω·m at 20 °C with 0.00393/K
// (IEC 60028). Tolerance: half the last digit of 0.764 and of 1.21 is 0.4 %.
func TestSolidSizesFromDiameter(t *testing.T) {
	for i, n := range []float64{18, 16, 14, 12, 10, 8} {
		d := 0.127e-3 * math.Pow(92, (36-n)/39)
		want := 1.7241e-8 * (1 + 0.00393*55) / (math.Pi / 4 * d * d)
		if got := float64(awg[i].PerMetre); math.Abs(got/want-1) > 0.0045 {
			t.Errorf("%s = %v Ω/m, want %v", awg[i].Name, got, want)
		}
	}
}

// Stranded conductors have about 2 % more resistance than solid ones of the same
// size, since the strands are longer than the cable (from memory).
func TestStrandedSizesFromArea(t *testing.T) {
	for i, n := range []float64{6, 4, 3, 2} {
		d := 0.127e-3 * math.Pow(92, (36-n)/39)
		want := 1.02 * 1.7241e-8 * (1 + 0.00393*55) / (math.Pi / 4 * d * d)
		if got := float64(awg[6+i].PerMetre); math.Abs(got/want-1) > 0.0045 {
			t.Errorf("%s = %v Ω/m, want %v", awg[6+i].Name, got, want)
		}
	}
}

// The resistances of IEC 60228, brought to 70 °C and taken twice, are the mV/A/m of
// BS 7671 Appendix 4 (from memory), which prints two digits. Tolerance: 2.5 %, half
// the last digit of 4.4 and 2.8 and the rounded factor 1.20 for 1.1965.
func TestMetricSizes(t *testing.T) {
	loop := []float64{44, 29, 18, 11, 7.3, 4.4, 2.8}
	for i, row := range table(t, "iec60228-copper.csv") {
		x := numbers(t, row)
		if got := float64(metric[i].PerMetre); metric[i].Name != row[0]+" mm²" || math.Abs(got/(x[1]/1000*1.1965)-1) > 1e-12 {
			t.Errorf("%s = %v Ω/m, want %s mm², %v Ω/km at 20 °C", metric[i].Name, got, row[0], x[1])
		}
		if got := 2000 * float64(metric[i].PerMetre); math.Abs(got/loop[i]-1) > 0.025 {
			t.Errorf("%s = %v mV/A/m, want %v", metric[i].Name, got, loop[i])
		}
	}
}

func ExampleCircuit_FirstSize() {
	// A 12 A unit 100 ft from a 120 V panel, 3 % (informational note in the NEC).
	c := Circuit{Supply: 120, Current: 12, Length: 100 * foot}
	size, d, err := c.FirstSize(3, AWG())
	fmt.Printf("%s: %.2f V, %.2f %% %v\n", size.Name, d.Volts, d.Share, err)
	// Output: 10 AWG: 2.90 V, 2.42 % <nil>
}

// A longest run, put back as a length, loses exactly the limit.
func TestLongestRunReturns(t *testing.T) {
	for _, s := range append(AWG(), Metric()...) {
		c := Circuit{Supply: 230, Current: 7, Size: s}
		run, err := c.LongestRun(3)
		if err != nil {
			t.Fatal(err)
		}
		c.Length = run
		if d := 100 * c.volts() / c.Supply; math.Abs(float64(d)-3) > 1e-9 {
			t.Errorf("%s: %v %% at the longest run, want 3", s.Name, d)
		}
	}
}

func TestRefuses(t *testing.T) {
	good := Circuit{Supply: 120, Current: 12, Length: 30, Size: awg[2]}
	for i, spoil := range []func(*Circuit){
		func(c *Circuit) { c.Supply = 0 },
		func(c *Circuit) { c.Current = units.Current(math.NaN()) },
		func(c *Circuit) { c.Length = units.Length(math.Inf(1)) },
		func(c *Circuit) { c.Length = -3 },
		func(c *Circuit) { c.Size = Size{} },
		func(c *Circuit) { c.Supply, c.Length = 12, 300 },
	} {
		c := good
		spoil(&c)
		if d, err := c.Drop(); err == nil {
			t.Errorf("case %d: %v, want an error", i, d)
		}
	}
	for _, limit := range []units.Percent{0, -3, 150, units.Percent(math.NaN())} {
		if run, err := good.LongestRun(limit); err == nil {
			t.Errorf("LongestRun(%v) = %v, want an error", limit, run)
		}
		if s, _, err := good.FirstSize(limit, AWG()); err == nil {
			t.Errorf("FirstSize(%v) = %v, want an error", limit, s)
		}
	}
	if s, _, err := (Circuit{Supply: 12, Current: 20, Length: 500}).FirstSize(3, AWG()); err == nil {
		t.Errorf("FirstSize over 500 m at 12 V = %v, want an error", s)
	}
}

func TestSizeNamed(t *testing.T) {
	for name, want := range map[string]string{
		"12 AWG": "12 AWG", "#12 awg": "12 AWG", "12AWG": "12 AWG", "2.5 mm2": "2.5 mm²", " 2.5mm² ": "2.5 mm²",
	} {
		if s, err := SizeNamed(name); err != nil || s.Name != want {
			t.Errorf("SizeNamed(%q) = %q, %v, want %q", name, s.Name, err, want)
		}
	}
	for _, name := range []string{"", "12", "13 AWG", "2,5 mm²"} {
		if s, err := SizeNamed(name); err == nil {
			t.Errorf("SizeNamed(%q) = %q, want an error", name, s.Name)
		}
	}
}

func BenchmarkDrop(b *testing.B) {
	c := Circuit{Supply: 120, Current: 12, Length: 30, Size: awg[2]}
	for b.Loop() {
		if _, err := c.Drop(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFirstSize(b *testing.B) {
	c := Circuit{Supply: 120, Current: 12, Length: 30}
	for b.Loop() {
		if _, _, err := c.FirstSize(3, awg); err != nil {
			b.Fatal(err)
		}
	}
}

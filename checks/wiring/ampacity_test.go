package wiring

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/units"
)

func edition(t testing.TB, name string) Edition {
	t.Helper()
	e, err := EditionNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Nine 12 AWG conductors together: 70 % of 30 A is 21 A (a commentary on NEC
// 334.80, quoted), which the 60 °C column then limits to 20 A.
func ExampleRun_Ampacity() {
	e, _ := EditionNamed("NEC 2023")
	a, err := Run{Size: "12 AWG", Ambient: 30, Loaded: 9, Column: 60}.Ampacity(e)
	fmt.Printf("corrected %.1f A, allowed %.1f A %v\n", a.Corrected, a.Allowed, err)
	// Output: corrected 21.0 A, allowed 20.0 A <nil>
}

// The correction by the air's temperature follows from the conductor's own warming:
// √((Tc − Ta)/(Tc − 30)), NEC 310.15(B) (from memory). Tolerance: half the last
// digit printed.
func TestAmbientFromFormula(t *testing.T) {
	for _, tt := range []struct {
		list   []ambient
		rating float64
	}{{conductorAmbients, 90}, {metricAmbients, 70}} {
		for _, row := range tt.list {
			want := math.Sqrt((tt.rating - row.upTo) / (tt.rating - 30))
			if math.Abs(row.factor-want) > 0.005+1e-9 {
				t.Errorf("factor at %v °C for %v °C = %v, want %v", row.upTo, tt.rating, row.factor, want)
			}
		}
	}
}

// The columns of one size follow from each other: at 30 °C the heat that a wire
// gives off grows with its own excess temperature, so that I² r/(Tc − 30) is the
// same in all, with r growing by 0.393 % per kelvin from 20 °C. Tolerance: half of
// the 5 A to which the table is rounded, in both figures. (The 60 °C column of thin
// wire is held down to its breaker.)
func TestColumnsFollow(t *testing.T) {
	current := func(column float64) float64 {
		return math.Sqrt((column - 30) / (1 + warming*(column-20)))
	}
	for _, s := range awg[2:] {
		row, ok := ampacities[s.Name]
		if !ok {
			t.Fatalf("%s has no ampacity", s.Name)
		}
		pairs := []struct{ from, ratio float64 }{{row[1], current(90) / current(75)}}
		if smallWire[s.Name] == 0 {
			pairs = append(pairs, struct{ from, ratio float64 }{row[0], current(90) / current(60)})
		}
		for _, p := range pairs {
			if want := p.from * p.ratio; math.Abs(row[2]-want) > 2.5*(1+p.ratio) {
				t.Errorf("%s: 90 °C column %v, want %.1f from %v", s.Name, row[2], want, p.from)
			}
		}
	}
	for name, row := range metricAmpacities {
		if _, err := SizeNamed(name); err != nil || row[0] >= row[1] {
			t.Errorf("%s: %v", name, row)
		}
	}
}

// Computed by hand from the tables: NEC 310.16, 310.15(B)(1) and (C)(1); IEC
// 60364-5-52 B.52.2, B.52.4, B.52.14 and B.52.17 (from memory).
func TestAmpacity(t *testing.T) {
	for _, tt := range []struct {
		edition string
		run     Run
		want    float64
	}{
		{"NEC 2023", Run{Size: "12 AWG", Ambient: 25, Loaded: 2, Column: 60}, 20},
		{"NEC 2020", Run{Size: "12 AWG", Ambient: 50, Loaded: 2, Column: 60}, 20},      // 30 · 0.82 = 24.6
		{"NEC 2017", Run{Size: "14 AWG", Ambient: 50, Loaded: 8, Column: 60}, 14.35},   // 25 · 0.7 · 0.82
		{"NEC 2023", Run{Size: "#10 awg", Ambient: 30, Loaded: 20, Column: 75}, 20},    // 40 · 0.5
		{"NEC 2023", Run{Size: "8 AWG", Ambient: 60.0, Loaded: 4, Column: 60}, 31.24},  // 55 · 0.8 · 0.71
		{"NEC 2023", Run{Size: "6 AWG", Ambient: 30, Loaded: 3, Column: 75}, 65},       // the terminals limit
		{"IEC 60364-5-52:2009", Run{Size: "2.5 mm2", Ambient: 30, Loaded: 2}, 18.5},    // A2
		{"IEC 60364-5-52:2009", Run{Size: "2.5 mm²", Ambient: 40, Loaded: 6}, 11.2665}, // · 0.7 · 0.87
		{"IEC 60364-5-52:2009", Run{Size: "4 mm²", Ambient: 30, Loaded: 2, Surrounded: true}, 18},
	} {
		a, err := tt.run.Ampacity(edition(t, tt.edition))
		if err != nil || math.Abs(float64(a.Allowed)-tt.want) > 1e-9 {
			t.Errorf("%s %+v: %v, %v, want %v A", tt.edition, tt.run, a.Allowed, err, tt.want)
		}
		for _, s := range a.Steps {
			if s.Source == "" {
				t.Errorf("step %q has no source", s.Name)
			}
		}
	}
}

func TestAmpacityRefuses(t *testing.T) {
	for _, run := range []Run{
		{}, {Size: "18 AWG", Ambient: 30, Loaded: 2, Column: 60}, {Size: "12 AWG", Ambient: 30, Loaded: 2},
		{Size: "12 AWG", Ambient: 61, Loaded: 2, Column: 60}, {Size: "12 AWG", Ambient: units.Temperature(math.NaN()), Loaded: 2, Column: 60},
		{Size: "12 AWG", Ambient: 30, Loaded: 0, Column: 60}, {Size: "2.5 mm²", Ambient: 30, Loaded: 2, Column: 60},
		{Size: "12 AWG", Ambient: 30, Loaded: 2, Column: 60, Surrounded: true},
	} {
		if a, err := run.Ampacity(edition(t, "NEC 2023")); err == nil {
			t.Errorf("%+v: %v, want an error", run, a.Allowed)
		}
	}
	if _, err := EditionNamed("NEC 1899"); err == nil {
		t.Error("EditionNamed finds what is not there")
	}
	if _, err := (Run{Size: "1 mm²", Ambient: 30, Loaded: 2}).Ampacity(edition(t, "IEC 60364-5-52:2009")); err == nil {
		t.Error("1 mm² has an ampacity")
	}
}

// More conductors or warmer air never allow more.
func TestAmpacityMonotone(t *testing.T) {
	e := edition(t, "NEC 2023")
	last := units.Current(math.Inf(1))
	for n := 1; n <= 60; n++ {
		a, err := Run{Size: "12 AWG", Ambient: 30, Loaded: n, Column: 60}.Ampacity(e)
		if err != nil || a.Allowed > last {
			t.Fatalf("%d conductors: %v after %v, %v", n, a.Allowed, last, err)
		}
		last = a.Allowed
	}
}

// The plate asks for 18.2 A and at most 30 A: 12 AWG (20 A) on a 20 A breaker suits
// it, 14 AWG does not, a 40 A fuse does not (nameplate rule of NEC 440, quoted; 240.4(D),
// from memory).
func TestDedicated(t *testing.T) {
	good := Dedicated{Plate: Nameplate{18.2, 30}, Run: Run{Size: "12 AWG", Ambient: 30, Loaded: 2, Column: 60}, Breaker: 20, Edition: edition(t, "NEC 2023")}
	for i, tt := range []struct {
		change func(*Dedicated)
		fails  int
	}{
		{func(*Dedicated) {}, 0},
		{func(d *Dedicated) { d.Run.Size = "14 AWG" }, 2}, // thin wire, and 20 A on it
		{func(d *Dedicated) { d.Breaker = 40 }, 2},        // above the plate and the wire
		{func(d *Dedicated) { d.Breaker = 15 }, 1},        // below the plate's minimum
		{func(d *Dedicated) { d.Breaker = 30 }, 1},        // above 12 AWG's 20 A
		{func(d *Dedicated) { d.Breaker, d.MotorRule = 30, true }, 0},
		{func(d *Dedicated) { d.Run.Loaded = 10 }, 1}, // 15 A
	} {
		d := good
		tt.change(&d)
		findings, _, err := d.Judge()
		fails := 0
		for _, f := range findings {
			if f.Outcome == units.Fail {
				fails++
			}
			if f.Source == "" {
				t.Errorf("case %d: %s has no source", i, f.Text)
			}
		}
		if err != nil || fails != tt.fails {
			t.Errorf("case %d: %d fail, %v, want %d: %+v", i, fails, err, tt.fails, findings)
		}
	}
	for _, spoil := range []func(*Dedicated){
		func(d *Dedicated) { d.Plate = Nameplate{} },
		func(d *Dedicated) { d.Plate.MaximumOvercurrent = 10 },
		func(d *Dedicated) { d.Breaker = units.Current(math.Inf(1)) },
		func(d *Dedicated) { d.Run.Size = "" },
	} {
		d := good
		spoil(&d)
		if findings, _, err := d.Judge(); err == nil {
			t.Errorf("%+v: %v, want an error", d, findings)
		}
	}
}

// BS 7671 Table 64 (quoted): SELV 250 V and 0.5 MΩ, up to 500 V 500 V and 1 MΩ;
// above 500 V 1000 V and 1 MΩ (from memory).
func TestInsulation(t *testing.T) {
	for _, tt := range []struct {
		in   Insulation
		want units.Outcome
	}{
		{Insulation{230, false, 500, 1e6}, units.Pass},
		{Insulation{230, false, 500, 0.999e6}, units.Fail},
		{Insulation{120, false, 250, 550e6}, units.Undecided},
		{Insulation{120, false, 250, 0.4e6}, units.Fail},
		{Insulation{24, true, 250, 0.5e6}, units.Pass},
		{Insulation{24, true, 250, 0.49e6}, units.Fail},
		{Insulation{24, false, 250, 0.6e6}, units.Fail},
		{Insulation{690, false, 1000, 1e6}, units.Pass},
		{Insulation{690, false, 500, 1e6}, units.Undecided},
	} {
		if f, err := tt.in.Judge(); err != nil || f.Outcome != tt.want {
			t.Errorf("%+v: %v, %v, want %v", tt.in, f, err, tt.want)
		}
	}
	for _, in := range []Insulation{{}, {230, true, 500, 1e6}, {230, false, 500, units.Resistance(math.NaN())}, {230, false, 9, 1e6}} {
		if f, err := in.Judge(); err == nil {
			t.Errorf("%+v: %v, want an error", in, f)
		}
	}
}

// Three phases: a balanced load of the same power per wire loses half of what a
// two-wire circuit loses to the star point: √3/2 of the loss at √3 times the voltage.
func TestThreePhase(t *testing.T) {
	two := Circuit{Supply: 230, Current: 10, Length: 30, Size: metric[2]}
	three := Circuit{ThreePhase: true, Supply: units.Voltage(230 * math.Sqrt(3)), Current: 10, Length: 30, Size: metric[2]}
	a, err := two.Drop()
	if err != nil {
		t.Fatal(err)
	}
	b, err := three.Drop()
	if err != nil || math.Abs(float64(b.Share/a.Share)-0.5) > 1e-12 {
		t.Errorf("share %v, %v, want half of %v", b.Share, err, a.Share)
	}
	// 400 V, 16 A, 40 m of 4 mm²: √3 · 9.5 mV/A/m; BS 7671 Table 4D2B prints 9.5
	// for three-phase 4 mm² (from memory). Tolerance: half its last digit.
	c := Circuit{ThreePhase: true, Supply: 400, Current: 1, Length: 1, Size: metric[3]}
	if d, err := c.Drop(); err != nil || math.Abs(1000*float64(d.Volts)-9.5) > 0.06 {
		t.Errorf("4 mm² loses %v mV/A/m, %v, want 9.5", 1000*d.Volts, err)
	}
}

func BenchmarkDedicated(b *testing.B) {
	d := Dedicated{Plate: Nameplate{18.2, 30}, Run: Run{Size: "12 AWG", Ambient: 30, Loaded: 2, Column: 60}, Breaker: 20, Edition: edition(b, "NEC 2023")}
	for b.Loop() {
		if _, _, err := d.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}

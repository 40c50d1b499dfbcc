package refrigerant

import (
	"math"
	"strings"
	"testing"

	"proveout/checks/units"
)

// colebrook is the implicit law that Haaland's formula stands for, solved to the
// last digit.
func colebrook(reynolds, relative float64) float64 {
	root := 8.0
	for range 50 {
		root = -2 * math.Log10(relative/3.7+2.51*root/reynolds)
	}
	return 1 / (root * root)
}

// Both laws at points worked by hand, and Haaland within 2 % of Colebrook (the
// bound of Haaland 1983, from memory) from Re 4000 up.
func TestFriction(t *testing.T) {
	for _, tt := range []struct{ re, relative, haaland, colebrook float64 }{
		{4e3, 0, 0.040423, 0.039907}, {1e4, 1e-4, 0.030990, 0.031037}, {5e4, 2e-4, 0.021308, 0.021593},
		{1e5, 1e-4, 0.018265, 0.018514}, {1e5, 1e-3, 0.021966, 0.022175}, {1e6, 1e-5, 0.011767, 0.011870},
	} {
		if got := frictionFactor(tt.re, tt.relative); math.Abs(got-tt.haaland) > 0.5e-6 {
			t.Errorf("Haaland(%v, %v) = %v, want %v", tt.re, tt.relative, got, tt.haaland)
		}
		if got := colebrook(tt.re, tt.relative); math.Abs(got-tt.colebrook) > 0.5e-6 {
			t.Errorf("Colebrook(%v, %v) = %v, want %v", tt.re, tt.relative, got, tt.colebrook)
		}
	}
	for re := 4e3; re < 1e8; re *= 1.3 {
		for relative := 1e-6; relative < 0.05; relative *= 2 {
			if ratio := frictionFactor(re, relative) / colebrook(re, relative); math.Abs(ratio-1) > 0.02 {
				t.Errorf("Haaland is %.4f of Colebrook at Re %.0f, ε/D %.1e", ratio, re, relative)
			}
		}
	}
	if got := frictionFactor(1000, 1e-4); got != 0.064 {
		t.Errorf("laminar %v, want 64/Re", got)
	}
}

// ASTM B280, annealed coils (read; mm computed from inches).
func TestTubes(t *testing.T) {
	for size, want := range map[string][2]float64{
		"1/4": {4.826, 18.29}, "5/16": {6.312, 31.29}, "3/8": {7.899, 49.01}, "1/2": {11.074, 96.32},
		"5/8": {14.097, 156.08}, "3/4": {17.272, 234.30}, "7/8": {19.939, 312.25}, "1-1/8": {26.035, 532.36},
	} {
		for _, tube := range Tubes() {
			if tube.Size != size {
				continue
			}
			if inside, bore := 1000*float64(tube.Inside()), 1e6*float64(tube.Bore()); math.Abs(inside-want[0]) > 0.0006 || math.Abs(bore-want[1]) > 0.005 {
				t.Errorf("%s: %v mm, %v mm², want %v", size, inside, bore, want)
			}
		}
	}
	for mm, size := range map[float64]string{9.52: "3/8", 9.5: "3/8", 6.35: "1/4", 28.6: "1-1/8"} {
		if tube, err := TubeOf(units.Length(mm / 1000)); err != nil || tube.Size != size {
			t.Errorf("TubeOf(%v mm) = %v, %v, want %s", mm, tube, err, size)
		}
	}
	for _, bad := range []units.Length{0, 0.01, units.Length(math.NaN())} {
		if tube, err := TubeOf(bad); err == nil {
			t.Errorf("TubeOf(%v) = %v, want an error", bad, tube)
		}
	}
}

func tube(t testing.TB, size string) Tube {
	t.Helper()
	for _, tube := range tubes {
		if tube.Size == size {
			return tube
		}
	}
	t.Fatalf("no tube %s", size)
	return Tube{}
}

// cellarUnit is 600 W of R513A at 4.5 °C, 6 K at the coil and 10 K in the line, 45 °C
// condensing and liquid of 40 °C.
func cellarUnit(t testing.TB) Circuit {
	return Circuit{fluid(t, "R513A"), 600, 4.5, 6, 10, 45, 40}
}

// The case worked from the tables by hand with CoolProp's figures: 12 m each way,
// six elbows, valve 4 m above, drier 14 kPa. Tolerance 0.1 % (computed); columns of
// velocity and least velocity from the equations of state, 0.2 %.
func TestLinesWorkedCase(t *testing.T) {
	rate, err := cellarUnit(t).MassFlow()
	near := func(name string, got, want, share float64) {
		t.Helper()
		if math.Abs(got/want-1) > share {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	near("mass flow", rate, 4.6572e-3, 0.001)
	for _, tt := range []struct {
		size                    string
		v, re, loss, kelvin, up float64
		want                    Outcome
		says                    string
	}{
		{"1/4", 13.496, 104896, 87507, 6.95, 1.247, Fail, "larger tube"},
		{"3/8", 5.037, 64107, 8238, 0.6541, 1.596, Pass, ""},
		{"1/2", 2.563, 45712, 1683, 0.134, 1.890, Pass, ""},
		{"5/8", 1.582, 35910, 550, 0.044, 2.132, Fail, "lifts the oil"},
	} {
		r, err := SuctionLine{Circuit: cellarUnit(t), Tube: tube(t, tt.size), Length: 12, Fittings: Fittings{Elbows: 6}, Riser: true, LeastLoad: 1}.Judge()
		if err != nil || r.Outcome != tt.want || !strings.Contains(r.Reason, tt.says) {
			t.Errorf("%s: %v %q, %v, want %v", tt.size, r.Outcome, r.Reason, err, tt.want)
		}
		near(tt.size+" velocity", r.Velocity, tt.v, 0.002)
		near(tt.size+" Re", r.Reynolds, tt.re, 0.002)
		near(tt.size+" loss", float64(r.Loss), tt.loss, 0.002)
		if math.Abs(float64(r.LossKelvin)-tt.kelvin) > 0.0005+0.002*tt.kelvin {
			t.Errorf("%s kelvin = %v, want %v", tt.size, r.LossKelvin, tt.kelvin)
		}
		near(tt.size+" least velocity", r.LeastVelocity, tt.up, 0.002)
	}
	l, err := LiquidLine{Circuit: cellarUnit(t), Tube: tube(t, "1/4"), Length: 12, Fittings: Fittings{Elbows: 6}, Rise: 4, Drier: 14e3, Least: 2}.Judge()
	if err != nil || l.Outcome != Pass {
		t.Fatalf("%+v, %v", l, err)
	}
	near("liquid friction", float64(l.Loss), 2593, 0.001)
	near("liquid losses", float64(l.Loss+l.Head)+14e3, 58736, 0.001)
	near("boils at the valve", float64(l.Left)+40, 43.024, 0.0001)
	near("subcooling left", float64(l.Left), 3.024, 0.001)
	near("charge g/m", 1000*l.PerMetre, 19.652, 0.001)
	near("charge g", 1000*float64(l.Charge), 236, 0.002)
}

// Least capacity that lifts oil at 4 °C dew, 8 K in the line, 41 °C liquid (computed
// with CoolProp; capacity with the enthalpy at 8 K). The printed velocity has two
// decimals.
func TestOilReturn(t *testing.T) {
	for name, want := range map[string]map[string][2]float64{
		"R134a": {"3/8": {1.79, 0.21}, "5/8": {2.40, 0.89}, "7/8": {2.85, 2.13}},
		"R513A": {"3/8": {1.60, 0.19}, "1/2": {1.90, 0.44}, "3/4": {2.37, 1.34}},
		"R448A": {"3/8": {1.40, 0.24}, "5/8": {1.87, 1.04}},
		"R454C": {"1/2": {1.70, 0.49}, "7/8": {2.28, 2.15}},
		"R454B": {"3/8": {1.28, 0.32}, "7/8": {2.04, 3.25}},
		"R32":   {"1/2": {1.56, 0.89}, "3/4": {1.95, 2.69}},
		"R290":  {"3/8": {1.36, 0.21}, "7/8": {2.16, 2.14}},
	} {
		f := fluid(t, name)
		gas, err := f.VaporAt(4, 8)
		oil, errOil := f.LiquidAt(4)
		in, errIn := f.LiquidAt(41)
		if err != nil || errOil != nil || errIn != nil {
			t.Fatal(err, errOil, errIn)
		}
		for size, x := range want {
			v := leastVelocity(gas.Density, oil.Density, tube(t, size).Inside())
			kW := v * gas.Density * float64(tube(t, size).Bore()) * (gas.Enthalpy - in.Enthalpy) / 1000
			if math.Abs(v-x[0]) > 0.0055 || math.Abs(kW-x[1]) > 0.0055 {
				t.Errorf("%s %s: %.3f m/s, %.3f kW, want %v", name, size, v, kW, x)
			}
		}
	}
}

// Charge of a metre of liquid line at 40 °C, g (computed with CoolProp).
func TestAddedCharge(t *testing.T) {
	for name, want := range map[string][3]float64{
		"R134a": {21.0, 35.9, 56.2}, "R404A": {17.6, 30.2, 47.3}, "R410A": {17.8, 30.5, 47.8}, "R448A": {18.8, 32.1, 50.3},
		"R454C": {17.9, 30.7, 48.1}, "R513A": {19.7, 33.6, 52.7}, "R32": {16.3, 27.9, 43.8}, "R290": {8.6, 14.6, 22.9}, "R600a": {9.7, 16.6, 26.0},
	} {
		for i, size := range []string{"1/4", "5/16", "3/8"} {
			c, err := Added{Fluid: fluid(t, name), Liquid: tube(t, size), Suction: tube(t, "3/8"), Length: 12, Precharged: 2, LiquidTemperature: 40, Evaporator: 5}.Charge()
			if err != nil || math.Abs(float64(c.Liquid)*100-want[i]) > 0.055 {
				t.Errorf("%s %s: %v g/m, %v, want %v", name, size, float64(c.Liquid)*100, err, want[i])
			}
			// Vapor of 5 (R600a) to 36 kg/m³ (R410A) in 49 mm² is 0.2 to 1.8 g/m, by hand.
			if g := float64(c.Suction) * 100; !(g > 0.2 && g < 1.8) {
				t.Errorf("%s suction %v g/m", name, g)
			}
		}
	}
	c, err := Added{Fluid: fluid(t, "R513A"), Liquid: tube(t, "1/4"), Suction: tube(t, "3/8"), Length: 3, Precharged: 5, LiquidTemperature: 40, Evaporator: 5}.Charge()
	if err != nil || c.Total() != 0 {
		t.Errorf("shorter than precharged: %v, %v, want 0", c.Total(), err)
	}
}

// Head per metre of rise and kelvin lost by it at 40 °C (computed with CoolProp).
func TestLiquidHead(t *testing.T) {
	for name, want := range map[string][2]float64{"R134a": {11.25, 0.412}, "R448A": {10.06, 0.223}, "R454B": {8.99, 0.161}, "R290": {4.58, 0.145}, "R600a": {5.21, 0.373}} {
		f := fluid(t, name)
		liquid, err := f.LiquidAt(40)
		low, errLow := f.BubblePressure(39.5)
		high, errHigh := f.BubblePressure(40.5)
		if err != nil || errLow != nil || errHigh != nil {
			t.Fatal(err, errLow, errHigh)
		}
		head := liquid.Density * gravity
		if kelvin := head / float64(high-low); math.Abs(head/1000-want[0]) > 0.0055 || math.Abs(kelvin-want[1]) > 0.001 {
			t.Errorf("%s: %v kPa/m, %v K/m, want %v", name, head/1000, kelvin, want)
		}
	}
}

// A line that flashes, and one that runs down to the valve.
func TestLiquidRise(t *testing.T) {
	l := LiquidLine{Circuit: cellarUnit(t), Tube: tube(t, "1/4"), Length: 12, Rise: 12, Drier: 14e3, Least: 1}
	r, err := l.Judge()
	if err != nil || r.Outcome != Fail || !strings.Contains(r.Reason, "gas before the valve") {
		t.Errorf("rise of 12 m: %v %q, %v", r.Outcome, r.Reason, err)
	}
	l.Rise = -12
	if r, err := l.Judge(); err != nil || r.Outcome != Pass || r.Left <= 5 {
		t.Errorf("fall of 12 m: %v, %v K left, %v", r.Outcome, r.Left, err)
	}
}

// Superheat from dew and subcooling from bubble, at the pressures of the published
// spot values: R448A at 500 kPa −6.712 / −0.616 °C (CoolProp, computed).
func TestSuperheatSubcooling(t *testing.T) {
	r := LineReading{Fluid: fluid(t, "R448A"), Absolute: 500e3, GaugeUncertainty: 5e3, Tube: 5.384, TubeUncertainty: 0.5}
	hot, err := r.Superheat()
	if err != nil || math.Abs(float64(hot.Value)-6) > 0.0008 {
		t.Errorf("superheat %v, %v, want 6.000", hot.Value, err)
	}
	// dp/dT at −1 °C is near 17 kPa/K: 5 kPa are 0.29 K, with 0.5 K together 0.58 K.
	if math.Abs(float64(hot.Uncertainty)-0.58) > 0.01 {
		t.Errorf("uncertainty %v, want 0.58", hot.Uncertainty)
	}
	r.Tube = -11.712
	cold, err := r.Subcooling()
	if err != nil || math.Abs(float64(cold.Value)-5) > 0.0008 {
		t.Errorf("subcooling %v, %v, want 5.000", cold.Value, err)
	}
	// The same gauge reading higher up: 398.675 kPa at sea level is 500 kPa absolute.
	for _, tt := range []struct{ barometer, want units.Pressure }{{101325, 500e3}, {81200, 479875}} {
		if p, err := Absolute(398675, tt.barometer); err != nil || p != tt.want {
			t.Errorf("Absolute = %v, %v, want %v", p, err, tt.want)
		}
	}
	for i, spoil := range []func(*LineReading){
		func(r *LineReading) { r.Absolute = units.Pressure(math.NaN()) },
		func(r *LineReading) { r.Absolute = 1e3 },
		func(r *LineReading) { r.GaugeUncertainty = 0 },
		func(r *LineReading) { r.TubeUncertainty = units.TemperatureDifference(math.NaN()) },
		func(r *LineReading) { r.Tube = units.Temperature(math.Inf(1)) },
	} {
		bad := r
		spoil(&bad)
		if d, err := bad.Superheat(); err == nil {
			t.Errorf("case %d: %v, want an error", i, d.Value)
		}
	}
	if p, err := Absolute(1e5, 0); err == nil {
		t.Errorf("Absolute without a barometer = %v, want an error", p)
	}
}

func TestLinesRefuse(t *testing.T) {
	nan := math.NaN()
	s := SuctionLine{Circuit: cellarUnit(t), Tube: tube(t, "3/8"), Length: 12, LeastLoad: 1}
	for i, spoil := range []func(*SuctionLine){
		func(s *SuctionLine) { s.Capacity = 0 }, func(s *SuctionLine) { s.Capacity = units.Power(nan) },
		func(s *SuctionLine) { s.Length = 0 }, func(s *SuctionLine) { s.LeastLoad = 0 },
		func(s *SuctionLine) { s.Evaporator = 30 }, func(s *SuctionLine) { s.LineSuperheat = -1 },
		func(s *SuctionLine) { s.Liquid = 50 }, func(s *SuctionLine) { s.Condenser = units.Temperature(nan) },
	} {
		bad := s
		spoil(&bad)
		if r, err := bad.Judge(); err == nil {
			t.Errorf("suction %d: %+v, want an error", i, r.Flow)
		}
	}
	l := LiquidLine{Circuit: cellarUnit(t), Tube: tube(t, "1/4"), Length: 12, Least: 1}
	for i, spoil := range []func(*LiquidLine){
		func(l *LiquidLine) { l.Rise = units.Length(nan) }, func(l *LiquidLine) { l.Drier = -1 }, func(l *LiquidLine) { l.Least = 0 }, func(l *LiquidLine) { l.Length = 1000 },
	} {
		bad := l
		spoil(&bad)
		if r, err := bad.Judge(); err == nil {
			t.Errorf("liquid %d: %+v, want an error", i, r.Flow)
		}
	}
}

func BenchmarkSuctionLine(b *testing.B) {
	s := SuctionLine{Circuit: cellarUnit(b), Tube: tube(b, "3/8"), Length: 12, Riser: true, LeastLoad: 1}
	for b.Loop() {
		if _, err := s.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSuperheat(b *testing.B) {
	r := LineReading{Fluid: fluid(b, "R448A"), Absolute: 500e3, GaugeUncertainty: 5e3, Tube: 5.4, TubeUncertainty: 0.5}
	for b.Loop() {
		if _, err := r.Superheat(); err != nil {
			b.Fatal(err)
		}
	}
}

package refrigerant

import (
	"math"
	"testing"

	"proveout/checks/units"
)

// fluid is a refrigerant that the test knows is there.
func fluid(t testing.TB, name string) *Fluid {
	t.Helper()
	f, err := FluidNamed(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

func TestFluids(t *testing.T) {
	if _, err := fluids(); err != nil || len(FluidNames()) != 15 {
		t.Fatalf("%d refrigerants, %v, want 15", len(FluidNames()), err)
	}
	for _, name := range []string{"R513A", "R-513A", "r513a", "513A", " R 513 a"} {
		if f, err := FluidNamed(name); err != nil || f.Name != "R513A" {
			t.Errorf("FluidNamed(%q) = %v, %v", name, f, err)
		}
	}
	for _, name := range []string{"", "R", "R12", "R4O4A"} {
		if f, err := FluidNamed(name); err == nil {
			t.Errorf("FluidNamed(%q) = %v, want an error", name, f.Name)
		}
	}
	// ASHRAE Fundamentals 2017 ch. 29 (read); R454C and R455A from memory.
	for group, names := range map[SafetyGroup][]string{
		A1: {"R134a", "R404A", "R407C", "R410A", "R448A", "R449A", "R513A"}, A2L: {"R32", "R454A", "R454B", "R454C", "R455A"}, A3: {"R290", "R600a"},
	} {
		for _, name := range names {
			if f := fluid(t, name); f.Group != group {
				t.Errorf("%s is %s, want %s", name, f.Group, group)
			}
		}
	}
}

// Each column rises or falls all the way, and dew pressure is never above bubble
// pressure.
func TestTablesMonotone(t *testing.T) {
	all, err := fluids()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		for i, s := range f.saturated {
			if s.dew > s.bubble || s.vaporDensity <= 0 || s.liquidDensity <= s.vaporDensity || s.liquidViscosity <= 0 {
				t.Fatalf("%s row %d: %+v", f.Name, i, s)
			}
			if i == 0 {
				continue
			}
			if b := f.saturated[i-1]; s.dew <= b.dew || s.bubble <= b.bubble || s.liquidDensity >= b.liquidDensity || s.liquidEnthalpy <= b.liquidEnthalpy {
				t.Fatalf("%s row %d does not follow row %d: %+v, %+v", f.Name, i, i-1, b, s)
			}
		}
		for i, v := range f.vapor {
			if v.density <= 0 || v.viscosity <= 0 || i%len(superheats) > 0 && (v.density >= f.vapor[i-1].density || v.enthalpy <= f.vapor[i-1].enthalpy) {
				t.Fatalf("%s vapor row %d: %+v", f.Name, i, v)
			}
		}
	}
}

func TestBoilingPoints(t *testing.T) {
	tested := 0
	for _, row := range table(t, "refrigerant-boiling-points.csv") {
		f := fluid(t, row[0])
		for i, of := range []func(units.Pressure) (units.Temperature, error){f.BubbleTemperature, f.DewTemperature} {
			if row[i+1] == "" {
				continue
			}
			got, err := of(atmosphere)
			if err != nil {
				continue // boils below −40 °C, where the tables begin
			}
			tested++
			tolerance := 0.4
			if f.Parts == "pure" {
				tolerance = 0.0005 + 0.0003
				if len(row[i+1]) < 7 {
					tolerance = 0.005
				}
			}
			if want := number(t, row[i+1]); math.Abs(float64(got)-want) > tolerance {
				t.Errorf("%s, column %d: %.3f °C, want %v", f.Name, i, got, want)
			}
		}
	}
	if tested < 6 {
		t.Errorf("only %d boiling points lie in the tables", tested)
	}
}

// Points between the rows by the equations of state themselves (CoolProp 8.0.1dev,
// computed): temperatures at 500 and 1500 kPa.
func TestInterpolationAgainstEquations(t *testing.T) {
	for _, tt := range []struct {
		name        string
		kPa         units.Pressure
		bubble, dew float64
	}{
		{"R448A", 500, -6.712, -0.616}, {"R407C", 500, -3.855, 2.360}, {"R454C", 500, -4.552, 3.706},
		{"R454B", 500, -12.798, -11.391}, {"R513A", 500, 13.261, 13.268}, {"R134a", 500, 15.735, 15.735},
		{"R448A", 1500, 30.799, 36.102}, {"R454C", 1500, 34.683, 42.182}, {"R454B", 1500, 22.950, 24.466}, {"R134a", 1500, 55.233, 55.233},
	} {
		f := fluid(t, tt.name)
		b, errB := f.BubbleTemperature(tt.kPa * 1000)
		d, errD := f.DewTemperature(tt.kPa * 1000)
		const tolerance = 0.0005 + 0.0003 // half the last digit, interpolation
		if errB != nil || errD != nil || math.Abs(float64(b)-tt.bubble) > tolerance || math.Abs(float64(d)-tt.dew) > tolerance {
			t.Errorf("%s at %v kPa: %.4f / %.4f °C, %v %v, want %v / %v", tt.name, tt.kPa, b, d, errB, errD, tt.bubble, tt.dew)
		}
	}
}

// The bound of 0.0003 K of the interpolation. Its error grows as the square of the
// step: leave out every second row, and the row between is missed by four times
// what a point between two rows of 1 K is. Rows printed to 0.001 kPa add less than
// 0.0001 K from 150 kPa up.
func TestInterpolationBound(t *testing.T) {
	all, err := fluids()
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for _, f := range all {
		for _, of := range []side{bubble, dew} {
			for i := 1; i < len(f.saturated)-1; i++ {
				p := of(f.saturated[i])
				if p < 150e3 || p > 2400e3 {
					continue
				}
				at := lowestSaturated + units.Temperature(i)
				cold, warm := 1/(at-1).Kelvin(), 1/(at+1).Kelvin()
				low, high := of(f.saturated[i-1]), of(f.saturated[i+1])
				share := math.Log(p/low) / math.Log(high/low)
				missed := math.Abs(1/(cold+share*(warm-cold))-at.Kelvin()) / 4
				worst = max(worst, missed)
			}
		}
	}
	if worst > 0.0003 {
		t.Errorf("interpolation is off by up to %.5f K, want 0.0003", worst)
	}
}

// Pressure and temperature are inverse of each other, at rows and between.
func TestSaturationInverse(t *testing.T) {
	for _, name := range FluidNames() {
		f := fluid(t, name)
		for at := units.Temperature(-40); at <= 65; at += 0.35 {
			p, err := f.DewPressure(at)
			back, errBack := f.DewTemperature(p)
			if err != nil || errBack != nil || math.Abs(float64(back-at)) > 1e-9 {
				t.Fatalf("%s: %v °C comes back as %v, %v %v", name, at, back, err, errBack)
			}
		}
	}
}

// Slopes of the dew line and the liquid's enthalpy and density (CoolProp
// 8.0.1dev, computed).
func TestSpotValues(t *testing.T) {
	for _, tt := range []struct {
		name                      string
		slope                     [4]float64 // kPa/K at −5, 0, 5, 10 °C
		density, liquid, vapor    float64    // at 45, 45 and 5 °C
		bubble45, dew45, density4 float64    // kPa, kPa, kg/m³ at 40 °C
	}{
		{"R134a", [4]float64{9.20, 10.61, 12.16, 13.85}, 1125.054, 263.943, 401.492, 1159.924, 1159.924, 1146.7},
		{"R513A", [4]float64{9.79, 11.21, 12.75, 14.43}, 1052.482, 263.238, 379.270, 1211.181, 1211.104, 1074.3},
		{"R448A", [4]float64{15.23, 17.40, 19.76, 22.32}, 999.497, 269.334, 403.916, 2119.013, 1883.885, 1026.2},
		{"R454B", [4]float64{20.72, 23.45, 26.41, 29.61}, 890.394, 279.996, 462.838, 2604.827, 2518.357, 916.8},
		{"R32", [4]float64{23.01, 26.05, 29.34, 32.89}, 867.264, 286.308, 516.106, 2794.781, 2794.781, 893.0},
		{"R290", [4]float64{12.90, 14.49, 16.19, 18.02}, 458.405, 321.790, 580.327, 1534.314, 1534.314, 467.5},
	} {
		f := fluid(t, tt.name)
		for i, at := range []units.Temperature{-5, 0, 5, 10} {
			// The step of 1 K adds less than 0.003 kPa/K.
			if got, err := f.dewSlope(at); err != nil || math.Abs(got/1000-tt.slope[i]) > 0.005+0.003 {
				t.Errorf("%s slope at %v: %v, %v, want %v", tt.name, at, got/1000, err, tt.slope[i])
			}
		}
		l45, err := f.LiquidAt(45)
		l40, err40 := f.LiquidAt(40)
		v, errV := f.VaporAt(5, 0)
		b, errB := f.BubblePressure(45)
		d, errD := f.DewPressure(45)
		if err != nil || err40 != nil || errV != nil || errB != nil || errD != nil {
			t.Fatal(tt.name, err, err40, errV, errB, errD)
		}
		for _, x := range []struct{ got, want, tolerance float64 }{
			{l45.Density, tt.density, 0.0006}, {l45.Enthalpy / 1000, tt.liquid, 0.0006}, {v.Enthalpy / 1000, tt.vapor, 0.006},
			{float64(b) / 1000, tt.bubble45, 0.0006}, {float64(d) / 1000, tt.dew45, 0.0006}, {l40.Density, tt.density4, 0.05},
		} {
			if math.Abs(x.got-x.want) > x.tolerance {
				t.Errorf("%s: %v, want %v", tt.name, x.got, x.want)
			}
		}
	}
	// R134a at 0 °C: the values of the standard tables (from memory).
	f := fluid(t, "R134a")
	l, _ := f.LiquidAt(0)
	v, _ := f.VaporAt(0, 0)
	p, _ := f.DewPressure(0)
	for _, x := range []struct{ got, want, tolerance float64 }{
		{float64(p) / 1000, 292.803, 0.0006}, {l.Density, 1294.78, 0.005}, {v.Density, 14.428, 0.0006}, {(v.Enthalpy - l.Enthalpy) / 1000, 198.603, 0.0006},
	} {
		if math.Abs(x.got-x.want) > x.tolerance {
			t.Errorf("R134a at 0 °C: %v, want %v", x.got, x.want)
		}
	}
}

func TestSaturationRefuses(t *testing.T) {
	f := fluid(t, "R513A")
	nan := math.NaN()
	for _, at := range []units.Temperature{-40.1, 65.1, units.Temperature(nan), units.Temperature(math.Inf(1))} {
		if p, err := f.DewPressure(at); err == nil {
			t.Errorf("DewPressure(%v) = %v, want an error", at, p)
		}
	}
	for _, p := range []units.Pressure{0, -1, 10e6, units.Pressure(nan)} {
		if at, err := f.BubbleTemperature(p); err == nil {
			t.Errorf("BubbleTemperature(%v) = %v, want an error", p, at)
		}
	}
	for _, tt := range [][2]float64{{-31, 5}, {21, 5}, {0, -1}, {0, 31}, {nan, 5}, {0, nan}} {
		if v, err := f.VaporAt(units.Temperature(tt[0]), units.TemperatureDifference(tt[1])); err == nil {
			t.Errorf("VaporAt(%v) = %v, want an error", tt, v)
		}
	}
	for _, at := range []units.Temperature{-41, 61, units.Temperature(nan)} {
		if l, err := f.LiquidAt(at); err == nil {
			t.Errorf("LiquidAt(%v) = %v, want an error", at, l)
		}
	}
}

func BenchmarkDewTemperature(b *testing.B) {
	f := fluid(b, "R513A")
	for b.Loop() {
		if _, err := f.DewTemperature(376695); err != nil {
			b.Fatal(err)
		}
	}
}

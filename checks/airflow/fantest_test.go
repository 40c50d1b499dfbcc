package airflow

import (
	"encoding/csv"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// rowsOf reads a table of testdata without its head, as numbers.
func rowsOf(t testing.TB, name string) [][]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	texts, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows [][]float64
	for _, text := range texts[1:] {
		var row []float64
		for _, s := range text {
			x, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, x)
		}
		rows = append(rows, row)
	}
	return rows
}

// a1 is the test of testdata/tables/fan-test-a1.csv.
func a1(t testing.TB) FanTest {
	zero := func(mean units.Pressure) ZeroFlow { return ZeroFlow{Mean: mean, Negative: mean, Over: time.Minute} }
	f := FanTest{
		Method: ISO9972, Height: 2.4, Before: zero(-0.8), After: zero(-0.6),
		Room:     State{Air: Air{Temperature: 18}, Density: 1.2123687},
		House:    State{Air: Air{Temperature: 24}, Density: 1.1878887},
		Smallest: 10.0 / 3600, Largest: 300.0 / 3600,
	}
	for _, row := range rowsOf(t, "fan-test-a1.csv") {
		f.Readings = append(f.Readings, FanReading{units.Pressure(row[0]), units.Airflow(row[1] / 3600)})
	}
	return f
}

func TestFanTestA1(t *testing.T) {
	r, err := a1(t).Result()
	if err != nil {
		t.Fatal(err)
	}
	d, err := r.Leakage.Derive(Extent{Volume: 30, Envelope: 58, Floor: 12.5})
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name string
		got  float64
		want string
	}{
		{"n", r.Fit.Exponent, "0.65000"},
		{"C_env", r.Envelope * 3600, "9.0320"},
		{"C_L", r.Leakage.Fit.Coefficient * 3600, "9.0000"},
		{"q50", float64(d.Flow) * 3600, "114.439"},
		{"n50", d.AirChange, "3.8146"},
		{"q_E50", d.Permeability, "1.9731"},
		{"q_F50", d.PerFloor, "9.155"}, // 114.439 / 12.5
		{"ELA 4 Pa", 1e4 * float64(r.Leakage.EffectiveArea(4)), "23.841"},
		{"ELA 10 Pa", 1e4 * float64(r.Leakage.EffectiveArea(10)), "27.354"},
		{"ELA 50 Pa", 1e4 * float64(r.Leakage.EffectiveArea(50)), "34.823"},
		{"r²", r.Fit.R2, "1.000"},
	} {
		if !near(t, tt.got, tt.want) {
			t.Errorf("%s = %v, want %s", tt.name, tt.got, tt.want)
		}
	}
	if r.Direction != Depressurization {
		t.Errorf("direction %v", r.Direction)
	}
}

// ELA 0.074 m² at 4 Pa, n 0.67, ρ 1.2 kg/m³ is c 0.0754755 m³/(s·Paⁿ): form of the
// US DOE's EnergyPlus Engineering Reference (read), worked by hand.
func TestEffectiveAreaInverse(t *testing.T) {
	l := Leakage{PowerLaw{Coefficient: 0.0754755, Exponent: 0.67}, 1.2}
	if got := float64(l.EffectiveArea(4)); math.Abs(got-0.074) > 1e-7 {
		t.Errorf("EffectiveArea = %v, want 0.074", got)
	}
}

// The regression and its standard deviations against NIST's certified values of
// the Norris set: its line is drawn through (eˣ, eʸ), scaled to stay finite.
func TestPowerLawNorris(t *testing.T) {
	const scale = 100
	var points []FanPoint
	for _, row := range rowsOf(t, "nist-strd-norris.csv") {
		points = append(points, FanPoint{units.Pressure(math.Exp(row[0] / scale)), units.Airflow(math.Exp(row[1] / scale))})
	}
	f := fitPowerLaw(points)
	const t34 = 2.032244509 // t(0.975, 34), tables
	for _, tt := range []struct {
		name      string
		got, want float64
	}{
		{"slope", f.Exponent, 1.00211681802045},
		{"intercept", math.Log(f.Coefficient) * scale, -0.262323073774029},
		{"sd of slope", f.ExponentHalf / t34, 0.429796848199937e-3},
		{"sd of intercept", f.CoefficientHalf * scale / t34, 0.232818234301152},
		{"R²", f.R2, 0.999993745883712},
		{"sd at 0", f.half(1) * scale / t34, 0.232818234301152},
	} {
		if math.Abs(tt.got/tt.want-1) > 1e-8 {
			t.Errorf("%s = %.12g, want %.12g", tt.name, tt.got, tt.want)
		}
	}
}

// Student's t for 95 %: printed in every table, three decimals.
func TestStudent(t *testing.T) {
	for points, want := range map[int]string{5: "3.182", 6: "2.776", 7: "2.571", 8: "2.447", 12: "2.228"} {
		if got := (PowerLaw{Points: points}).student(); !near(t, got, want) {
			t.Errorf("t for %d points = %v, want %s", points, got, want)
		}
	}
}

// Nineteen of twenty intervals hold the truth.
func TestIntervalCovers(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	held, n := 0, 2000
	for range n {
		f := a1(t)
		for i := range f.Readings {
			f.Readings[i].Flow *= units.Airflow(math.Exp(0.02 * random.NormFloat64()))
		}
		fit := fitPowerLaw(f.points())
		if low, high := fit.Between(50); low <= 0.0319022 && 0.0319022 <= high { // 9.0320 · 50^0.65 m³/h
			held++
		}
	}
	if share := float64(held) / float64(n); share < 0.935 || share > 0.965 { // 3 standard deviations of a count of 2000
		t.Errorf("%.3f of the intervals hold the flow, want 0.95", share)
	}
}

// The same room blown the other way, made up with the other density: the same C_L.
func TestBothDirections(t *testing.T) {
	down := a1(t)
	up := a1(t)
	const n = 0.65
	envelope := 9.0 / 3600 * math.Pow(1.2/1.2123687, 1-n) // at room air, which leaks out
	for i := range up.Readings {
		p := float64(12 + 8*i)
		// The fan passes house air: q_env = q_fan·ρ_house/ρ_room.
		q := envelope * math.Pow(p, n) * 1.2123687 / 1.1878887
		up.Readings[i] = FanReading{units.Pressure(p - 0.7), units.Airflow(q)}
	}
	a, errA := down.Result()
	b, errB := up.Result()
	if errA != nil || errB != nil {
		t.Fatal(errA, errB)
	}
	if b.Direction != Pressurization || math.Abs(b.Leakage.Fit.Coefficient*3600-9) > 5e-5 {
		t.Errorf("%v: C_L %v, want 9.0000", b.Direction, b.Leakage.Fit.Coefficient*3600)
	}
	both, err := Both(a, b)
	if err != nil || math.Abs(float64(both.At(50))*3600-114.439) > 5e-4 || math.Abs(both.Fit.Exponent-n) > 1e-5 {
		t.Errorf("Both: %v m³/h, n %v, %v, want 114.439, 0.65", float64(both.At(50))*3600, both.Fit.Exponent, err)
	}
	if _, err := Both(a, a); err == nil {
		t.Error("Both takes one direction twice")
	}
}

// By ASTM E779 the reference air is 1.2041 kg/m³ and the exponent of 0.65 lets a
// factor of (μ(24 °C)/μ(20 °C))^0.3 in: 1.8338/1.8143e-5 Pa·s (Sutherland, by
// hand), 1.0032.
func TestE779(t *testing.T) {
	f := a1(t)
	f.Method = E779
	r, err := f.Result()
	want := 9.0320 * math.Pow(1.1878887/1.2041, 0.35) * 1.0032
	if got := r.Leakage.Fit.Coefficient * 3600; err != nil || math.Abs(got-want) > 0.0005 {
		t.Errorf("C0 = %v, %v, want %v", got, err, want)
	}
	// U.S. Standard Atmosphere, 1976: 1.7894e-5 Pa·s at 15 °C (from memory).
	if got := viscosity(15); math.Abs(got-1.7894e-5) > 0.5e-9 {
		t.Errorf("viscosity = %v", got)
	}
}

// Each fault that the method refuses, and the clause that it names.
func TestFanTestRefusals(t *testing.T) {
	for name, tt := range map[string]struct {
		spoil  func(*FanTest)
		says   string
		clause string
	}{
		"windy":       {func(f *FanTest) { f.After.Positive = 6 }, "zero-flow pressure after is 6.0 Pa", "5.3.3"},
		"hasty":       {func(f *FanTest) { f.Before.Over = 10 * time.Second }, "at least 30s is wanted", "5.3.3"},
		"few":         {func(f *FanTest) { f.Readings = f.Readings[2:6] }, "4 points", "5.3.4"},
		"low first":   {func(f *FanTest) { f.Readings[0].Pressure = -10.6 }, "lowest pressure is 9.9 Pa", "5.3.4"},
		"five times":  {func(f *FanTest) { f.Before.Negative = -3 }, "at least 15.0 Pa", "5.3.4"},
		"never at 50": {func(f *FanTest) { f.Readings = f.Readings[:5] }, "highest pressure is 44.0 Pa", "5.3.4"},
		"wide step":   {func(f *FanTest) { f.Readings = append(f.Readings[:2:2], f.Readings[3:]...) }, "step of 16.0 Pa", "5.3.4"},
		"range":       {func(f *FanTest) { f.Smallest = 50.0 / 3600 }, "outside the fan's calibrated", "4.2.3"},
		"heat":        {func(f *FanTest) { f.Room.Temperature = -10; f.Height = 8 }, "272 m·K", "5.3.2"},
		"moved": {func(f *FanTest) {
			for i := range f.Readings {
				f.Readings[i].Flow *= units.Airflow(math.Pow(0.8, float64(i)))
			}
		}, "exponent is", "6.2"},
		"scatter": {func(f *FanTest) { f.Readings[3].Flow *= 2 }, "r² is", "6.2"},
	} {
		f := a1(t)
		tt.spoil(&f)
		_, err := f.Result()
		var refused Refusals
		if !errors.As(err, &refused) || !strings.Contains(err.Error(), tt.says) || !strings.Contains(err.Error(), tt.clause) {
			t.Errorf("%s: %v, want %q of %s", name, err, tt.says, tt.clause)
		}
		if !strings.Contains(err.Error(), "from memory") {
			t.Errorf("%s: %v does not say that the clause is from memory", name, err)
		}
	}
}

func TestFanTestImplausible(t *testing.T) {
	nan := math.NaN()
	for i, spoil := range []func(*FanTest){
		func(f *FanTest) { f.Method = 0 },
		func(f *FanTest) { f.Room.Density = humidair.MassPerVolume(nan) },
		func(f *FanTest) { f.House.Temperature = units.Temperature(nan) },
		func(f *FanTest) { f.Before.Mean = units.Pressure(nan) },
		func(f *FanTest) { f.After.Positive = units.Pressure(math.Inf(1)) },
		func(f *FanTest) { f.Readings = nil },
		func(f *FanTest) { f.Readings[2].Flow = 0 },
		func(f *FanTest) { f.Readings[2].Pressure = 30 },
		func(f *FanTest) { f.Readings[0].Pressure = -0.5 },
		func(f *FanTest) { f.Readings[0].Pressure = 0 },
		func(f *FanTest) { f.Smallest, f.Largest = 1, 0.5 },
		func(f *FanTest) { f.Height = 0 },
	} {
		f := a1(t)
		spoil(&f)
		var refused Refusals
		if r, err := f.Result(); err == nil || errors.As(err, &refused) {
			t.Errorf("case %d: %+v, %v, want an error of the input", i, r.Leakage, err)
		}
	}
	if _, err := (Leakage{}).Derive(Extent{}); err == nil {
		t.Error("Derive takes a room without volume")
	}
}

// A room found at twice the leakage is 50 % of it now, whatever the scatter; with
// scatter of 2 % the interval holds it and proves the gain.
func TestRebuilt(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	result := func(times float64) FanResult {
		f := a1(t)
		for i := range f.Readings {
			f.Readings[i].Flow *= units.Airflow(times * math.Exp(0.01*random.NormFloat64()))
		}
		r, err := f.Result()
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	c := result(2).Leakage.Rebuilt(result(1).Leakage)
	if !(c.Low < 0.5 && 0.5 < c.High) || !c.Proved() {
		t.Errorf("%+v, want 0.5 within, proved", c)
	}
	if c := result(1).Leakage.Rebuilt(result(1).Leakage); c.Proved() {
		t.Errorf("%+v: proved without a change", c)
	}
	two := Leakage{PowerLaw{Coefficient: 18.0 / 3600, Exponent: 0.65, Points: 2}, 1.2}
	if c := two.Rebuilt(result(1).Leakage); c.Proved() || math.Abs(c.Share-0.5) > 0.02 || c.High != 0 {
		t.Errorf("%+v: two points have no interval and prove nothing", c)
	}
}

// Leakage of the made-up room, 2.4 m high, 13 °C and 24 °C, dry: 3.005 m³/h, the
// case cracks-half of testdata/tables/airflow-cases.csv.
func TestLeakageAsCracks(t *testing.T) {
	r, err := a1(t).Result()
	if err != nil {
		t.Fatal(err)
	}
	l, err := r.Leakage.Cracks(2.4).Leak(state(24, 0), state(13, 0))
	if err != nil || !near(t, float64(l.Flow)*3600, "3.005") {
		t.Errorf("%v m³/h, %v, want 3.005", float64(l.Flow)*3600, err)
	}
}

// A slot over the whole height passes (C_d/3)·A·√(g·H·Δρ/ρ), the doorway law of
// Brown and Solvason (1962; ASHRAE Fundamentals, from memory), and a gap at each
// end without slots what Gap does.
func TestPerimeter(t *testing.T) {
	house, room := state(24, 50), state(13, 60)
	jambs := Perimeter{Width: 0.9, Height: 2.1, Jamb: 0.001, Discharge: SharpEdged}
	l, err := jambs.Leak(house, room)
	mean := float64(house.Density+room.Density) / 2
	want := SharpEdged / 3 * float64(jambs.Area()) * math.Sqrt(gravity*2.1*float64(room.Density-house.Density)/mean)
	if err != nil || math.Abs(float64(l.Flow)/want-1) > 1e-9 {
		t.Errorf("slots: %v, %v, want %v", l.Flow, err, want)
	}
	ends := Perimeter{Width: 0.9, Height: 2.1, Bottom: 0.006, Head: 0.002, Discharge: SharpEdged}
	l, err = ends.Leak(house, room)
	gap, errGap := Gap{Low: 0.0054, High: 0.0018, Height: 2.1, Discharge: SharpEdged}.Leak(house, room)
	if err != nil || errGap != nil || math.Abs(float64(l.Flow/gap.Flow)-1) > 1e-9 || math.Abs(float64(l.Pressure/gap.Pressure)-1) > 1e-9 {
		t.Errorf("ends: %v, %v, want %v, %v", l, err, gap, errGap)
	}
	// 1 mm all round a door of 2.1 × 0.9 m is 60 cm² (by hand).
	if a := (Perimeter{Width: 0.9, Height: 2.1, Bottom: 0.001, Head: 0.001, Jamb: 0.001}).Area(); math.Abs(1e4*float64(a)-60) > 0.5 {
		t.Errorf("area %v", a)
	}
}

func TestPerimeterRefuses(t *testing.T) {
	for i, d := range []Perimeter{
		{}, {Width: 0.9, Height: 2.1, Bottom: 0.01, Discharge: 0.6}, {Width: 0.9, Height: 2.1, Jamb: units.Length(math.NaN()), Discharge: 0.6},
		{Width: 0.9, Height: 2.1, Jamb: 0.5, Discharge: 0.6}, {Width: 0.9, Height: 2.1, Jamb: 0.001},
	} {
		if l, err := d.Leak(state(24, 50), state(13, 60)); err == nil {
			t.Errorf("case %d: %+v, want an error", i, l)
		}
	}
}

func BenchmarkFanTest(b *testing.B) {
	f := a1(b)
	for b.Loop() {
		if _, err := f.Result(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPerimeter(b *testing.B) {
	house, room := state(24, 50), state(13, 60)
	d := Perimeter{Width: 0.9, Height: 2.1, Bottom: 0.006, Head: 0.002, Jamb: 0.001, Discharge: SharpEdged}
	for b.Loop() {
		if _, err := d.Leak(house, room); err != nil {
			b.Fatal(err)
		}
	}
}

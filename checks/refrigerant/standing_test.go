package refrigerant

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
	"time"

	"proveout/checks/units"
)

const atmosphere = 101325 // Pa, ISO 2533 at sea level

// table reads a table of testdata without its head, as strings.
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

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func fahrenheit(f float64) units.Temperature { return units.Temperature((f - 32) / 1.8) }

func TestExpectedPressure(t *testing.T) {
	for _, row := range table(t, "gas-law-standing-test.csv") {
		start, t1, t2, want := number(t, row[1]), number(t, row[2]), number(t, row[3]), number(t, row[4])
		unit, tolerance := psi, 0.06
		from, to := fahrenheit(t1), fahrenheit(t2)
		if row[0] == "SI" {
			unit, tolerance = 1e5, 0.005
			from, to = units.Temperature(t1), units.Temperature(t2)
		}
		p, err := ExpectedPressure(units.Pressure(start*unit), from, atmosphere, to, atmosphere)
		if got := float64(p) / unit; err != nil || math.Abs(got-want) > tolerance {
			t.Errorf("ExpectedPressure(%v) = %v, %v, want %v", row, got, err, want)
		}
	}
}

func TestNitrogenSlope(t *testing.T) {
	for _, row := range table(t, "coolprop-nitrogen-slope.csv") {
		psig := number(t, row[0])
		p := units.Pressure(psig*psi + atmosphere)
		if got, want := 100*isochoricExcess(p), number(t, row[1]); math.Abs(got-want) > 0.05 {
			t.Errorf("isochoricExcess(%v psig) = %v %%, want %v", psig, got, want)
		}
		kelvin, err := ExpectedPressure(units.Pressure(psig*psi), 24, atmosphere, 25, atmosphere)
		if got, want := float64(kelvin)/1000-psig*psi/1000, number(t, row[2]); err != nil || math.Abs(got-want) > 0.0005 {
			t.Errorf("slope at %v psig = %v kPa/K, %v, want %v", psig, got, err, want)
		}
		if got, want := float64(p)/psi/297.15/1.8, number(t, row[3]); math.Abs(got-want) > 0.0005 {
			t.Errorf("slope at %v psig = %v psi/°F, want %v", psig, got, want)
		}
	}
}

// overnight is the worked case of a line filled to 300 psig at 24 °C and read at
// 18 °C a day later: 500 psi gauge of 0.5 % of full scale, thermometers of
// ±0.5 K.
func overnight(read, allowed float64) StandingTest {
	reading := Reading{
		GaugeUncertainty: 2.5 * psi,
		LineUncertainty:  0.5,
		Barometer:        atmosphere,
	}
	s := StandingTest{
		Start: reading, End: reading,
		TestPressure: 300 * psi, Nameplate: 350 * psi,
		AllowedLoss: units.Pressure(allowed * psi),
		Held:        24 * time.Hour, Required: 24 * time.Hour,
	}
	s.Start.Gauge, s.Start.Line = 300*psi, 24
	s.End.Gauge, s.End.Line = units.Pressure(read*psi), 18
	return s
}

// Expected pressure, loss, uncertainty and leak of the worked case (computed by
// hand from the gas law; gauges 2 × 2.5 psi, temperature 0.75 psi).
func TestStandingWorkedCase(t *testing.T) {
	r, err := overnight(289.0, 3.61).Judge()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name                 string
		got, want, tolerance float64
	}{
		{"expected psig", float64(r.Expected) / psi, 293.65, 0.005},
		{"loss psi", float64(r.Loss) / psi, 4.65, 0.005},
		{"uncertainty psi", float64(r.Uncertainty) / psi, 3.61, 0.005},
		{"real gas kPa", float64(r.RealGas) / 1000, 2.2, 0.05},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
	if r.Outcome != Fail {
		t.Errorf("outcome %v: %s, want fail", r.Outcome, r.Reason)
	}
	q, err := LeakRate(r.Loss, 1.6e-3, 24*time.Hour)
	if err != nil || math.Abs(q-5.93e-4) > 0.005e-4 {
		t.Errorf("LeakRate = %v, %v, want 5.93e-4", q, err)
	}
}

func TestStandingOutcome(t *testing.T) {
	finer := func(s StandingTest) StandingTest {
		s.Start.GaugeUncertainty, s.End.GaugeUncertainty = 0.5*psi, 0.5*psi
		s.Start.LineUncertainty, s.End.LineUncertainty = 0.2, 0.2
		return s
	}
	short := finer(overnight(293.5, 2))
	short.Held = time.Hour
	low := finer(overnight(293.5, 2))
	low.TestPressure = 310 * psi
	over := finer(overnight(293.5, 2))
	over.Nameplate = 299 * psi
	warmed := finer(overnight(300, 2))
	warmed.Start.Line, warmed.End.Line = fahrenheit(70), fahrenheit(95)
	for _, tt := range []struct {
		name string
		test StandingTest
		want Outcome
	}{
		{"tight, proved by fine instruments", finer(overnight(293.5, 2)), Pass},
		{"same readings, coarse instruments", overnight(293.5, 2), Undecided},
		{"coarse instruments, generous allowance", overnight(293.5, 5), Pass},
		{"loss within the allowance, uncertainty reaches beyond", finer(overnight(292, 2)), Undecided},
		{"loss above the allowance, explained by the instruments", overnight(291, 2), Undecided},
		{"leak", finer(overnight(289, 2)), Fail},
		{"leak hidden by warming: 300 psig still 300 after 70 to 95 °F", warmed, Fail},
		{"gain within the instruments is no credit", finer(overnight(294, 1)), Undecided},
		{"gain beyond the instruments", finer(overnight(296, 2)), Undecided},
		{"hold not finished", short, Undecided},
		{"below the pressure asked for", low, Undecided},
		{"above the nameplate", over, Fail},
	} {
		r, err := tt.test.Judge()
		if err != nil || r.Outcome != tt.want {
			t.Errorf("%s: %v (%s), %v, want %v", tt.name, r.Outcome, r.Reason, err, tt.want)
		}
	}
}

// A worse instrument never turns a test into a pass, and neither does a lower
// reading.
func TestStandingNeverFlatters(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	passes := 0
	for range 5000 {
		s := overnight(285+random.Float64()*12, random.Float64()*8)
		s.Start.GaugeUncertainty = units.Pressure((0.1 + random.Float64()) * psi)
		s.End.GaugeUncertainty = s.Start.GaugeUncertainty
		s.End.Line = units.Temperature(10 + random.Float64()*25)
		worse := s
		worse.End.GaugeUncertainty *= 1.5
		lower := s
		lower.End.Gauge -= 0.5 * psi
		a, err := s.Judge()
		b, errB := worse.Judge()
		c, errC := lower.Judge()
		if err != nil || errB != nil || errC != nil {
			t.Fatal(err, errB, errC)
		}
		if a.Outcome == Pass {
			passes++
			if a.Uncertainty > s.AllowedLoss {
				t.Fatalf("passed with uncertainty %v above allowed loss %v", a.Uncertainty, s.AllowedLoss)
			}
		}
		gain := a.Loss < 0 // a gain may be out of the instruments' reach before, within it after
		if a.Outcome != Pass && (b.Outcome == Pass || c.Outcome == Pass) && !gain {
			t.Fatalf("%+v: %v, worse gauge %v, lower reading %v", s, a.Outcome, b.Outcome, c.Outcome)
		}
	}
	if passes == 0 {
		t.Error("no case passed: the test shows nothing")
	}
}

func TestStandingRefuses(t *testing.T) {
	bad := []func(*StandingTest){
		func(s *StandingTest) { s.Start.Gauge = units.Pressure(math.NaN()) },
		func(s *StandingTest) { s.End.Gauge = units.Pressure(math.Inf(1)) },
		func(s *StandingTest) { s.End.Gauge = -1 },
		func(s *StandingTest) { s.Start.Gauge = 700 * psi },
		func(s *StandingTest) { s.Start.Line = -300 },
		func(s *StandingTest) { s.End.Line = 80 },
		func(s *StandingTest) { s.End.Barometer = 0 },
		func(s *StandingTest) { s.Start.GaugeUncertainty = 0 },
		func(s *StandingTest) { s.End.LineUncertainty = 0 },
		func(s *StandingTest) { s.AllowedLoss = units.Pressure(math.NaN()) },
		func(s *StandingTest) { s.Nameplate = 0 },
		func(s *StandingTest) { s.TestPressure = 0 },
		func(s *StandingTest) { s.Required = 0 },
		func(s *StandingTest) { s.Held = -time.Hour },
	}
	for i, spoil := range bad {
		s := overnight(293.5, 5)
		spoil(&s)
		if r, err := s.Judge(); err == nil {
			t.Errorf("case %d: %v, want an error", i, r.Outcome)
		}
	}
	for _, tt := range []struct {
		loss   units.Pressure
		volume units.Volume
		over   time.Duration
	}{{1, 0, 1}, {1, 1, 0}, {units.Pressure(math.NaN()), 1, 1}} {
		if q, err := LeakRate(tt.loss, tt.volume, tt.over); err == nil {
			t.Errorf("LeakRate(%v) = %v, want an error", tt, q)
		}
	}
}

func ExampleExpectedPressure() {
	// A line at 300 psig and 95 °F, read again at 70 °F (UFGS 15217's formula).
	p, err := ExpectedPressure(300*psi, fahrenheit(95), 14.7*psi, fahrenheit(70), 14.7*psi)
	fmt.Printf("%.1f psig %v\n", float64(p)/psi, err)
	// Output: 285.8 psig <nil>
}

func BenchmarkStandingTest(b *testing.B) {
	s := overnight(293.5, 5)
	for b.Loop() {
		if _, err := s.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}

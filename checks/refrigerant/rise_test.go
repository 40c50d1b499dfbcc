package refrigerant

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"proveout/checks/units"
)

// rising is a circuit read every step, the gauge showing whole micrometres.
func rising(n int, step time.Duration, micron func(minutes float64) float64) Rise {
	r := Rise{GaugeUncertainty: Micron(10), Coldest: 13, Volume: 2.5e-3}
	for i := range n {
		after := time.Duration(i) * step
		r.Readings = append(r.Readings, RiseReading{after, Micron(math.Round(micron(after.Minutes())))})
	}
	return r
}

// Curves made from the two laws themselves; nothing published was found to read.
func TestRiseCause(t *testing.T) {
	for _, tt := range []struct {
		name string
		rise Rise
		want Cause
		says string
	}{
		{"leak of 100 micron a minute", rising(11, time.Minute, func(m float64) float64 { return 500 + 100*m }), LeakRise, "straight"},
		{"oil, levels off at 900", rising(13, 5*time.Minute, func(m float64) float64 { return 900 - 600*math.Exp(-m/15) }), WaterRise, "oil, or water"},
		{"water of 13 °C, 11235 micron", rising(13, 5*time.Minute, func(m float64) float64 { return 11235 - 10900*math.Exp(-m/20) }), WaterRise, "where water of the coldest part boils"},
		{"straight so far, still low", rising(11, time.Minute, func(m float64) float64 { return 300 + 20*m }), UnknownRise, "hold longer"},
		{"start of a slow flattening", rising(11, time.Minute, func(m float64) float64 { return 3000 - 2700*math.Exp(-m/30) }), UnknownRise, "hold longer"},
		{"holds", rising(11, time.Minute, func(m float64) float64 { return 280 + m/2 }), NoRise, "uncertainty"},
	} {
		r, err := tt.rise.Judge()
		if err != nil || r.Cause != tt.want || !strings.Contains(r.Reason, tt.says) {
			t.Errorf("%s: %v (%s), %v, want %v", tt.name, r.Cause, r.Reason, err, tt.want)
		}
	}
}

// 500 to 1500 micron in 10 min in 2.5 L is 5.56e-4 Pa·m³/s (by hand), and the curve
// gives its own level and time back.
func TestRiseFits(t *testing.T) {
	r, err := rising(11, time.Minute, func(m float64) float64 { return 500 + 100*m }).Judge()
	if err != nil || math.Abs(r.Leak-5.56e-4) > 0.005e-4 {
		t.Errorf("leak %v, %v, want 5.56e-4", r.Leak, err)
	}
	var times, pressures []float64
	for i := range 13 {
		times = append(times, float64(i)*300)
		pressures = append(pressures, 120-80*math.Exp(-float64(i)*300/900))
	}
	c := fitFlattening(times, pressures)
	if math.Abs(c.level-120) > 1e-3 || math.Abs(c.tau-900) > 0.05 {
		t.Errorf("level %v, τ %v, want 120, 900", c.level, c.tau)
	}
	// AICc by hand: 10·ln(2) + 6 + 24/6.
	if got := akaike(20, 0, 10, 3); math.Abs(got-(10*math.Ln2+6+4)) > 1e-12 {
		t.Errorf("AICc %v", got)
	}
}

// Noise of the gauge makes no leak of water nor water of a leak.
func TestRiseNeverMixesUp(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	told := 0
	for range 500 {
		tau := 8 + 12*random.Float64()
		level := 1500 + 5000*random.Float64()
		noise := func() float64 { return 5 * random.NormFloat64() }
		water := rising(13, 5*time.Minute, func(m float64) float64 { return level - (level-300)*math.Exp(-m/tau) + noise() })
		rate := 30 + 200*random.Float64()
		leak := rising(13, 5*time.Minute, func(m float64) float64 { return 300 + rate*m + noise() })
		a, errA := water.Judge()
		b, errB := leak.Judge()
		if errA != nil || errB != nil || a.Cause == LeakRise || b.Cause == WaterRise {
			t.Fatalf("water is %v, leak is %v, %v %v", a.Cause, b.Cause, errA, errB)
		}
		if a.Cause == WaterRise && b.Cause == LeakRise {
			told++
		}
	}
	if told < 400 {
		t.Errorf("only %d of 500 pairs are told apart", told)
	}
}

func TestRiseRefuses(t *testing.T) {
	for i, spoil := range []func(*Rise){
		func(r *Rise) { r.Readings = r.Readings[:5] },
		func(r *Rise) { r.Readings[3].After = 0 },
		func(r *Rise) { r.Readings[3].Pressure = units.Pressure(math.NaN()) },
		func(r *Rise) { r.Readings[3].Pressure = atmosphere },
		func(r *Rise) { r.GaugeUncertainty = 0 },
		func(r *Rise) { r.Coldest = units.Temperature(math.NaN()) },
		func(r *Rise) { r.Volume = -1 },
	} {
		r := rising(11, time.Minute, func(m float64) float64 { return 500 + 100*m })
		spoil(&r)
		if got, err := r.Judge(); err == nil {
			t.Errorf("case %d: %v, want an error", i, got.Cause)
		}
	}
}

func BenchmarkRise(b *testing.B) {
	r := rising(13, 5*time.Minute, func(m float64) float64 { return 900 - 600*math.Exp(-m/15) })
	for b.Loop() {
		if _, err := r.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}

package refrigerant

import (
	"math"
	"testing"
	"time"

	"proveout/checks/units"
)

// hourLong is the procedure of UFGS 15182: 300 micron, 1 h, at most 500 micron,
// at 2 °C or warmer.
func hourLong(pulled, risen float64) Evacuation {
	return Evacuation{
		Pulled: Micron(pulled), Risen: Micron(risen), Coldest: 18,
		Held: time.Hour, GaugeUncertainty: Micron(10),
		Limits: EvacuationLimits{Pulled: Micron(300), Risen: Micron(500), Required: time.Hour, Coldest: 2},
	}
}

// 1 µmHg = 0.133322 Pa (NIST SP 811); the round values are common practice.
func TestMicron(t *testing.T) {
	for _, tt := range []struct{ micron, want float64 }{
		{200, 26.7}, {250, 33.3}, {300, 40.0}, {500, 66.7}, {1000, 133.3}, {2000, 266.6}, {4579, 610.5},
	} {
		if got := float64(Micron(tt.micron)); math.Abs(got-tt.want) > 0.05 {
			t.Errorf("Micron(%v) = %v Pa, want %v", tt.micron, got, tt.want)
		}
	}
}

func TestEvacuationOutcome(t *testing.T) {
	short := hourLong(290, 400)
	short.Held = 30 * time.Minute
	cold := hourLong(290, 400)
	cold.Coldest = 1
	for _, tt := range []struct {
		name string
		test Evacuation
		want Outcome
		near bool
	}{
		{"holds", hourLong(250, 400), Pass, false},
		{"at the limits", hourLong(300, 500), Pass, true},
		{"rises", hourLong(250, 800), Fail, false},
		{"never reached", hourLong(450, 480), Fail, false},
		{"falls while isolated", hourLong(290, 200), Undecided, false},
		{"not over", short, Undecided, false},
		{"too cold", cold, Undecided, false},
	} {
		r, err := tt.test.Judge()
		if err != nil || r.Outcome != tt.want {
			t.Errorf("%s: %v (%s), %v, want %v", tt.name, r.Outcome, r.Reason, err, tt.want)
		}
		if tt.near != r.NearLimit && tt.want == Pass {
			t.Errorf("%s: near limit %v, want %v", tt.name, r.NearLimit, tt.near)
		}
	}
}

// Rises in 2.5 L: 300 to 480 micron in 60 min and 500 to 1500 in 10 min
// (computed by hand, Δp·V/Δt).
func TestLeakRateFromRise(t *testing.T) {
	for _, tt := range []struct {
		from, to float64
		over     time.Duration
		want     float64
	}{
		{300, 480, time.Hour, 1.67e-5},
		{500, 1500, 10 * time.Minute, 5.56e-4},
	} {
		got, err := LeakRate(Micron(tt.to)-Micron(tt.from), 2.5e-3, tt.over)
		if err != nil || math.Abs(got/tt.want-1) > 0.003 {
			t.Errorf("LeakRate(%v) = %v, %v, want %v", tt, got, err, tt.want)
		}
	}
}

func TestEvacuationRefuses(t *testing.T) {
	for i, spoil := range []func(*Evacuation){
		func(e *Evacuation) { e.Pulled = 0 },
		func(e *Evacuation) { e.Risen = units.Pressure(math.NaN()) },
		func(e *Evacuation) { e.Risen = atmosphere },
		func(e *Evacuation) { e.Coldest = units.Temperature(math.NaN()) },
		func(e *Evacuation) { e.GaugeUncertainty = 0 },
		func(e *Evacuation) { e.Limits.Risen = 0 },
		func(e *Evacuation) { e.Limits.Required = 0 },
	} {
		e := hourLong(290, 400)
		spoil(&e)
		if r, err := e.Judge(); err == nil {
			t.Errorf("case %d: %v, want an error", i, r.Outcome)
		}
	}
}

func BenchmarkEvacuation(b *testing.B) {
	e := hourLong(290, 400)
	for b.Loop() {
		if _, err := e.Judge(); err != nil {
			b.Fatal(err)
		}
	}
}

package logs

import (
	"errors"
	"math"
	"testing"
	"time"
)

// Two loggers in step, worked by hand: spreads 1, 2, 0 K for 10 min each.
func TestSpread(t *testing.T) {
	a, b := every(10*time.Minute, 13, 13, 13), every(10*time.Minute, 14, 15, 13)
	r, err := Spread([]Series{a, b}, time.Time{}, time.Time{}, 1)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", r.Mean, 1, 1e-12)
	near(t, "max", r.Max, 2, 0)
	near(t, "within", r.Within, 2.0/3, 1e-12)
	near(t, "means apart", r.MeansApart, 1, 1e-12)
	near(t, "range", r.Range, 2, 0)
	near(t, "coverage", r.Coverage, 1, 0)
	if r.Highest != 1 || r.Lowest != 0 || !r.MaxAt.Equal(origin.Add(10*time.Minute)) {
		t.Errorf("Highest, Lowest, MaxAt = %v, %v, %v", r.Highest, r.Lowest, r.MaxAt)
	}
}

// Out of step and with different intervals, worked by hand. a: 13 for 0–10,
// 14 for 10–20 min. b: every 4 min from 2 min: 13.5, 13.5, 13.5, 12, 12.
// Together from 2 to 20 min: 0.5 for 2–10, 0.5 for 10–14, 2 for 14–20 min.
func TestSpreadOutOfStep(t *testing.T) {
	a := every(10*time.Minute, 13, 14)
	b := every(4*time.Minute, 13.5, 13.5, 13.5, 12, 12)
	for i := range b.Times {
		b.Times[i] += (2 * time.Minute).Milliseconds()
	}
	r, err := Spread([]Series{a, b}, time.Time{}, time.Time{}, 1)
	if err != nil {
		t.Fatal(err)
	}
	if r.Observed != 18*time.Minute {
		t.Errorf("Observed = %v, want 18m", r.Observed)
	}
	near(t, "mean", r.Mean, (0.5*12+2*6)/18, 1e-12)
	near(t, "within", r.Within, 12.0/18, 1e-12)
}

// TestSpreadGap: where one logger has no sample, nothing is compared.
func TestSpreadGap(t *testing.T) {
	a := every(10*time.Minute, 13, 13, 13, 13, 13, 13)
	b := every(10*time.Minute, 14, 14, math.NaN(), 20, 14, 14)
	b.Values[3] = math.NaN()
	r, err := Spread([]Series{a, b}, time.Time{}, time.Time{}, 2)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "coverage", r.Coverage, 4.0/6, 1e-12)
	near(t, "max", r.Max, 1, 0)
}

// TestSpreadOfThemselves: loggers with equal readings have no spread, and the
// order of the loggers does not matter.
func TestSpreadOfThemselves(t *testing.T) {
	a, b, c := every(time.Minute, 13, 14, 12, 15), every(time.Minute, 12, 14, 13, 12), every(time.Minute, 15, 12, 12, 12)
	r, err := Spread([]Series{a, a, a}, time.Time{}, time.Time{}, 0)
	if err != nil || r.Max != 0 || r.Mean != 0 || r.Within != 1 {
		t.Errorf("of itself: %+v, %v", r, err)
	}
	x, err1 := Spread([]Series{a, b, c}, time.Time{}, time.Time{}, 1)
	y, err2 := Spread([]Series{c, a, b}, time.Time{}, time.Time{}, 1)
	if err1 != nil || err2 != nil || x.Mean != y.Mean || x.Max != y.Max || x.MeansApart != y.MeansApart || x.Range != y.Range {
		t.Errorf("%+v, %+v", x, y)
	}
}

func TestSpreadRefuses(t *testing.T) {
	a := every(10*time.Minute, 13, 13)
	damp := every(10*time.Minute, 60, 60)
	damp.Quantity = RelativeHumidity
	damp.Name = "damp"
	later := every(10*time.Minute, 13, 13)
	for i := range later.Times {
		later.Times[i] += time.Hour.Milliseconds()
	}
	for _, tt := range []struct {
		series []Series
		limit  float64
		want   string
	}{
		{[]Series{a}, 2, "a spread needs two loggers: 1"},
		{[]Series{a, damp}, 2, `"air" and "damp" do not measure the same quantity`},
		{[]Series{a, later}, 2, "the loggers have no samples at the same time"},
		{[]Series{a, a}, math.NaN(), "the limit of the spread must be 0 or more: NaN"},
	} {
		if _, err := Spread(tt.series, time.Time{}, time.Time{}, tt.limit); err == nil || err.Error() != tt.want || !errors.Is(err, ErrNoSamples) {
			t.Errorf("Spread: %v, want %s", err, tt.want)
		}
	}
}

package logs

import (
	"errors"
	"math"
	"testing"
	"time"
)

// The sums by hand: a sample stands until the next, for 10 min at most. Computed.
func TestMeans(t *testing.T) {
	minute := int64(60_000)
	s := Series{Name: "air", Quantity: Temperature,
		Times:  []int64{0, 10 * minute, 20 * minute, 30 * minute, 80 * minute, 90 * minute},
		Values: []float64{1, 2, 3, 4, 5, math.NaN()}}
	got, err := s.Means(time.UnixMilli(5*minute), 20*time.Minute, 4, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	// 5–25: 5·1 + 10·2 + 5·3 = 40/20; 25–45: 5·3 + 10·4 = 55/15, 15 of 20 min seen;
	// 45–65 nothing; 65–85: 5 min of 20, too little.
	want := []float64{2, 55.0 / 15, math.NaN(), math.NaN()}
	for i := range want {
		if math.Abs(got[i]-want[i]) > 1e-12 || math.IsNaN(got[i]) != math.IsNaN(want[i]) {
			t.Errorf("Means: step %d = %v, want %v", i, got[i], want[i])
		}
	}
	if gaps := s.Gaps(time.Minute); len(gaps) != 1 || gaps[0].From.UnixMilli() != 40*minute || gaps[0].To.UnixMilli() != 80*minute {
		t.Errorf("Gaps = %v, want one from minute 40 to 80", gaps)
	}
	if _, err := s.Means(time.UnixMilli(0), 0, 4, 0.5); !errors.Is(err, ErrNoSamples) {
		t.Errorf("Means with a step of 0: %v, want ErrNoSamples", err)
	}
	cut := s.Without(TimeSpan{time.UnixMilli(10 * minute), time.UnixMilli(30 * minute)})
	if !math.IsNaN(cut.Values[1]) || !math.IsNaN(cut.Values[2]) || cut.Values[3] != 4 || s.Values[1] != 2 {
		t.Errorf("Without = %v of %v", cut.Values, s.Values)
	}
	s.Times[1] = 0
	if s.Duplicates() != 1 {
		t.Errorf("Duplicates = %d, want 1", s.Duplicates())
	}
}

// The mean over all steps is that of Stable.
func TestMeansAddUp(t *testing.T) {
	f, err := Read(millionRows(5000), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	s := f.Find(Temperature)[0]
	from := time.UnixMilli(s.Times[0])
	means, err := s.Means(from, 50*time.Minute, 100, 1)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, m := range means {
		sum += m / 100
	}
	whole, err := Stable(s, time.Time{}, time.Time{}, 0, Band{0, 100})
	if err != nil || math.Abs(sum-whole.Mean) > 1e-9 {
		t.Errorf("mean of the means %v, of the record %v (%v)", sum, whole.Mean, err)
	}
}

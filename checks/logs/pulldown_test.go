package logs

import (
	"math"
	"testing"
	"time"

	"proveout/checks/units"
)

// The record and the results are those of the definition PullDown implements,
// worked by hand (computed; own definition, no standard found). Minutes and °C.
var pullDownRecord = []struct {
	minute  int
	celsius float64
}{
	{0, 24.0}, {10, 20}, {20, 17.5}, {30, 15.8}, {40, 14.6}, {50, 13.9}, {60, 13.4}, {70, 13.7}, {80, 13.6},
	{90, 13.3}, {100, 13.2}, {110, 13.1}, {120, 14.2}, {130, 13.3}, {140, 13.0}, {150, 12.9}, {160, 13.0},
	{190, 13.1}, {200, 13.0}, {210, 12.9}, {220, 13.0},
}

var pullDownStart = time.Date(2024, 6, 3, 8, 0, 0, 0, time.UTC)

func recorded() Series {
	s := Series{Name: "bottle", Quantity: Temperature, Unit: "°C"}
	for _, r := range pullDownRecord {
		s.Times = append(s.Times, pullDownStart.Add(time.Duration(r.minute)*time.Minute).UnixMilli())
		s.Values = append(s.Values, r.celsius)
	}
	return s
}

func recordedLimit() PullDownLimit {
	return PullDownLimit{Limit: 13.5, Hold: time.Hour, Outside: 0.20, Spike: 1.0, Coverage: 0.75, Interval: 10 * time.Minute}
}

func minutes(d time.Duration) float64 { return d.Minutes() }

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, within)
	}
}

func TestPullDownFirstTouch(t *testing.T) {
	r, err := PullDown(recorded(), pullDownStart, recordedLimit())
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first touch", minutes(r.FirstTouch), 58.0, 0.001)
}

func TestPullDownProven(t *testing.T) {
	r, err := PullDown(recorded(), pullDownStart, recordedLimit())
	if err != nil {
		t.Fatal(err)
	}
	if !r.Proven || !r.Interpolated {
		t.Fatalf("Proven, Interpolated = %v, %v, want both", r.Proven, r.Interpolated)
	}
	near(t, "time", minutes(r.Time), 83.0+1.0/3, 1e-6)
	if want := [2]time.Duration{80 * time.Minute, 90 * time.Minute}; r.Bracket != want {
		t.Errorf("Bracket = %v, want %v", r.Bracket, want)
	}
	near(t, "outside", r.Best.Outside, 1.0/6, 1e-12)
	near(t, "highest", float64(r.Best.Highest), 14.2, 0)
	if len(r.Failed) != 1 || r.FailedCount != 1 || r.Failed[0].First != time.Hour || r.Failed[0].Fails != TooLong {
		t.Errorf("Failed = %+v, want the candidate at 60 min, above the limit for too long", r.Failed)
	}
}

func TestPullDownNotProven(t *testing.T) {
	l := recordedLimit()
	l.Outside = 0.10
	r, err := PullDown(recorded(), pullDownStart, l)
	if err != nil {
		t.Fatal(err)
	}
	if r.Proven || r.Time != 0 {
		t.Fatalf("Proven, Time = %v, %v, want false, 0", r.Proven, r.Time)
	}
	want := []FailedRun{
		{60 * time.Minute, 110 * time.Minute, 4, TooLong},
		{130 * time.Minute, 160 * time.Minute, 4, Unobserved},
		{190 * time.Minute, 220 * time.Minute, 4, Incomplete},
	}
	if len(r.Failed) != len(want) {
		t.Fatalf("Failed = %+v, want %+v", r.Failed, want)
	}
	for i := range want {
		if r.Failed[i] != want[i] {
			t.Errorf("Failed[%d] = %+v, want %+v", i, r.Failed[i], want[i])
		}
	}
	if r.Best.At != 90*time.Minute || r.Best.Fails != TooLong {
		t.Errorf("Best = %+v, want the candidate at 90 min", r.Best)
	}
	near(t, "outside of the best", r.Best.Outside, 1.0/6, 1e-12)
}

func TestPullDownBounds(t *testing.T) {
	l := recordedLimit()
	l.Uncertainty = 0.15
	r, err := PullDown(recorded(), pullDownStart, l)
	if err != nil {
		t.Fatal(err)
	}
	if !r.Early.Proven || !r.Late.Proven {
		t.Fatalf("Early, Late = %+v, %+v, want both proven", r.Early, r.Late)
	}
	near(t, "early", minutes(r.Early.Time), 55.0, 1e-6)
	near(t, "late", minutes(r.Late.Time), 88.0+1.0/3, 1e-6)
}

func shifted(s Series, by float64) Series { return s.Corrected(1, by) }

func TestPullDownShiftedSeries(t *testing.T) {
	for _, tt := range []struct{ shift, want float64 }{{0.15, 88 + 1.0/3}, {-0.15, 55.0}} {
		r, err := PullDown(shifted(recorded(), tt.shift), pullDownStart, recordedLimit())
		if err != nil || !r.Proven {
			t.Fatalf("shift %v: Proven = %v, %v", tt.shift, r.Proven, err)
		}
		near(t, "time", minutes(r.Time), tt.want, 1e-6)
	}
}

var _ = units.Temperature(0)

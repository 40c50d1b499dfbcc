package logs

import (
	"math"
	"math/rand/v2"
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

// byDefinition finds the pull-down by trying every candidate in turn with
// plain loops: slow, and written without a look at the search under test.
func byDefinition(s Series, start time.Time, l PullDownLimit) (proven bool, ms float64, failed int) {
	step, hold := l.Interval.Milliseconds(), l.Hold.Milliseconds()
	var at []int64
	var value []float64
	for i, t := range s.Times {
		if t >= start.UnixMilli() && !math.IsNaN(s.Values[i]) {
			at, value = append(at, t), append(value, s.Values[i])
		}
	}
	limit := float64(l.Limit)
	for i := range at {
		if value[i] > limit {
			continue
		}
		stop := at[i] + hold
		var observed, above int64
		highest := math.Inf(-1)
		for k := i; k < len(at) && at[k] <= stop; k++ {
			stands := min(step, stop-at[k])
			if k+1 < len(at) {
				stands = min(stands, at[k+1]-at[k])
			}
			observed += stands
			if value[k] > limit {
				above += stands
			}
			highest = max(highest, value[k])
		}
		if at[len(at)-1] < stop || float64(observed) < l.Coverage*float64(hold) || float64(above) > l.Outside*float64(observed) ||
			highest > limit+float64(l.Spike) {
			failed++
			continue
		}
		ms = float64(at[i] - start.UnixMilli())
		if i > 0 && value[i-1] > limit && at[i]-at[i-1] <= 2*step {
			ms -= float64(at[i]-at[i-1]) * (limit - value[i]) / (value[i-1] - value[i])
		}
		return true, ms, failed
	}
	return false, 0, failed
}

// TestPullDownByDefinition compares with the plain definition over random
// records with gaps and missing values. Values and shares are in eighths, so
// that no comparison hangs on rounding.
func TestPullDownByDefinition(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 12))
	proven := 0
	for round := range 4000 {
		s := Series{Name: "random", Quantity: Temperature}
		at, celsius := int64(0), 16.0
		for range 20 + random.IntN(200) {
			celsius += float64(random.IntN(5)-2)/8 - 0.03125*float64(random.IntN(3))
			celsius = max(celsius, 12.5)
			s.Times = append(s.Times, at)
			s.Values = append(s.Values, math.Round(celsius*8)/8)
			if random.IntN(40) == 0 {
				s.Values[len(s.Values)-1] = math.NaN()
			}
			at += int64(30+random.IntN(60)) * 1000
			if random.IntN(30) == 0 {
				at += int64(random.IntN(600)) * 1000
			}
		}
		l := PullDownLimit{Limit: 13.5, Hold: time.Duration(1+random.IntN(40)) * time.Minute, Outside: float64(random.IntN(4)) / 8,
			Spike: units.TemperatureDifference(random.IntN(8)) / 8, Coverage: 0.5 + float64(random.IntN(4))/8, Interval: time.Minute}
		start := time.UnixMilli(int64(random.IntN(300)) * 1000)
		if _, _, ok := s.span(); !ok {
			continue
		}
		r, err := PullDown(s, start, l)
		if err != nil {
			t.Fatal(err)
		}
		ok, ms, failed := byDefinition(s, start, l)
		if r.Proven != ok || r.FailedCount != failed || ok && math.Abs(float64(r.Time)/1e6-ms) > 1e-3 {
			t.Fatalf("round %d: %v %v after %d, want %v %v ms after %d", round, r.Proven, r.Time, r.FailedCount, ok, ms, failed)
		}
		if ok {
			proven++
		}
	}
	if proven < 400 || proven > 3600 {
		t.Errorf("%d of 4000 proven: the records do not test both outcomes", proven)
	}
}

// TestPullDownOfModel: bottles in a room of two linear nodes, 15 m³, 800 bottles
// from 24 °C with 600 W; after the air meets 13 °C the bottles follow with
// C_p/H. Closed form, computed; air at 13 °C after 16.62 h, bottles at 14 °C
// after 19.75 h and at 13.5 °C after 22.92 h, to half the last digit.
func TestPullDownOfModel(t *testing.T) {
	const (
		stall, τ1, τ2  = 0.926, 32.44, 0.537
		v1, v2, k1, k2 = 1.164112, -0.132992, 20.154706, 2.919369
		heat, transfer = 2830.8e3, 171.94
		airThere       = 16.62
	)
	free := func(h float64) float64 { return stall + k1*v1*math.Exp(-h/τ1) + k2*v2*math.Exp(-h/τ2) }
	bottle := func(h float64) float64 {
		if h <= airThere {
			return free(h)
		}
		return 13 + (free(airThere)-13)*math.Exp(-(h-airThere)*3600*transfer/heat)
	}
	var values []float64
	for i := range 12 * 60 {
		values = append(values, bottle(float64(i)/12))
	}
	s := every(5*time.Minute, values...)
	for limit, want := range map[units.Temperature]float64{14: 19.75, 13.5: 22.92} {
		l := BottlePullDown(limit.Add(-0.5))
		r, err := PullDown(s, origin, l)
		if err != nil || !r.Proven {
			t.Fatalf("limit %v: %+v, %v", limit, r, err)
		}
		near(t, "hours", r.Time.Hours(), want, 0.01)
	}
}

// TestPullDownMovesWithTheRecord: a later start of everything changes nothing;
// a higher limit is never reached later.
func TestPullDownMovesWithTheRecord(t *testing.T) {
	a, _ := PullDown(recorded(), pullDownStart, recordedLimit())
	moved := recorded()
	for i := range moved.Times {
		moved.Times[i] += 1_234_567
	}
	b, err := PullDown(moved, pullDownStart.Add(1_234_567*time.Millisecond), recordedLimit())
	if err != nil || a.Time != b.Time || a.Bracket != b.Bracket {
		t.Errorf("moved: %v, want %v", b.Time, a.Time)
	}
	last := time.Duration(math.MaxInt64)
	for limit := units.Temperature(13.4); limit < 18; limit += 0.1 {
		l := recordedLimit()
		l.Limit, l.Outside = limit, 0.5
		r, err := PullDown(recorded(), pullDownStart, l)
		if err != nil || r.Proven && r.Time > last {
			t.Errorf("limit %v: %v, later than %v", limit, r.Time, last)
		}
		if r.Proven {
			last = r.Time
		}
	}
}

// TestPullDownEdges: what can happen at the crossing.
func TestPullDownEdges(t *testing.T) {
	l := PullDownLimit{Limit: 13.5, Hold: 20 * time.Minute, Spike: 1, Coverage: 0.9, Interval: 10 * time.Minute}
	gap := every(10*time.Minute, 15, 13, 13, 13, 13)
	for i := 1; i < len(gap.Times); i++ {
		gap.Times[i] += (15 * time.Minute).Milliseconds()
	}
	for _, tt := range []struct {
		name         string
		s            Series
		start        time.Time
		time         time.Duration
		bracket      [2]time.Duration
		interpolated bool
	}{
		{"within reach", every(10*time.Minute, 14, 13, 13, 13), origin, 5 * time.Minute, [2]time.Duration{0, 10 * time.Minute}, true},
		{"over a gap", gap, origin, 25 * time.Minute, [2]time.Duration{0, 25 * time.Minute}, false},
		{"cold from the start", every(10*time.Minute, 13, 13, 13), origin, 0, [2]time.Duration{}, false},
		{"logger begins late", every(10*time.Minute, 13, 13, 13), origin.Add(-time.Hour), time.Hour, [2]time.Duration{0, time.Hour}, false},
		{"after a failed candidate", every(10*time.Minute, 14, 13, 15, 13, 13, 13, 13), origin, 27*time.Minute + 30*time.Second,
			[2]time.Duration{20 * time.Minute, 30 * time.Minute}, true},
		{"start within the record", every(10*time.Minute, 13, 13, 14, 13, 13, 13), origin.Add(15 * time.Minute), 10 * time.Minute,
			[2]time.Duration{5 * time.Minute, 15 * time.Minute}, true},
	} {
		r, err := PullDown(tt.s, tt.start, l)
		if err != nil || !r.Proven {
			t.Errorf("%s: %+v, %v", tt.name, r, err)
			continue
		}
		if d := r.Time - tt.time; d < -time.Millisecond || d > time.Millisecond || r.Bracket != tt.bracket || r.Interpolated != tt.interpolated {
			t.Errorf("%s: %v %v %v, want %v %v %v", tt.name, r.Time, r.Bracket, r.Interpolated, tt.time, tt.bracket, tt.interpolated)
		}
	}
	// The hold of the sample at 10 min is not observed from 20 to 30 min; that at
	// 30 min holds, and the sample before it is not above the limit.
	hole := every(10*time.Minute, 14, 13, 13, 13, 13, 13, 13)
	for i := 2; i < len(hole.Times); i++ {
		hole.Times[i] += (10 * time.Minute).Milliseconds()
	}
	long := l
	long.Hold = 40 * time.Minute
	if r, err := PullDown(hole, origin, long); err != nil || r.Time != 30*time.Minute || r.Bracket != [2]time.Duration{r.Time, r.Time} || r.Interpolated {
		t.Errorf("below the limit after a failed candidate: %+v, %v", r, err)
	}
	warm, err := PullDown(every(10*time.Minute, 15, 15, 15), origin, l)
	if err != nil || warm.Proven || warm.Found || warm.FailedCount != 0 {
		t.Errorf("never cold: %+v, %v", warm, err)
	}
	short, err := PullDown(every(10*time.Minute, 15, 13, 13), origin, l)
	if err != nil || short.Proven || short.Best.Fails != Incomplete {
		t.Errorf("too short: %+v, %v", short, err)
	}
	spike, err := PullDown(every(10*time.Minute, 14, 13, 13, 14.6, 13), origin, l)
	if err != nil || spike.Proven {
		t.Errorf("a spike at the very end of the hold: %+v, %v", spike, err)
	}
}

// TestDefrost: 14.2 °C for 10 of 60 min is outside; in a defrost it is
// tolerated up to the share given, and the rest counts.
func TestDefrost(t *testing.T) {
	l := recordedLimit()
	l.Outside = 0
	l.Defrost = []TimeSpan{{pullDownStart.Add(115 * time.Minute), pullDownStart.Add(125 * time.Minute)}}
	for share, want := range map[float64]float64{0: 1.0 / 6, 0.1: 1.0/6 - 0.1, 0.17: 0} {
		l.DefrostShare = share
		r, err := PullDown(recorded(), pullDownStart, l)
		if err != nil || r.Proven != (want == 0) {
			t.Fatalf("share %v: Proven = %v, %v", share, r.Proven, err)
		}
		near(t, "outside", r.Best.Outside, want, 1e-12)
	}
}

// TestRunningMedian: a single wrong reading of a bottle probe does not spoil
// the hold, and the record itself stays as it is.
func TestRunningMedian(t *testing.T) {
	s := every(10*time.Minute, 15, 14, 13, 13, 19, 13, 13, 13)
	l := PullDownLimit{Limit: 13.5, Hold: 40 * time.Minute, Spike: 1, Coverage: 0.9, Interval: 10 * time.Minute}
	if r, err := PullDown(s, origin, l); err != nil || r.Proven {
		t.Errorf("without median: %v, %v", r.Proven, err)
	}
	l.Median = 3
	if r, err := PullDown(s, origin, l); err != nil || !r.Proven || r.Time != 15*time.Minute {
		t.Errorf("with median: %v %v, %v", r.Proven, r.Time, err)
	}
	if s.Values[4] != 19 {
		t.Error("the record was changed")
	}
}

func TestPullDownRefuses(t *testing.T) {
	nan := math.NaN()
	change := func(f func(*PullDownLimit)) PullDownLimit {
		l := recordedLimit()
		f(&l)
		return l
	}
	damp := recorded()
	damp.Quantity = RelativeHumidity
	for _, tt := range []struct {
		s    Series
		l    PullDownLimit
		want string
	}{
		{damp, recordedLimit(), `"bottle" is not a temperature but "relative humidity"; a pull-down needs one`},
		{Series{Name: "x", Quantity: Temperature}, recordedLimit(), `"x" has no values`},
		{recorded(), change(func(l *PullDownLimit) { l.Limit = units.Temperature(nan) }), "the pull-down limit is not a number"},
		{recorded(), change(func(l *PullDownLimit) { l.Hold = 0 }), "the hold must be longer than nothing: 0s"},
		{recorded(), change(func(l *PullDownLimit) { l.Outside = nan }), "the share of time above the limit must be from 0 to below 1: NaN"},
		{recorded(), change(func(l *PullDownLimit) { l.Spike = -1 }), "the ceiling of spikes must be a difference of 0 K or more: -1"},
		{recorded(), change(func(l *PullDownLimit) { l.Coverage = 0 }), "the coverage must be above 0 and at most 1: 0"},
		{recorded(), change(func(l *PullDownLimit) { l.Uncertainty = -0.1 }), "the uncertainty must be a difference of 0 K or more: -0.1"},
		{recorded(), change(func(l *PullDownLimit) { l.Median = 4 }), "the running median takes 3 or 5 samples: 4"},
		{recorded(), change(func(l *PullDownLimit) { l.Interval = -1 }), "the interval must not be negative: -1ns"},
	} {
		if _, err := PullDown(tt.s, pullDownStart, tt.l); err == nil || err.Error() != tt.want {
			t.Errorf("PullDown: %v, want %s", err, tt.want)
		}
	}
}

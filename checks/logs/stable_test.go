package logs

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

var origin = time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC)

// every makes a temperature series with equal steps.
func every(step time.Duration, values ...float64) Series {
	s := Series{Name: "air", Quantity: Temperature, Unit: "°C", Values: values}
	for i := range values {
		s.Times = append(s.Times, origin.Add(time.Duration(i)*step).UnixMilli())
	}
	return s
}

func parse(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestStabilityTable holds figures with equal weights to the table.
func TestStabilityTable(t *testing.T) {
	data, err := os.ReadFile("../../testdata/tables/python-statistics-stability.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for line := range strings.Lines(string(data)) {
		cells := strings.Split(strings.TrimSpace(line), ",")
		if strings.HasPrefix(line, "#") || cells[0] == "case" {
			continue
		}
		rows++
		var values []float64
		for _, v := range strings.Fields(cells[6]) {
			values = append(values, parse(t, v))
		}
		r, err := Stable(every(10*time.Minute, values...), time.Time{}, time.Time{}, 0, Band{12.5, 13.5})
		if err != nil {
			t.Fatal(err)
		}
		for i, got := range []float64{r.Mean, r.SD, r.P5, r.P50, r.P95} {
			want := parse(t, cells[1+i])
			near(t, cells[0]+" "+[]string{"mean", "SD", "p5", "p50", "p95"}[i], got, want, 1e-12*max(1, math.Abs(want)))
		}
		if r.Min != slices.Min(values) || r.Max != slices.Max(values) || r.Coverage != 1 || r.Samples != len(values) {
			t.Errorf("%s: Min, Max, Coverage, Samples = %v, %v, %v, %v", cells[0], r.Min, r.Max, r.Coverage, r.Samples)
		}
	}
	if rows < 6 {
		t.Fatalf("%d rows in the table", rows)
	}
}

// Ten samples of equal weight, worked by hand: eight of them lie in the band,
// its ends included.
func TestInBand(t *testing.T) {
	s := every(10*time.Minute, 12.6, 12.8, 12.9, 13.0, 13.0, 13.1, 13.2, 13.3, 13.6, 14.1)
	r, err := Stable(s, time.Time{}, time.Time{}, 0, Band{12.5, 13.5})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "in band", r.InBand, 0.80, 1e-15)
	if r.Above != 20*time.Minute || r.Below != 0 || r.LongestOut != 20*time.Minute || !r.LongestIsOpen {
		t.Errorf("Above, Below, LongestOut, open = %v, %v, %v, %v", r.Above, r.Below, r.LongestOut, r.LongestIsOpen)
	}
	for band, want := range map[Band]float64{{12.6, 14.1}: 1, {12.6, 13.6}: 0.9, {math.Inf(-1), 13}: 0.5, {13.05, math.Inf(1)}: 0.5} {
		if r, err := Stable(s, time.Time{}, time.Time{}, 0, band); err != nil || math.Abs(r.InBand-want) > 1e-15 {
			t.Errorf("in band %v = %v, %v, want %v", band, r.InBand, err, want)
		}
	}
}

// TestTimeWeighted: samples at 0, 10, 20 min and, after a gap, at 60 min, with
// an interval of 10 min. Each stands for 10 min; 30 min are not observed.
func TestTimeWeighted(t *testing.T) {
	s := every(10*time.Minute, 13, 15, 13, 17)
	s.Times[3] = origin.Add(time.Hour).UnixMilli()
	r, err := Stable(s, time.Time{}, time.Time{}, 10*time.Minute, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", r.Mean, 14.5, 1e-12)
	near(t, "coverage", r.Coverage, 40.0/70, 1e-12)
	near(t, "in band", r.InBand, 0.5, 1e-12)
	if r.Observed != 40*time.Minute || r.Gaps != 1 || r.LongestGap != 30*time.Minute {
		t.Errorf("Observed, Gaps, LongestGap = %v, %v, %v", r.Observed, r.Gaps, r.LongestGap)
	}
	// Uneven steps within the interval: weights 1, 9, 10, 10 min; by hand
	// mean (13·1 + 15·9 + 13·10 + 17·10)/30 = 448/30.
	s.Times = []int64{0, 60_000, 600_000, 1_200_000}
	r, err = Stable(s, time.Time{}, time.Time{}, 10*time.Minute, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", r.Mean, 448.0/30, 1e-12)
	// Σw = 30, Σw² = 282, variance Σw(x − x̄)²/(30 − 282/30), by hand.
	m := 448.0 / 30
	sum := 1*(13-m)*(13-m) + 9*(15-m)*(15-m) + 10*(13-m)*(13-m) + 10*(17-m)*(17-m)
	near(t, "SD", r.SD, math.Sqrt(sum/(30-282.0/30)), 1e-12)
	// Middles at 0.5 and 6 (13), 15.5 (15), 25 (17) on the axis of 30 min, in
	// the order 13 (1), 13 (10), 15 (9), 17 (10); p50 at 0.5 + 0.5·24.5 =
	// 12.75: 13 + 2·(12.75 − 6)/9.5.
	near(t, "p50", r.P50, 13+2*6.75/9.5, 1e-12)
}

func TestExcursions(t *testing.T) {
	s := every(10*time.Minute, 13, 14.2, 14.6, 13, 11, 10.5, 14.9, 13, 13, 15, 15, 13)
	s.Times[10] += (50 * time.Minute).Milliseconds()
	s.Times[11] += (50 * time.Minute).Milliseconds()
	r, err := Stable(s, time.Time{}, time.Time{}, 10*time.Minute, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	at := func(m int) time.Time { return origin.Add(time.Duration(m) * time.Minute) }
	want := []Excursion{
		{at(10), at(30), true, 14.6, false},
		{at(40), at(60), false, 10.5, false},
		{at(60), at(70), true, 14.9, false},
		{at(90), at(100), true, 15, true},
		{at(150), at(160), true, 15, true},
	}
	if !slices.Equal(r.Excursions, want) || r.ExcursionCount != 5 {
		t.Errorf("Excursions = %v\nwant %v", r.Excursions, want)
	}
	if r.LongestOut != 30*time.Minute || r.LongestIsOpen {
		t.Errorf("LongestOut = %v, open %v, want 30m, from below to above", r.LongestOut, r.LongestIsOpen)
	}
	if r.Above != 50*time.Minute || r.Below != 20*time.Minute {
		t.Errorf("Above, Below = %v, %v", r.Above, r.Below)
	}
}

// TestExcursionsAreBounded: a value that swings about the limit has very many
// excursions; the longest are kept, in the order of time.
func TestExcursionsAreBounded(t *testing.T) {
	var values []float64
	for i := range 2000 {
		values = append(values, 13)
		for range 1 + i%7 {
			values = append(values, 15)
		}
	}
	r, err := Stable(every(time.Minute, append(values, 13)...), time.Time{}, time.Time{}, 0, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	if r.ExcursionCount != 2000 || len(r.Excursions) != 100 || r.LongestOut != 7*time.Minute {
		t.Fatalf("count, kept, longest = %d, %d, %v", r.ExcursionCount, len(r.Excursions), r.LongestOut)
	}
	for i, e := range r.Excursions {
		if e.Duration() != 7*time.Minute || i > 0 && !e.From.After(r.Excursions[i-1].From) {
			t.Fatalf("kept %v", e)
		}
	}
}

// TestQuantileWays compares gathering by value with sorting, and checks that
// quantiles rise with p from the least value to the greatest.
func TestQuantileWays(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	for range 300 {
		s := every(time.Minute)
		at := origin.UnixMilli()
		for range 2 + random.IntN(60) {
			s.Times = append(s.Times, at)
			s.Values = append(s.Values, math.Round(random.NormFloat64()*10)/10)
			at += 1000 * int64(1+random.IntN(200))
		}
		c := s.from(s.Times[0], end, time.Minute)
		groups, _ := gather(c)
		sorted := sortAll(c)
		byValue := quantiles{len(groups), func(i int) group { return groups[i] }}
		byOne := quantiles{len(sorted), func(i int) group { return group{sorted[i].v, sorted[i].w, sorted[i].w, sorted[i].w} }}
		last := math.Inf(-1)
		for i := range 101 {
			p := float64(i) / 100
			a, b := byValue.at(p), byOne.at(p)
			near(t, "quantile", a, b, 1e-12)
			if a < last-1e-12 {
				t.Fatalf("the quantile of %v falls from %v to %v", p, last, a)
			}
			last = a
		}
		near(t, "p0", byValue.at(0), slices.Min(s.Values), 0)
		near(t, "p100", byValue.at(1), slices.Max(s.Values), 0)
	}
}

// TestManyValues takes the way of more values than are gathered.
func TestManyValues(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	s := every(time.Second)
	for i := range 3 * manyValues {
		s.Times = append(s.Times, origin.UnixMilli()+int64(i)*1000)
		s.Values = append(s.Values, random.Float64())
	}
	r, err := Stable(s, time.Time{}, time.Time{}, 0, Band{0.25, 0.75})
	if err != nil {
		t.Fatal(err)
	}
	sorted := slices.Clone(s.Values)
	slices.Sort(sorted)
	h := 0.95 * float64(len(sorted)-1)
	k := int(h)
	near(t, "p95", r.P95, sorted[k]+(h-float64(k))*(sorted[k+1]-sorted[k]), 1e-12)
	// Uniform distribution: SD 1/√12, half the time in the middle half; within
	// five standard errors.
	near(t, "SD", r.SD, 1/math.Sqrt(12), 0.005)
	near(t, "in band", r.InBand, 0.5, 0.01)
}

// TestShiftAndScale: a shift moves all places and leaves the SD, a factor
// scales all.
func TestShiftAndScale(t *testing.T) {
	s := every(10*time.Minute, 12.6, 12.8, 14.9, 13.0, 13.3, 12.1)
	a, _ := Stable(s, time.Time{}, time.Time{}, 0, Band{12, 14})
	b, err := Stable(s.Corrected(2, -5), time.Time{}, time.Time{}, 0, Band{2*12 - 5, 2*14 - 5})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range [][2]float64{{a.Mean, b.Mean}, {a.P5, b.P5}, {a.P50, b.P50}, {a.P95, b.P95}, {a.Min, b.Min}, {a.Max, b.Max}} {
		near(t, "place", x[1], 2*x[0]-5, 1e-12)
	}
	near(t, "SD", b.SD, 2*a.SD, 1e-12)
	near(t, "in band", b.InBand, a.InBand, 0)
}

// TestSpan looks at a part of the record only.
func TestSpan(t *testing.T) {
	s := every(10*time.Minute, 24, 18, 13, 13.2, 12.8, 13, 13)
	r, err := Stable(s, origin.Add(15*time.Minute), origin.Add(55*time.Minute), 0, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	if r.Samples != 4 || r.Observed != 35*time.Minute || r.Max != 13.2 {
		t.Errorf("Samples, Observed, Max = %v, %v, %v; want 4, 35m, 13.2", r.Samples, r.Observed, r.Max)
	}
	near(t, "coverage", r.Coverage, 35.0/40, 1e-12)
}

func TestMissingValuesAndDuplicates(t *testing.T) {
	nan := math.NaN()
	s := every(10*time.Minute, nan, 13, nan, 14, 99, 15, nan)
	s.Times[4] = s.Times[3]
	s.Values[4] = 16 // with 14 at the same time: mean 15
	r, err := Stable(s, time.Time{}, time.Time{}, 10*time.Minute, Band{12, 14})
	if err != nil {
		t.Fatal(err)
	}
	if r.Samples != 3 || r.Observed != 30*time.Minute || r.Max != 15 {
		t.Errorf("Samples, Observed, Max = %v, %v, %v; want 3, 30m, 15", r.Samples, r.Observed, r.Max)
	}
	near(t, "mean", r.Mean, 43.0/3, 1e-12)
}

// TestInterval: a column with a value in every third row has three times the
// step of its rows; a few longer or shorter steps do not matter.
func TestInterval(t *testing.T) {
	s := every(time.Minute)
	for i := range 3000 {
		s.Times = append(s.Times, origin.UnixMilli()+int64(i)*60_000)
		v := math.NaN()
		if i%3 == 0 || i%101 == 0 {
			v = 13
		}
		s.Values = append(s.Values, v)
	}
	if got := s.Interval(); got != 3*time.Minute {
		t.Errorf("Interval = %v, want 3m", got)
	}
	if got := every(time.Minute, 13).Interval(); got != 0 {
		t.Errorf("Interval of one sample = %v, want 0", got)
	}
}

func TestStableRefuses(t *testing.T) {
	nan := math.NaN()
	good := every(10*time.Minute, 13, 13, 13)
	back := every(10*time.Minute, 13, 13, 13)
	back.Times[2] = 0
	for _, tt := range []struct {
		s    Series
		band Band
		from time.Time
		want string
	}{
		{every(10 * time.Minute), Band{12, 14}, time.Time{}, `"air" has no interval: it needs two samples at different times`},
		{every(10*time.Minute, nan, 13), Band{12, 14}, time.Time{}, `"air" has no interval: it needs two samples at different times`},
		{good, Band{12, 14}, origin.Add(15 * time.Minute), `"air" has 1 samples between 2024-06-01T00:15:00Z and 2024-06-01T00:30:00Z; two are needed`},
		{every(10*time.Minute, math.Inf(1), 13), Band{12, 14}, time.Time{}, `"air": a value is infinite`},
		{good, Band{14, 12}, time.Time{}, `the band from 14 to 12 is none`},
		{good, Band{nan, 12}, time.Time{}, `the band from NaN to 12 is none`},
		{good, Band{12, 14}, origin.Add(time.Hour), `"air": nothing lies between 2024-06-01T01:00:00Z and 2024-06-01T00:30:00Z`},
		{back, Band{12, 14}, time.Time{}, `"air": the times are not ascending`},
		{Series{Name: "air", Times: []int64{1}}, Band{12, 14}, time.Time{}, `"air" has 1 times and 0 values`},
	} {
		_, err := Stable(tt.s, tt.from, time.Time{}, 0, tt.band)
		if err == nil || err.Error() != tt.want || !errors.Is(err, ErrNoSamples) {
			t.Errorf("Stable: %v, want %s", err, tt.want)
		}
	}
}

package logs

import (
	"math"
	"time"
)

// SpreadResult tells how far loggers lie apart. Only moments count at which
// every logger has a sample. The unit is that of the series.
type SpreadResult struct {
	From, To time.Time
	Observed time.Duration // all loggers at once
	Coverage float64       // Observed over To − From

	Mean            float64 // highest − lowest at the same moment, weighted with time
	Max             float64
	MaxAt           time.Time
	Highest, Lowest int     // which series they were then
	Within          float64 // share of Observed with a spread of at most the limit

	Means      []float64 // of each series
	MeansApart float64   // highest mean − lowest mean
	Range      float64   // highest of all these values − lowest, not at the same moment
}

// Spread compares loggers that measure the same quantity at several places, in
// the time from ≤ t < to. A zero from is when the last of them begins, a zero
// to when the first of them ends. Each sample stands for the time until the
// next, at most for the series' usual step, so that loggers need not run in
// step.
//
// Errors: ErrNoSamples with fewer than two series, with different quantities,
// or if they never have samples at the same time.
func Spread(series []Series, from, to time.Time, limit float64) (SpreadResult, error) {
	if len(series) < 2 {
		return SpreadResult{}, problemf(ErrNoSamples, "a spread needs two loggers: %d", len(series))
	}
	if !(limit >= 0) || math.IsInf(limit, 0) {
		return SpreadResult{}, problemf(ErrNoSamples, "the limit of the spread must be 0 or more: %g", limit)
	}
	a, b, lanes, err := lanesOf(series, from, to)
	if err != nil {
		return SpreadResult{}, err
	}
	r := SpreadResult{From: time.UnixMilli(a).UTC(), To: time.UnixMilli(b).UTC(), Max: -1}
	r.sweep(lanes, a, b, limit)
	if r.Observed == 0 {
		return SpreadResult{}, problemf(ErrNoSamples, "the loggers have no samples at the same time")
	}
	r.Coverage = float64(r.Observed) / float64(milliseconds(b-a))
	r.finish(lanes)
	return r, nil
}

// lane is one logger in the sweep.
type lane struct {
	cursor    cursor
	now, next sample
	more      bool
	sum       float64 // of value · ms while all loggers were seen
	low, high float64
}

func lanesOf(series []Series, from, to time.Time) (a, b int64, lanes []lane, err error) {
	a, b = math.MinInt64, math.MaxInt64
	steps := make([]time.Duration, len(series))
	for i, s := range series {
		if s.Quantity != series[0].Quantity || s.Quantity == Unknown {
			return 0, 0, nil, problemf(ErrNoSamples, "%q and %q do not measure the same quantity", series[0].Name, s.Name)
		}
		if err := s.check(); err != nil {
			return 0, 0, nil, err
		}
		if steps[i], err = s.intervalOr(0); err != nil {
			return 0, 0, nil, err
		}
		begin, end, err := s.bounds(from, to, steps[i])
		if err != nil {
			return 0, 0, nil, err
		}
		a, b = max(a, begin), min(b, end)
	}
	for i, s := range series {
		l := lane{cursor: s.from(a-steps[i].Milliseconds(), b, steps[i]), low: math.Inf(1), high: math.Inf(-1)}
		l.next, l.more = l.cursor.next()
		lanes = append(lanes, l)
	}
	return a, b, lanes, nil
}

// sweep goes from change to change in any of the loggers.
func (r *SpreadResult) sweep(lanes []lane, a, b int64, limit float64) {
	var sum, within float64
	for t := a; t < b; {
		until, all := b, true
		for i := range lanes {
			seen, change := lanes[i].advance(t)
			all = all && seen
			until = min(until, change)
		}
		if all {
			ms := float64(until - t)
			d := r.moment(lanes, t, ms)
			sum += d * ms
			if atMost(d, limit) {
				within += ms
			}
			r.Observed += milliseconds(until - t)
		}
		t = until
	}
	total := float64(r.Observed.Milliseconds())
	r.Mean, r.Within = sum/total, within/total
}

// advance brings a lane to time t; seen is false within a gap. change is when
// this lane next changes.
func (l *lane) advance(t int64) (seen bool, change int64) {
	for l.more && l.next.t <= t {
		l.now = l.next
		l.next, l.more = l.cursor.next()
	}
	change = math.MaxInt64
	if l.more {
		change = l.next.t
	}
	if until := l.now.t + l.now.w; l.now.w > 0 && t < until {
		return true, min(change, until)
	}
	return false, change
}

// moment returns the spread at t, which lasts for ms.
func (r *SpreadResult) moment(lanes []lane, t int64, ms float64) float64 {
	high, low := 0, 0
	for i := range lanes {
		l := &lanes[i]
		l.sum += l.now.v * ms
		l.low, l.high = min(l.low, l.now.v), max(l.high, l.now.v)
		if lanes[i].now.v > lanes[high].now.v {
			high = i
		}
		if lanes[i].now.v < lanes[low].now.v {
			low = i
		}
	}
	d := lanes[high].now.v - lanes[low].now.v
	if d > r.Max {
		r.Max, r.MaxAt, r.Highest, r.Lowest = d, time.UnixMilli(t).UTC(), high, low
	}
	return d
}

func (r *SpreadResult) finish(lanes []lane) {
	total := float64(r.Observed.Milliseconds())
	low, high := math.Inf(1), math.Inf(-1)
	top, bottom := math.Inf(-1), math.Inf(1)
	for _, l := range lanes {
		mean := l.sum / total
		r.Means = append(r.Means, mean)
		low, high = min(low, mean), max(high, mean)
		bottom, top = min(bottom, l.low), max(top, l.high)
	}
	r.MeansApart, r.Range = high-low, top-bottom
}

package logs

import (
	"math"
	"slices"
	"time"
)

// Means returns the time-weighted means of n steps from a time on. A step of
// which less than the share least is observed is NaN, as is one without samples.
//
// Errors: ErrNoSamples for a series that cannot be used, a step below 1 ms or no
// steps.
func (s Series) Means(from time.Time, step time.Duration, n int, least float64) ([]float64, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	interval, err := s.intervalOr(0)
	if err != nil {
		return nil, err
	}
	if step < time.Millisecond || n < 1 {
		return nil, problemf(ErrNoSamples, "%d steps of %v are no steps", n, step)
	}
	b := bins{from: from.UnixMilli(), step: step.Milliseconds(), sums: make([]float64, n), seen: make([]int64, n)}
	c := s.from(b.from-interval.Milliseconds(), b.from+int64(n)*b.step, interval)
	for {
		x, ok := c.next()
		if !ok {
			break
		}
		b.add(x)
	}
	for i, seen := range b.seen {
		if seen == 0 || !atMost(least*float64(b.step), float64(seen)) {
			b.sums[i] = math.NaN()
			continue
		}
		b.sums[i] /= float64(seen)
	}
	return b.sums, nil
}

// bins are steps of time with the sums over their samples.
type bins struct {
	from, step int64
	sums       []float64
	seen       []int64 // ms
}

// add shares a sample out to the steps that it reaches into.
func (b *bins) add(x sample) {
	at, until := max(x.t, b.from), x.t+x.w
	for at < until {
		i := (at - b.from) / b.step
		if i >= int64(len(b.sums)) {
			return
		}
		w := min(until, b.from+(i+1)*b.step) - at
		b.sums[i] += x.v * float64(w)
		b.seen[i] += w
		at += w
	}
}

// Gaps returns the holes between samples with a value that are longer than
// least, from where the last sample before stops to stand for its time.
func (s Series) Gaps(least time.Duration) []TimeSpan {
	interval := s.Interval().Milliseconds()
	var gaps []TimeSpan
	last := int64(math.MinInt64)
	for i, t := range s.Times {
		if v := s.Values[i]; v != v {
			continue
		}
		if last != math.MinInt64 && t-last > interval && milliseconds(t-last-interval) >= least {
			gaps = append(gaps, TimeSpan{time.UnixMilli(last + interval).UTC(), time.UnixMilli(t).UTC()})
		}
		last = t
	}
	return gaps
}

// Duplicates counts the samples that have the time of the one before.
func (s Series) Duplicates() int {
	n := 0
	for i := 1; i < len(s.Times); i++ {
		if s.Times[i] == s.Times[i-1] {
			n++
		}
	}
	return n
}

// Without returns s without the values that lie in any of the spans.
func (s Series) Without(spans ...TimeSpan) Series {
	values := slices.Clone(s.Values)
	for i, t := range s.Times {
		if slices.ContainsFunc(spans, func(x TimeSpan) bool { return t >= x.From.UnixMilli() && t < x.To.UnixMilli() }) {
			values[i] = math.NaN()
		}
	}
	s.Values = values
	return s
}

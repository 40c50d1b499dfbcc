package logs

import (
	"errors"
	"math"
	"time"
)

// ErrNoSamples is returned by analyses of a record with too little in it.
var ErrNoSamples = errors.New("the record has too few samples")

// sample is a value and the time it stands for: until the next sample, but no
// longer than the interval.
type sample struct {
	t int64 // Unix ms
	v float64
	w int64 // ms
}

// cursor goes through the samples of a series. Rows without a value are
// skipped; rows of the same time are one sample, their mean.
type cursor struct {
	times    []int64
	values   []float64
	i        int
	interval int64
	to       int64 // samples from here on are not returned, and do not reach over it
}

// next returns the next sample, ok false behind the last.
func (c *cursor) next() (s sample, ok bool) {
	for c.i < len(c.times) && math.IsNaN(c.values[c.i]) {
		c.i++
	}
	if c.i >= len(c.times) || c.times[c.i] >= c.to {
		return sample{}, false
	}
	s.t, s.v = c.times[c.i], c.values[c.i]
	c.i++
	sum, n := s.v, 1
	for ; c.i < len(c.times); c.i++ {
		v := c.values[c.i]
		if math.IsNaN(v) {
			continue
		}
		if c.times[c.i] != s.t {
			break
		}
		sum, n = sum+v, n+1
	}
	if n > 1 {
		s.v = sum / float64(n)
	}
	s.w = min(c.interval, c.to-s.t)
	if c.i < len(c.times) {
		s.w = min(s.w, c.times[c.i]-s.t)
	}
	return s, true
}

// end is later than all times of a series.
const end = math.MaxInt64

// from returns a cursor at the first sample at or after t.
func (s Series) from(t, to int64, interval time.Duration) cursor {
	low, high := 0, len(s.Times)
	for low < high {
		if mid := (low + high) / 2; s.Times[mid] < t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return cursor{s.Times, s.Values, low, interval.Milliseconds(), to}
}

// check tests that a series can be analysed.
func (s Series) check() error {
	if len(s.Times) != len(s.Values) {
		return problemf(ErrNoSamples, "%q has %d times and %d values", s.Name, len(s.Times), len(s.Values))
	}
	for i := 1; i < len(s.Times); i++ {
		if s.Times[i] < s.Times[i-1] {
			return problemf(ErrNoSamples, "%q: the times are not ascending", s.Name)
		}
	}
	for _, v := range s.Values {
		if math.IsInf(v, 0) {
			return problemf(ErrNoSamples, "%q: a value is infinite", s.Name)
		}
	}
	return nil
}

// span returns the times of the first and last sample with a value.
func (s Series) span() (first, last int64, ok bool) {
	i, k := 0, len(s.Values)-1
	for i <= k && math.IsNaN(s.Values[i]) {
		i++
	}
	for k >= i && math.IsNaN(s.Values[k]) {
		k--
	}
	if i > k {
		return 0, 0, false
	}
	return s.Times[i], s.Times[k], true
}

// Interval returns the most frequent step between samples that have a value,
// the shorter of two that are equally frequent; zero if there is none. Of a
// long record some 16,000 steps are looked at, evenly spread.
func (s Series) Interval() time.Duration {
	steps := stepCount{}
	step, same := int64(0), 0 // counted in runs: nearly all are equal
	n := min(len(s.Times), len(s.Values))
	for i := 0; i < n; i += 1 + n/manySteps {
		for i < n && math.IsNaN(s.Values[i]) {
			i++
		}
		k := i + 1
		for k < n && math.IsNaN(s.Values[k]) {
			k++
		}
		if k >= n {
			continue
		}
		if d := s.Times[k] - s.Times[i]; d != step {
			steps[step] += same
			step, same = d, 0
		}
		same++
	}
	steps[step] += same
	delete(steps, 0)
	return steps.best()
}

// intervalOr returns the interval given or, if that is zero, the usual step.
func (s Series) intervalOr(given time.Duration) (time.Duration, error) {
	if given < 0 {
		return 0, problemf(ErrNoSamples, "the interval must not be negative: %v", given)
	}
	if given == 0 {
		given = s.Interval()
	}
	if given < time.Millisecond {
		return 0, problemf(ErrNoSamples, "%q has no interval: it needs two samples at different times", s.Name)
	}
	return given, nil
}

// atMost compares with a relative slack of 1e-9 for the rounding of floats.
func atMost(v, limit float64) bool {
	return v <= limit || v-limit <= 1e-9*max(math.Abs(v), math.Abs(limit))
}

func milliseconds(ms int64) time.Duration { return time.Duration(ms) * time.Millisecond }

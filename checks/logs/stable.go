package logs

import (
	"math"
	"time"
)

// Band is a range that values should keep to, its ends included. An end that
// is infinite is open.
type Band struct{ Low, High float64 }

// side returns 0 within the band, 1 above it, −1 below.
func (b Band) side(v float64) int {
	switch {
	case !atMost(v, b.High):
		return 1
	case !atMost(b.Low, v):
		return -1
	}
	return 0
}

// Stability describes how steady a record is. All shares and figures are
// weighted with the time the samples stand for. The unit is that of the series.
type Stability struct {
	From, To time.Time
	Interval time.Duration
	Samples  int
	Observed time.Duration
	Coverage float64 // Observed over To − From

	Mean, SD      float64
	P5, P50, P95  float64
	Min, Max      float64
	MinAt, MaxAt  time.Time
	InBand        float64       // share of Observed
	Above, Below  time.Duration // outside of the band
	LongestOut    time.Duration // longest stretch out of band, on either side
	LongestIsOpen bool          // it touches a gap or an end of the record, and may be longer

	Excursions     []Excursion // the 100 longest, in the order of time
	ExcursionCount int
	Gaps           int // stretches of more than half an interval without a sample
	LongestGap     time.Duration
}

// Excursion is an unbroken stretch above or below the band.
type Excursion struct {
	From, To time.Time
	Above    bool
	Peak     float64 // value farthest out
	Open     bool    // it begins or ends at a gap, or at an end of the record
}

// Duration is how long the excursion was seen to last.
func (e Excursion) Duration() time.Duration { return e.To.Sub(e.From) }

// Stable describes the samples with from ≤ time < to. A zero from is the first
// sample, a zero to is one interval behind the last. A zero interval is the
// series' usual step. The pull-down should be left out by from.
//
// Percentiles: each value sits in the middle of its share of the cumulated
// time; between the middles of the lowest and the highest value they are
// interpolated linearly. With equal weights this is type 7 of Hyndman & Fan
// (1996), rank (n − 1)p.
//
// Errors: ErrNoSamples with fewer than two samples, or a band or span that is
// no band or span.
func Stable(s Series, from, to time.Time, interval time.Duration, band Band) (Stability, error) {
	if err := s.check(); err != nil {
		return Stability{}, err
	}
	if math.IsNaN(band.Low) || math.IsNaN(band.High) || band.Low > band.High {
		return Stability{}, problemf(ErrNoSamples, "the band from %g to %g is none", band.Low, band.High)
	}
	interval, err := s.intervalOr(interval)
	if err != nil {
		return Stability{}, err
	}
	a, b, err := s.bounds(from, to, interval)
	if err != nil {
		return Stability{}, err
	}
	r := Stability{From: time.UnixMilli(a).UTC(), To: time.UnixMilli(b).UTC(), Interval: interval}
	m := moments{}
	out := excursions{r: &r, at: a, gap: interval.Milliseconds() / 2}
	for c := s.from(a, b, interval); ; {
		x, ok := c.next()
		if !ok {
			break
		}
		m.add(x)
		out.add(x, band.side(x.v))
	}
	if m.n < 2 {
		return Stability{}, problemf(ErrNoSamples, "%q has %d samples between %s and %s; two are needed", s.Name, m.n,
			r.From.Format(time.RFC3339), r.To.Format(time.RFC3339))
	}
	r.take(m)
	r.Coverage = float64(r.Observed) / float64(milliseconds(b-a))
	out.finish(b)
	q := newQuantiles(s.from(a, b, interval))
	r.P5, r.P50, r.P95 = q.at(0.05), q.at(0.50), q.at(0.95)
	return r, nil
}

// bounds returns the span to look at in ms.
func (s Series) bounds(from, to time.Time, interval time.Duration) (a, b int64, err error) {
	first, last, ok := s.span()
	if !ok {
		return 0, 0, problemf(ErrNoSamples, "%q has no values", s.Name)
	}
	a, b = first, last+interval.Milliseconds()
	if !from.IsZero() {
		a = from.UnixMilli()
	}
	if !to.IsZero() {
		b = to.UnixMilli()
	}
	if a >= b {
		return 0, 0, problemf(ErrNoSamples, "%q: nothing lies between %s and %s", s.Name,
			time.UnixMilli(a).UTC().Format(time.RFC3339), time.UnixMilli(b).UTC().Format(time.RFC3339))
	}
	return a, b, nil
}

// moments are weighted sums of the distances from the first value, which keeps
// the digits that sums of the values would lose.
type moments struct {
	n               int
	origin          float64
	weight, squares float64 // Σw, Σw²
	first, second   float64 // Σw(x − origin), Σw(x − origin)²
	low, high       sample
}

func (m *moments) add(x sample) {
	if m.n == 0 {
		m.origin, m.low, m.high = x.v, x, x
	}
	m.n++
	w, d := float64(x.w), x.v-m.origin
	m.weight += w
	m.squares += w * w
	m.first += w * d
	m.second += w * d * d
	if x.v < m.low.v {
		m.low = x
	}
	if x.v > m.high.v {
		m.high = x
	}
}

// take fills mean, standard deviation and extremes. The weights of the variance
// are reliability weights: Σw(x − x̄)²/(Σw − Σw²/Σw).
func (r *Stability) take(m moments) {
	offset := m.first / m.weight
	r.Samples = m.n
	r.Observed = milliseconds(int64(m.weight))
	r.Mean = m.origin + offset
	r.SD = math.Sqrt(max(0, m.second-m.first*offset) / (m.weight - m.squares/m.weight))
	r.Min, r.MinAt = m.low.v, time.UnixMilli(m.low.t).UTC()
	r.Max, r.MaxAt = m.high.v, time.UnixMilli(m.high.t).UTC()
}

package logs

import (
	"slices"
	"time"

	"proveout/checks/units"
)

// holdSearch looks for the first sample whose hold passes.
type holdSearch struct {
	s        Series
	l        PullDownLimit
	start    int64
	last     int64 // time of the last sample
	interval time.Duration
}

// window is the hold of the sample in hand: the sums over the samples within
// it, and the readings that can still become its highest.
type window struct {
	ahead          cursor // next sample to come in
	peek           sample
	more           bool
	observed       int64
	out, defrosted int64 // above the limit: not in a defrost, in one
	within         int64
	tail           sample // last sample that came in

	// Shifted readings that no later one within the window reaches, from
	// head on: the first is the highest.
	highest []sample
	head    int
}

// run searches with all readings shifted.
func (h *holdSearch) run(shift float64) PullDownResult {
	var r PullDownResult
	w := window{ahead: h.s.from(h.start, end, h.interval)}
	w.peek, w.more = w.ahead.next()
	walk := h.s.from(h.start, end, h.interval)
	var before sample
	for seen := false; ; seen = true {
		x, ok := walk.next()
		if !ok {
			break
		}
		h.fill(&w, x, shift)
		if atMost(x.v+shift, float64(h.l.Limit)) {
			if !r.Found {
				r.Found = true
				r.FirstTouch = h.reached(before, seen, x, shift).Time
			}
			if c := h.judge(&w, x, shift); r.consider(c) {
				h.conclude(&r, before, seen, x, shift)
				return r
			}
		}
		h.leave(&w, x, shift)
		before = x
	}
	return r
}

// fill takes the samples into the window that the hold of x reaches.
func (h *holdSearch) fill(w *window, x sample, shift float64) {
	until := x.t + h.l.Hold.Milliseconds()
	for w.more && w.peek.t < until {
		w.observed += w.peek.w
		*h.share(w, w.peek, shift) += w.peek.w
		w.rise(w.peek, shift)
		w.tail = w.peek
		w.peek, w.more = w.ahead.next()
	}
}

// rise keeps the readings that no later one reaches.
func (w *window) rise(x sample, shift float64) {
	x.v += shift
	n := len(w.highest)
	for n > w.head && w.highest[n-1].v <= x.v {
		n--
	}
	w.highest = w.highest[:n]
	if n == cap(w.highest) && w.head > n/2 {
		w.highest = w.highest[:copy(w.highest, w.highest[w.head:])]
		w.head = 0
	}
	w.highest = append(w.highest, x)
}

// leave takes x out of the window.
func (h *holdSearch) leave(w *window, x sample, shift float64) {
	w.observed -= x.w
	*h.share(w, x, shift) -= x.w
	if w.highest[w.head].t == x.t {
		w.head++
	}
}

// peak returns the highest shifted reading up to and at the end of the hold.
func (w *window) peak(until int64, shift float64) float64 {
	highest := w.highest[w.head].v
	if w.more && w.peek.t == until {
		highest = max(highest, w.peek.v+shift)
	}
	return highest
}

// share returns the sum that a sample belongs to.
func (h *holdSearch) share(w *window, x sample, shift float64) *int64 {
	switch {
	case atMost(x.v+shift, float64(h.l.Limit)):
		return &w.within
	case h.defrosts(x.t):
		return &w.defrosted
	}
	return &w.out
}

func (h *holdSearch) defrosts(t int64) bool {
	return slices.ContainsFunc(h.l.Defrost, func(d TimeSpan) bool { return t >= d.From.UnixMilli() && t < d.To.UnixMilli() })
}

// judge tests the clauses for the hold that begins with x.
func (h *holdSearch) judge(w *window, x sample, shift float64) Candidate {
	hold := h.l.Hold.Milliseconds()
	until := x.t + hold
	c := Candidate{At: milliseconds(x.t - h.start), Highest: units.Temperature(w.peak(until, shift))}
	observed, out, defrosted := w.observed, w.out, w.defrosted
	// The last sample may stand for time beyond the hold.
	if over := w.tail.t + w.tail.w - until; over > 0 {
		observed -= over
		switch h.share(w, w.tail, shift) {
		case &w.defrosted:
			defrosted -= over
		case &w.out:
			out -= over
		}
	}
	out += max(0, defrosted-int64(h.l.DefrostShare*float64(observed)))
	c.Coverage = float64(observed) / float64(hold)
	c.Outside = float64(out) / float64(observed)
	c.Fails = h.clause(c, until)
	return c
}

func (h *holdSearch) clause(c Candidate, until int64) Clause {
	switch {
	case until > h.last:
		return Incomplete
	case !atMost(h.l.Coverage, c.Coverage):
		return Unobserved
	case !atMost(c.Outside, h.l.Outside):
		return TooLong
	case !atMost(float64(c.Highest), float64(h.l.Limit.Add(h.l.Spike))):
		return TooHigh
	}
	return Held
}

// consider notes a candidate and reports whether it holds.
func (r *PullDownResult) consider(c Candidate) (held bool) {
	if r.FailedCount == 0 || c.better(r.Best) {
		r.Best = c
	}
	if c.Fails == Held {
		return true
	}
	r.FailedCount++
	const most = 50
	if n := len(r.Failed); n > 0 && r.Failed[n-1].Fails == c.Fails {
		r.Failed[n-1].Last = c.At
		r.Failed[n-1].Count++
	} else if n < most {
		r.Failed = append(r.Failed, FailedRun{c.At, c.At, 1, c.Fails})
	}
	return false
}

// better reports whether c fails later or less than d.
func (c Candidate) better(d Candidate) bool {
	if c.Fails != d.Fails {
		return c.Fails > d.Fails
	}
	switch c.Fails {
	case Unobserved:
		return c.Coverage > d.Coverage
	case TooLong:
		return c.Outside < d.Outside
	case TooHigh:
		return c.Highest < d.Highest
	}
	return false
}

func (h *holdSearch) conclude(r *PullDownResult, before sample, seen bool, x sample, shift float64) {
	at := h.reached(before, seen, x, shift)
	r.Proven, r.Time, r.Bracket, r.Interpolated = true, at.Time, at.Bracket, at.Interpolated
}

// reached tells when the limit was reached at sample x.
func (h *holdSearch) reached(before sample, seen bool, x sample, shift float64) (r PullDownResult) {
	at, limit := milliseconds(x.t-h.start), float64(h.l.Limit)
	r.Time, r.Bracket = at, [2]time.Duration{0, at}
	if !seen {
		return r
	}
	above := before.v + shift
	if atMost(above, limit) {
		r.Bracket[0] = at
		return r
	}
	r.Bracket[0] = milliseconds(before.t - h.start)
	step := x.t - before.t
	if step > 2*h.interval.Milliseconds() {
		return r
	}
	part := min(1, (above-limit)/(above-(x.v+shift)))
	r.Time = r.Bracket[0] + time.Duration(part*float64(milliseconds(step)))
	r.Interpolated = true
	return r
}

// runningMedian returns s with each value replaced by the median of the n
// values around it; at the ends of those there are.
func (s Series) runningMedian(n int) Series {
	values := slices.Clone(s.Values)
	around := make([]float64, 0, n)
	for i := range s.Values {
		around = around[:0]
		for _, v := range s.Values[max(0, i-n/2):min(len(s.Values), i+n/2+1)] {
			if v == v {
				around = append(around, v)
			}
		}
		if v := s.Values[i]; v == v && len(around)%2 == 1 {
			slices.Sort(around)
			values[i] = around[len(around)/2]
		}
	}
	s.Values = values
	return s
}

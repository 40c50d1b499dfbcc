package logs

import (
	"math"
	"time"

	"proveout/checks/units"
)

// PullDownLimit says what counts as pulled down. The fields have no defaults
// but those of BottlePullDown and AirPullDown; a zero Outside tolerates nothing.
type PullDownLimit struct {
	Limit    units.Temperature           // T_lim: set point plus tolerance
	Hold     time.Duration               // how long it must stay there
	Outside  float64                     // ε: share of the observed hold that may be above the limit, 0 to below 1
	Spike    units.TemperatureDifference // no sample of the hold may be higher above the limit
	Coverage float64                     // least share of the hold that must be observed, above 0 to 1
	Interval time.Duration               // Δ: the logger's; zero: the series' usual step

	// Uncertainty is the expanded uncertainty U (k = 2) of the sensor. If it is
	// not zero, the result has bounds: the same with all readings lower and
	// higher by U.
	Uncertainty units.TemperatureDifference

	// Median is the number of samples of a running median, 3 or 5, for a bottle
	// probe only; 0 is none.
	Median int

	// Defrost lists times during which the limit may be exceeded without
	// counting as outside, up to DefrostShare of the observed hold. Spike and
	// Coverage apply to them too.
	Defrost      []TimeSpan
	DefrostShare float64
}

// TimeSpan is From ≤ t < To.
type TimeSpan struct{ From, To time.Time }

// BottlePullDown is the usual demand on a bottle probe: set point + 0.5 K,
// held for 24 h, 5 % above, no more than 1 K above, 90 % observed. The figures
// are defaults of this project, chosen, not from a standard.
func BottlePullDown(setPoint units.Temperature) PullDownLimit {
	return PullDownLimit{Limit: setPoint.Add(0.5), Hold: 24 * time.Hour, Outside: 0.05, Spike: 1, Coverage: 0.90, DefrostShare: 0.02}
}

// AirPullDown is the same for an air sensor, held for 2 h. Air arrives hours
// before the bottles do.
func AirPullDown(setPoint units.Temperature) PullDownLimit {
	l := BottlePullDown(setPoint)
	l.Hold = 2 * time.Hour
	return l
}

// Clause is what a candidate for the pull-down fails, in the order in which
// they are tested.
type Clause uint8

// The clauses. Incomplete: the record ends before the hold does. Unobserved:
// too little of the hold is observed. TooLong: too much of it is above the
// limit. TooHigh: a reading is too far above. Held: nothing fails.
const (
	Incomplete Clause = iota
	Unobserved
	TooLong
	TooHigh
	Held
)

func (c Clause) String() string {
	return [...]string{
		"the record ends before the hold does", "too little of the hold is observed",
		"above the limit for too long", "a reading is too far above the limit", "held",
	}[min(c, Held)]
}

// Candidate is a sample at or below the limit, and the hold that follows it.
type Candidate struct {
	At       time.Duration // since the start
	Fails    Clause        // the first that fails, Held if none
	Coverage float64       // share of the hold that is observed
	Outside  float64       // share of the observed hold above the limit
	Highest  units.Temperature
}

// FailedRun is a row of candidates one after the other that fail the same way.
type FailedRun struct {
	First, Last time.Duration
	Count       int
	Fails       Clause
}

// PullDownBound is the result with all readings shifted by the uncertainty.
type PullDownBound struct {
	Proven bool
	Time   time.Duration
}

// PullDownResult is what a record proves. Durations count from the start.
type PullDownResult struct {
	Proven bool

	// Time is when the limit was reached to stay: interpolated between the last
	// sample above it and the first of the hold if Interpolated, else the first
	// of the hold. Bracket holds those two samples; the first of them is the
	// start if no sample lies before. Zero unless Proven.
	Time         time.Duration
	Bracket      [2]time.Duration
	Interpolated bool

	// Best is the candidate that holds or, if none does, the one that fails
	// latest in the order of clauses, and least. Found is false if no sample
	// was at or below the limit.
	Best  Candidate
	Found bool

	// Failed lists the candidates before the one that holds; no more than 50
	// runs, FailedCount counts all candidates.
	Failed      []FailedRun
	FailedCount int

	FirstTouch time.Duration // when the limit was first reached, which proves nothing; needs Found

	Early, Late *PullDownBound // with the readings lower and higher by U; nil without uncertainty

	Start    time.Time
	Interval time.Duration
}

// PullDown finds when the temperature came to the limit and stayed, and proves
// it or names what is missing. No standard defines this; the definition is:
//
//  1. Samples before start and rows without a value are left out; samples at
//     the same time are one, their mean. A sample stands for the time until
//     the next, at most Interval; the rest of a gap is unobserved.
//  2. Every sample at or below Limit is a candidate t. Over [t, t + Hold]: the
//     last sample of the record must not be earlier than the end; observed time
//     / Hold ≥ Coverage; time above Limit / observed time ≤ Outside; no sample
//     above Limit + Spike. The first candidate that passes all wins.
//  3. The time is interpolated linearly between the sample before, if that is
//     above the limit and no more than two intervals away, and the candidate.
//     If it is farther away the result is the bracket of the two. If it is not
//     above the limit, which happens after a candidate that failed, the result
//     is the candidate's own time.
//  4. Nothing is extrapolated: without a passing candidate Proven is false.
//  5. With an uncertainty U the whole is repeated with all readings − U (Early)
//     and + U (Late).
//
// s must be a temperature in the order of time; a zero start is its first
// sample. Sensor corrections are applied before, by Series.Corrected.
//
// Errors: ErrNoSamples for a series or a limit that cannot be used.
func PullDown(s Series, start time.Time, l PullDownLimit) (PullDownResult, error) {
	if err := l.check(); err != nil {
		return PullDownResult{}, err
	}
	if s.Quantity != Temperature {
		return PullDownResult{}, problemf(ErrNoSamples, "%q is not a temperature but %q; a pull-down needs one", s.Name, s.Quantity)
	}
	if err := s.check(); err != nil {
		return PullDownResult{}, err
	}
	interval, err := s.intervalOr(l.Interval)
	if err != nil {
		return PullDownResult{}, err
	}
	first, last, ok := s.span()
	if !ok {
		return PullDownResult{}, problemf(ErrNoSamples, "%q has no values", s.Name)
	}
	if start.IsZero() {
		start = time.UnixMilli(first).UTC()
	}
	if l.Median > 1 {
		s = s.runningMedian(l.Median)
	}
	hold := holdSearch{s: s, l: l, start: start.UnixMilli(), last: last, interval: interval}
	r := hold.run(0)
	r.Start, r.Interval = start, interval
	if l.Uncertainty > 0 {
		r.Early = hold.run(-float64(l.Uncertainty)).bound()
		r.Late = hold.run(float64(l.Uncertainty)).bound()
	}
	return r, nil
}

func (r PullDownResult) bound() *PullDownBound { return &PullDownBound{r.Proven, r.Time} }

// check tests that a limit says something.
func (l *PullDownLimit) check() error {
	finite := func(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
	switch {
	case !finite(float64(l.Limit)):
		return problemf(ErrNoSamples, "the pull-down limit is not a number")
	case l.Hold < time.Millisecond:
		return problemf(ErrNoSamples, "the hold must be longer than nothing: %v", l.Hold)
	case !(l.Outside >= 0 && l.Outside < 1):
		return problemf(ErrNoSamples, "the share of time above the limit must be from 0 to below 1: %g", l.Outside)
	case !finite(float64(l.Spike)) || l.Spike < 0:
		return problemf(ErrNoSamples, "the ceiling of spikes must be a difference of 0 K or more: %g", l.Spike)
	case !(l.Coverage > 0 && l.Coverage <= 1):
		return problemf(ErrNoSamples, "the coverage must be above 0 and at most 1: %g", l.Coverage)
	case !finite(float64(l.Uncertainty)) || l.Uncertainty < 0:
		return problemf(ErrNoSamples, "the uncertainty must be a difference of 0 K or more: %g", l.Uncertainty)
	case l.Median != 0 && l.Median != 1 && l.Median != 3 && l.Median != 5:
		return problemf(ErrNoSamples, "the running median takes 3 or 5 samples: %d", l.Median)
	case !(l.DefrostShare >= 0 && l.DefrostShare < 1):
		return problemf(ErrNoSamples, "the share of defrost must be from 0 to below 1: %g", l.DefrostShare)
	}
	return nil
}

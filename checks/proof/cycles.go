package proof

import (
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/logs"
)

// Cycles say how a unit ran over a time.
type Cycles struct {
	From, To time.Time
	Observed time.Duration
	Duty     float64 // share of the observed time
	// DutyError is the greatest error of Duty by the sampling of its edges, N·Δ/T.
	DutyError float64
	Starts    int
	PerHour   float64
	WorstHour int // most starts in any 60 minutes
	// Shortest and median of the times on and off that were seen whole; zero when
	// there are none.
	ShortestOn, MedianOn   time.Duration
	ShortestOff, MedianOff time.Duration
	Fan                    FanState
	// Brief counts the states that one sample alone saw; they are not counted as
	// runs, and many of them say that the unit cycles faster than the log shows.
	Brief int
	// Coarse: the log's interval is longer than a quarter of the shortest time on
	// or off, so that shorter ones may have been missed.
	Coarse bool
	Steps  []Step

	interval time.Duration
}

// Cycles describes the runs between two times; zero times are the ends.
func (s States) Cycles(from, to time.Time) (Cycles, error) {
	runs := s.cut(from, to)
	if len(runs) == 0 {
		return Cycles{}, fmt.Errorf("%w: the unit's log holds nothing between the times asked for", ErrTooLittle)
	}
	c := Cycles{From: runs[0].From, To: runs[len(runs)-1].To, Fan: s.Fan}
	var on time.Duration
	var ons, offs []time.Duration
	var starts []time.Time
	for i, r := range runs {
		c.Observed += r.Lasts()
		if r.On {
			on += r.Lasts()
		}
		if r.On && i > 0 && runs[i-1].To.Equal(r.From) {
			starts = append(starts, r.From)
		}
		switch {
		case r.Open:
		case r.On:
			ons = append(ons, r.Lasts())
		default:
			offs = append(offs, r.Lasts())
		}
	}
	if c.Observed <= 0 {
		return Cycles{}, fmt.Errorf("%w: the unit's log has no length", ErrTooLittle)
	}
	c.Duty, c.Starts = float64(on)/float64(c.Observed), len(starts)
	c.PerHour = float64(c.Starts) / c.Observed.Hours()
	c.DutyError = float64(c.Starts) * float64(s.Interval) / float64(c.Observed)
	c.WorstHour = mostWithin(starts, time.Hour)
	c.ShortestOn, c.MedianOn = shortest(ons)
	c.ShortestOff, c.MedianOff = shortest(offs)
	for _, t := range s.brief {
		if !t.Before(c.From) && t.Before(c.To) {
			c.Brief++
		}
	}
	c.interval = s.Interval
	for _, d := range []time.Duration{c.ShortestOn, c.ShortestOff} {
		c.Coarse = c.Coarse || d > 0 && 4*s.Interval > d
	}
	c.steps(s)
	return c, nil
}

// hidden reports whether the unit often changes faster than the log shows.
func (c *Cycles) hidden() bool { return c.Brief > 10 && c.Brief > c.Starts/2 }

// Unclear reports whether the usual run or rest is too short for the meter's
// interval to tell how long it is.
func (c *Cycles) Unclear() bool { return c.coarse(c.interval) }

// coarse reports whether the usual run is too short for the meter's interval.
func (c *Cycles) coarse(interval time.Duration) bool {
	if c.hidden() {
		return true
	}
	for _, d := range []time.Duration{c.MedianOn, c.MedianOff} {
		if d > 0 && 4*interval > d {
			return true
		}
	}
	return false
}

// cut returns the runs between two times. What is cut off is open.
func (s States) cut(from, to time.Time) []Run {
	var runs []Run
	for _, r := range s.Runs {
		if !from.IsZero() && r.From.Before(from) {
			r.From, r.Open = from, true
		}
		if !to.IsZero() && r.To.After(to) {
			r.To, r.Open = to, true
		}
		if r.To.After(r.From) {
			runs = append(runs, r)
		}
	}
	return runs
}

// without returns the states with some spans left out.
func (s States) without(spans []logs.TimeSpan) States {
	for _, x := range spans {
		before, after := s.cut(time.Time{}, x.From), s.cut(x.To, time.Time{})
		s.Runs = append(before, after...)
		s.brief = slices.DeleteFunc(slices.Clone(s.brief), func(t time.Time) bool { return !t.Before(x.From) && t.Before(x.To) })
	}
	return s
}

// mostWithin returns the most of ascending times that any stretch holds.
func mostWithin(times []time.Time, stretch time.Duration) int {
	most, first := 0, 0
	for i, t := range times {
		for t.Sub(times[first]) >= stretch {
			first++
		}
		most = max(most, i-first+1)
	}
	return most
}

func shortest(all []time.Duration) (least, middle time.Duration) {
	if len(all) == 0 {
		return 0, 0
	}
	slices.Sort(all)
	return all[0], all[len(all)/2]
}

func (c *Cycles) steps(s States) {
	const source = "this log; hysteresis at 40 and 60 % of the step"
	c.Steps = []Step{
		{Name: "levels", Formula: "two groups of values farthest apart", Value: fmt.Sprintf("off %.4g, on %.4g", s.Off, s.On), Source: "Otsu 1979"},
		{Name: "duty", Formula: "time on / time observed", Value: fmt.Sprintf("%.1f %% of %.1f h, ± %.1f %% by sampling", 100*c.Duty, c.Observed.Hours(), 100*c.DutyError), Source: source},
		{Name: "starts", Value: fmt.Sprintf("%d, %.2f an hour, at worst %d in 60 min", c.Starts, c.PerHour, c.WorstHour), Source: source},
		{Name: "times on", Value: fmt.Sprintf("shortest %s, median %s", c.ShortestOn, c.MedianOn), Source: source},
		{Name: "times off", Value: fmt.Sprintf("shortest %s, median %s", c.ShortestOff, c.MedianOff), Source: source},
	}
}

// Limits of cycling (common practice): a compressor should run for 5 min and rest
// for 3, and start no more than 6 times an hour. A restart before the pressures are
// equal loads the motor.
const (
	leastOn    = 5 * time.Minute
	leastOff   = 3 * time.Minute
	mostStarts = 6
)

// Short reports whether the unit cycles short as a habit, by its median times and
// its mean number of starts, and says why. A single short run after a door was
// opened is none. Without two whole runs of each kind it is false, with no reason.
func (c *Cycles) Short() (short bool, why string) {
	switch {
	case c.hidden() && 2*c.interval <= leastOn:
		return true, fmt.Sprintf("%d runs or rests were shorter than two readings, %s; at least %s is wanted", c.Brief, 2*c.interval, leastOn)
	case c.Starts < 2:
		return false, ""
	case c.MedianOn > 0 && c.MedianOn < leastOn:
		return true, fmt.Sprintf("half of the runs are shorter than %s; at least %s is wanted", c.MedianOn, leastOn)
	case c.MedianOff > 0 && c.MedianOff < leastOff:
		return true, fmt.Sprintf("half of the rests are shorter than %s; at least %s is wanted", c.MedianOff, leastOff)
	case c.PerHour > mostStarts:
		return true, fmt.Sprintf("%.1f starts an hour; at most %d are wanted", c.PerHour, mostStarts)
	}
	return false, ""
}

// Duties returns the share of time on in n steps from a time on; NaN for a step of
// which less than the share least is observed.
func (s States) Duties(from time.Time, step time.Duration, n int, least float64) []float64 {
	on, seen := make([]float64, n), make([]float64, n)
	for _, r := range s.cut(from, from.Add(step*time.Duration(n))) {
		for t := r.From; t.Before(r.To); {
			i := int(t.Sub(from) / step)
			end := from.Add(step * time.Duration(i+1))
			if r.To.Before(end) {
				end = r.To
			}
			d := end.Sub(t).Seconds()
			seen[i] += d
			if r.On {
				on[i] += d
			}
			t = end
		}
	}
	for i := range on {
		if seen[i] <= 0 || seen[i] < least*step.Seconds()*(1-1e-9) {
			on[i] = math.NaN()
			continue
		}
		on[i] /= seen[i]
	}
	return on
}

// Drained returns the condensate a day over the spans weighed within from ≤ t <
// to, and whether there were any.
func Drained(water []Water, from, to time.Time) (perDay float64, known bool) {
	mass, length := 0.0, 0.0
	for _, w := range water {
		if w.Span.From.Before(from) || w.Span.To.After(to) || !w.Span.To.After(w.Span.From) || !(w.Mass >= 0) {
			continue
		}
		mass += float64(w.Mass)
		length += w.Span.To.Sub(w.Span.From).Seconds()
	}
	if length < day/2 {
		return 0, false
	}
	return mass / length * day, true
}

// overlaps reports whether a span shares time with any of the others.
func overlaps(a logs.TimeSpan, others []logs.TimeSpan) bool {
	return slices.ContainsFunc(others, func(b logs.TimeSpan) bool { return a.From.Before(b.To) && b.From.Before(a.To) })
}

package checks

import (
	"fmt"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// PullDown asks how long the room took to come down to its set point and stay
// there. Air arrives hours before bottles do: with bottles in the room the
// proof is a probe in a bottle.
var PullDown = &Check{
	Name:    "pull-down",
	Doc:     "time from switching on until the set point is reached to stay",
	Source:  "first time at or below set point + 0.5 K that holds for 24 h in a bottle, 2 h in air, at most 5 % above; no standard found, common practice",
	Result:  units.DurationKind,
	Figures: []string{"set point", PullDownLoad},
	Log:     true,
	Starts:  true,
	Each:    pullDown,
}

func pullDown(c Case, f Fact) Point {
	limit := logs.AirPullDown(c.Room.SetPoint.Temperature())
	switch {
	case bottleProbe(f.Place):
		limit = logs.BottlePullDown(c.Room.SetPoint.Temperature())
	case c.Room.PullDownLoad == "loaded":
		return undecided(f.Place, "the room is proved with its bottles in it; the log must come from a probe in a bottle: --at \"bottle probe\"")
	}
	if f.Instrument != nil && f.Instrument.Uncertainty.Known() && f.Instrument.Uncertainty.Kind() == units.TemperatureDifferenceKind {
		limit.Uncertainty = f.Instrument.Uncertainty.TemperatureDifference()
	}
	s, err := c.column(f, logs.Temperature)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	if !warmAt(s, f.Start, limit.Limit) {
		return undecided(f.Place, "the log does not show the room above %s when it was switched on; it proves no pull-down", units.Of(units.TemperatureKind, float64(limit.Limit), c.Room.Units))
	}
	r, err := logs.PullDown(s, f.Start, limit)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	if !r.Proven {
		return undecided(f.Place, "%s", notProven(r, limit))
	}
	q := units.Of(units.DurationKind, r.Time.Seconds(), c.Room.Units)
	p := Point{Place: f.Place, Quantity: q, Value: q.String() + bounds(r), Steps: append(correctionSteps(f), pullDownSteps(c, r, limit)...)}
	if r.Late != nil && r.Late.Proven {
		p.Uncertainty = units.Of(units.DurationKind, max(r.Late.Time-r.Time, 0).Seconds(), c.Room.Units)
	}
	if r.Late != nil && !r.Late.Proven {
		return undecided(f.Place, "with readings higher by the logger's uncertainty of %s the room did not hold; it proves nothing", f.Instrument.Uncertainty)
	}
	return p
}

// warmAt reports whether the first reading from start on is above the limit.
func warmAt(s logs.Series, start time.Time, limit units.Temperature) bool {
	for i, at := range s.Times {
		if v := s.Values[i]; at >= start.UnixMilli() && v == v {
			return v > float64(limit)
		}
	}
	return false
}

func notProven(r logs.PullDownResult, l logs.PullDownLimit) string {
	if !r.Found {
		return fmt.Sprintf("the room never came down to %.1f °C", float64(l.Limit))
	}
	return fmt.Sprintf("not proven: it first came down after %s, but did not hold for %s (%s)", lasting(r.FirstTouch.Round(time.Minute)), lasting(l.Hold), r.Best.Fails)
}

func bounds(r logs.PullDownResult) string {
	if r.Early == nil || r.Late == nil || !r.Early.Proven || !r.Late.Proven {
		return ""
	}
	return fmt.Sprintf(" (%s to %s)", hours(r.Early.Time), hours(r.Late.Time))
}

func hours(d time.Duration) string { return fmt.Sprintf("%.1f h", d.Hours()) }

func pullDownSteps(c Case, r logs.PullDownResult, l logs.PullDownLimit) []Step {
	print := func(t units.Temperature) string {
		return units.Of(units.TemperatureKind, float64(t), c.Room.Units).String()
	}
	return []Step{
		{Name: "switched on", Value: r.Start.In(c.zone()).Format("2006-01-02 15:04"), Source: "record"},
		{Name: "limit", Formula: "set point + 0.5 K", Value: print(l.Limit), Source: "common practice"},
		{Name: "must hold for", Value: hours(l.Hold), Source: "common practice"},
		{Name: "first touched", Value: hours(r.FirstTouch)},
		{Name: "reached to stay", Value: hours(r.Time)},
		{Name: "highest while holding", Value: print(r.Best.Highest)},
		{Name: "share above while holding", Value: fmt.Sprintf("%.1f %%", 100*r.Best.Outside)},
	}
}

// zone is where the job is.
func (c Case) zone() *time.Location { return c.Room.zone() }

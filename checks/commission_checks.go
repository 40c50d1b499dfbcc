package checks

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks/logs"
	"proveout/checks/proof"
)

// proofFigures are the job's figures that the analysis of the loggers uses.
var proofFigures = append([]string{"temperature band"}, loadFigures...)

// LoggerHealth asks whether enough loggers are left for a proof when those with
// faults are out of it.
var LoggerHealth = &Check{
	Name:    "logger-health",
	Doc:     "loggers that are left for a proof, without those that have faults",
	Source:  "faults as the logs themselves show them; how many must be left: this project's choice",
	Rule:    "sound logs of two places in the room's air, of the unit, and of each space beside the room that the design counts",
	Figures: proofFigures,
	From:    steadyLogs,
	Also:    besideLogs,
	Built:   true,
	Whole:   loggerHealth,
}

// WillItHold asks whether the unit will carry the room on its design day, as the
// logged days foretell it.
var WillItHold = &Check{
	Name:    "will-it-hold",
	Doc:     "share of the design day that the unit will run, foretold from the logged days",
	Source:  "line of the days' heat over their difference of temperatures, 95 % prediction interval; rule assumed, no published one was found",
	Rule:    "at most 90 % with the whole interval; no further from the days logged than half their span",
	Figures: proofFigures,
	From:    steadyLogs,
	Also:    besideLogs,
	Built:   true,
	Whole:   willItHold,
}

// MeasuredConductance asks whether the room lets in no more heat than it was
// designed for.
var MeasuredConductance = &Check{
	Name:    "measured-conductance",
	Doc:     "heat that the room takes in per kelvin, measured, against the design",
	Source:  "slope of the days' heat over their difference of temperatures, 95 % interval; 15 % above the design and the widest interval: this project's choice",
	Rule:    "the interval's upper end at most 15 % above the design, the interval within a quarter of the value either way",
	Figures: proofFigures,
	From:    steadyLogs,
	Also:    besideLogs,
	Built:   true,
	Whole:   measuredConductance,
}

// ShortCycling asks whether the unit runs and rests long enough.
var ShortCycling = &Check{
	Name:    "short-cycling",
	Doc:     "how long the unit runs and rests, and how often it starts",
	Source:  "a compressor runs for 5 min, rests for 3 and starts 6 times an hour at most: common practice",
	Rule:    "median run at least 5 min, median rest at least 3 min, at most 6 starts an hour on average",
	Figures: proofFigures,
	From:    steadyLogs,
	Also:    besideLogs,
	Built:   true,
	Whole:   shortCycling,
}

// ofProof makes the points of a check on the analysed loggers: of the loaded room
// where the question uses its logs, else of the empty one.
func (c Case) ofProof(of func(*proof.Analysis, *LogsOfPlaces) []Point) []Point {
	loaded := c.Question.UsedID() == loadedLogs
	a, l, err := c.CommissioningProof(loaded)
	points := []Point{}
	if err != nil {
		points = append(points, undecided("room", "%v%s", err, l.leftText()))
	} else {
		points = of(a, l)
	}
	var facts []string
	for _, name := range runChecks[loaded] {
		for _, f := range c.Facts[name] {
			facts = append(facts, f.ID)
		}
	}
	for i := range points {
		points[i].Facts = facts
		points[i].judged = true
	}
	return points
}

// leftText names the files that were left out.
func (l *LogsOfPlaces) leftText() string {
	text := ""
	for _, f := range l.Left {
		text += fmt.Sprintf("; %s: %s", f.File, f.Why)
	}
	return text
}

// lacking says why an analysis was not made, by the beginning of its name.
func lacking(a *proof.Analysis, l *LogsOfPlaces, what ...string) string {
	reasons := slices.Clone(l.Notes)
	for _, s := range a.Skipped {
		if slices.ContainsFunc(what, func(w string) bool { return strings.HasPrefix(s.What, w) }) {
			reasons = append(reasons, s.What+": "+s.Why)
		}
	}
	if len(reasons) == 0 {
		return "the logs do not show it"
	}
	return strings.Join(reasons, "; ")
}

func willItHold(c Case) []Point {
	return c.ofProof(func(a *proof.Analysis, l *LogsOfPlaces) []Point {
		h := a.Hold
		if h == nil {
			return []Point{undecided("room", "%s", lacking(a, l, "energy signature", "will it hold"))}
		}
		p := Point{Place: "room", Outcome: h.Outcome, Reason: h.Reason, Steps: h.Steps}
		p.Value = fmt.Sprintf("%.0f %% of the design day (%.0f to %.0f %%)", 100*h.Duty.Value, 100*h.Duty.Low, 100*h.Duty.High)
		if h.Provisional && h.Outcome == Pass {
			p.Outcome = Undecided
			p.Reason += "; log the same places in the opposite season, and the days logged will reach the design day"
		}
		return []Point{p}
	})
}

// widestHalf is the half-width of the interval, as a share of the value, from which
// on a measured conductance tells nothing (this project's choice).
const widestHalf = 0.25

func measuredConductance(c Case) []Point {
	return c.ofProof(func(a *proof.Analysis, l *LogsOfPlaces) []Point {
		s := a.Signature
		if s == nil || !s.UA.Known() || !(s.Designed > 0) {
			return []Point{undecided("room", "%s", lacking(a, l, "energy signature"))}
		}
		p := Point{Place: "room", Outcome: s.Compared, Steps: s.Steps}
		p.Value = fmt.Sprintf("%.1f W/K (%.1f to %.1f W/K)", s.UA.Value, s.UA.Low, s.UA.High)
		p.Limit = fmt.Sprintf("designed %.1f W/K, 15 %% more at most", s.Designed)
		switch {
		case s.Compared == Fail:
			p.Reason = "the room lets in more heat than it was designed for, by more than the uncertainty"
		case !(s.UA.Half() <= widestHalf*s.UA.Value):
			p.Outcome, p.Reason = Undecided, fmt.Sprintf("the interval is wider than %.0f %% either way; log more days, with more different weather", 100*widestHalf)
		case s.Compared == Undecided:
			p.Reason = "the limit lies within the interval; log more days, with more different weather"
		}
		return []Point{p}
	})
}

func shortCycling(c Case) []Point {
	return c.ofProof(func(a *proof.Analysis, l *LogsOfPlaces) []Point {
		y := a.Cycles
		if y == nil {
			return []Point{undecided("power", "%s", lacking(a, l, "cycles"))}
		}
		p := Point{Place: "power", Outcome: Pass, Steps: y.Steps}
		p.Value = fmt.Sprintf("%.1f starts an hour, on for %s, off for %s", y.PerHour, lasting(y.MedianOn), lasting(y.MedianOff))
		short, why := y.Short()
		switch {
		case short:
			p.Outcome, p.Reason = Fail, why
		case y.Starts < 2 || y.MedianOn == 0 || y.MedianOff == 0:
			p.Outcome, p.Reason = Undecided, "the log shows fewer than two whole runs and rests"
		case y.Unclear():
			p.Outcome, p.Reason = Undecided, "the meter reads too seldom to show short runs; set it to a reading a minute"
		}
		return []Point{p}
	})
}

// placesInAir is how many places in the room's air must be left (this project's
// choice): one alone shows no spread and cannot be checked against another.
const placesInAir = 2

func loggerHealth(c Case) []Point {
	return c.ofProof(func(a *proof.Analysis, l *LogsOfPlaces) []Point {
		points := []Point{
			l.left(a, "room air", placesInAir, func(p PlacedLog) bool { return p.Place.Room() }, logs.Temperature),
			l.left(a, "power", 1, func(p PlacedLog) bool { return p.Place == proof.Unit }, logs.Power, logs.Current, logs.Energy, logs.State),
		}
		if a.Cycles == nil && points[1].Outcome == Pass {
			points[1].Outcome, points[1].Reason = Undecided, "the meter's log does not tell running from resting: "+lacking(a, l, "cycles")
		}
		if len(l.Input.Room.Sides) == 0 {
			points = append(points, undecided("around the room", "%s", lacking(a, l)))
		}
		for _, s := range l.Input.Room.Sides {
			points = append(points, l.left(a, s.Name, 1, func(p PlacedLog) bool { return p.Side == s.Name }, logs.Temperature))
		}
		for i := range points {
			points[i].Steps = append(points[i].Steps, l.healthSteps(a)...)
		}
		return points
	})
}

// left counts the loggers at a place that have a sound column of one of the
// quantities.
func (l *LogsOfPlaces) left(a *proof.Analysis, place string, wanted int, at func(PlacedLog) bool, of ...logs.Quantity) Point {
	sound := 0
	var out []string
	for i, p := range l.Placed {
		if !at(p) {
			continue
		}
		if why := excluded(a, l.Input.Loggers[i], of); why != "" {
			out = append(out, p.File.Name+": "+why)
		} else {
			sound++
		}
	}
	p := Point{Place: place, Outcome: Pass, Value: fmt.Sprintf("%d sound, %d with faults", sound, len(out)), Limit: fmt.Sprintf("at least %d", wanted)}
	p.Reason = strings.Join(out, "; ")
	switch {
	case sound >= wanted:
	case len(out) > 0:
		p.Outcome = Fail
	default:
		p.Outcome, p.Reason = Undecided, fmt.Sprintf("%d of %d loggers are there%s", sound, wanted, l.leftText())
	}
	return p
}

// excluded says why a logger has no sound column of the quantities, or "".
func excluded(a *proof.Analysis, in proof.Logger, of []logs.Quantity) string {
	why := "it has no column that counts here"
	for _, s := range in.Series {
		if !slices.Contains(of, s.Quantity) {
			continue
		}
		i := slices.IndexFunc(a.Findings, func(f proof.Finding) bool {
			return f.Excluded && f.Logger == in.Name && f.Column == s.Name
		})
		if i < 0 {
			return ""
		}
		why = fmt.Sprintf("%s, %s", a.Findings[i].Fault, a.Findings[i].Reason)
	}
	return why
}

// healthSteps name every finding on a logger and every file left out.
func (l *LogsOfPlaces) healthSteps(a *proof.Analysis) []Step {
	var steps []Step
	for _, f := range a.Findings {
		if f.Logger == "" {
			continue
		}
		name := f.Logger + ": " + string(f.Fault)
		if f.Excluded {
			name += ", left out"
		}
		steps = append(steps, Step{Name: name, Value: f.Reason, Source: f.Do})
	}
	for _, f := range l.Left {
		steps = append(steps, Step{Name: f.File + ": left out", Value: f.Why})
	}
	return steps
}

package checks

import (
	"fmt"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// LogDuration asks how long a logger has watched the room, in the time the
// record names: --start leaves the pull-down out.
var LogDuration = &Check{
	Name:   "log-duration",
	Doc:    "time that a logger has watched without large gaps",
	Source: "WHO guide on temperature mapping: 24 to 72 h for rooms with control, 7 days for stores (read in summaries); 90 % coverage: common practice",
	Result: units.DurationKind,
	Log:    true,
	Each:   logDuration,
}

// TemperatureInBand asks for the share of time that each logger was within the
// band round the set point.
var TemperatureInBand = &Check{
	Name:    "temperature-in-band",
	Doc:     "share of time within the temperature band round the set point",
	Source:  "time-weighted share; band of ± 1 K unless job.yaml says otherwise: common practice",
	Figures: []string{"set point", "temperature band"},
	Result:  units.PercentKind,
	Log:     true,
	Each:    temperatureInBand,
}

// HumidityInBand asks for the share of time that each logger was within the
// job's humidity band.
var HumidityInBand = &Check{
	Name:    "humidity-in-band",
	Doc:     "share of time within the job's humidity band",
	Source:  "time-weighted share; band from job.yaml",
	Figures: []string{"low humidity", "high humidity"},
	Result:  units.PercentKind,
	Log:     true,
	Each:    humidityInBand,
}

// MeanTemperature asks for the mean of each logger.
var MeanTemperature = &Check{
	Name:   "mean-temperature",
	Doc:    "time-weighted mean temperature of each logger",
	Source: "time-weighted mean; ± 1 K of the set point: common practice",
	Result: units.TemperatureKind,
	Log:    true,
	Each:   meanTemperature,
}

// SpatialSpread asks how far the means of the loggers in the room lie apart.
var SpatialSpread = &Check{
	Name:   "spatial-spread",
	Doc:    "difference between the warmest and the coldest place of the room",
	Source: "difference of time-weighted means over the same hours; limit: common practice",
	Result: units.TemperatureDifferenceKind,
	Whole:  spatialSpread,
}

// leastCoverage is the share of a log's time that must be observed before it
// proves anything (common practice).
const leastCoverage = 0.9

// leastWindow is the shortest time that shows how a room keeps: a day with its
// day and night (common practice).
const leastWindow = 24 * time.Hour

// column reads the logger files of a record and returns their one column of a
// quantity. Two would leave open which of them is judged.
func (c Case) column(f Fact, q logs.Quantity) (logs.Series, error) {
	var found []logs.Series
	for _, file := range f.Files {
		log, err := file.Read()
		if err != nil {
			return logs.Series{}, fmt.Errorf("%s: %w", file.Name, err)
		}
		found = append(found, log.Find(q)...)
	}
	if len(found) == 0 {
		return logs.Series{}, fmt.Errorf("no file has a column of %s", q)
	}
	if len(found) > 1 {
		return logs.Series{}, fmt.Errorf("there are %d columns of %s; enter each logger as a record of its own", len(found), q)
	}
	if n := len(found[0].Times); n > 0 && time.UnixMilli(found[0].Times[n-1]).After(c.Now) {
		return logs.Series{}, fmt.Errorf("it ends on %s, which is still to come; the logger's clock is wrong",
			time.UnixMilli(found[0].Times[n-1]).In(c.zone()).Format("2006-01-02 15:04"))
	}
	return found[0], nil
}

// stability describes one quantity of a fact's log in the time the fact names,
// or says why it proves nothing.
func (c Case) stability(f Fact, q logs.Quantity, band logs.Band) (logs.Stability, error) {
	s, err := c.column(f, q)
	if err != nil {
		return logs.Stability{}, err
	}
	st, err := logs.Stable(s, f.Start, f.End, 0, band)
	switch {
	case err != nil:
		return st, err
	case st.Coverage < leastCoverage:
		return st, fmt.Errorf("only %.0f %% of the time is recorded; wanted are %.0f %%", 100*st.Coverage, 100*leastCoverage)
	}
	return st, nil
}

// steady is stability over a day at least.
func (c Case) steady(f Fact, q logs.Quantity, band logs.Band) (logs.Stability, error) {
	st, err := c.stability(f, q, band)
	if window := st.To.Sub(st.From); err == nil && window < leastWindow {
		err = fmt.Errorf("%s of the log were named; it takes %s to show day and night", lasting(window), lasting(leastWindow))
	}
	return st, err
}

// openBand takes every value.
var openBand = logs.Band{Low: -1e9, High: 1e9}

func logDuration(c Case, f Fact) Point {
	st, err := c.stability(f, c.watched(f), openBand)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	q := units.Of(units.DurationKind, st.To.Sub(st.From).Seconds(), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Steps: c.logSteps(f, st)}
}

// watched is the quantity by which a record shows that it logged: temperature, or
// what the meter of the unit reads.
func (c Case) watched(f Fact) logs.Quantity {
	if f.Place == "power" {
		for _, q := range []logs.Quantity{logs.Power, logs.Current, logs.Energy} {
			if _, err := c.column(f, q); err == nil {
				return q
			}
		}
	}
	return logs.Temperature
}

func (c Case) logSteps(f Fact, st logs.Stability) []Step {
	zone := c.zone()
	return append(correctionSteps(f),
		Step{Name: "from", Value: st.From.In(zone).Format("2006-01-02 15:04")},
		Step{Name: "to", Value: st.To.In(zone).Format("2006-01-02 15:04")},
		Step{Name: "samples", Value: fmt.Sprintf("%d, one every %s", st.Samples, lasting(st.Interval))},
		Step{Name: "coverage", Formula: "observed time / time", Value: fmt.Sprintf("%.1f %%", 100*st.Coverage)})
}

func temperatureInBand(c Case, f Fact) Point {
	half := 1.0
	if q, err := c.Room.Value("temperature band", units.TemperatureDifferenceKind); err == nil {
		half = q.Base()
	}
	set := c.Room.SetPoint.Base()
	return c.inBand(f, logs.Temperature, logs.Band{Low: set - half, High: set + half}, units.TemperatureKind)
}

func humidityInBand(c Case, f Fact) Point {
	return c.inBand(f, logs.RelativeHumidity, logs.Band{Low: c.Room.LowHumidity.Base(), High: c.Room.HighHumidity.Base()}, units.HumidityKind)
}

func (c Case) inBand(f Fact, quantity logs.Quantity, band logs.Band, kind units.Kind) Point {
	st, err := c.steady(f, quantity, band)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	print := func(v float64) string { return units.Of(kind, v, c.Room.Units).String() }
	s := append(c.logSteps(f, st),
		Step{Name: "band", Value: print(band.Low) + " to " + print(band.High), Source: "job.yaml"},
		Step{Name: "lowest and highest", Value: print(st.Min) + ", " + print(st.Max)},
		Step{Name: "longest time outside", Value: lasting(st.LongestOut.Round(time.Minute))},
		Step{Name: "share in band", Formula: "time in band / observed time", Value: fmt.Sprintf("%.1f %%", 100*st.InBand)})
	return Point{Place: f.Place, Quantity: units.Of(units.PercentKind, 100*st.InBand, c.Room.Units), Steps: s}
}

func meanTemperature(c Case, f Fact) Point {
	st, err := c.steady(f, logs.Temperature, openBand)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	q := units.Of(units.TemperatureKind, st.Mean, c.Room.Units)
	p := Point{Place: f.Place, Quantity: q, Steps: append(c.logSteps(f, st), Step{Name: "mean", Formula: "Σ w·t / Σ w", Value: q.String()})}
	if f.Instrument != nil {
		p.measured, p.Uncertainty = true, f.Instrument.Uncertainty
	}
	return p
}

func spatialSpread(c Case) []Point {
	var series []logs.Series
	var places, ids []string
	for _, f := range c.Facts.On(c.source(), c.Face) {
		s, err := c.column(f, logs.Temperature)
		if err != nil {
			return []Point{undecided("room", "%s: %v", f.Place, err)}
		}
		series, places, ids = append(series, s), append(places, f.Place), append(ids, f.ID)
	}
	if len(series) < 2 {
		return []Point{undecided("room", "it takes two loggers at least; there are %d", len(series))}
	}
	from, to := span(c.Facts.On(c.source(), c.Face))
	sp, err := logs.Spread(series, from, to, 0)
	switch {
	case err != nil:
		return []Point{undecided("room", "%v", err)}
	case sp.Coverage < leastCoverage:
		return []Point{undecided("room", "only %.0f %% of the time is recorded by all loggers; wanted are %.0f %%", 100*sp.Coverage, 100*leastCoverage)}
	case sp.To.Sub(sp.From) < leastWindow:
		return []Point{undecided("room", "the loggers share %s; it takes %s to show day and night", lasting(sp.To.Sub(sp.From)), lasting(leastWindow))}
	}
	print := func(k float64) string {
		return units.Of(units.TemperatureDifferenceKind, k, c.Room.Units).String()
	}
	p := Point{Place: "room", Facts: ids, Quantity: units.Of(units.TemperatureDifferenceKind, sp.MeansApart, c.Room.Units)}
	for i, place := range places {
		p.Steps = append(p.Steps, Step{Name: "mean, " + place, Value: units.Of(units.TemperatureKind, sp.Means[i], c.Room.Units).String()})
	}
	p.Steps = append(p.Steps, Step{Name: "largest at one moment", Value: print(sp.Max)},
		Step{Name: "means apart", Formula: "highest mean − lowest mean", Value: print(sp.MeansApart)})
	return []Point{p}
}

// span is the time that all facts name: the latest start, the earliest end.
func span(facts []Fact) (from, to time.Time) {
	for _, f := range facts {
		if f.Start.After(from) {
			from = f.Start
		}
		if !f.End.IsZero() && (to.IsZero() || f.End.Before(to)) {
			to = f.End
		}
	}
	return from, to
}

// bottleProbe reports whether a logger stood in a bottle, by the name of its
// place.
func bottleProbe(place string) bool { return strings.Contains(strings.ToLower(place), "bottle") }

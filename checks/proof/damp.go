package proof

import (
	"fmt"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/logs"
	"proveout/checks/mold"
	"proveout/checks/units"
)

// MoldResult is the mold index of a place by its own air.
type MoldResult struct {
	Logger string
	Place  Place
	Hours  int
	// Bridged are hours without reading, which count like the damper of the two
	// beside them.
	Bridged int
	// Log is what the time logged does to a clean surface, Year what it does when
	// it repeats itself for a year; Worst the same with humidity higher by the
	// logger's uncertainty.
	Log, Year, Worst mold.Index
	// Outcome: pass when Worst stays below 3 (ASHRAE 160, from memory), fail when
	// Year reaches it, undecided between and when a tenth of the hours is missing.
	Outcome units.Outcome
	Reason  string
	Steps   []Step
}

const moldLeast = 72 // hours that a log must span

// Growth computes the mold index of a place whose loggers saw t and rh in hourly
// means; NaN is an hour without reading. class and decline as in package mold.
func Growth(t, rh []float64, uncertainty units.RelativeHumidity, class *mold.Class, decline mold.Decline) (MoldResult, error) {
	r := MoldResult{Hours: len(t)}
	if len(t) != len(rh) || len(t) < moldLeast {
		return r, fmt.Errorf("%w: %d hours of temperature and humidity; %d are wanted", ErrTooLittle, min(len(t), len(rh)), moldLeast)
	}
	t, rh, bridged := bridge(t, rh)
	r.Bridged = bridged
	if bridged == r.Hours {
		return r, fmt.Errorf("%w: no hour has both temperature and humidity", ErrTooLittle)
	}
	log, err := grow(t, rh, 0, len(t), class, decline)
	if err != nil {
		return r, err
	}
	year, err := grow(t, rh, 0, 8760, class, decline)
	if err != nil {
		return r, err
	}
	worst, err := grow(t, rh, float64(uncertainty), 8760, class, decline)
	if err != nil {
		return r, err
	}
	r.Log, r.Year, r.Worst = log.Highest, year.Highest, worst.Highest
	switch {
	case float64(bridged) > 0.1*float64(r.Hours):
		r.Reason = fmt.Sprintf("%d of %d hours are missing", bridged, r.Hours)
	case r.Year >= mold.Visible:
		r.Outcome, r.Reason = units.Fail, fmt.Sprintf("if this went on for a year mold would show, index %.1f", r.Year)
	case r.Worst < mold.Visible:
		r.Outcome, r.Reason = units.Pass, fmt.Sprintf("a year like this leads to index %.2f, %.2f with the hygrometer's error; visible mold begins at 3", r.Year, r.Worst)
	default:
		r.Reason = fmt.Sprintf("the hygrometer's error decides: index %.1f to %.1f", r.Year, r.Worst)
	}
	r.Steps = []Step{
		{Name: "hours", Value: fmt.Sprintf("%d, %d bridged", r.Hours, bridged), Source: "this log, hourly means"},
		{Name: "index at the end of the log", Value: fmt.Sprintf("%.3f", r.Log), Source: "Hukka and Viitanen 1999; class " + class.String()},
		{Name: "index after a year like it", Value: fmt.Sprintf("%.3f, with %.1f %% more humidity %.3f", r.Year, uncertainty, r.Worst), Source: "the log repeated; limit 3: ASHRAE 160 (from memory)"},
	}
	return r, nil
}

// bridge fills hours without reading with the damper of the hours beside.
func bridge(t, rh []float64) (_, _ []float64, bridged int) {
	var ft, fh []float64
	last := -1
	fill := func(to, next int) {
		from := last
		if from < 0 || next >= 0 && rh[next] > rh[from] {
			from = next
		}
		for len(ft) < to && from >= 0 {
			ft, fh = append(ft, t[from]), append(fh, rh[from])
			bridged++
		}
	}
	for i := range t {
		if !finite(t[i], rh[i]) {
			continue
		}
		fill(i, i)
		ft, fh = append(ft, t[i]), append(fh, rh[i])
		last = i
	}
	if last < 0 {
		return nil, nil, len(t)
	}
	fill(len(t), -1)
	return ft, fh, bridged
}

// grow repeats the log for a number of hours.
func grow(t, rh []float64, more float64, hours int, class *mold.Class, decline mold.Decline) (mold.History, error) {
	ts, hs := make([]units.Temperature, hours), make([]units.RelativeHumidity, hours)
	for i := range ts {
		k := i % len(t)
		ts[i], hs[i] = units.Temperature(t[k]), units.RelativeHumidity(min(100, rh[k]+more))
	}
	return mold.Growth{Class: class, Decline: decline}.Over(ts, hs)
}

// dry is a humidity column put right at its salt points, if it has any.
func (a *analyser) dry(i int, s logs.Series) logs.Series {
	p := a.in.Loggers[i].Salts
	if p == nil {
		return s
	}
	gain, offset, err := p.Correction()
	if err != nil {
		return s
	}
	return s.Corrected(gain, offset)
}

// hourlyAir returns the hourly means of temperature and humidity of one logger.
func (a *analyser) hourlyAir(i int, span logs.TimeSpan) (t, rh []float64, ok bool) {
	temps, damps := a.sound.temperatures(i), a.sound.columns(i, logs.RelativeHumidity)
	n := int(span.To.Sub(span.From) / time.Hour)
	if len(temps) == 0 || len(damps) == 0 || n < 1 {
		return nil, nil, false
	}
	t, err := temps[0].Means(span.From, time.Hour, n, 0.5)
	rh, errDamp := a.dry(i, damps[0]).Means(span.From, time.Hour, n, 0.5)
	return t, rh, err == nil && errDamp == nil
}

// mold gives the index of every place that has both readings.
func (a *analyser) mold() {
	for i, l := range a.in.Loggers {
		if !l.Place.Room() && l.Place != OtherSide {
			continue
		}
		t, rh, ok := a.hourlyAir(i, a.whole)
		if !ok {
			continue
		}
		u := l.HumidityUncertainty
		if u == 0 {
			u = 3
		}
		r, err := Growth(t, rh, u, mold.Sensitive, mold.AlmostNoDecline)
		if err != nil {
			a.skip("mold index of "+l.Name, err)
			continue
		}
		r.Logger, r.Place = l.Name, l.Place
		a.out.Mold = append(a.out.Mold, r)
	}
}

// overlay compares the room's moisture with the house's.
func (a *analyser) overlay(span logs.TimeSpan) (*diagnosis.Following, error) {
	var log diagnosis.Log
	for i, l := range a.in.Loggers {
		house := l.Place == OtherSide && l.Side == houseOf(a.in)
		if !house && !l.Place.Room() {
			continue
		}
		to := &log.Room
		if house {
			to = &log.House
		}
		if *to != nil {
			continue
		}
		if t, rh, ok := a.hourlyAir(i, span); ok {
			for h := range t {
				*to = append(*to, diagnosis.Air{Temperature: units.Temperature(t[h]), Humidity: units.RelativeHumidity(min(100, rh[h]))})
			}
		}
	}
	if log.Room == nil || log.House == nil {
		return nil, fmt.Errorf("%w: it takes temperature and humidity in the room and in the house", ErrTooLittle)
	}
	log.Every = time.Hour
	log.Room, log.House = unbroken(log.Room, log.House)
	f, err := log.Following(diagnosis.DefaultLimits())
	return &f, err
}

// unbroken is the longest stretch in which both have all hours.
func unbroken(room, house []diagnosis.Air) (_, _ []diagnosis.Air) {
	best, from := [2]int{}, 0
	for i := 0; i <= len(room); i++ {
		if i < len(room) && finite(float64(room[i].Temperature), float64(room[i].Humidity), float64(house[i].Temperature), float64(house[i].Humidity)) {
			continue
		}
		if i-from > best[1]-best[0] {
			best = [2]int{from, i}
		}
		from = i + 1
	}
	return room[best[0]:best[1]], house[best[0]:best[1]]
}

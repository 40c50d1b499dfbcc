package templates

import (
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs"
)

// instrument is a measuring instrument as it was certified for the readings
// that were taken with it.
type instrument struct {
	ID, Kind, Uncertainty   string
	Calibrated, Due         string
	Certificate, Used, Note string
}

// use is an instrument with the days it was used on.
type use struct {
	of          jobs.Instrument
	first, last time.Time
	problems    []string
}

// instrumentsOf lists the instruments of records, by id and certificate.
func (d Dossier) instrumentsOf(records []*jobs.Record) []instrument {
	var all []instrument
	for _, u := range usesOf(records) {
		all = append(all, instrument{
			ID: u.of.ID, Kind: u.of.Kind, Uncertainty: u.of.Uncertainty,
			Calibrated: date(u.of.Calibrated), Due: date(u.of.Due), Certificate: u.of.Certificate,
			Used: d.period(u.first, u.last), Note: calibrationNote(u.of, u.problems),
		})
	}
	return all
}

func usesOf(records []*jobs.Record) []*use {
	var uses []*use
	for _, r := range records {
		if r.Instrument == nil {
			continue
		}
		i := slices.IndexFunc(uses, func(u *use) bool { return u.of == *r.Instrument })
		if i < 0 {
			i = len(uses)
			uses = append(uses, &use{of: *r.Instrument, first: r.Measured, last: r.Measured})
		}
		uses[i].add(r.Measured)
	}
	slices.SortStableFunc(uses, func(a, b *use) int { return strings.Compare(a.of.ID, b.of.ID) })
	return uses
}

func (u *use) add(at time.Time) {
	if at.Before(u.first) {
		u.first = at
	}
	if at.After(u.last) {
		u.last = at
	}
	if problem := expired(u.of, at); problem != "" && !slices.Contains(u.problems, problem) {
		u.problems = append(u.problems, problem)
	}
}

func expired(i jobs.Instrument, at time.Time) string {
	c := checks.Instrument{ID: i.ID, NotRequired: i.NotRequired != "", Calibrated: i.Calibrated, Due: i.Due}
	_, why := c.InCalibration(at)
	return why
}

func calibrationNote(i jobs.Instrument, problems []string) string {
	switch {
	case i.NotRequired != "":
		return "no calibration required: " + i.NotRequired
	case problems != nil:
		return strings.Join(problems, "; ")
	}
	return "in calibration"
}

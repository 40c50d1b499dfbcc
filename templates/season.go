package templates

import (
	"time"

	"proveout/checks"
)

// oppositeSeason is how far apart in the year two logs must lie for the later
// one to show the other season: four months (common practice).
const oppositeSeason = 122

// span is a time in which the room was logged and held.
type span struct{ from, to time.Time }

// loggedSpans are the times of commissioning in which a log of temperature
// passed.
func (d Dossier) loggedSpans(loaded bool) []span {
	ph := d.Plan.Phase(commissioning)
	if ph == nil {
		return nil
	}
	questions := d.Plan.Questions()
	var all []span
	for _, h := range ph.Holds {
		for _, v := range d.Gate.State(h).Verdicts {
			q := questions[v.Check]
			if q.Compute != checks.TemperatureInBand.Name || loaded && !forLoaded(q) {
				continue
			}
			for _, p := range v.Points {
				if p.Outcome == checks.Pass {
					all = append(all, d.spansOf(p)...)
				}
			}
		}
	}
	return all
}

// spansOf are the times of the records a point rests on; a log without times of
// its own counts at the day it was read out.
func (d Dossier) spansOf(p checks.Point) []span {
	var all []span
	for _, id := range p.Facts {
		r := d.Record(id)
		if r == nil {
			continue
		}
		s := span{r.Start, r.End}
		if s.from.IsZero() {
			s.from = r.Measured
		}
		if s.to.IsZero() {
			s.to = r.Measured
		}
		all = append(all, s)
	}
	return all
}

// bothSeasons reports whether two of the spans lie in opposite seasons.
func bothSeasons(spans []span) bool {
	for i, a := range spans {
		for _, b := range spans[:i] {
			if daysApart(a.middle(), b.middle()) >= oppositeSeason {
				return true
			}
		}
	}
	return false
}

func (s span) middle() time.Time { return s.from.Add(s.to.Sub(s.from) / 2) }

// daysApart is how far two days lie apart in the year, whichever the year: at
// most 183.
func daysApart(a, b time.Time) int {
	days := a.YearDay() - b.YearDay()
	if days < 0 {
		days = -days
	}
	return min(days, 366-days)
}

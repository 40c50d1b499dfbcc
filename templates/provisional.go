package templates

import (
	"strings"

	"proveout/checks"
	"proveout/phases"
)

// commissioning is the phase that proves the room; handover is its last hold.
const (
	commissioning = "commissioning"
	handover      = "commissioning.handover"
)

// provisional says why the record of a room is not final, one sentence each;
// nil when it is.
func (d Dossier) provisional() []string {
	var why []string
	spans := d.loggedSpans(false)
	switch {
	case len(spans) == 0:
		why = append(why, "The room has not been logged yet, so nothing shows that it holds.")
	case !bothSeasons(spans):
		first, last := spans[0].from, spans[0].to
		for _, s := range spans {
			if s.from.Before(first) {
				first = s.from
			}
			if s.to.After(last) {
				last = s.to
			}
		}
		why = append(why, "The room has been logged in one season only, "+d.period(first, last)+
			". A room that is proved in one season is not proved for the opposite one; it will be logged then."+d.booked())
	}
	if spans != nil && d.Room.Properties["collection"] == "none" && len(d.loggedSpans(true)) == 0 {
		why = append(why, "The room has been logged empty only. Full of bottles it may behave otherwise; it will be logged then.")
	}
	return why
}

// booked says what is written about the log of the opposite season.
func (d Dossier) booked() string {
	r := d.answer(commissioning + ".opposite-season")
	if r == nil || r.Note == "" {
		return ""
	}
	return " Booked: " + strings.TrimSuffix(r.Note, ".") + "."
}

// forLoaded reports whether a check of commissioning is about the loaded room.
func forLoaded(q *checks.Question) bool { return strings.HasPrefix(q.Name, "loaded-") }

// proofs are the sentences of page one: what was proved, in plain words.
func (d Dossier) proofs() []provedTest {
	ph := d.Plan.Phase(commissioning)
	if ph == nil {
		return nil
	}
	questions := d.Plan.Questions()
	var all []provedTest
	for _, h := range ph.Holds {
		for _, v := range d.Gate.State(h).Verdicts {
			if p, ok := d.proof(questions[v.Check], v); ok {
				all = append(all, p)
			}
		}
	}
	return all
}

// provedTest is one thing that a test has shown.
type provedTest struct{ What, Found, Wanted, Outcome string }

// proofWords say what the computed checks prove.
var proofWords = map[string]string{
	checks.PullDown.Name:          "Time from switching on until it was cold and stayed so",
	checks.TemperatureInBand.Name: "Share of the time with the temperature in its band",
	checks.HumidityInBand.Name:    "Share of the time with the humidity in its band",
	checks.MeanTemperature.Name:   "Mean temperature",
	checks.SpatialSpread.Name:     "Difference between the warmest and the coldest place",
	checks.LogDuration.Name:       "Time that loggers watched",
}

// proofNames say what some checks without a computation prove.
var proofNames = map[string]string{
	"recovery":   "Time to be back after five minutes with the door open",
	"alarms":     "Each alarm reached the homeowner's phone when it was forced",
	"power-fail": "After a power cut it started again by itself",
}

func (d Dossier) proof(q *checks.Question, v checks.Verdict) (provedTest, bool) {
	what := proofWords[q.Compute]
	if what == "" {
		what = proofNames[q.Name]
	}
	if what == "" || v.Taken == 0 {
		return provedTest{}, false
	}
	if forLoaded(q) {
		what += ", with the bottles in it"
	}
	return provedTest{what, d.result(q, v), limitText(q, d.Room), outcome(v)}, true
}

// done is a phase as page one tells of it.
type done struct{ Title, State, Purpose string }

// phasesDone lists the phases with the day their last hold was released.
func (d Dossier) phasesDone() []done {
	var all []done
	for _, ph := range d.Plan.Phases {
		line := done{Title: ph.Title, Purpose: ph.Purpose}
		holds, released, last := 0, 0, ""
		for _, h := range ph.Holds {
			s := d.Gate.State(h)
			if s.State == phases.NotApplicable {
				continue
			}
			holds++
			if s.State == phases.Signed {
				released++
			}
			for _, sig := range d.Releases(h.ID()) {
				last = d.day(sig.At)
			}
		}
		switch {
		case holds == 0:
			continue
		case released < holds:
			line.State = "not finished"
		default:
			line.State = "finished " + last
		}
		all = append(all, line)
	}
	return all
}

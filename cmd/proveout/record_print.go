package main

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

// recordReport is a record as data.
type recordReport struct {
	ID         string    `json:"id"`
	Short      string    `json:"short_id"`
	Kind       string    `json:"kind"`
	Phase      string    `json:"phase"`
	Check      string    `json:"check,omitempty"`
	Place      string    `json:"place,omitempty"`
	Answer     string    `json:"answer,omitempty"`
	Instrument string    `json:"instrument,omitempty"`
	By         string    `json:"by"`
	Party      string    `json:"party,omitempty"`
	Measured   time.Time `json:"measured"`
	Photos     int       `json:"photos,omitempty"`
	Files      int       `json:"files,omitempty"`
	Note       string    `json:"note,omitempty"`
	Supersedes []string  `json:"supersedes,omitempty"`
	Reason     string    `json:"reason,omitempty"`
}

func newRecordReport(r *jobs.Record) recordReport {
	report := recordReport{
		ID: r.ID, Short: r.ShortID(), Kind: r.Kind, Phase: r.Phase, Place: r.Place, By: r.By, Party: r.Party,
		Measured: r.Measured, Photos: len(r.Photos), Files: len(r.Files), Note: r.Note, Supersedes: r.Supersedes, Reason: r.Reason,
	}
	if r.Check != "" {
		report.Check = r.CheckID()
	}
	if r.Kind == jobs.AnswerRecord {
		report.Answer = r.Shown()
	}
	if r.Instrument != nil {
		report.Instrument = r.Instrument.ID
	}
	return report
}

// printEntered prints a record and how its check stands with it.
func (d *desk) printEntered(r *jobs.Record) error {
	g := d.job.Gate(d.e.now())
	v := verdictOf(g, d.job.Plan.HoldOf(r.CheckID()), r.CheckID())
	if wantsJSON(d.c) {
		return d.e.printJSON(map[string]any{"record": newRecordReport(r), "verdict": v})
	}
	d.printRecord("recorded", r)
	d.printPoint(r, v)
	d.printCheck(v)
	d.printDependents(g, r)
	d.printHoldAfter(g, r.CheckID())
	return nil
}

// verdictOf is how one check of a hold stands.
func verdictOf(g *phases.Gate, h *phases.Hold, id string) checks.Verdict {
	if h == nil {
		return checks.Verdict{Check: id}
	}
	all := g.Verdicts(h, "")
	i := slices.IndexFunc(all, func(v checks.Verdict) bool { return v.Check == id })
	if i < 0 {
		return checks.Verdict{Check: id}
	}
	return all[i]
}

// printRecord prints what was written.
func (d *desk) printRecord(done string, r *jobs.Record) {
	what := r.Phase
	if r.Check != "" {
		what = r.CheckID()
	}
	d.e.printf("%s  %s%s: %s  (%s)\n", done, what, atPlace(r.Place), terminalText(d.understood(r)), r.ShortID())
	var with []string
	if r.Instrument != nil {
		with = append(with, "with "+r.Instrument.ID)
	}
	if n := len(r.Photos); n > 0 {
		with = append(with, plural(n, "photo"))
	}
	if n := len(r.Files); n > 0 {
		with = append(with, plural(n, "file"))
	}
	by := "by " + r.By
	if r.Party != "" {
		by = "from " + r.Party + ", entered by " + r.By
	}
	with = append(with, by)
	if !r.Measured.Equal(r.Entered) {
		with = append(with, "measured "+r.Measured.Format("2006-01-02 15:04"))
	}
	d.e.printf("  %s\n", terminalText(strings.Join(with, ", ")))
}

func atPlace(place string) string {
	if place == "" || place == "point 1" {
		return ""
	}
	return " at " + terminalText(place)
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// understood is the answer as it was typed and, where that is in the other
// system of units, as it was understood.
func (d *desk) understood(r *jobs.Record) string {
	q := d.job.Plan.Questions()[r.CheckID()]
	if q == nil || q.Kind != checks.Reading || r.Value == "" {
		return r.Shown()
	}
	value, err := units.Parse(q.Measures, r.Value)
	if err != nil {
		return r.Shown()
	}
	return value.Understood(d.job.Room.Units)
}

// printPoint prints how the entry itself stands.
func (d *desk) printPoint(r *jobs.Record, v checks.Verdict) {
	i := slices.IndexFunc(v.Points, func(p checks.Point) bool { return slices.Contains(p.Facts, r.ID) })
	if i < 0 || v.Planned <= 1 && v.Taken == 1 {
		return
	}
	p := v.Points[i]
	text := "this point"
	if p.Reason != "" {
		text += ": " + p.Reason
	} else if p.Limit != "" {
		text += ": " + p.Limit
	}
	if p.Margin != "" {
		text += ", margin " + p.Margin
	}
	d.e.printf("  %s  %s%s\n", d.e.mark(p.Outcome), terminalText(text), near(p.Near))
}

func near(is bool) string {
	if is {
		return " (within the instrument's uncertainty of the limit)"
	}
	return ""
}

// printCheck prints how the check stands, with what to do next.
func (d *desk) printCheck(v checks.Verdict) {
	text := v.Check
	if v.Planned > 1 {
		text += fmt.Sprintf(": %d of %d points, %d pass", v.Taken, v.Planned, v.Passed)
	}
	d.e.printf("  %s  %s\n", d.e.mark(v.Outcome), text)
	if v.Value != "" && v.Limit != "" {
		worst := "value"
		if v.Planned > 1 {
			worst = "worst"
		}
		line := v.Value + atPlace(v.Place) + ", limit " + v.Limit
		if v.Margin != "" {
			line += ", margin " + v.Margin
		}
		d.e.printf("        %-8s %s%s\n", worst, terminalText(line), near(v.Near))
	}
	for _, r := range v.Reasons {
		d.e.printf("        %-8s %s\n", "why", terminalText(r))
	}
	for _, n := range v.Next {
		d.e.printf("        %-8s %s\n", "next", terminalText(n))
	}
}

// printDependents prints the computed checks that use these readings, once
// they can be computed.
func (d *desk) printDependents(g *phases.Gate, r *jobs.Record) {
	h := d.job.Plan.HoldOf(r.CheckID())
	if h == nil {
		return
	}
	questions := d.job.Plan.Questions()
	for _, v := range g.Verdicts(h, "") {
		q := questions[v.Check]
		if q.Uses != r.Check || v.Outcome == checks.Undecided {
			continue
		}
		d.e.printf("  %s  %s, computed from it: %s%s, limit %s\n", d.e.mark(v.Outcome), v.Check, terminalText(v.Value), atPlace(v.Place), terminalText(v.Limit))
	}
}

// printHoldAfter says when the hold can be signed now, or no longer stands.
func (d *desk) printHoldAfter(g *phases.Gate, check string) {
	h := d.job.Plan.HoldOf(check)
	if h == nil {
		return
	}
	switch s := g.State(h); s.State {
	case phases.Ready:
		d.e.printf("%s is ready to sign by: %s\n  proveout signoff %s\n", h.ID(), strings.Join(s.WantRoles, ", "), h.ID())
	case phases.Stale:
		d.e.printf("%s is stale now, its release must be renewed:\n", h.ID())
		for _, why := range s.Stale {
			d.e.printf("  %s\n", terminalText(why))
		}
	}
}

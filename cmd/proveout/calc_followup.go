package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks/proof"
	"proveout/checks/units"
)

var followUpQuestion = &question{
	use:   "follow-up [ROOM.yaml] --at PLACE=FILE… --later PLACE=FILE…",
	short: "What drifted since commissioning, by a later log of the same room",
	long: `Compares a later log, of 30 days, 90 days, the opposite season or a year after, with
that of commissioning: UA, duty at equal load, humidity, condensate, time constant.
Says what drifted, by how much against the uncertainty, and what that usually means.
Drifted means worse by more than the limit (assumed: 10 % of UA, 5 % of the time, 5 % RH,
0.3 kg of water a day, 15 % of the time constant) and by more than the uncertainty. The
days of both logs together say whether the room will hold on its design day: a log of
the opposite season can turn a provisional answer into a proven one.

The files of commissioning are given with --at and its times, as for calc analysis;
the later ones with --later and times that begin with later.
` + roomHelp,
	example: `  proveout calc follow-up room.yaml --zone America/Chicago \
      --at "room middle=may.csv" --at outdoors=may-out.csv --at "condenser intake=may-out.csv" --at power=may-clamp.csv \
      --later "room middle=august.csv" --later outdoors=august-out.csv --later "condenser intake=august-out.csv" \
      --later power=august-clamp.csv`,
	inputs: append(slices.Clone(analysisValues), input{flag: "later-bottles", kind: units.CountKind, doc: "bottles in the room at the later log (default: as many)", optional: true}),
	files:  "one",
	flags: func(c *cobra.Command) {
		(&readingFlags{}).addFlags(c)
		runFlags(c, "", "the log of commissioning")
		runFlags(c, "later-", "the later log")
	},
	answer: followUpAnswer,
}

func followUpAnswer(a *asking) (*answer, error) {
	room, err := a.loggedRoom()
	if err != nil {
		return nil, err
	}
	r := &answer{}
	baseline, later, err := a.bothRuns(r, room)
	if err != nil {
		return nil, err
	}
	r.Of = fmt.Sprintf("Commissioning from %s to %s, later %s to %s", baseline.start(), clock(baseline.Steady.To, baseline.local), later.start(), clock(later.Steady.To, later.local))
	p := &proofPrinter{asking: a, answer: r}
	p.found(baseline, " at commissioning")
	p.found(later, " later")
	f := proof.Compare(baseline.Analysis, later.Analysis)
	p.changes(f)
	p.heldSince(baseline.Hold, f)
	if room.design != nil && f.Hold == nil {
		p.verdict("will it hold", units.Undecided, "the logs do not say")
	}
	p.skips(f.Skipped)
	r.Steps = append(r.Steps, f.Steps...)
	p.settle()
	return r, nil
}

func (l *loggedRun) start() string { return clock(l.Steady.From, l.local) }

// bothRuns analyses the run of commissioning and the later one.
func (a *asking) bothRuns(r *answer, room *loggedRoom) (baseline, later *loggedRun, err error) {
	if baseline, err = a.analyse(r, room, ""); err != nil {
		return nil, nil, fmt.Errorf("the log of commissioning: %w", err)
	}
	since := *room
	if bottles, given := a.values["later-bottles"]; given {
		if err := since.fill(bottles.Base()); err != nil {
			return nil, nil, err
		}
	}
	if later, err = a.analyse(r, &since, "later-"); err != nil {
		return nil, nil, fmt.Errorf("the later log: %w", err)
	}
	if !later.Steady.From.After(baseline.Steady.From) {
		return nil, nil, &usageError{fmt.Sprintf("the later log begins %s, not after that of commissioning, %s; --at takes the files of commissioning, --later the later ones", later.start(), baseline.start())}
	}
	if since.room.Bottles != room.room.Bottles {
		later.Decay = nil
		r.note("With another number of bottles the time constant is another; it is not compared.")
	}
	return baseline, later, nil
}

// found says what is wrong with one of the runs, and shows how its UA follows.
func (p *proofPrinter) found(run *loggedRun, of string) {
	p.loggedRun, p.which = run, of
	p.findings()
	if s := run.Signature; s != nil {
		for _, step := range s.Steps {
			step.Name += of
			p.Steps = append(p.Steps, step)
		}
	}
}

// changes says how each figure changed, and judges the drift.
func (p *proofPrinter) changes(f proof.FollowUp) {
	if len(f.Changes) == 0 {
		p.verdict("drift", units.Undecided, "no figure is known in both logs")
	}
	for _, c := range f.Changes {
		by, unit := p.changeUnit(c.Unit)
		text := fmt.Sprintf("%.3g → %.3g%s, %+.3g ± %.2g", by*c.Before.Value, by*c.After.Value, unit, asFine(by*c.Change, by*c.Uncertainty), by*c.Uncertainty)
		p.addNumber(c.Name, text+"; "+driftWords(c.Outcome), c.Change, c.Unit)
		p.verdict(c.Name, c.Outcome, fmt.Sprintf("%s, drifted is beyond %.2g", text, by*c.Limit))
		if c.Means != "" {
			p.note("%s drifted. What that usually means: %s.", c.Name, c.Means)
		}
	}
}

// asFine rounds a change to two digits of its uncertainty: what is finer is noise.
func asFine(change, uncertainty float64) float64 {
	step := math.Pow(10, math.Floor(math.Log10(uncertainty))-1)
	if !(step > 0) {
		return change
	}
	return math.Round(change/step)*step + 0
}

func driftWords(o units.Outcome) string {
	switch o {
	case units.Fail:
		return "drifted"
	case units.Pass:
		return "not drifted"
	}
	return "undecided, the uncertainty hides it"
}

// changeUnit is how people write the unit of a change, with the factor to it.
func (p *proofPrinter) changeUnit(unit string) (by float64, shown string) {
	switch {
	case unit == "":
		return 100, " % of the time"
	case unit == "W/K" && p.system == units.US:
		return btuPerWatt, " Btu/(h·°F)"
	case unit == "kg" && p.system == units.US:
		return 1 / 0.45359237, " lb"
	}
	return 1, " " + unit
}

// heldSince says whether the later log settles what commissioning left open.
func (p *proofPrinter) heldSince(before *proof.Hold, f proof.FollowUp) {
	if before != nil {
		p.addText("duty on the design day, at commissioning", holdWords(before))
	}
	if f.Hold == nil {
		return
	}
	p.addNumber("duty on the design day, now", holdWords(f.Hold), f.Hold.Duty.Value, "")
	p.addText("will it hold", map[bool]string{true: "proven", false: "not proven yet"}[f.Proven])
	p.verdict("will it hold", f.Hold.Outcome, f.Hold.Reason)
	if f.Note != "" {
		p.note("%s.", strings.TrimSuffix(f.Note, "."))
	}
}

package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/drying"
	"proveout/checks/logs"
	"proveout/checks/units"
	"proveout/jobs"
)

var dryingQuestion = &question{
	use:   "drying",
	short: "Whether a marked point dries, and when it will be dry",
	long: `Readings of one mark with one meter, each as "2026-05-04 08:00=24 %". It is dry
when it was at or below the goal on two days running. --balance is what wood of
this kind holds at a dry place of the house; the date is a forecast that a new
reading replaces.`,
	example: `  proveout calc drying --reading "2026-05-04 08:00=26 %" --reading "2026-05-05 08:00=21 %" --reading "2026-05-06 08:00=18 %" --goal 16% --balance 11%`,
	inputs: []input{
		{flag: "goal", kind: units.MoistureContentKind, doc: "goal of drying", otherwise: "16 %"},
		{flag: "balance", kind: units.MoistureContentKind, doc: "moisture at a dry place of the house", otherwise: "0 %"},
	},
	flags:  repeated("reading", "one reading, such as \"2026-05-04 08:00=24 %\"; given again for each"),
	answer: dryingAnswer,
}

func dryingAnswer(a *asking) (*answer, error) {
	mark := drying.Mark{Goal: a.values["goal"].Percent(), Balance: a.values["balance"].Percent()}
	texts, err := a.texts("reading")
	if err != nil {
		return nil, err
	}
	for _, text := range texts {
		when, value, _ := strings.Cut(text, "=")
		t, err := jobs.ParseMoment(when, time.UTC, a.env.now())
		if err != nil {
			return nil, fmt.Errorf("--reading %q: %w", text, err)
		}
		q, err := units.Parse(units.MoistureContentKind, value)
		if err != nil {
			return nil, &usageError{fmt.Sprintf("--reading %q: %v", text, err)}
		}
		mark.Readings = append(mark.Readings, drying.Reading{Time: t, Moisture: q.Percent()})
	}
	t, err := mark.Trend()
	if err != nil {
		return nil, err
	}
	r := &answer{Steps: t.Steps}
	r.addText("course", t.Course.String())
	r.add("fell by", a.of(units.PercentKind, float64(t.Fell)))
	if !t.DryOn.IsZero() && t.Course != drying.Dry {
		r.addText("at the goal, by this line", t.DryOn.Format("Mon 2 January 2006"))
	}
	switch t.Course {
	case drying.Dry:
		r.Outcome = checks.Pass.String()
	case drying.Rising:
		r.Outcome, r.Reason = checks.Fail.String(), "it rises: water still comes"
	default:
		r.Outcome, r.Reason = checks.Undecided.String(), "it is not yet at the goal on two days running"
	}
	return r, nil
}

var containmentQuestion = &question{
	use:   "containment FILE",
	short: "Suction of an enclosure in its pressure logger's file",
	long: `The weakest suction, for how long it was weaker than wanted, and when. Suction is
negative; -0.02 in. w.c. is an asbestos rule that mold work borrowed by practice.`,
	example: `  proveout calc containment pressure.csv --zone America/Chicago --from "2026-05-04 08:00"`,
	inputs: []input{
		{flag: "at-most", kind: units.PressureKind, doc: "pressure against the house that is not exceeded", otherwise: "-0.02 in. w.c."},
	},
	files:  "one",
	flags:  logFlags,
	answer: containmentAnswer,
}

func containmentAnswer(a *asking) (*answer, error) {
	limit := a.values["at-most"]
	a.takeSystem(limit)
	if len(a.files) != 1 {
		return nil, &usageError{"name the pressure logger's file\nsee: " + a.c.CommandPath() + " --help"}
	}
	log, err := a.readLog(a.files[0])
	if err != nil {
		return nil, err
	}
	zone := log.Dialect.Zone
	f := checks.Fact{Files: []checks.File{{Name: a.files[0], Log: func() (*logs.File, error) { return log, nil }}}}
	if f.Start, err = a.moment("from", zone); err != nil {
		return nil, err
	}
	if f.End, err = a.moment("to", zone); err != nil {
		return nil, err
	}
	q := &checks.Question{Limits: checks.Limits{AtMost: checks.Bound{Text: limit.String(), Plain: limit}}}
	c := checks.Case{Question: q, Room: &checks.Room{Units: a.system, Zone: zone}, Now: a.env.now()}
	return a.pointAnswer(checks.ContainmentLog, checks.ContainmentLog.Each(c, f)), nil
}

var datesQuestion = &question{
	use:   "dates",
	short: "When a wait ends and a notice is due, by the calendar",
	long: `The end of a wait that begins at --from, such as "3 business days". Business days
are all but Sundays and federal holidays, with the Friday or Monday on which a
holiday of a week-end is observed; working days are Monday to Friday. With
--region, all waits and latest dates that the default plan knows there.`,
	example: `  proveout calc dates --from "2026-07-01 15:00" --wait "3 business days"
  proveout calc dates --from "2026-07-01 15:00" --region us-tx`,
	flags: func(c *cobra.Command) {
		c.Flags().String("from", "", "when it begins, such as \"2026-07-01 15:00\"")
		c.Flags().String("zone", "UTC", "time zone of the place, such as America/Chicago")
		c.Flags().StringArray("wait", nil, "a wait, such as \"10 working days\" or \"48 h\"; may be given again")
		c.Flags().String("region", "", "region of the default plan, such as us-tx")
	},
	answer: datesAnswer,
}

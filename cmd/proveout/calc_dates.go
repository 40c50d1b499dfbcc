package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

func datesAnswer(a *asking) (*answer, error) {
	zone, err := a.zone()
	if err != nil {
		return nil, err
	}
	from, err := a.moment("from", zone)
	switch {
	case err != nil:
		return nil, err
	case from.IsZero():
		return nil, &usageError{"--from is missing: when it begins; write it as --from \"2026-07-01 15:00\""}
	}
	waits, err := a.texts("wait")
	if err != nil {
		return nil, err
	}
	r := &answer{Of: "from " + clock(from, zone)}
	for _, wait := range waits {
		over, err := checks.WaitOver(wait, from, zone)
		if err != nil {
			return nil, err
		}
		r.addText(wait, "over on "+weekday(over))
	}
	region, err := a.c.Flags().GetString("region")
	if err != nil {
		return nil, err
	}
	if region == "" && len(waits) == 0 {
		return nil, &usageError{"say which wait, --wait \"3 business days\", or where, --region us-tx"}
	}
	if region == "" {
		return r, nil
	}
	return r, r.addRegion(region, from, zone)
}

// addRegion adds all waits and latest dates of the default plan in a region.
func (r *answer) addRegion(name string, from time.Time, zone *time.Location) error {
	region, known := phases.RegionNamed(name)
	if !slices.Contains(known, name) {
		return jobs.Unknown("region", name, known, "")
	}
	plan, err := phases.ReadPlan(phases.Defaults())
	if err != nil {
		return err
	}
	for _, q := range plan.Questions() {
		if !q.When.Holds(checks.Decisions{"region": name}) {
			continue
		}
		wait, source := q.Wait, q.Source+" ("+q.Mark+")"
		for _, l := range region.Limits {
			if l.Check == q.ID() && l.Key == "wait" {
				wait, source = l.Value, l.Source+" ("+l.Mark+")"
			}
		}
		switch {
		case q.Code && q.Kind == checks.Wait && !strings.HasPrefix(wait, checks.DataSheet):
			over, err := checks.WaitOver(wait, from, zone)
			if err != nil {
				return fmt.Errorf("%s: %w", q.ID(), err)
			}
			r.addText(q.ID(), fmt.Sprintf("%s from: %s; over on %s", wait, q.From, weekday(over)))
			r.Steps = append(r.Steps, stepOf(q.ID(), wait, weekday(over), source))
		case q.Compute == checks.DaysBetween.Name:
			last := lastDay(q, from.In(zone))
			r.addText(q.ID(), "last day "+last)
			r.Steps = append(r.Steps, stepOf(q.ID(), q.Limits.String(), last, source))
		}
	}
	slices.SortFunc(r.Results, func(a, b result) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortFunc(r.Steps, func(a, b units.Step) int { return cmp.Compare(a.Name, b.Name) })
	r.note("Each counts from its own event; here all from the same moment. The law of the place decides.")
	return nil
}

// lastDay is the last day of the calendar within a limit of days.
func lastDay(q *checks.Question, from time.Time) string {
	days := q.Limits.AtMost.Plain.Duration().Hours() / 24
	return from.AddDate(0, 0, int(days)).Format("Mon 2 January 2006")
}

func weekday(t time.Time) string { return t.Format("Mon 2 January 2006 15:04") }

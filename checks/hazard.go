package checks

import (
	"fmt"
	"strconv"

	"proveout/checks/units"
)

// LeadPath decides whether the work follows the lead rules. Built before the
// limit's year turns it on; stripping painted walls is never exempt by area.
// Only an accepted finding that the paint is lead-free turns it off.
var LeadPath = &Check{
	Name:    "lead-path",
	Doc:     "whether the work follows the lead rules, by the year the house was built",
	Source:  "40 CFR 745.82 and 745.83 (from memory); no exemption by area where painted surfaces are demolished",
	Decides: "lead",
	Finding: "assess.lead-determination",
	Whole:   func(c Case) []Point { return c.path("lead-free") },
}

// AsbestosPath decides whether suspect materials are treated as asbestos until
// a survey says otherwise.
var AsbestosPath = &Check{
	Name:    "asbestos-path",
	Doc:     "whether suspect materials count as asbestos, by the year the house was built",
	Source:  "29 CFR 1926.1101(b): presumed in surfacing and thermal insulation installed no later than 1980 (from memory)",
	Decides: "asbestos",
	Finding: "assess.asbestos-survey",
	Whole:   func(c Case) []Point { return c.path("free of asbestos") },
}

// path is on for a house built before the limit's year, unless a third party's
// finding passed.
func (c Case) path(means string) []Point {
	limit, err := strconv.Atoi(c.Question.Before)
	if err != nil {
		return []Point{undecided("", "the plan's year %q is not a year", c.Question.Before)}
	}
	if c.Room.YearBuilt == 0 {
		return []Point{undecided("", "job.yaml gives no year built; find it out before anything is cut")}
	}
	p := Point{judged: true, Outcome: Pass, Decision: "off", Limit: "on when built before " + c.Question.Before}
	p.Value = fmt.Sprintf("off: built %d", c.Room.YearBuilt)
	if c.Room.YearBuilt >= limit {
		return []Point{p}
	}
	p.Decision, p.Value = "on", fmt.Sprintf("on: built %d", c.Room.YearBuilt)
	if c.found != nil {
		p.Decision = "off"
		p.Value = fmt.Sprintf("off: built %d, but found %s (%s)", c.Room.YearBuilt, means, c.found.Value)
		p.Facts = c.found.Facts
	}
	return []Point{p}
}

// MoldTier finds the tier of the company's mold scheme from the patches
// measured. Tiers choose the method of work; they are not limits of health.
var MoldTier = &Check{
	Name:    "mold-tier",
	Doc:     "tier of the mold scheme, from the areas of the patches",
	Source:  "the scheme named in job.yaml",
	Decides: "mold",
	From:    "assess.mold-patch",
	Whole:   moldTier,
}

func moldTier(c Case) []Point {
	patches := c.Facts[c.source()]
	switch {
	case c.Room.Scheme == nil:
		return []Point{undecided("", "job.yaml names no mold scheme")}
	case len(patches) == 0:
		return []Point{undecided("", "no patch is recorded; if there is none, record an area of 0 with a note")}
	}
	var total, largest float64
	p := Point{judged: true, Limit: c.Room.Scheme.Title}
	for _, f := range patches {
		if f.Quantity.Kind() != units.AreaKind {
			return []Point{undecided("", "the patch at %s has no area", f.Place)}
		}
		total += f.Quantity.Base()
		largest = max(largest, f.Quantity.Base())
		p.Facts = append(p.Facts, f.ID)
		p.Steps = append(p.Steps, Step{Name: "patch at " + f.Place, Value: f.Quantity.String(), Source: "reading"})
	}
	area, counts := total, "total"
	if c.Room.Scheme.LargestPatch {
		area, counts = largest, "largest patch"
	}
	p.Outcome, p.Decision = Pass, c.Room.Scheme.tier(area)
	p.Value = fmt.Sprintf("%s: %s %s", p.Decision, counts, units.Of(units.AreaKind, area, c.Room.Units))
	p.Steps = append(p.Steps, Step{Name: counts, Value: units.Of(units.AreaKind, area, c.Room.Units).String()})
	return []Point{p}
}

// tier returns the name of the tier of an area in m², "none" for no mold.
func (s *Scheme) tier(area float64) string {
	if area <= 0 {
		return "none"
	}
	for _, t := range s.Tiers {
		switch {
		case t.UpTo.Known() && area <= t.UpTo.Base()*(1+units.Slack):
			return t.Name
		case t.Below.Known() && area < t.Below.Base()*(1-units.Slack):
			return t.Name
		case !t.UpTo.Known() && !t.Below.Known():
			return t.Name
		}
	}
	return s.Tiers[len(s.Tiers)-1].Name
}

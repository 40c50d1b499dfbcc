package checks

import (
	"fmt"
	"strings"
	"time"
	"unicode"

	"proveout/checks/units"
)

// PartySeparation asks whether whoever cleared the work is another party than who
// did it. It compares names; whether two firms share an owner is asked apart.
var PartySeparation = &Check{
	Name:   "party-separation",
	Doc:    "the party that cleared the work is not the one that did it",
	Source: "New York Labor Law 930 and 947 with summaries of the rule (quoted); Texas Occupations Code 1958.155 (from memory)",
	Rule:   "clearance and work come from different parties",
	From:   "demo.clearance-report",
	Also:   []string{"demo.cleaning-record"},
	Whole:  partySeparation,
}

func partySeparation(c Case) []Point {
	p := Point{Place: "room", judged: true, Limit: "another party than the one that did the work"}
	cleared, problem := c.partyOf(c.source(), &p)
	if problem != "" {
		p.Reason = problem
		return []Point{p}
	}
	worked, problem := c.partyOf("demo.cleaning-record", &p)
	if problem != "" {
		p.Reason = problem
		return []Point{p}
	}
	p.Value = "cleared by " + cleared + ", work by " + worked
	p.Steps = []Step{
		{Name: "cleared by", Value: cleared, Source: "record of " + c.source()},
		{Name: "work by", Value: worked, Source: "record of demo.cleaning-record"},
	}
	p.Outcome = Pass
	if plainName(cleared) == plainName(worked) {
		p.Outcome, p.Reason = Fail, cleared+" cannot clear its own work"
	}
	return []Point{p}
}

// partyOf is the party of the newest record of a check, without the role before it;
// what is wrong with it is said.
func (c Case) partyOf(check string, p *Point) (name, problem string) {
	var newest Fact
	for _, f := range c.Facts[check] {
		if newest.ID == "" || f.Measured.After(newest.Measured) {
			newest = f
		}
	}
	if newest.ID == "" {
		return "", fmt.Sprintf("%s is not recorded", check)
	}
	p.Facts = append(p.Facts, newest.ID)
	name = newest.Party
	if name == "" {
		name = newest.By // who entered it gave it
	}
	if q := c.Questions[check]; q != nil {
		for _, role := range q.By {
			if rest, ok := strings.CutPrefix(strings.ToLower(name), strings.ToLower(role)); ok {
				name = strings.TrimSpace(name[len(name)-len(rest):])
			}
		}
	}
	if plainName(name) == "" {
		return "", fmt.Sprintf("%s names no party; write --party %q", check, "firm, person")
	}
	return name, ""
}

// plainName reduces a name to its letters and digits.
func plainName(name string) string {
	return strings.Map(func(r rune) rune {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return -1
		}
		return unicode.ToLower(r)
	}, name)
}

// BackToNormal asks for the condition of the shell after the work, beside that
// before it. Only condition 1 is cleared.
var BackToNormal = &Check{
	Name:    "back-to-normal",
	Doc:     "condition of the shell after the work, beside that before it",
	Source:  "IICRC S520, definitions of the conditions: the goal is condition 1 (quoted)",
	Answers: []string{"condition 1", "condition 2", "condition 3"},
	Also:    []string{"assess.s520-condition"},
	Each:    backToNormal,
}

func backToNormal(c Case, f Fact) Point {
	p := Point{Place: f.Place, Value: f.Answer, judged: true, Limit: "condition 1"}
	before := ""
	for _, b := range c.Facts["assess.s520-condition"] {
		before = b.Answer
		p.Facts = append(p.Facts, b.ID)
	}
	if before == "" {
		p.Reason = "the condition before the work is not recorded: assess.s520-condition"
		return p
	}
	p.Value = f.Answer + ", it was " + before
	p.Steps = []Step{
		{Name: "before", Value: before, Source: "assess.s520-condition"},
		{Name: "after", Value: f.Answer, Source: "IICRC S520 (quoted)"},
	}
	p.Outcome = Pass
	if f.Answer != "condition 1" {
		p.Outcome, p.Reason = Fail, f.Answer+" is not cleared"
	}
	return p
}

// DaysBetween asks how many days of the calendar lie between an event and what a law
// wants to follow it, or to go before it, within a time.
var DaysBetween = &Check{
	Name:   "days-between",
	Doc:    "days of the calendar from the first date of a record to the second",
	Source: "days of the calendar where the job is; the day of the first date does not count",
	Result: units.DurationKind,
	Spans:  true,
	Each:   daysBetween,
}

func daysBetween(c Case, f Fact) Point {
	from, to := f.Start.In(c.zone()), f.End.In(c.zone())
	days := dayOf(to).Sub(dayOf(from)).Hours() / 24
	if days < 0 {
		return undecided(f.Place, "the second date, %s, is before the first, %s", to.Format(time.DateOnly), from.Format(time.DateOnly))
	}
	q, err := units.OfUnit(units.DurationKind, days*86400, "day")
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: q, Value: fmt.Sprintf("%.0f days, %s to %s", days, from.Format(time.DateOnly), to.Format(time.DateOnly)), Steps: []Step{
		{Name: "first date", Value: from.Format(time.DateOnly), Source: "record"},
		{Name: "second date", Value: to.Format(time.DateOnly), Source: "record"},
		{Name: "days", Formula: "second − first, whole days", Value: fmt.Sprintf("%.0f", days), Source: "calendar"},
	}}
}

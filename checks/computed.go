package checks

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
)

// Check is a question that needs more than a comparison: it computes a value
// from facts and from the job, and has its formula, its source and its tests in
// one file. Exactly one of Each and Whole is set, or both with Computes.
type Check struct {
	Name   string // as `compute:` in a phase file
	Doc    string // one line: what it asks for
	Source string // standard, clause; never empty
	// Result is what the computed value measures; "" for a check with a rule
	// of its own instead of a limit.
	Result units.Kind
	// Rule says what the check judges by where it has no limit, no answers and takes
	// no decision.
	Rule string
	// Needs are the values that a record of the check carries.
	Needs []Need
	// Log says that a record carries a logger file.
	Log bool
	// Starts says that a record carries the time it began.
	Starts bool
	// Spans says that a record carries a start and an end time.
	Spans bool
	// Answers are the words that a record of the check may answer with.
	Answers []string
	// From is the check, phase.check, whose records it computes from where the
	// plan names none under uses:.
	From string
	// Also are further checks, phase.check, whose records it looks at.
	Also []string
	// Waits says that it judges a wait: where it is undecided and gives the time
	// that is left, only time is missing.
	Waits bool
	// Finding is an inspection, phase.check, whose pass it takes into account.
	Finding string
	// Built says that it looks at the faces, the leak and the lights as they were
	// built, as far as that is recorded; see siteChecks.
	Built bool
	// Figures are the job's figures that it computes with, besides those that
	// its limits name.
	Figures []string
	// Decides is the name of the decision the check takes ("lead"), which
	// conditions may use; "" for most.
	Decides string
	// Each computes the value at one recorded fact.
	Each func(Case, Fact) Point
	// Whole computes its points from other facts and the job.
	Whole func(Case) []Point
	// Computes, set where both Each and Whole are, reports whether the job says
	// enough for Whole; where it does not a record is wanted.
	Computes func(*Room) bool
}

// Need is one value that a record of a computed check carries.
type Need struct {
	Name     string
	Kind     units.Kind
	Doc      string
	Example  string // as it may be typed, where the kind's own would mislead
	Optional bool
}

// Sample returns one way to type the value.
func (n Need) Sample() string {
	if n.Example != "" {
		return n.Example
	}
	return n.Kind.Sample()
}

// ByName returns the check of that name, or nil.
func ByName(name string) *Check {
	i := slices.IndexFunc(All, func(c *Check) bool { return c.Name == name })
	if i < 0 {
		return nil
	}
	return All[i]
}

// WantsRecord reports whether q is answered by records of its own in a room (nil:
// in some room); else it is computed from others and from job.yaml.
func (q *Question) WantsRecord(room *Room) bool {
	if q.Kind != Computed {
		return true
	}
	check := ByName(q.Compute)
	if check == nil || check.Each == nil || q.Uses != "" {
		return false
	}
	return check.Computes == nil || room == nil || !check.Computes(room)
}

// computed runs the check of a computed question.
func (c Case) computed() []Point {
	check := ByName(c.Question.Compute)
	if check == nil {
		return []Point{{Reason: fmt.Sprintf("there is no check called %q", c.Question.Compute), judged: true}}
	}
	c = c.prepared(check)
	if reason := c.usedUndecided(); reason != "" {
		return []Point{{Reason: reason, judged: true}}
	}
	var points []Point
	if check.Whole != nil && !c.Question.WantsRecord(c.Room) {
		points = check.Whole(c)
	} else {
		points = c.each(check)
	}
	for i := range points {
		if !points[i].judged {
			c.compare(&points[i])
		}
	}
	return points
}

// prepared adds what a check takes from other checks.
func (c Case) prepared(check *Check) Case {
	if check.From != "" && c.Question.Uses == "" {
		q := *c.Question
		q.Uses = check.From
		c.Question = &q
	}
	if check.Finding != "" {
		c.found = c.passed(check.Finding)
	}
	return c
}

// passed returns the verdict on an inspection that is asked in this job and
// has passed at every place, or nil.
func (c Case) passed(inspection string) *Verdict {
	of := c
	of.Question, of.Face = c.Questions[inspection], ""
	if of.Question == nil || of.Question.Kind != Inspection || !of.Question.When.Holds(c.Decisions) {
		return nil
	}
	v := Judge(of)
	if v.Outcome != Pass {
		return nil
	}
	return &v
}

func (c Case) each(check *Check) []Point {
	var points []Point
	for _, f := range c.Facts.On(c.source(), c.Face) {
		p := Point{Place: f.Place, Reason: c.problem(f), judged: true}
		if p.Reason == "" {
			p.Reason = missingNeeds(check, f)
		}
		if p.Reason == "" {
			p = check.Each(c, f)
			p.Place = f.Place
		}
		p.Facts = append([]string{f.ID}, p.Facts...)
		points = append(points, p)
	}
	return points
}

// source is the check whose records are computed from: its own, or the one the
// question uses.
func (c Case) source() string {
	if used := c.used(); used != nil {
		return used.ID()
	}
	return c.Question.ID()
}

// used returns the question whose facts this one uses, or nil.
func (c Case) used() *Question {
	return c.Questions[c.Question.UsedID()]
}

// usedUndecided says why the check this one is computed from is not complete.
func (c Case) usedUndecided() string {
	if c.Question.Uses == "" {
		return ""
	}
	used := c.used()
	if used == nil {
		return fmt.Sprintf("the plan has no check %q to compute from", c.Question.Uses)
	}
	of := c
	of.Question = used
	v := Judge(of)
	switch {
	case v.Outcome == Undecided:
		return fmt.Sprintf("%s is not complete: %s", used.ID(), strings.Join(v.Reasons, "; "))
	case len(v.Missing) > 0:
		return fmt.Sprintf("%s is not complete: %s", used.ID(), missingText(v.Taken, v.Missing))
	case v.any(Undecided):
		return fmt.Sprintf("%s is not complete: some of its answers cannot be used", used.ID())
	}
	return ""
}

func missingNeeds(check *Check, f Fact) string {
	var missing []string
	for _, n := range check.Needs {
		q, ok := f.Values[n.Name]
		if !n.Optional && !(ok && q.Known()) {
			missing = append(missing, n.Name)
		}
	}
	if check.Starts && f.Start.IsZero() {
		missing = append(missing, "start time")
	}
	if check.Spans && (f.Start.IsZero() || f.End.IsZero()) {
		missing = append(missing, "start and end time")
	}
	if check.Log && len(f.Files) == 0 {
		missing = append(missing, "the logger file")
	}
	if len(check.Answers) > 0 && !slices.Contains(check.Answers, f.Answer) {
		missing = append(missing, "an answer, one of: "+strings.Join(check.Answers, ", "))
	}
	if missing == nil {
		return ""
	}
	return "missing: " + strings.Join(missing, ", ")
}

// undecided is a point that cannot be judged.
func undecided(place, format string, args ...any) Point {
	return Point{Place: place, Reason: fmt.Sprintf(format, args...), judged: true}
}

// FirstAnswer is the first word a record of the check may answer with, or "".
func (c *Check) FirstAnswer() string {
	if len(c.Answers) == 0 {
		return ""
	}
	return c.Answers[0]
}

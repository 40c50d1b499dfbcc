package checks

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks/units"
)

// Case is all that a question is judged on.
type Case struct {
	Question  *Question
	Questions map[string]*Question // the whole plan by phase.check
	Room      *Room
	Facts     Facts
	Decisions Decisions
	Face      string // "" for the whole hold, or the one face that is asked about
	Now       time.Time

	// Judged, if not nil, keeps verdicts by question and face: one that others
	// compute from is judged once. It belongs to these facts and this moment.
	Judged map[string]Verdict

	found *Verdict // of the finding that a computed check takes into account
}

// Point is the answer at one place.
type Point struct {
	Place    string   `json:"place"`
	Value    string   `json:"value"`
	Limit    string   `json:"limit,omitempty"`
	Margin   string   `json:"margin,omitempty"`
	Outcome  Outcome  `json:"outcome"`
	Near     bool     `json:"near_limit,omitempty"`
	Reason   string   `json:"reason,omitempty"`
	Decision string   `json:"decision,omitempty"`
	Steps    []Step   `json:"steps,omitempty"`
	Facts    []string `json:"facts,omitempty"`

	// Quantity is compared with the limit; Uncertainty is its expanded
	// uncertainty (k = 2), unknown when not stated.
	Quantity    units.Quantity `json:"-"`
	Uncertainty units.Quantity `json:"-"`
	// judged says that the check has set Outcome by a rule of its own.
	judged bool
	// measured says that an instrument read it.
	measured bool
	worth    float64 // margin as a share of the limit, to find the worst
}

// Judge answers the question of c.
func Judge(c Case) Verdict {
	key := c.Question.ID() + "@" + c.Face
	if v, done := c.Judged[key]; done {
		return v
	}
	v := c.judge()
	if c.Judged != nil {
		c.Judged[key] = v
	}
	return v
}

func (c Case) judge() Verdict {
	q := c.Question
	v := Verdict{
		Check: q.ID(), Ask: q.Ask, Source: q.Source, Mark: q.Mark,
		Limit: q.Limits.String(), LimitReason: q.LimitReason, Safety: q.Safety,
	}
	points := c.points()
	if q.Series || q.Kind == Inspection {
		points = latest(points, c.Facts[c.source()])
	}
	v.Conflict = q.conflicting(points)
	v.sum(c, points)
	if v.Outcome != Pass {
		v.Next = c.next(v)
	}
	return v
}

// points returns the answers there are, each judged.
func (c Case) points() []Point {
	q := c.Question
	if q.Kind == Computed {
		return c.computed()
	}
	var points []Point
	for _, f := range c.Facts.On(q.ID(), c.Face) {
		p := Point{Place: f.Place, Facts: []string{f.ID}}
		if problem := c.problem(f); problem != "" {
			p.Value, p.Reason = f.print(q), problem
			p.judged = true
		} else {
			c.answer(&p, f)
		}
		if !p.judged {
			c.compare(&p)
		}
		points = append(points, p)
	}
	return points
}

// print is the fact's answer as it was written.
func (f Fact) print(q *Question) string {
	if q.Kind == Reading {
		return f.Quantity.String()
	}
	return f.Answer
}

// answer judges a fact that has no problem, by the question's kind.
func (c Case) answer(p *Point, f Fact) {
	q := c.Question
	p.Value = f.print(q)
	p.judged = q.Kind != Reading
	switch q.Kind {
	case Reading:
		p.Quantity = f.Quantity
		if f.Instrument != nil {
			p.measured, p.Uncertainty = true, f.Instrument.Uncertainty
		}
		if q.RecordOnly {
			p.Outcome, p.judged = Pass, true
		}
	case Observation:
		c.observed(p, f)
	case Inspection:
		inspected(p, f)
	case Choice:
		p.Outcome, p.Decision = Pass, f.Answer
		if !slices.Contains(q.Options, f.Answer) {
			p.Outcome, p.Reason = Undecided, fmt.Sprintf("%q is not one of: %s", f.Answer, strings.Join(q.Options, ", "))
		}
	case Paper:
		p.Outcome, p.Value = Pass, fileNames(f.Files)
	case Wait:
		c.waited(p, f)
	}
}

func (c Case) observed(p *Point, f Fact) {
	q := c.Question
	switch f.Answer {
	case q.Want:
		p.Outcome = Pass
	case "not applicable":
		if q.NotApplicable && f.Note != "" {
			p.Outcome = Pass
			return
		}
		p.Reason = "this question must be answered yes or no"
		if q.NotApplicable {
			p.Reason = "\"not applicable\" needs a reason: --note \"why\""
		}
	case "yes", "no":
		p.Outcome = Fail
		p.Reason = fmt.Sprintf("the answer is %s, wanted is %s", f.Answer, q.Want)
	default:
		p.Reason = fmt.Sprintf("the answer %q is not yes or no", f.Answer)
	}
}

func inspected(p *Point, f Fact) {
	p.Value = strings.TrimSpace(f.Answer + " " + f.Number)
	switch {
	case f.Answer == "fail":
		p.Outcome, p.Reason = Fail, "the inspection did not pass"
	case f.Answer != "pass":
		p.Reason = "the result must be pass or fail"
	case f.Number == "":
		p.Reason = "the permit, licence or report number is missing"
	default:
		p.Outcome, p.Decision = Pass, f.Answer
	}
}

func fileNames(files []File) string {
	names := make([]string, len(files))
	for i, f := range files {
		names[i] = f.Name
	}
	return strings.Join(names, ", ")
}

// problem says why a fact cannot be judged at all, or "".
func (c Case) problem(f Fact) string {
	q := c.Question
	switch {
	case q.Kind == Reading && !f.Quantity.Known():
		return "the reading has no value"
	case f.Measured.IsZero():
		return "the time is missing"
	case f.Measured.After(c.Now):
		return "it is dated " + f.Measured.Format("2006-01-02 15:04") + ", which is still to come"
	case f.Start.After(c.Now) || f.End.After(c.Now):
		return "it began or ended at a time which is still to come"
	case !f.End.IsZero() && f.End.Before(f.Start):
		return "it ends before it begins"
	case f.By == "":
		return "nobody is named"
	case len(q.By) > 0 && !shareAny(q.By, f.Roles):
		return fmt.Sprintf("it must come from: %s", strings.Join(q.By, " or "))
	case q.Kind == Paper && len(f.Files) == 0:
		return "no document is attached"
	}
	if why := c.instrumentProblem(f); why != "" {
		return why
	}
	if q.PhotoEach && f.Photos == 0 {
		return photoMissing
	}
	return ""
}

func (c Case) instrumentProblem(f Fact) string {
	want := c.Question.Instrument
	if want == "" {
		return ""
	}
	if f.Instrument == nil {
		return "no instrument is named; wanted is a " + want
	}
	if f.Instrument.Kind != want {
		return fmt.Sprintf("%s is a %s; wanted is a %s", f.Instrument.ID, f.Instrument.Kind, want)
	}
	if ok, why := f.Instrument.InCalibration(f.Measured.In(c.zone())); !ok {
		return why
	}
	return ""
}

func shareAny(a, b []string) bool {
	return slices.ContainsFunc(a, func(s string) bool { return slices.Contains(b, s) })
}

// latest keeps the newest answer of each place. Two of the same moment are both
// kept: which of them came last nobody knows.
func latest(points []Point, facts []Fact) []Point {
	when := map[string]time.Time{}
	for _, f := range facts {
		when[f.ID] = f.Measured
	}
	newest := map[string]time.Time{}
	for _, p := range points {
		if t := factTime(p, when); t.After(newest[p.Place]) {
			newest[p.Place] = t
		}
	}
	return slices.DeleteFunc(points, func(p Point) bool { return factTime(p, when).Before(newest[p.Place]) })
}

func factTime(p Point, when map[string]time.Time) time.Time {
	if len(p.Facts) == 0 {
		return time.Time{}
	}
	return when[p.Facts[0]]
}

// conflicting reports whether one place has two current answers, or a choice
// was taken in two ways, wherever.
func (q *Question) conflicting(points []Point) bool {
	seen := map[string]bool{}
	for _, p := range points {
		if seen[p.Place] || q.Decides() && p.Value != points[0].Value {
			return true
		}
		seen[p.Place] = true
	}
	return false
}

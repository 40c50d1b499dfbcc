package checks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proveout/checks/units"
)

// compare judges a point's quantity against the question's limits.
func (c Case) compare(p *Point) {
	q := c.Question
	if !p.Quantity.Known() {
		p.Outcome = Undecided
		if p.Reason == "" {
			p.Reason = "there is no value"
		}
		return
	}
	if p.Value == "" {
		p.Value = p.Quantity.String()
	}
	if !q.Limits.IsSet() {
		p.Outcome, p.Reason = Undecided, "the plan gives no limit"
		return
	}
	p.Outcome, p.worth = Pass, math.Inf(1)
	for _, b := range q.Limits.Bounds() {
		limit, err := b.Resolve(p.Quantity.Kind(), c.Room, c.Room.Face(FaceOf(p.Place)))
		if _, comparable := units.Compare(p.Quantity, limit); err == nil && !comparable {
			err = fmt.Errorf("%s cannot be compared with %s", p.Quantity, limit)
		}
		if err != nil {
			p.Outcome, p.Reason = Undecided, err.Error()
			return
		}
		p.against(b.Word, limit)
	}
	c.guard(p)
}

// guard applies the company's rule that a pass must be clear of the
// instrument's uncertainty. Without knowing that, no pass is clear.
func (c Case) guard(p *Point) {
	if p.Outcome != Pass || !c.Room.GuardBand {
		return
	}
	switch {
	case p.Near:
		p.Outcome = Undecided
		p.Reason = "within the instrument's uncertainty of the limit; the company's rule wants a clear pass"
	case p.measured && !p.Uncertainty.Known():
		p.Outcome = Undecided
		p.Reason = "the instrument's uncertainty is not stated; the company's rule wants a clear pass"
	}
}

// against compares with one bound and keeps the tighter margin.
func (p *Point) against(word string, limit units.Quantity) {
	got := p.Quantity
	low := word == "at least" || word == "above"
	margin := units.Difference(got, limit)
	ok := units.AtLeast(got, limit)
	if !low {
		margin = units.Difference(limit, got)
		ok = units.AtMost(got, limit)
	}
	if word == "above" && units.AtMost(got, limit) || word == "below" && units.AtLeast(got, limit) {
		ok = false
	}
	if !ok {
		p.Outcome = Fail
	}
	if p.Uncertainty.Kind() == margin.Kind() && math.Abs(margin.Base()) <= math.Abs(p.Uncertainty.Base())*(1+units.Slack) {
		p.Near = true
	}
	if worth := margin.Base() / max(math.Abs(limit.Base()), 1e-12); worth < p.worth {
		p.worth = worth
		p.Margin = signed(margin)
		p.Limit = word + " " + limit.String()
	}
	if !ok {
		p.Reason = fmt.Sprintf("%s is not %s %s", p.Value, word, limit.String())
	}
}

func signed(q units.Quantity) string {
	text := q.String()
	if q.Base() > 0 && !strings.HasPrefix(text, "+") {
		return "+" + text
	}
	return text
}

// sum makes the verdict from the points.
func (v *Verdict) sum(c Case, points []Point) {
	q := c.Question
	v.Points, v.Taken = points, len(points)
	places := make([]string, 0, len(points))
	for _, p := range points {
		places = append(places, p.Place)
		v.Facts = append(v.Facts, p.Facts...)
		if p.Outcome == Pass {
			v.Passed++
		}
	}
	v.Planned = v.Taken
	if q.WantsRecord(c.Room) {
		v.Missing = q.missing(c.Room, c.Face, places)
		v.Planned = max(v.Taken+len(v.Missing), len(q.Expected(c.Room, c.Face)))
	}
	mean := c.mean(points, v.Missing)
	v.decide(c, mean)
	v.Waiting = q.waits() && v.Outcome == Undecided && len(points) > 0 && points[0].Quantity.Known()
	w := worst(points)
	if mean != nil {
		w = mean
	}
	if w != nil {
		v.Value, v.Margin, v.Place, v.Near, v.Steps = w.Value, w.Margin, w.Place, w.Near, w.Steps
		if w.Limit != "" {
			v.Limit = w.Limit
		}
		v.Decision = w.Decision
	}
}

// decide sets the outcome: a fail is known even while points are missing.
func (v *Verdict) decide(c Case, mean *Point) {
	q := c.Question
	v.Outcome = Pass
	for _, p := range v.Points {
		if p.Reason != "" && p.Outcome != Pass {
			v.Reasons = append(v.Reasons, p.at()+p.Reason)
		}
	}
	switch {
	case v.Conflict:
		v.Outcome = Undecided
		v.Reasons = append([]string{"one place has two different answers; supersede the wrong one: proveout correct"}, v.Reasons...)
	case mean != nil:
		v.Outcome = mean.Outcome
		if mean.Reason != "" {
			v.Reasons = append(v.Reasons, "the mean: "+mean.Reason)
		}
	case v.any(Fail):
		v.Outcome = Fail
	case len(v.Missing) > 0:
		v.Outcome = Undecided
		v.Reasons = append(v.Reasons, missingText(v.Taken, v.Missing))
	case len(v.Points) == 0 && c.required():
		v.Outcome = Undecided
		v.Reasons = append(v.Reasons, "nothing is recorded yet")
	case v.any(Undecided):
		v.Outcome = Undecided
	}
	if v.Outcome == Pass && q.PhotoOne && len(v.Points) > 0 && !c.hasPhoto() {
		v.Outcome = Undecided
		v.Reasons = append(v.Reasons, photoMissing)
	}
}

// required reports whether a question without any point is unanswered; one
// about the holes of a room without holes is not.
func (c Case) required() bool {
	return c.Question.Sampling.Each == "" || len(c.Question.Expected(c.Room, c.Face)) > 0
}

func (v *Verdict) any(o Outcome) bool {
	return slices.ContainsFunc(v.Points, func(p Point) bool { return p.Outcome == o })
}

// MeanPlace is the place of a verdict that is judged by the mean.
const MeanPlace = "mean"

// mean is the mean of all points, judged, where the question is judged by it
// and nothing is missing; nil otherwise. It is as uncertain as its least
// certain point: the same instrument errs the same way everywhere.
func (c Case) mean(points []Point, missing []string) *Point {
	q := c.Question
	if !q.Mean || q.Kind != Reading || len(points) == 0 || len(missing) > 0 {
		return nil
	}
	mean := Point{Place: MeanPlace}
	var sum float64
	for _, p := range points {
		if !p.Quantity.Known() {
			mean.Reason = "one of its readings cannot be used"
			return &mean
		}
		sum += p.Quantity.Base()
		mean.measured = mean.measured || p.measured && !p.Uncertainty.Known()
		if !mean.Uncertainty.Known() || p.Uncertainty.Known() && p.Uncertainty.Base() > mean.Uncertainty.Base() {
			mean.Uncertainty = p.Uncertainty
		}
	}
	if mean.measured {
		mean.Uncertainty = units.Quantity{} // one of them is not stated
	}
	mean.Quantity = units.Of(q.Measures, sum/float64(len(points)), c.Room.Units)
	c.compare(&mean)
	return &mean
}

func (p Point) at() string {
	if p.Place == "" || p.Place == "point 1" || p.Place == "room" {
		return ""
	}
	return p.Place + ": "
}

func missingText(taken int, missing []string) string {
	if taken == 0 && len(missing) == 1 {
		return "nothing is recorded yet"
	}
	shown := missing
	more := ""
	if len(shown) > 3 {
		more = fmt.Sprintf(" and %d more", len(shown)-3)
		shown = shown[:3]
	}
	return "still to answer: " + strings.Join(shown, ", ") + more
}

func (c Case) hasPhoto() bool {
	return slices.ContainsFunc(c.Facts.On(c.source(), c.Face), func(f Fact) bool { return f.Photos > 0 })
}

// worst returns the deciding point: a fail before an open point before a pass,
// and among equals the one with the smallest margin.
func worst(points []Point) *Point {
	rank := map[Outcome]int{Fail: 0, Undecided: 1, Pass: 2}
	var w *Point
	for i := range points {
		p := &points[i]
		if w == nil || rank[p.Outcome] < rank[w.Outcome] || rank[p.Outcome] == rank[w.Outcome] && p.worth < w.worth {
			w = p
		}
	}
	return w
}

package templates

import (
	"fmt"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases"
)

// check is one check of a hold as documents show it: what was asked, what came
// out, and where the limit comes from.
type check struct {
	ID, Name, Ask string
	Limit, Reason string // Reason says why the limit is not the default
	Count         string // "3 of 5"
	Result        string // of the deciding point, as written
	Margin, Place string
	Outcome       string
	Ref           string // number of the source
	Why           []string
	Steps         []checks.Step
	Open          bool // it keeps the hold shut
}

// checksOf returns the checks of a hold that apply, of the kinds given; of all
// kinds when none is.
func (d Dossier) checksOf(s *phases.HoldState, refs *references, kinds ...checks.Kind) []check {
	questions := d.Plan.Questions()
	var all []check
	for _, v := range s.Verdicts {
		q := questions[v.Check]
		if len(kinds) > 0 && !oneOf(q.Kind, kinds) {
			continue
		}
		all = append(all, d.check(q, v, refs))
	}
	return all
}

func oneOf(kind checks.Kind, kinds []checks.Kind) bool {
	for _, k := range kinds {
		if k == kind {
			return true
		}
	}
	return false
}

func (d Dossier) check(q *checks.Question, v checks.Verdict, refs *references) check {
	c := check{
		ID: v.Check, Name: q.Name, Ask: q.Ask,
		Limit: decidingLimit(v.Limit, q, d.Room), Reason: q.LimitReason,
		Count:  fmt.Sprintf("%d of %d", v.Taken, v.Planned),
		Result: d.result(q, v), Margin: v.Margin, Place: d.place(q, v.Place),
		Outcome: outcome(v), Ref: refs.number(q.Source, q.Mark),
		Why: v.Reasons, Steps: v.Steps, Open: !v.Settled(),
	}
	if c.Limit == "" || q.RecordOnly || v.Taken == 0 {
		c.Limit = limitText(q, d.Room)
	}
	if !q.WantsRecord(d.Room) {
		c.Count = "computed"
	}
	return c
}

// outcome is the verdict in the words of a document. FAIL is in capitals so
// that it stands out on paper.
func outcome(v checks.Verdict) string {
	text := v.Outcome.String()
	switch {
	case v.Outcome == checks.Fail:
		text = "FAIL"
	case v.Waiting:
		text += ", waiting"
	}
	if v.Near {
		text += ", near limit"
	}
	if v.Concedes != "" {
		text += ", accepted by " + v.Concedes
	}
	return text
}

// result is what came out: the deciding value as it was written, or the range
// of readings that have no limit.
func (d Dossier) result(q *checks.Question, v checks.Verdict) string {
	if q.RecordOnly && len(v.Points) > 1 {
		return readingRange(v.Points, d.Room.Units)
	}
	for _, p := range v.Points {
		if p.Place == v.Place && p.Value == v.Value {
			return d.value(p)
		}
	}
	return v.Value
}

// value is a point's value as written, and in the job's units where they
// differ.
func (d Dossier) value(p checks.Point) string {
	if p.Quantity.Known() && p.Value == p.Quantity.String() {
		return p.Quantity.Understood(d.Room.Units)
	}
	return p.Value
}

// points are the points of one check of a hold.
func points(s *phases.HoldState, check string) []checks.Point {
	for _, v := range s.Verdicts {
		if v.Check == check {
			return v.Points
		}
	}
	return nil
}

// asked ends a question or a statement so that an answer can follow it.
func asked(ask string) string {
	if strings.HasSuffix(ask, "?") {
		return ask
	}
	return ask + ":"
}

// plural counts things: "1 reading", "3 readings".
func plural(n int, of string) string {
	if n == 1 {
		return "1 " + of
	}
	return fmt.Sprintf("%d %ss", n, of)
}

// readingRange prints the lowest and the highest of readings.
func readingRange(points []checks.Point, system units.System) string {
	var low, high units.Quantity
	for _, p := range points {
		if !p.Quantity.Known() {
			continue
		}
		if order, ok := units.Compare(p.Quantity, low); !ok || order < 0 {
			low = p.Quantity
		}
		if order, ok := units.Compare(p.Quantity, high); !ok || order > 0 {
			high = p.Quantity
		}
	}
	if !low.Known() {
		return ""
	}
	if low.String() == high.String() {
		return low.Understood(system)
	}
	return low.Understood(system) + " to " + high.Understood(system)
}

// place prints a place; "" where there is only one and its name says nothing.
func (d Dossier) place(q *checks.Question, place string) string {
	if place == "point 1" && q != nil && len(q.Expected(d.Room, "")) <= 1 {
		return ""
	}
	return placeText(place)
}

// placeText prints a place as a person says it: "north wall, bay 3".
func placeText(place string) string {
	return strings.ReplaceAll(place, "/", ", ")
}

// calculation is one computed check with the steps from readings to result.
type calculation struct {
	Check, Ask, Place string
	Steps             []checks.Step
}

// calculations returns the steps of every computed check of a hold.
func (d Dossier) calculations(s *phases.HoldState) []calculation {
	questions := d.Plan.Questions()
	var all []calculation
	for _, v := range s.Verdicts {
		for _, p := range v.Points {
			if len(p.Steps) > 0 {
				all = append(all, calculation{v.Check, v.Ask, d.place(questions[v.Check], p.Place), p.Steps})
			}
		}
	}
	return all
}

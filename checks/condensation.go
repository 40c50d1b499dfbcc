package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Condensation asks what becomes of vapor that condenses inside a face over a
// year. It may do so where it dries again, both halves of the year counted, and
// where the materials bear it until then.
var Condensation = &Check{
	Name:    "condensation",
	Doc:     "no condensation inside a face is left over after a year",
	Source:  "yearly balance by ISO 13788:2012, clause 6; masses by DIN 4108-3 (clause numbers from memory)",
	Rule:    "dry again within the year, and never more in a plane than it may hold",
	Figures: yearFigures,
	Built:   true,
	Whole:   func(c Case) []Point { return c.eachYear(condensation) },
}

// ConcealedHumidity asks how damp the dampest plane inside a face gets as a
// monthly mean. Above 80 % mold may grow on it, long before anything drips.
var ConcealedHumidity = &Check{
	Name:    "concealed-humidity",
	Doc:     "highest monthly mean humidity of a plane inside a face",
	Source:  "profile by ISO 13788:2012, 6.3; limit of 80 %: clause 5.1 (clause numbers from memory)",
	Result:  units.HumidityKind,
	Figures: yearFigures,
	Built:   true,
	Whole:   func(c Case) []Point { return c.eachYear(concealed) },
}

// yearFigures are what the year on both sides of a face is made of.
var yearFigures = []string{"set point", "high humidity", "outdoor months"}

// eachYear balances the year of each face the question is about.
func (c Case) eachYear(of func(Case, envelope.YearBalance) Point) []Point {
	var points []Point
	for _, f := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.year(f, of))
	}
	return points
}

func (c Case) year(f *Face, of func(Case, envelope.YearBalance) Point) Point {
	months, err := c.Room.year(f)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	d, err := c.design(f, thinnest)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	if len(d.assembly.Layers) == 0 {
		return undecided(f.Name, "job.yaml gives no layers of the %s; add as planned: with its layers", f.Name)
	}
	b, err := envelope.Year(d.assembly, f.side(), months)
	if err != nil {
		return undecided(f.Name, "the %s: %v", f.Name, err)
	}
	p := of(c, b)
	p.Place, p.Steps, p.Facts = f.Name, append(d.steps, b.Steps()...), d.facts
	return p
}

func condensation(_ Case, b envelope.YearBalance) Point {
	p := Point{Value: b.Verdict.String(), Limit: "dry again within the year", judged: true}
	switch {
	case b.Verdict.Passes():
		p.Outcome = Pass
	case b.Verdict == envelope.Undecided:
		p.Reason = b.Summary()
	default:
		p.Outcome, p.Reason = Fail, b.Summary()
	}
	return p
}

func concealed(c Case, b envelope.YearBalance) Point {
	if b.Verdict == envelope.SurfaceWet {
		return Point{Value: b.Verdict.String(), Limit: c.Question.Limits.String(), Outcome: Fail, Reason: b.Summary(), judged: true}
	}
	q := units.Of(units.HumidityKind, min(float64(b.Wettest.Humidity), 100), c.Room.Units)
	return Point{Quantity: q, Value: fmt.Sprintf("%s %s", q, b.Assembly.PlaceName(b.Wettest.Place))}
}

package checks

import (
	"fmt"

	"proveout/checks/envelope"
)

// On is the verdict's points on one face, with the place of the worst of them in
// Place: of all its points where face is "". It has no outcome of its own.
func (v Verdict) On(face string) Verdict {
	of := Verdict{Check: v.Check, Ask: v.Ask}
	for _, p := range v.Points {
		if face == "" || FaceOf(p.Place) == face {
			of.Points = append(of.Points, p)
		}
	}
	if w := worst(of.Points); w != nil {
		of.Place = w.Place
	}
	return of
}

// AsBuilt is a face as it was built, in the month in which it is dampest inside.
type AsBuilt struct {
	Face    *Face
	Year    envelope.YearBalance
	Profile envelope.VaporProfile
	Month   string // what the month is called: "summer", "August"
	Steps   []Step // what replaced the design
}

// AsBuilt is a face as planned with what the crew measured in its place, at the
// thinnest insulation. It is an error where layers or the air on both sides are not
// known.
func (c Case) AsBuilt(f *Face) (AsBuilt, error) {
	c.Question = &Question{Phase: "commissioning"} // after all that is built
	months, err := c.Room.year(f)
	if err != nil {
		return AsBuilt{}, err
	}
	d, err := c.design(f, thinnest)
	if err != nil {
		return AsBuilt{}, err
	}
	if len(d.assembly.Layers) == 0 {
		return AsBuilt{}, fmt.Errorf("job.yaml gives no layers of the %s", f.Name)
	}
	b, err := envelope.Year(d.assembly, f.side(), months)
	if err != nil {
		return AsBuilt{}, fmt.Errorf("the %s: %w", f.Name, err)
	}
	m := months[b.Wettest.Month]
	p, err := envelope.Profile(d.assembly, b.Months[b.Wettest.Month].Films, m.Other, m.Room)
	return AsBuilt{f, b, p, m.Name, d.steps}, err
}

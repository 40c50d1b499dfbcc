package checks

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// StressSurface asks how far the surface on the other side of a face stays above
// the dew point of the air there on a humid day. Where framing crosses the
// insulation the surface over the framing counts.
var StressSurface = &Check{
	Name:    "stress-surface",
	Doc:     "margin of the surface on the other side over the dew point of a humid day's air",
	Source:  "θs = θ − U·Rs·Δθ, dew point by ISO 13788:2012, clause 5 and Annex E (clause number from memory)",
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"set point"},
	Built:   true,
	Whole:   stressSurface,
}

func stressSurface(c Case) []Point {
	var points []Point
	for _, f := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.surface(f))
	}
	return points
}

// surface returns the smallest margin of a face in the airs that it must stand.
func (c Case) surface(f *Face) Point {
	d, err := c.design(f, thinnest)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	if !c.Room.SetPoint.Known() {
		return undecided(f.Name, "job.yaml gives no set point")
	}
	airs := c.Room.stress(f.OtherSide)
	if len(airs) == 0 {
		return undecided(f.Name, "job.yaml gives no design conditions for %s; add {space: %s, season: stress, temperature: 79 °F, humidity: 70 %% RH} with the most humid air of the place", f.OtherSide, f.OtherSide)
	}
	var least Point
	for i, s := range airs {
		p := d.dewMargin(c, s)
		if p.judged {
			return p
		}
		if i == 0 || p.Quantity.Base() < least.Quantity.Base() {
			least = p
		}
	}
	least.Facts, least.Steps = d.facts, append(d.steps, least.Steps...)
	return least
}

func (d *faceDesign) dewMargin(c Case, s Space) Point {
	name, room := d.face.Name, c.Room.SetPoint.Temperature()
	air, err := airOf(s)
	if err != nil {
		return undecided(name, "%v", err)
	}
	u, films, steps, err := d.weakest(air.Temperature, room)
	if err != nil {
		return undecided(name, "%v", err)
	}
	if films.OtherSide == 0 {
		return undecided(name, "the %s has no surface in air on its other side", name)
	}
	state, err := envelope.WarmSurface(u, films.OtherSide, air, room)
	if err != nil {
		return undecided(name, "the %s: %v", name, err)
	}
	q := units.Of(units.TemperatureDifferenceKind, float64(state.Margin), c.Room.Units)
	first := Step{Name: "air beyond the " + name, Value: fmt.Sprintf("%s, %s", s.Temperature, s.Humidity), Source: "job.yaml, " + s.describe()}
	return Point{
		Place: name, Quantity: q, Steps: append(append([]Step{first}, steps...), state.Steps...),
		Value: fmt.Sprintf("%s over the dew point, %s", q, s.describe()),
	}
}

// weakest is the transmittance along the path that lets most heat through, the
// framing of a wall.
func (d *faceDesign) weakest(other, room units.Temperature) (units.Transmittance, envelope.Films, []Step, error) {
	films, err := envelope.SurfaceResistances(d.face.side(), other, room)
	if err != nil || d.stated > 0 {
		return d.stated, films, nil, err
	}
	whole, err := d.assembly.Resistance(films)
	if err != nil {
		return 0, films, nil, fmt.Errorf("the %s: %w", d.face.Name, err)
	}
	weak := whole.Paths[0]
	for _, p := range whole.Paths {
		if p.Resistance < weak.Resistance {
			weak = p
		}
	}
	step := Step{Name: "weakest path", Formula: "Rs + ΣR + Rs through " + pathName(weak), Value: fmt.Sprintf("%.4f m²·K/W", float64(weak.Resistance)), Source: films.Source}
	return units.Transmittance(1 / weak.Resistance), films, []Step{step}, nil
}

// describe names a space with its season.
func (s Space) describe() string {
	switch s.Season {
	case "":
		return s.Name + " all year"
	case "stress":
		return s.Name + " on the most humid days"
	}
	return s.Name + " in " + s.Season
}

func pathName(p envelope.Path) string {
	if p.Name == "" {
		return "the layers"
	}
	return p.Name
}

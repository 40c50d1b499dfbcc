package templates

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
	"proveout/templates/figure"
)

// LoadPictures are the heat that comes in at the visit and on the design day, as
// found and as planned, in the parts that a person mends. A time of which nothing
// could be counted has none.
func LoadPictures(of checks.Diagnosis) []figure.Load {
	var all []figure.Load
	planned := diagnosis.Planned{}
	if of.Planned != nil {
		planned = *of.Planned
	}
	for _, pair := range [][2]*diagnosis.Balance{{of.Visit, planned.Visit}, {of.Summer, planned.Summer}} {
		if pair[0] != nil {
			all = append(all, loadPicture{of}.picture(pair[0], pair[1]))
		}
	}
	return all
}

// picture sets what was found beside what is planned, which may be nil.
func (p loadPicture) picture(found, planned *diagnosis.Balance) figure.Load {
	f := figure.Load{Title: "Heat coming in " + found.When + ", with the room at its set point", Items: p.items(found, planned)}
	f.Total = figure.LoadItem{Name: "Together", Found: p.amount(found.Found.Total())}
	if found.Rates {
		f.Capacity = figure.Mark{At: float64(found.Able), Text: "the unit found can take out " + p.print(found.Able)}
	}
	if planned != nil {
		f.Total.Planned = p.amount(planned.Found.Total())
		if planned.Rates {
			f.PlannedCapacity = figure.Mark{At: float64(planned.Able), Text: "the unit planned can take out " + p.print(planned.Able)}
		}
	}
	if !found.Known {
		f.Notes = []string{"Not everything could be counted as found; see what is not known."}
	}
	return f
}

type loadPicture struct{ of checks.Diagnosis }

func (p loadPicture) print(w units.Power) string {
	return units.Of(units.PowerKind, float64(w), p.of.Room.Show).String()
}

func (p loadPicture) amount(w units.Power) figure.Amount {
	return figure.Amount{Value: float64(w), Text: p.print(w)}
}

// loadParts are the parts of a load in the order of the picture.
var loadParts = []string{"Walls", "Ceiling", "Floor", "Door and glass", "Air leaking in", "Door in use, bottles, lights, fans, people"}

func (p loadPicture) items(found, planned *diagnosis.Balance) []figure.LoadItem {
	was, is := p.parts(found.Found), map[string]units.Power{}
	if planned != nil {
		is = p.parts(planned.Found)
	}
	var items []figure.LoadItem
	for _, part := range loadParts {
		if was[part] == 0 && is[part] == 0 {
			continue
		}
		item := figure.LoadItem{Name: part, Found: p.amount(was[part])}
		if planned != nil {
			item.Planned = p.amount(is[part])
		}
		items = append(items, item)
	}
	return items
}

// parts adds up the lines of a load by what they belong to.
func (p loadPicture) parts(l cooling.Load) map[string]units.Power {
	sums := map[string]units.Power{}
	for _, i := range l.Items {
		sums[p.part(i.Name)] += i.Sensible + i.Latent
	}
	return sums
}

func (p loadPicture) part(name string) string {
	kinds := map[envelope.FaceKind]string{envelope.Wall: "Walls", envelope.Ceiling: "Ceiling", envelope.Floor: "Floor", envelope.Door: "Door and glass", envelope.Glass: "Door and glass"}
	for _, f := range p.of.Room.Faces {
		if f.Name == name {
			return kinds[f.Kind]
		}
	}
	if strings.Contains(name, "leak") {
		return "Air leaking in"
	}
	return loadParts[len(loadParts)-1]
}

// sections are cuts through the faces as found at the visit, one for faces with the
// same layers.
func (d Dossier) sections(of checks.Diagnosis) []Figure {
	figures := d.sectionsOf(of.Walls, of.Room.Faces, "section-%d", "As found, at the visit.")
	if of.Planned != nil && of.Room.Planned != nil {
		figures = append(figures, d.sectionsOf(of.Planned.Walls, of.Room.Planned.Faces, "section-planned-%d", "As planned, in the same air.")...)
	}
	return figures
}

// sectionsOf draws each kind of face once.
func (d Dossier) sectionsOf(walls []diagnosis.Wall, faces []diagnosis.Face, name, caption string) []Figure {
	var figures []Figure
	var drawn []diagnosis.Face
	for i, w := range walls {
		f := faces[i]
		alike := func(o diagnosis.Face) bool {
			return o.Kind == f.Kind && o.Side == f.Side && sameLayers(o.Assembly, f.Assembly)
		}
		if w.Profile == nil || slices.ContainsFunc(drawn, alike) {
			continue
		}
		drawn = append(drawn, f)
		figures = append(figures, newFigure(fmt.Sprintf(name, len(drawn)), caption, d.section(f, w)))
	}
	return figures
}

func sameLayers(a, b envelope.Assembly) bool {
	return slices.EqualFunc(a.Layers, b.Layers, func(x, y envelope.Layer) bool { return x.Name == y.Name && x.Thickness == y.Thickness })
}

func (d Dossier) section(f diagnosis.Face, w diagnosis.Wall) figure.Section {
	p := w.Profile
	s := figure.Section{
		Title: capital(f.Name) + ", from the " + string(f.Side) + " to the room",
		Axis:  "Temperature and dew point, " + d.degree(),
		Other: d.airSide(capital(string(f.Side)), w.Other), Room: d.airSide("Room", w.Room),
	}
	for _, l := range f.Assembly.Layers {
		s.Layers = append(s.Layers, figure.Layer{
			Name: l.Name, Thickness: max(1000*float64(l.Thickness), 0.1), Text: d.computedValue(units.LengthKind, float64(l.Thickness)), Material: material(l),
		})
	}
	for _, n := range p.Nodes {
		s.Planes = append(s.Planes, figure.Plane{Depth: 1000 * float64(n.Depth), Temperature: d.degrees(n.Temperature), DewPoint: d.dewPointOf(n.VaporPressure)})
	}
	if w.Worst.Humidity >= envelope.CriticalHumidity {
		s.Wet = append(s.Wet, figure.WetPlane{
			Depth: 1000 * float64(p.Wettest.Depth), Humidity: d.computedValue(units.HumidityKind, float64(p.Wettest.Humidity)), Words: w.Summary,
		})
	}
	return s
}

// airSide is the air at one end of a section.
func (d Dossier) airSide(name string, a envelope.Air) figure.AirSide {
	side := figure.AirSide{
		Name:        name,
		Temperature: figure.Mark{At: d.degrees(a.Temperature), Text: d.computedValue(units.TemperatureKind, float64(a.Temperature))},
	}
	if rh, err := a.RelativeHumidity(); err == nil {
		side.Humidity = d.computedValue(units.HumidityKind, float64(rh))
	}
	if dew, err := a.DewPoint(); err == nil {
		side.DewPoint = figure.Mark{At: d.degrees(dew), Text: d.computedValue(units.TemperatureKind, float64(dew))}
	}
	return side
}

// degrees is a temperature on the axis of a section.
func (d Dossier) degrees(t units.Temperature) float64 {
	if d.Room.Units == units.US {
		return 1.8*float64(t) + 32
	}
	return float64(t)
}

func (d Dossier) degree() string {
	if d.Room.Units == units.US {
		return "°F"
	}
	return "°C"
}

func (d Dossier) dewPointOf(p units.Pressure) float64 {
	t, err := humidair.ISOSaturationTemperature(p)
	if err != nil {
		return math.NaN()
	}
	return d.degrees(t)
}

// material is how a layer looks in a section.
func material(l envelope.Layer) figure.Material {
	name := strings.ToLower(l.Name)
	for _, m := range []struct {
		words []string
		look  figure.Material
	}{
		{[]string{"poly", "film", "foil", "kraft", "membrane"}, figure.Membrane},
		{[]string{"batt", "foam", "wool", "insulation", "xps", "eps"}, figure.Insulation},
		{[]string{"air"}, figure.AirSpace},
		{[]string{"brick", "block", "concrete", "stone"}, figure.Masonry},
		{[]string{"stud", "lumber", "framing", "wood"}, figure.Lumber},
	} {
		if slices.ContainsFunc(m.words, func(w string) bool { return strings.Contains(name, w) }) {
			return m.look
		}
	}
	return figure.Board
}

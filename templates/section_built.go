package templates

import (
	"fmt"
	"slices"

	"proveout/checks"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
	"proveout/templates/figure"
)

// sectionsBuilt are cuts through the faces as they were built, with temperature
// and dew point in the month in which the face is dampest inside; one for faces
// that come out alike. Where no profile can be computed, the layers are drawn
// alone.
func (d Dossier) sectionsBuilt(groups []layerGroup) []Figure {
	var all []Figure
	var drawn []checks.AsBuilt
	for i := range d.Room.Faces {
		b, err := d.Gate.AsBuilt(&d.Room.Faces[i])
		if err != nil || slices.ContainsFunc(drawn, func(o checks.AsBuilt) bool { return alike(o, b) }) {
			continue
		}
		drawn = append(drawn, b)
		all = append(all, newFigure(fmt.Sprintf("section-%d", len(drawn)), d.builtCaption(b), d.builtSection(b)))
	}
	if all == nil {
		return sections(groups)
	}
	return all
}

// alike reports whether two faces have the same layers between the same air.
func alike(a, b checks.AsBuilt) bool {
	return a.Face.Kind == b.Face.Kind && a.Face.OtherSide == b.Face.OtherSide && sameLayers(a.Year.Assembly, b.Year.Assembly)
}

func (d Dossier) builtCaption(b checks.AsBuilt) string {
	text := "As built, with the thinnest insulation that was measured."
	if b.Steps == nil {
		text = "As planned; nothing measured replaces it."
	}
	when := ""
	if b.Month != "" {
		when = " in " + b.Month
	}
	return fmt.Sprintf("%s Computed for steady monthly means%s, when it is dampest inside: %s. Wind, sun and leaks are not in it.",
		text, when, d.computedValue(units.HumidityKind, float64(b.Year.Wettest.Humidity)))
}

func (d Dossier) builtSection(b checks.AsBuilt) figure.Section {
	m := b.Year.Given[b.Year.Wettest.Month]
	face := diagnosis.Face{Name: b.Face.Name, Side: envelope.OtherSide(b.Face.OtherSide), Kind: envelope.FaceKind(b.Face.Kind), Assembly: b.Year.Assembly}
	return d.section(face, diagnosis.Wall{
		Other: m.Other, Room: m.Room, Profile: &b.Profile, Worst: diagnosis.Plane{Humidity: b.Profile.Wettest.Humidity},
		Summary: "damp by the computed monthly mean",
	})
}

package templates

import (
	"fmt"

	"proveout/checks"
	"proveout/templates/figure"
)

// sections draws the layers of each group of faces, to scale. A group of which a
// thickness is not known has no drawing.
func sections(groups []layerGroup) []Figure {
	var all []Figure
	for i, g := range groups {
		if cut, ok := sectionOf(g); ok {
			all = append(all, newFigure(fmt.Sprintf("section-%d", i+1), "Section of "+g.Faces+", to scale.", cut))
		}
	}
	return all
}

func sectionOf(g layerGroup) (figure.Section, bool) {
	f := figure.Section{Title: "Layers of " + g.Faces, Other: figure.AirSide{Name: g.OtherSide}, Room: figure.AirSide{Name: "room"}}
	for _, l := range g.cut {
		if !l.Thickness.Known() {
			return figure.Section{}, false
		}
		f.Layers = append(f.Layers, figure.Layer{Name: l.Material, Thickness: l.Thickness.Base(), Text: l.Thickness.String(), Material: materialOf(l)})
	}
	return f, true
}

// materialOf is how a layer is filled in a drawing, by what job.yaml says it is
// for.
func materialOf(l checks.Layer) figure.Material {
	switch {
	case l.Insulation:
		return figure.Insulation
	case l.Retarder:
		return figure.Membrane
	}
	return figure.Board
}

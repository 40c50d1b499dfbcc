package templates

import (
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
)

// face is one bounding surface as documents describe it.
type face struct {
	Code, Name, Kind, OtherSide, Area, Bays string
	Layers                                  []layer
	Design                                  string
	cut                                     []checks.Layer // the same layers, to be drawn
}

// layer is one layer of a face, from the other side inwards.
type layer struct{ No, Material, Thickness, Resistance, Permeance, Note string }

// faces describes the faces with the layers that pick chooses.
func (d Dossier) faces(pick func(checks.Face) []checks.Layer) []face {
	var all []face
	for i, f := range d.Room.Faces {
		view := face{
			Code: faceCode(i), Name: f.Name, Kind: f.Kind, OtherSide: f.OtherSide, Area: f.Area.String(),
			Design: designText(f),
		}
		if f.Bays > 0 {
			view.Bays = strconv.Itoa(f.Bays)
		}
		view.cut = pick(f)
		for n, l := range view.cut {
			view.Layers = append(view.Layers, layerView(n+1, l))
		}
		all = append(all, view)
	}
	return all
}

func asFound(f checks.Face) []checks.Layer { return f.AsFound }

func asPlanned(f checks.Face) []checks.Layer { return f.AsPlanned }

// layerGroup are faces that have the same layers.
type layerGroup struct {
	Faces, OtherSide string
	Layers           []layer
	cut              []checks.Layer
}

// layerGroups puts faces with the same layers and the same other side together.
func layerGroups(faces []face) []layerGroup {
	var groups []layerGroup
	for _, f := range faces {
		if f.Layers == nil {
			continue
		}
		i := slices.IndexFunc(groups, func(g layerGroup) bool {
			return g.OtherSide == f.OtherSide && slices.Equal(g.Layers, f.Layers)
		})
		if i < 0 {
			groups = append(groups, layerGroup{f.Name, f.OtherSide, f.Layers, f.cut})
			continue
		}
		groups[i].Faces += ", " + f.Name
	}
	return groups
}

// faceCode is the letter of a face on photos and field sheets: A for the first.
func faceCode(i int) string {
	if i < 26 {
		return string(rune('A' + i))
	}
	return faceCode(i/26-1) + faceCode(i%26)
}

// code returns the letter of the face a place is on, or "room".
func (d Dossier) code(place string) string {
	for i, f := range d.Room.Faces {
		if f.Name == checks.FaceOf(place) {
			return faceCode(i)
		}
	}
	return "room"
}

func layerView(n int, l checks.Layer) layer {
	v := layer{No: strconv.Itoa(n), Material: l.Material}
	if l.Thickness.Known() {
		v.Thickness = l.Thickness.String()
	}
	if l.Resistance.Known() {
		v.Resistance = l.Resistance.String()
	}
	if l.Permeance.Known() {
		v.Permeance = l.Permeance.String()
	}
	var notes []string
	if l.Insulation {
		notes = append(notes, "insulation")
	}
	if l.Retarder {
		notes = append(notes, "vapor retarder")
	}
	if l.Framing.Known() {
		notes = append(notes, l.Framing.String()+" of the area is framing")
	}
	v.Note = strings.Join(notes, ", ")
	return v
}

// designText lists what a face was designed for.
func designText(f checks.Face) string {
	var parts []string
	for _, name := range []string{"depth", "resistance", "installed resistance", "permeance"} {
		if q := f.Design[name]; q.Known() {
			parts = append(parts, name+" "+q.String())
		}
	}
	return strings.Join(parts, ", ")
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

// askFaces asks for the faces one by one, then for their design, their layers
// and the air beyond them.
func (o *jobOutline) askFaces(e *env) error {
	e.sayf("\nThe faces: every surface that bounds the room, doors and glass too.\n")
	for o.faces == nil {
		if done, err := o.askFace(e); err != nil {
			return err
		} else if done {
			break
		}
	}
	if o.faces == nil {
		if err := o.dressFaces(); err != nil {
			return err
		}
	}
	for _, kind := range []string{"wall", "ceiling", "floor"} {
		if err := o.askDress(e, kind); err != nil {
			return err
		}
	}
	return o.askAir(e)
}

// askFace asks for one face; done when an empty name ends the list.
func (o *jobOutline) askFace(e *env) (done bool, err error) {
	f := jobs.OutlineFace{}
	question := "Name of a face, like north wall"
	if len(o.Faces) > 0 {
		question = "Next face (empty: that is all)"
	}
	err = e.askUntil(question, "", func(text string) error {
		switch {
		case text == "" && len(o.Faces) > 0:
			done = true
			return nil
		case text == "":
			return fmt.Errorf("a room has a face at least")
		case strings.Contains(text, "/"):
			return fmt.Errorf("a slash divides a face from its bay; leave it out of the name")
		case slices.ContainsFunc(o.Faces, func(g jobs.OutlineFace) bool { return g.Name == text }):
			return fmt.Errorf("there is a face called %q already", text)
		}
		f.Name = text
		return nil
	})
	if err != nil || done {
		return done, err
	}
	if err := o.askFaceParts(e, &f); err != nil {
		return false, err
	}
	o.Faces = append(o.Faces, f)
	return false, nil
}

func (o *jobOutline) askFaceParts(e *env, f *jobs.OutlineFace) error {
	kind := "wall"
	for _, k := range phases.FaceKinds {
		if strings.Contains(strings.ToLower(f.Name), k) {
			kind = k
		}
	}
	fields := []*field{
		{ask: "  Kind (" + strings.Join(phases.FaceKinds, ", ") + ")", otherwise: kind, check: oneOf(phases.FaceKinds), to: &f.Kind},
		{ask: "  Other side (" + strings.Join(phases.OtherSides, ", ") + ")", otherwise: "house", check: oneOf(phases.OtherSides), to: &f.OtherSide},
	}
	if err := e.fill(fields, true); err != nil {
		return err
	}
	area := &field{ask: "  Area", otherwise: o.plan(f.Kind), must: true, check: quantityOf(units.AreaKind), to: &f.Area}
	if err := e.askField(area); err != nil || f.Kind != "wall" && f.Kind != "ceiling" && f.Kind != "floor" {
		return err
	}
	return e.askUntil("  Bays between studs or joists (empty: none)", "", func(text string) error {
		if text == "" || text == "0" {
			return nil
		}
		g, err := jobs.ParseFace("x: wall, house, 1 m², " + strings.TrimSuffix(strings.TrimSuffix(text, "s"), " bay") + " bays")
		f.Bays = g.Bays
		return err
	})
}

// plan is the area of the room's plan, which ceiling and floor have, or "".
func (o *jobOutline) plan(kind string) string {
	length, err := units.Parse(units.LengthKind, o.Length)
	width, err2 := units.Parse(units.LengthKind, o.Width)
	if err != nil || err2 != nil || kind != "ceiling" && kind != "floor" {
		return ""
	}
	return units.Of(units.AreaKind, length.Base()*width.Base(), o.Units).String()
}

// askDress asks for design and layers of all faces of a kind, where flags have
// not said them.
func (o *jobOutline) askDress(e *env, kind string) error {
	var faces []*jobs.OutlineFace
	for i := range o.Faces {
		if o.Faces[i].Kind == kind {
			faces = append(faces, &o.Faces[i])
		}
	}
	if faces == nil {
		return nil
	}
	e.sayf("\nThe %ss.\n", kind)
	design, layers := "depth 5 in, resistance R-18", "gypsum board, 1/2 in; closed-cell spray foam, 5 in, 15 % framing, insulation; gypsum board, 1/2 in"
	if o.Units == units.SI {
		design, layers = "depth 125 mm, resistance RSI 3.2", "gypsum board, 12.5 mm; closed-cell spray foam, 125 mm, 15 % framing, insulation; gypsum board, 12.5 mm"
	}
	if faces[0].Design == nil {
		if err := e.askUntil("Design values, like "+design+" (empty: later)", "", forFaces(faces, setDesign)); err != nil {
			return err
		}
	}
	if faces[0].Layers == nil {
		return e.askUntil("Layers from the other side inwards, like\n  "+layers+"\n  (empty: later)", "", forFaces(faces, setLayers))
	}
	return nil
}

// forFaces takes an answer for several faces; an empty one says nothing.
func forFaces(faces []*jobs.OutlineFace, set func(f *jobs.OutlineFace, text string) error) func(string) error {
	return func(text string) error {
		if text == "" {
			return nil
		}
		for _, f := range faces {
			if err := set(f, text); err != nil {
				return err
			}
		}
		return nil
	}
}

func setDesign(f *jobs.OutlineFace, text string) (err error) {
	f.Design, err = jobs.ParseDesign(text)
	return err
}

func setLayers(f *jobs.OutlineFace, text string) (err error) {
	f.Layers, err = jobs.ParseLayers(text)
	return err
}

// askAir asks for the air beyond the faces.
func (o *jobOutline) askAir(e *env) error {
	e.sayf("\nThe air beyond the faces, at its hottest.\n")
	for _, name := range phases.OtherSides {
		beyond := slices.ContainsFunc(o.Faces, func(f jobs.OutlineFace) bool { return f.OtherSide == name })
		if !beyond || o.spaceSaid(name) {
			continue
		}
		otherwise, season := o.air(name), ", summer"
		question := strings.ToUpper(name[:1]) + name[1:] + ": temperature, humidity"
		if otherwise == "" {
			question += " (empty: later)"
		}
		if name == "house" || name == "ground" {
			season = ""
		}
		err := e.askUntil(question, otherwise, func(text string) error {
			if text == "" {
				return nil
			}
			s, err := jobs.ParseSpace(name + ", " + text + season)
			if err == nil {
				o.Spaces = append(o.Spaces, s)
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// air is what stands for the air of a house that is kept cool (assumed; the
// person may say otherwise). Attics and the rest differ too much.
func (o *jobOutline) air(name string) string {
	if name != "house" {
		return ""
	}
	if o.Units == units.SI {
		return "24 °C, 50 % RH"
	}
	return "75 °F, 50 % RH"
}

func (o *jobOutline) spaceSaid(name string) bool {
	return slices.ContainsFunc(o.Spaces, func(s jobs.OutlineSpace) bool { return s.Name == name })
}

// houseAir adds the air of the house where nothing was said of it.
func (o *jobOutline) houseAir() {
	beyond := slices.ContainsFunc(o.Faces, func(f jobs.OutlineFace) bool { return f.OtherSide == "house" })
	if !beyond || o.spaceSaid("house") {
		return
	}
	if s, err := jobs.ParseSpace("house, " + o.air("house")); err == nil {
		o.Spaces = append(o.Spaces, s)
	}
}

package envelope

import "fmt"

// Place is a plane in an assembly: Part of Parts of the way through a layer,
// counted from the other side. The last part of a layer is its boundary with
// the next; part 0 is the surface on the other side.
type Place struct {
	Layer, Part, Parts int
}

// PlaceName says in words where a place is.
func (a Assembly) PlaceName(p Place) string {
	switch {
	case p.Part == 0:
		return "surface on the other side"
	case p.Layer < 0 || p.Layer >= len(a.Layers):
		return fmt.Sprintf("layer %d", p.Layer)
	case p.Part < p.Parts:
		return fmt.Sprintf("inside %s, %d/%d of the way in", a.Layers[p.Layer].Name, p.Part, p.Parts)
	case p.Layer == len(a.Layers)-1:
		return "surface in the room"
	}
	return fmt.Sprintf("between %s and %s", a.Layers[p.Layer].Name, a.Layers[p.Layer+1].Name)
}

// Through returns the assembly along the named section, such as a stud, in
// place of the layers it lies beside. Vapor calculations go straight through
// the layers themselves, which is the path of the insulation.
func (a Assembly) Through(section string) (Assembly, error) {
	along := Assembly{Name: a.Name + ", through " + section}
	found := false
	for _, l := range a.Layers {
		for _, s := range l.Beside {
			if s.Layer.Name == section {
				l, found = s.Layer, true
				break
			}
		}
		l.Beside = nil
		along.Layers = append(along.Layers, l)
	}
	if !found {
		return Assembly{}, fmt.Errorf("no layer of assembly %q has %q beside it", a.Name, section)
	}
	return along, nil
}

package checks

import (
	"cmp"
	"fmt"
	"sync"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// generic is the generic library.
var generic = sync.OnceValues(func() (*envelope.Library, error) { return envelope.NewLibrary() })

// built is a face as the envelope package sees it.
type built struct {
	assembly   envelope.Assembly
	films      envelope.Films
	insulation []string // names of the layers whose depth is measured
}

// assemblyOf makes the planned assembly of a face, with the films for the
// design temperatures on its two sides.
func assemblyOf(room *Room, f *Face) (built, error) {
	b := built{assembly: envelope.Assembly{Name: f.Name}}
	if len(f.AsPlanned) == 0 {
		return b, fmt.Errorf("job.yaml gives no layers as planned for the %s", f.Name)
	}
	for i, l := range f.AsPlanned {
		layer, err := layerOf(room.Materials, l)
		if err != nil {
			return b, fmt.Errorf("the %s, layer %d: %w", f.Name, i+1, err)
		}
		b.assembly.Layers = append(b.assembly.Layers, layer)
		if l.Insulation {
			b.insulation = append(b.insulation, layer.Name)
		}
	}
	if b.insulation == nil {
		return b, fmt.Errorf("job.yaml marks no layer of the %s as insulation (is: insulation)", f.Name)
	}
	films, err := filmsOf(room, f)
	b.films = films
	return b, err
}

// layerOf returns a layer with its framing; without a library the generic one
// serves. What a layer states itself, from a data sheet, beats both.
func layerOf(lib *envelope.Library, l Layer) (envelope.Layer, error) {
	if lib == nil {
		var err error
		if lib, err = generic(); err != nil {
			return envelope.Layer{}, err
		}
	}
	layer, err := plainLayer(lib, l.Material, l)
	if err != nil || !l.Framing.Known() {
		return layer, err
	}
	framing, err := plainLayer(lib, cmp.Or(l.FramingMaterial, "softwood framing"), Layer{Thickness: l.Thickness})
	if err != nil {
		return layer, err
	}
	return layer.WithFraming(l.Framing.Base()/100, framing), nil
}

func plainLayer(lib *envelope.Library, name string, l Layer) (envelope.Layer, error) {
	var thickness units.Length
	if l.Thickness.Known() {
		thickness = l.Thickness.Length()
	}
	m, err := lib.Find(name)
	if err != nil && !l.Resistance.Known() {
		return envelope.Layer{}, fmt.Errorf("%w; or give its resistance: from the data sheet", err)
	}
	layer := envelope.Layer{Name: name, Thickness: thickness, Source: "job.yaml"}
	if err == nil {
		if layer, err = m.Layer(thickness); err != nil {
			return layer, err
		}
	}
	if l.Resistance.Known() {
		layer.Conductivity, layer.Resistance = 0, l.Resistance.ThermalResistance()
		layer.Source = "job.yaml, data sheet"
	}
	if l.Permeance.Known() {
		layer.Vapor, layer.VaporSource = envelope.OfPermeance(l.Permeance.Permeance()), "job.yaml, data sheet"
	}
	return layer, nil
}

// filmsOf returns the surface resistances of a face in the hot season, when it
// has to hold.
func filmsOf(room *Room, f *Face) (envelope.Films, error) {
	face := envelope.Face{Kind: envelope.FaceKind(f.Kind), Other: envelope.OtherSide(f.OtherSide)}
	space := room.Space(f.OtherSide, "summer")
	if space == nil {
		return envelope.Films{}, fmt.Errorf("job.yaml gives no design conditions for %s, beyond the %s", f.OtherSide, f.Name)
	}
	return envelope.SurfaceResistances(face, space.Temperature.Temperature(), room.SetPoint.Temperature())
}

// Envelope returns the layer as the envelope package sees it: a material of the
// generic library, with the resistance and permeance that the layer states.
func (l Layer) Envelope() (envelope.Layer, error) { return layerOf(nil, l) }

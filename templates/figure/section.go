package figure

import (
	"fmt"
	"math"
)

// Section is a cut through a face, from the other side on the left to the room on
// the right: layers to scale, and over them the temperature and the dew point.
type Section struct {
	Title  string
	Axis   string  // what the vertical axis measures: "Temperature and dew point, °C"
	Other  AirSide // the other side
	Room   AirSide
	Layers []Layer // from the other side to the room

	// Planes are where temperature and dew point are known, from the surface on
	// the other side to that in the room; Depth is counted from the former, in
	// the unit of Layer.Thickness. None: the section shows layers alone.
	Planes []Plane
	Wet    []WetPlane
	Notes  []string // under the picture
}

// AirSide is the air at one end of a section.
type AirSide struct {
	Name                  string // "Hallway"
	Temperature, DewPoint Mark   // At on the axis, with their texts
	Humidity              string // "45 % RH"
}

// Layer is one layer of a face.
type Layer struct {
	Name      string
	Thickness float64 // above 0, in one unit for all layers of a section
	Text      string  // the thickness as printed: "1/2 in", "6 mil"
	Material  Material
}

// Material is how a layer is filled. The zero Material is plain.
type Material int

// The materials that have a look of their own.
const (
	Board Material = iota
	Insulation
	Masonry
	Lumber
	AirSpace
	Membrane
)

// Plane is a depth at which temperature and dew point are known; NaN: is not.
type Plane struct{ Depth, Temperature, DewPoint float64 }

// WetPlane is a plane where water gathers, or comes close to.
type WetPlane struct {
	Depth    float64
	Humidity string // "100 % RH"
	Words    string // what it means: "wet from May to September, dries by January"
}

// check returns what cannot be drawn.
func (f Section) check() error {
	if len(f.Layers) == 0 {
		return fmt.Errorf("section %q has no layers: %w", f.Title, ErrEmpty)
	}
	total := 0.0
	for i, l := range f.Layers {
		if !finite(l.Thickness) || l.Thickness <= 0 {
			return fmt.Errorf("section %q: thickness of layer %d, %q, is %v, want one above 0", f.Title, i+1, l.Name, l.Thickness)
		}
		total += l.Thickness
	}
	if !finite(total) {
		return fmt.Errorf("section %q: its layers together are %v thick", f.Title, total)
	}
	for _, d := range f.depths() {
		if !finite(d) || d < -1e-9*total || d > total*(1+1e-9) {
			return fmt.Errorf("section %q: depth %v lies outside of its layers, which are %v thick", f.Title, d, total)
		}
	}
	if err := checkMarks(f.Other.Temperature, f.Other.DewPoint, f.Room.Temperature, f.Room.DewPoint); err != nil {
		return fmt.Errorf("section %q: %w", f.Title, err)
	}
	for i := 1; i < len(f.Planes); i++ {
		if f.Planes[i].Depth < f.Planes[i-1].Depth {
			return fmt.Errorf("section %q: plane %d lies before plane %d", f.Title, i+1, i)
		}
	}
	return nil
}

func (f Section) depths() []float64 {
	var list []float64
	for _, p := range f.Planes {
		list = append(list, p.Depth)
	}
	for _, w := range f.Wet {
		list = append(list, w.Depth)
	}
	return list
}

// thinnest is the least width of a layer on the sheet.
const thinnest = 4.0

// cut is the scale of a section: where its layers begin on the sheet.
type cut struct {
	edges, depths []float64 // one more than layers
	thick         []int     // layers drawn thicker than to scale
}

// layout puts layers to scale into w units from x. Those that would be too thin
// to see get the least width, the others share the rest.
func (f Section) layout(x, w float64) cut {
	thin := make([]bool, len(f.Layers))
	least := min(thinnest, w/float64(len(f.Layers)))
	var scale float64
	for again := true; again; {
		rest, left := 0.0, w
		for i, l := range f.Layers {
			if thin[i] {
				left -= least
				continue
			}
			rest += l.Thickness
		}
		scale, again = left/rest, false
		for i, l := range f.Layers {
			if !thin[i] && l.Thickness*scale < least*(1-1e-9) {
				thin[i], again = true, true
			}
		}
	}
	c := cut{edges: []float64{x}, depths: []float64{0}}
	depth := 0.0
	for i, l := range f.Layers {
		step := l.Thickness * scale
		if thin[i] {
			step = least
			c.thick = append(c.thick, i)
		}
		x, depth = x+step, depth+l.Thickness
		c.edges, c.depths = append(c.edges, x), append(c.depths, depth)
	}
	return c
}

// x is where a depth stands on the sheet.
func (c cut) x(depth float64) float64 {
	last := len(c.edges) - 2
	for i := range last + 1 {
		if depth <= c.depths[i+1] || i == last {
			share := (depth - c.depths[i]) / (c.depths[i+1] - c.depths[i])
			return c.edges[i] + min(max(share, 0), 1)*(c.edges[i+1]-c.edges[i])
		}
	}
	return c.edges[0]
}

// scale is the range of the vertical axis; empty when nothing is known.
func (f Section) scale() span {
	s := nothing()
	for _, p := range f.Planes {
		s = s.with(p.Temperature, p.DewPoint)
	}
	for _, m := range []Mark{f.Other.Temperature, f.Other.DewPoint, f.Room.Temperature, f.Room.DewPoint} {
		if m.there() {
			s = s.with(m.At)
		}
	}
	return s.least(4).padded(0.12)
}

// curves returns temperature and dew point from the air on the other side to the
// air in the room, over where they stand on the sheet.
func (f Section) curves(c cut, left, right float64) (temperature, dewPoint []Point) {
	const film = 16 // units from the surface to where the air is itself
	n := len(c.edges) - 1
	air := func(a AirSide, far, near float64) {
		for _, x := range []float64{far, near} {
			temperature = append(temperature, Point{x, a.Temperature.value()})
			dewPoint = append(dewPoint, Point{x, a.DewPoint.value()})
		}
	}
	air(f.Other, left, c.edges[0]-film)
	for _, p := range f.Planes {
		temperature = append(temperature, Point{c.x(p.Depth), p.Temperature})
		dewPoint = append(dewPoint, Point{c.x(p.Depth), p.DewPoint})
	}
	if len(f.Planes) == 0 {
		gap := Point{c.edges[0], math.NaN()}
		temperature, dewPoint = append(temperature, gap), append(dewPoint, gap)
	}
	air(f.Room, c.edges[n]+film, right)
	return temperature, dewPoint
}

// value is where a mark stands; NaN if it is not there.
func (m Mark) value() float64 {
	if !m.there() {
		return math.NaN()
	}
	return m.At
}

// letter names a wet plane: A, B, C.
func letter(i int) string { return string(rune('A' + i%26)) }

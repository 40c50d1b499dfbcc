package envelope

import (
	"fmt"
	"strings"

	"proveout/checks/units"
)

// LayerKind says where a layer's thermal resistance comes from.
type LayerKind int

const (
	// Solid layers have a conductivity and a thickness, or a rated resistance.
	Solid LayerKind = iota
	// AirSpace is an unventilated air layer: its resistance depends on
	// thickness and direction of heat. A layer well ventilated with outdoor
	// air is left out, with everything outside it.
	AirSpace
	// Film is a membrane or coat of paint: no thermal resistance.
	Film
)

// Layer is one layer of an assembly.
type Layer struct {
	Name      string
	Kind      LayerKind
	Thickness units.Length

	// Conductivity gives R = Thickness/Conductivity and wins over Resistance.
	Conductivity units.Conductivity
	// Resistance is the rated resistance at Thickness, for batts and others
	// that are sold by it.
	Resistance units.ThermalResistance

	// Vapor is the layer's resistance to diffusion; the zero value is unknown.
	Vapor Vapor
	// Storage says what the layer does with condensate. The zero value takes
	// none up, which is the careful assumption.
	Storage Storage

	// Beside lists what shares this layer's plane: framing between the
	// insulation, mortar between the blocks. The layer itself takes the rest.
	Beside []Section

	Source, VaporSource string
}

// Section is another material in the plane of a layer.
type Section struct {
	// Fraction of the face's area, above 0 and below 1. Studs and plates of
	// ordinary framing take about 0.25 (ASHRAE prints 0.23 and 0.25 by
	// edition, from memory); ORNL found 0.15 to 0.40 in built houses.
	Fraction float64
	Layer    Layer
	// Member names a piece that runs straight on through several layers, such
	// as one stud beside foam and air space. Sections of different layers
	// without a member are taken to cross at random.
	Member string
}

// DefaultFramingFraction of a wood-framed wall; common practice.
const DefaultFramingFraction = 0.25

// WithFraming returns the layer with a share of its plane taken by framing of
// the same thickness.
func (l Layer) WithFraming(fraction float64, framing Layer) Layer {
	framing.Thickness = l.Thickness
	l.Beside = append(l.Beside[:len(l.Beside):len(l.Beside)], Section{Fraction: fraction, Layer: framing})
	return l
}

// metalConductivity separates metals (stainless steel 15–17 W/(m·K)) from
// stone (up to 3.5); our own line, common practice.
const metalConductivity = 10 // W/(m·K)

// resistance returns the layer's own resistance, without what is beside it.
func (l Layer) resistance(direction Direction) (units.ThermalResistance, error) {
	switch {
	case l.Kind == Film:
		return 0, nil
	case l.Kind == AirSpace:
		r, err := AirLayerResistance(l.Thickness, direction)
		if err != nil {
			return 0, fmt.Errorf("layer %q: %w", l.Name, err)
		}
		return r, nil
	case l.Kind != Solid:
		return 0, fmt.Errorf("layer %q: kind %d is unknown; use Solid, AirSpace or Film", l.Name, int(l.Kind))
	case l.Conductivity != 0:
		return l.throughThickness(l.Thickness)
	case l.Resistance > 0 && l.Resistance <= 100:
		return l.Resistance, nil
	case l.Resistance == 0:
		return 0, fmt.Errorf("layer %q has neither conductivity nor resistance; give one, or make it a film", l.Name)
	}
	return 0, fmt.Errorf("layer %q: resistance %v m²·K/W is outside 0 to 100", l.Name, float64(l.Resistance))
}

func (l Layer) throughThickness(thickness units.Length) (units.ThermalResistance, error) {
	if !(l.Conductivity >= 0.001 && l.Conductivity <= 500) {
		return 0, fmt.Errorf("layer %q: conductivity %v W/(m·K) is outside 0.001 to 500", l.Name, float64(l.Conductivity))
	}
	if !(thickness > 0 && thickness <= 5) {
		return 0, fmt.Errorf("layer %q: thickness %v m is outside 0 to 5; write it in millimeters or inches", l.Name, float64(thickness))
	}
	return units.ThermalResistance(float64(thickness) / float64(l.Conductivity)), nil
}

// part is one material in a plane, with its share of the area.
type part struct {
	name     string
	fraction float64
	r        units.ThermalResistance
}

// plane resolves a layer and what is beside it.
func (l Layer) plane(direction Direction) ([]part, error) {
	own, err := l.resistance(direction)
	if err != nil {
		return nil, err
	}
	parts := []part{{name: l.Name, r: own}}
	rest := 1.0
	for _, s := range l.Beside {
		if !(s.Fraction > 0 && s.Fraction < 1) {
			return nil, fmt.Errorf("%q beside %q: fraction %v of the area is outside 0 to 1; write 0.25 for a quarter", s.Layer.Name, l.Name, s.Fraction)
		}
		if len(s.Layer.Beside) > 0 {
			return nil, fmt.Errorf("%q beside %q has sections of its own; list them all beside %q", s.Layer.Name, l.Name, l.Name)
		}
		if s.Layer.Conductivity >= metalConductivity {
			return nil, fmt.Errorf("%q beside %q is metal and bridges it, which the combined method does not cover (ISO 6946:2017, 6.7.2.1, from memory); take a tested or modified-zone value for the framed layer", s.Layer.Name, l.Name)
		}
		r, err := s.Layer.resistance(direction)
		if err != nil {
			return nil, err
		}
		parts = append(parts, part{name: s.Layer.Name, fraction: s.Fraction, r: r})
		rest -= s.Fraction
	}
	if rest <= 0 {
		return nil, fmt.Errorf("what is beside %q takes %.3g of the area; less than 1 in all", l.Name, 1-rest)
	}
	parts[0].fraction = rest
	return parts, nil
}

// members names the pieces beside the layer that run on, or "" if none do.
func (l Layer) members() string {
	var key strings.Builder
	running := false
	for _, s := range l.Beside {
		running = running || s.Member != ""
		key.WriteString(s.Member + "|")
	}
	if !running {
		return ""
	}
	return key.String()
}

package envelope

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Mark says how a figure was looked up.
type Mark string

// The marks a figure can carry.
const (
	Read           Mark = "read"
	Memory         Mark = "memory"
	CommonPractice Mark = "common practice"
	Weak           Mark = "weak" // trade literature only
	DataSheet      Mark = "data sheet"
)

// Reference is where a figure comes from and how it was looked up.
type Reference struct {
	Text string
	Mark Mark
}

func (r Reference) String() string {
	switch r.Mark {
	case Memory:
		return r.Text + " (from memory)"
	case Weak:
		return r.Text + " (weak source)"
	}
	return r.Text
}

// Material is what a layer can be made of. With a conductivity any thickness
// can be had; with a resistance Thickness is the one it is rated at; with
// neither it is a film. The vapor value may be unknown.
type Material struct {
	Name         string
	Aliases      []string
	Thickness    units.Length // usual, or rated; 0 if it has none
	Conductivity units.Conductivity
	Resistance   units.ThermalResistance
	Vapor        Vapor
	Storage      Storage
	Thermal      Reference
	VaporSource  Reference
	Note         string
	Product      bool // a company's own product with its data sheet
}

// Layer returns a layer of the material. Thickness 0 takes the usual one. A
// material of rated resistance in less than its rated thickness is derated in
// proportion (common practice); in more it keeps its rating.
func (m Material) Layer(thickness units.Length) (Layer, error) {
	if thickness == 0 {
		thickness = m.Thickness
	}
	l := Layer{
		Name: m.Name, Thickness: thickness, Conductivity: m.Conductivity, Resistance: m.Resistance,
		Vapor: m.Vapor, Storage: m.Storage, Source: m.Thermal.String(), VaporSource: m.VaporSource.String(),
	}
	switch {
	case m.Conductivity == 0 && m.Resistance == 0:
		l.Kind = Film
		return l, nil
	case m.Conductivity == 0:
		return m.ratedLayer(l)
	case !(thickness > 0 && thickness <= 5):
		return Layer{}, fmt.Errorf("%q needs a thickness from 0 to 5 m; write it in millimeters or inches", m.Name)
	}
	return l, nil
}

func (m Material) ratedLayer(l Layer) (Layer, error) {
	if m.Thickness == 0 {
		return l, nil // an air space stated by its resistance
	}
	if !(l.Thickness > 0 && l.Thickness <= 5) {
		return Layer{}, fmt.Errorf("%q needs a thickness from 0 to 5 m; write it in millimeters or inches", m.Name)
	}
	if l.Thickness < m.Thickness {
		l.Resistance *= units.ThermalResistance(l.Thickness / m.Thickness)
		l.Source += "; compressed from " + showLength(m.Thickness) + ", derated in proportion (common practice)"
	}
	return l, nil
}

// check reports everything wrong with a material.
func (m Material) check() error {
	var problems []error
	add := func(format string, args ...any) {
		problems = append(problems, fmt.Errorf("material %q: "+format, append([]any{m.Name}, args...)...))
	}
	if m.Name == "" {
		add("it has no name; give it the one on the data sheet")
	}
	if !(m.Conductivity == 0 || m.Conductivity >= 0.001 && m.Conductivity <= 500) {
		add("conductivity %v W/(m·K) is outside 0.001 to 500", float64(m.Conductivity))
	}
	if !(m.Resistance >= 0 && m.Resistance <= 100) {
		add("resistance %v m²·K/W is outside 0 to 100", float64(m.Resistance))
	}
	if m.Conductivity != 0 && m.Resistance != 0 {
		add("it has both a conductivity and a resistance; give the one on the data sheet")
	}
	if !(m.Thickness >= 0 && m.Thickness <= 5) {
		add("thickness %v m is outside 0 to 5", float64(m.Thickness))
	}
	if !(m.Storage.Density >= 0 && m.Storage.Density <= 3000) {
		add("density %v kg/m³ is outside 0 to 3000", m.Storage.Density)
	}
	if m.Thermal.Text == "" {
		add("it has no source; name the data sheet and its date")
	}
	if m.Vapor.Known() {
		if m.VaporSource.Text == "" {
			add("its vapor value has no source; name the data sheet and its date")
		}
		if err := m.Vapor.check(1); err != nil {
			add("%w", err)
		}
	}
	return errors.Join(problems...)
}

// pairs turns humidity points given in one measure into another.
func pairs(points []VaporPoint, convert func(float64) float64) []VaporPoint {
	out := make([]VaporPoint, len(points))
	for i, p := range points {
		out[i] = VaporPoint{p.RH, convert(p.Value)}
	}
	return out
}

package envelope

import (
	"fmt"
	"slices"

	"proveout/checks/units"
)

// Measurement is an insulation depth as found on site: the worst point of the
// layer, not the mean.
type Measurement struct {
	Layer string // name of the layer in the assembly
	Depth units.Length
	// AirBehind credits the rest of the bay on the room side as an unventilated
	// air layer. Without it the rest counts for nothing, which is the careful
	// assumption.
	AirBehind bool
}

// InstalledLayer is the resistance of an insulation layer alone, as installed.
type InstalledLayer struct {
	Name       string
	Planned    units.ThermalResistance
	Depth      units.Length
	Resistance units.ThermalResistance
	Compressed bool // a rated batt measured thinner than it is rated at
	Notes      []string
	Steps      []Step
}

// AsBuilt keeps two figures apart that are easily mixed up: the resistance of
// the installed insulation, and that of the whole assembly with framing and
// films.
type AsBuilt struct {
	Installed units.ThermalResistance // sum of the measured layers
	Whole     AssemblyResistance
	Layers    []InstalledLayer
	Assembly  Assembly // with the measured depths
	Steps     []Step
}

const compressionNote = "a batt compressed below its rated thickness is derated in proportion, the most it can lose; common practice, take the maker's compression table if there is one"

// InstalledResistance returns the resistance of the layer alone at a measured
// depth. Foam and board: depth over conductivity. A batt with a rated
// resistance: the rating at or above its rated thickness, in proportion below
// it with Compressed set (common practice: compression raises the density, so
// the loss is at most proportional).
func (l Layer) InstalledResistance(depth units.Length) (InstalledLayer, error) {
	if !(depth > 0 && depth <= 2) {
		return InstalledLayer{}, fmt.Errorf("layer %q: measured depth %v m is outside 0 to 2; write it in millimeters or inches", l.Name, float64(depth))
	}
	if l.Kind != Solid {
		return InstalledLayer{}, fmt.Errorf("layer %q is an air space or a film; measure the depth of insulation", l.Name)
	}
	planned, err := l.resistance(Horizontal)
	if err != nil {
		return InstalledLayer{}, err
	}
	in := InstalledLayer{Name: l.Name, Planned: planned, Depth: depth}
	if l.Conductivity != 0 {
		in.Resistance, err = l.throughThickness(depth)
		formula := fmt.Sprintf("R = d/λ = %.4f m / %.4g W/(m·K)", float64(depth), float64(l.Conductivity))
		in.Steps = []Step{{Name: l.Name + " as installed", Formula: formula, Value: showR(in.Resistance), Source: l.Source}}
		return in, err
	}
	return in.rated(l)
}

// rated derates a batt.
func (in InstalledLayer) rated(l Layer) (InstalledLayer, error) {
	if l.Thickness <= 0 {
		return InstalledLayer{}, fmt.Errorf("layer %q has a rated resistance but no thickness it is rated at; give it from the data sheet", l.Name)
	}
	share := min(1, float64(in.Depth/l.Thickness))
	if share > 1-1e-9 {
		share = 1
	}
	in.Resistance = l.Resistance * units.ThermalResistance(share)
	in.Compressed = share < 1
	if in.Compressed {
		in.Notes = append(in.Notes, compressionNote)
	}
	formula := fmt.Sprintf("rated R × min(1, measured/rated thickness) = %.4f × min(1, %.4f/%.4f)", float64(l.Resistance), float64(in.Depth), float64(l.Thickness))
	in.Steps = []Step{{Name: l.Name + " as installed", Formula: formula, Value: showR(in.Resistance), Source: "common practice"}}
	return in, nil
}

// AsBuilt puts measured depths into the assembly and returns the installed
// resistance of those layers and, apart from it, the resistance of the whole
// assembly. Insulation deeper than the framing beside it counts up to the
// framing's depth.
func (a Assembly) AsBuilt(films Films, measured ...Measurement) (AsBuilt, error) {
	if len(measured) == 0 {
		return AsBuilt{}, fmt.Errorf("no measured depth for assembly %q; measure at least one insulation layer", a.Name)
	}
	b := AsBuilt{Assembly: Assembly{Name: a.Name, Layers: slices.Clone(a.Layers)}}
	for _, m := range measured {
		if err := b.measure(m); err != nil {
			return AsBuilt{}, err
		}
	}
	whole, err := b.Assembly.Resistance(films)
	if err != nil {
		return AsBuilt{}, err
	}
	b.Whole = whole
	b.Steps = append(b.Steps, Step{Name: "installed insulation", Formula: "sum of the measured layers, without framing and films", Value: showR(b.Installed), Source: "common practice"})
	b.Steps = append(b.Steps, whole.Steps...)
	return b, nil
}

// measure replaces one layer by what was found.
func (b *AsBuilt) measure(m Measurement) error {
	i, err := b.Assembly.index(m.Layer)
	if err != nil {
		return err
	}
	l := b.Assembly.Layers[i]
	depth := m.Depth
	deeper := len(l.Beside) > 0 && depth > l.bay()
	if deeper {
		depth = l.bay()
	}
	in, err := l.InstalledResistance(depth)
	if err != nil {
		return err
	}
	if deeper {
		in.Depth = m.Depth
		in.Notes = append(in.Notes, "deeper than the framing; counted up to "+showLength(depth))
	}
	b.Layers = append(b.Layers, in)
	b.Installed += in.Resistance
	b.Steps = append(b.Steps, in.Steps...)
	found, err := l.atDepth(depth, in.Resistance, m.AirBehind)
	if err != nil {
		return err
	}
	b.Assembly.Layers = slices.Replace(b.Assembly.Layers, i, i+1, found...)
	return nil
}

// bay is the depth of the space the layer lies in: that of the framing beside
// it, or its own where there is none.
func (l Layer) bay() units.Length {
	var depth units.Length
	for _, s := range l.Beside {
		depth = max(depth, s.Layer.Thickness)
	}
	if depth == 0 {
		return l.Thickness
	}
	return depth
}

// index finds the one layer of that name.
func (a Assembly) index(name string) (int, error) {
	found := -1
	var names []string
	for i, l := range a.Layers {
		names = append(names, fmt.Sprintf("%q", l.Name))
		if l.Name != name {
			continue
		}
		if found >= 0 {
			return 0, fmt.Errorf("assembly %q has two layers %q; name them apart", a.Name, name)
		}
		found = i
	}
	if found < 0 {
		return 0, fmt.Errorf("no layer %q in assembly %q; it has %v", name, a.Name, names)
	}
	return found, nil
}

// atDepth returns the layer at its measured depth. A bay that is not full keeps
// its framing at full depth; with air behind, layer and framing are split at
// the face of the insulation.
func (l Layer) atDepth(depth units.Length, r units.ThermalResistance, air bool) ([]Layer, error) {
	void := l.bay() - depth
	planned := l
	l.Vapor = l.Vapor.thinned(depth, l.Thickness)
	l.Resistance, l.Thickness = r, depth
	if !air || void <= 0 {
		return []Layer{l}, nil
	}
	behind := Layer{Name: "air behind " + l.Name, Kind: AirSpace, Thickness: void, Vapor: Mu(1)}
	l.Beside = nil
	for i, s := range planned.Beside {
		front, back, err := s.split(depth, void, fmt.Sprintf("%s beside %s, %d", s.Layer.Name, l.Name, i+1))
		if err != nil {
			return nil, err
		}
		l.Beside = append(l.Beside, front)
		behind.Beside = append(behind.Beside, back)
	}
	return []Layer{l, behind}, nil
}

// split cuts a section in two along its depth, held together by a member.
func (s Section) split(front, back units.Length, member string) (Section, Section, error) {
	if s.Layer.Conductivity == 0 {
		return s, s, fmt.Errorf("%q has no conductivity, so it cannot be counted along a void; give one, or leave the air out", s.Layer.Name)
	}
	if s.Member == "" {
		s.Member = member
	}
	f, b := s, s
	f.Layer.Thickness, b.Layer.Thickness = front, back
	return f, b, nil
}

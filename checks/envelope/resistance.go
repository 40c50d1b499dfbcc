package envelope

import (
	"errors"
	"fmt"
	"strings"

	"proveout/checks/units"
)

// AssemblyResistance is the thermal resistance of a whole assembly, air to air.
type AssemblyResistance struct {
	Upper units.ThermalResistance // R'_T, parallel path
	Lower units.ThermalResistance // R''_T, isothermal planes
	Total units.ThermalResistance // R_T, combined method
	// ErrorBound is the greatest relative error of Total, (R'_T − R''_T)/2R_T.
	ErrorBound    units.Percent
	Transmittance units.Transmittance // 1/R_T, before corrections
	Films         Films
	Paths         []Path
	Planes        []PlaneResistance
	Steps         []Step
}

// PlaneResistance is the mean resistance of one layer with what is beside it.
type PlaneResistance struct {
	Name       string
	Resistance units.ThermalResistance
	parts      []part
}

const combinedSource = "ISO 6946:2017, 6.7.2 (clause number from memory)"

// Resistance returns the thermal resistance of the whole assembly by the
// combined method of ISO 6946:2017, 6.7.2. It is an error when R'_T exceeds
// 1.5 R”_T, when metal bridges a layer, or when a layer's value is missing:
// then there is no number, but ParallelPath and IsothermalPlanes can still be
// asked for.
func (a Assembly) Resistance(films Films) (AssemblyResistance, error) {
	planes, err := a.planes(films)
	if err != nil {
		return AssemblyResistance{}, err
	}
	paths, err := a.paths(planes, films)
	if err != nil {
		return AssemblyResistance{}, err
	}
	r := AssemblyResistance{Upper: parallel(paths), Lower: films.OtherSide + films.Room, Films: films, Paths: paths}
	for i, parts := range planes {
		mean := planeResistance(parts)
		r.Planes = append(r.Planes, PlaneResistance{a.Layers[i].Name, mean, parts})
		r.Lower += mean
	}
	if r.Lower <= 0 {
		return AssemblyResistance{}, errors.New("the assembly has no resistance at all; check its layers and films")
	}
	if ratio := float64(r.Upper / r.Lower); ratio > 1.5 {
		return AssemblyResistance{}, fmt.Errorf("upper limit %s is %.2f times the lower limit %s; above 1.5 the combined method does not hold (ISO 6946:2017, 6.7.2.1, from memory), take a tested or numerically computed value", showR(r.Upper), ratio, showR(r.Lower))
	}
	r.Total = (r.Upper + r.Lower) / 2
	r.ErrorBound = units.Percent(100 * (r.Upper - r.Lower) / (2 * r.Total))
	r.Transmittance = units.Transmittance(1 / r.Total)
	r.Steps = r.steps(a)
	return r, nil
}

// Plane returns the mean resistance of the named layer with what is beside it.
func (r AssemblyResistance) Plane(name string) (units.ThermalResistance, error) {
	for _, p := range r.Planes {
		if p.Name == name {
			return p.Resistance, nil
		}
	}
	return 0, fmt.Errorf("no layer %q in the assembly; it has %s", name, planeNames(r.Planes))
}

func planeNames(planes []PlaneResistance) string {
	names := make([]string, len(planes))
	for i, p := range planes {
		names[i] = fmt.Sprintf("%q", p.Name)
	}
	return strings.Join(names, ", ")
}

func (r AssemblyResistance) steps(a Assembly) []Step {
	steps := []Step{{Name: "surface on the other side", Formula: "heat " + r.Films.Direction.String(), Value: showR(r.Films.OtherSide), Source: r.Films.Source}}
	for i, p := range r.Planes {
		steps = append(steps, layerSteps(a.Layers[i], p.parts, r.Films.Direction)...)
	}
	steps = append(steps, Step{Name: "surface in the room", Formula: "heat " + r.Films.Direction.String(), Value: showR(r.Films.Room), Source: r.Films.Source})
	var sum []string
	for _, p := range r.Paths {
		sum = append(sum, fmt.Sprintf("%.4g/%.4f", p.Fraction, float64(p.Resistance)))
	}
	lower := []string{fmt.Sprintf("%.4f", float64(r.Films.OtherSide))}
	for _, p := range r.Planes {
		lower = append(lower, fmt.Sprintf("%.4f", float64(p.Resistance)))
	}
	lower = append(lower, fmt.Sprintf("%.4f", float64(r.Films.Room)))
	return append(steps,
		Step{Name: "upper limit (parallel path)", Formula: "1/R'T = " + strings.Join(sum, " + "), Value: showR(r.Upper), Source: combinedSource},
		Step{Name: "lower limit (isothermal planes)", Formula: "R''T = " + strings.Join(lower, " + "), Value: showR(r.Lower), Source: combinedSource},
		Step{Name: "whole assembly", Formula: fmt.Sprintf("RT = (R'T + R''T)/2 = (%.4f + %.4f)/2", float64(r.Upper), float64(r.Lower)), Value: showR(r.Total), Source: combinedSource},
		Step{Name: "greatest error", Formula: "(R'T − R''T)/(2 RT)", Value: fmt.Sprintf("±%.1f %%", float64(r.ErrorBound)), Source: combinedSource},
		Step{Name: "transmittance", Formula: "U = 1/RT", Value: showU(r.Transmittance), Source: combinedSource},
	)
}

// layerSteps shows each material of a plane.
func layerSteps(l Layer, parts []part, direction Direction) []Step {
	materials := []Layer{l}
	for _, s := range l.Beside {
		materials = append(materials, s.Layer)
	}
	var steps []Step
	for i, m := range materials {
		name := m.Name
		if len(parts) > 1 {
			name = fmt.Sprintf("%s, %.3g %% of the area", m.Name, 100*parts[i].fraction)
		}
		source := m.Source
		if m.Kind == AirSpace {
			source = airLayerSource
		}
		steps = append(steps, Step{Name: name, Formula: m.formula(direction), Value: showR(parts[i].r), Source: source})
	}
	return steps
}

func (l Layer) formula(direction Direction) string {
	switch {
	case l.Kind == Film:
		return "film, no thermal resistance"
	case l.Kind == AirSpace:
		return fmt.Sprintf("air layer of %s, heat %s", showLength(l.Thickness), direction)
	case l.Conductivity != 0:
		return fmt.Sprintf("R = d/λ = %.4f m / %.4g W/(m·K)", float64(l.Thickness), float64(l.Conductivity))
	case l.Thickness > 0:
		return "rated R at " + showLength(l.Thickness)
	}
	return "R as stated"
}

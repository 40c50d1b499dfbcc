package envelope

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
)

// Assembly is the build-up of one face, layers from the other side inwards.
type Assembly struct {
	Name   string
	Layers []Layer
}

// Path is one straight way through an assembly.
type Path struct {
	Name       string  // the materials chosen where a plane has several
	Fraction   float64 // share of the area
	Resistance units.ThermalResistance
	picks      []int // which part of each plane
}

// maxPaths keeps a mistyped assembly from growing without bound.
const maxPaths = 4096

func (a Assembly) planes(films Films) ([][]part, error) {
	if err := films.check(); err != nil {
		return nil, err
	}
	if len(a.Layers) == 0 {
		return nil, errors.New("the assembly has no layers; list them from the other side inwards")
	}
	planes := make([][]part, len(a.Layers))
	for i, l := range a.Layers {
		parts, err := l.plane(films.Direction)
		if err != nil {
			return nil, err
		}
		planes[i] = parts
	}
	return planes, nil
}

// paths lists every straight-through combination with films included. Members
// that run on through several layers are picked together.
func (a Assembly) paths(planes [][]part, films Films) ([]Path, error) {
	paths := []Path{{Fraction: 1, Resistance: films.OtherSide + films.Room}}
	first := map[string]int{}
	for i, parts := range planes {
		key := a.Layers[i].members()
		earlier, running := first[key]
		running = running && key != ""
		if running && !sameFractions(planes[earlier], parts) {
			return nil, fmt.Errorf("layers %q and %q share the member %q but not its fraction; give both the same", a.Layers[earlier].Name, a.Layers[i].Name, key)
		}
		if !running {
			first[key] = i
		}
		if !running && len(paths)*len(parts) > maxPaths {
			return nil, fmt.Errorf("more than %d ways through the assembly; name the members that run on", maxPaths)
		}
		paths = through(paths, parts, earlier, running)
	}
	return paths, nil
}

// through extends each path by one plane.
func through(paths []Path, parts []part, earlier int, running bool) []Path {
	next := make([]Path, 0, len(paths)*len(parts))
	for _, p := range paths {
		for pick, x := range parts {
			if running && p.picks[earlier] != pick {
				continue
			}
			q := Path{Name: p.Name, Fraction: p.Fraction, Resistance: p.Resistance + x.r,
				picks: append(slices.Clone(p.picks), pick)}
			if !running {
				q.Fraction *= x.fraction
			}
			if len(parts) > 1 && !running {
				q.Name = strings.TrimPrefix(p.Name+" + "+x.name, " + ")
			}
			next = append(next, q)
		}
	}
	return next
}

func sameFractions(a, b []part) bool {
	return slices.EqualFunc(a, b, func(x, y part) bool {
		return x.fraction-y.fraction < 1e-9 && y.fraction-x.fraction < 1e-9
	})
}

// ParallelPath returns the resistance of the assembly by area-weighted
// transmittance of its straight paths, films included: the upper limit R'_T of
// ISO 6946, and ASHRAE's usual figure for wood framing (ASHRAE Fundamentals
// 2017 ch. 27, from memory).
func (a Assembly) ParallelPath(films Films) (units.ThermalResistance, error) {
	planes, err := a.planes(films)
	if err != nil {
		return 0, err
	}
	paths, err := a.paths(planes, films)
	if err != nil {
		return 0, err
	}
	return parallel(paths), nil
}

// IsothermalPlanes returns the resistance of the assembly with each plane at
// one temperature, films included: the lower limit R”_T of ISO 6946, and
// ASHRAE's figure for masonry with cores (ASHRAE Fundamentals 2017 ch. 27, from
// memory).
func (a Assembly) IsothermalPlanes(films Films) (units.ThermalResistance, error) {
	planes, err := a.planes(films)
	if err != nil {
		return 0, err
	}
	total := films.OtherSide + films.Room
	for _, parts := range planes {
		total += planeResistance(parts)
	}
	return total, nil
}

// parallel is 1/R'_T = Σ f/R_T.
func parallel(paths []Path) units.ThermalResistance {
	var u float64
	for _, p := range paths {
		u += p.Fraction / float64(p.Resistance)
	}
	return units.ThermalResistance(1 / u)
}

// planeResistance is 1/R_j = Σ f/R_jk; a film in the plane shorts it.
func planeResistance(parts []part) units.ThermalResistance {
	if len(parts) == 1 {
		return parts[0].r
	}
	var u float64
	for _, x := range parts {
		u += x.fraction / float64(x.r)
	}
	return units.ThermalResistance(1 / u)
}

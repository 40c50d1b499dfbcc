package envelope

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Workspace holds the memory of vapor calculations so that many walls and years
// can be computed without allocating. The zero value is ready. Results of its
// methods share its memory and hold until the next call; the functions Profile
// and Year use a workspace of their own. It is not for concurrent use.
type Workspace struct {
	assembly Assembly
	varies   bool

	// Per slab, n of them; nodes 0…n lie between and around them.
	places []Place // per node
	layers []int
	r, sd  []float64
	θ      []float64 // °C, per node of the month at hand
	psat   []float64 // Pa, per node of the month at hand

	// Sites are the nodes with vapor resistance between them: nodes at the same
	// s_d share one, and its saturation pressure is that of the coldest.
	site  []int // per node
	x     []float64
	limit []float64 // least psat of the site
	p     []float64
	rate  []float64
	mass  []float64
	hull  []int

	year yearSpace
}

// greatestSlab is the resistance above which a layer is divided, m²·K/W; ISO
// 13788:2012, 6.3 (from memory).
const greatestSlab = 0.25

const maxNodes = 2000

// sized returns s with n zeroed elements, reusing its memory.
func sized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// load divides an assembly into slabs of at most 0.25 m²·K/W.
func (w *Workspace) load(a Assembly) error {
	if len(a.Layers) == 0 {
		return errors.New("the assembly has no layers; list them from the other side inwards")
	}
	w.assembly, w.varies = a, false
	w.places = append(w.places[:0], Place{Parts: 1})
	w.layers, w.r, w.sd = w.layers[:0], w.r[:0], w.sd[:0]
	for i := range a.Layers {
		l := &a.Layers[i]
		if err := l.checkVapor(); err != nil {
			return err
		}
		r, err := l.resistance(Horizontal)
		if err != nil {
			return err
		}
		w.varies = w.varies || l.Vapor.Varies()
		parts := max(1, int(math.Ceil(float64(r)/greatestSlab-slack)))
		if len(w.r)+parts > maxNodes {
			return fmt.Errorf("layer %q makes more than %d slabs; check its resistance of %s", l.Name, maxNodes, showR(r))
		}
		sd := float64(l.Vapor.sd(l.Thickness, 50)) / float64(parts)
		for part := range parts {
			w.places = append(w.places, Place{i, part + 1, parts})
			w.layers = append(w.layers, i)
			w.r = append(w.r, float64(r)/float64(parts))
			w.sd = append(w.sd, sd)
		}
	}
	return w.makeSites()
}

// checkVapor wants a known value, and none of 0 where it varies: the planes
// must stay apart at every humidity.
func (l *Layer) checkVapor() error {
	if err := l.Vapor.check(l.Thickness); err != nil {
		return fmt.Errorf("layer %q: %w", l.Name, err)
	}
	for _, p := range l.Vapor.points {
		if l.Vapor.Varies() && p.Value < 1e-6 {
			return fmt.Errorf("layer %q: a vapor resistance that varies must stay above 1e-6, not %v", l.Name, p.Value)
		}
	}
	return nil
}

// makeSites numbers the sites; they stay when resistances vary, see checkVapor.
func (w *Workspace) makeSites() error {
	n := len(w.r)
	w.site, w.x = sized(w.site, n+1), append(w.x[:0], 0)
	for j, sd := range w.sd {
		if x := w.x[len(w.x)-1]; x+sd > x {
			w.x = append(w.x, x+sd)
		}
		w.site[j+1] = len(w.x) - 1
	}
	if len(w.x) < 2 {
		return errors.New("no layer of the assembly resists vapor; give the permeance, sd or μ of each")
	}
	m := len(w.x)
	w.θ, w.psat = sized(w.θ, n+1), sized(w.psat, n+1)
	w.limit, w.p, w.rate, w.mass = sized(w.limit, m), sized(w.p, m), sized(w.rate, m), sized(w.mass, m)
	return nil
}

// heat sets the temperatures and saturation pressures of all nodes and returns
// the resistance of the path and the heat flux from the other side to the room.
func (w *Workspace) heat(films Films, other, room Air) (total, flux float64, err error) {
	if err := errors.Join(films.check(), other.check("other side"), room.check("room side")); err != nil {
		return 0, 0, err
	}
	if err := w.airLayers(films.Direction); err != nil {
		return 0, 0, err
	}
	total = float64(films.OtherSide + films.Room)
	for _, r := range w.r {
		total += r
	}
	if total <= 0 {
		return 0, 0, errors.New("the assembly has no resistance at all; check its layers and films")
	}
	flux = float64(other.Temperature-room.Temperature) / total
	θ := float64(other.Temperature) - flux*float64(films.OtherSide)
	for j := range w.θ {
		if j > 0 {
			θ -= flux * w.r[j-1]
		}
		w.θ[j] = θ
		sat, err := humidair.ISOSaturationPressure(units.Temperature(θ))
		if err != nil {
			return 0, 0, err
		}
		w.psat[j] = float64(sat)
	}
	w.setLimits()
	return total, flux, nil
}

// airLayers sets the resistance of air layers for the direction of heat.
func (w *Workspace) airLayers(direction Direction) error {
	for j, i := range w.layers {
		l := &w.assembly.Layers[i]
		if l.Kind != AirSpace {
			continue
		}
		r, err := AirLayerResistance(l.Thickness, direction)
		if err != nil {
			return fmt.Errorf("layer %q: %w", l.Name, err)
		}
		w.r[j] = float64(r)
	}
	return nil
}

func (w *Workspace) setLimits() {
	for s := range w.limit {
		w.limit[s] = math.Inf(1)
	}
	for j, sat := range w.psat {
		w.limit[w.site[j]] = min(w.limit[w.site[j]], sat)
	}
}

package proof

import (
	"fmt"
	"math"
	"slices"

	"proveout/checks/units"
)

// move is one source of uncertainty that is not scatter: what one standard
// uncertainty of it does to the reduction.
type move struct {
	name string
	by   func(*model)
	part float64 // of a standard uncertainty that the move stands for
}

// moved returns the model with one value moved.
func (m *model) moved(x move) *model {
	c := *m
	c.conductances = slices.Clone(m.conductances)
	c.sideOffsets = slices.Clone(m.sideOffsets)
	c.late = slices.Clone(m.late)
	x.by(&c)
	return &c
}

// moves lists what is not scatter.
func (a *analyser) moves(g *grid, m *model) []move {
	var all []move
	add := func(name string, by func(*model)) { all = append(all, move{name, by, 1}) }
	for j, s := range a.in.Room.Sides {
		if len(a.in.Room.Sides) > 1 {
			add("share of "+s.Name, func(m *model) { m.conductances[j] *= 1 + s.share() })
		}
		add("loggers at "+s.Name, func(m *model) { m.sideOffsets[j] += g.sideU[j] })
		// Anywhere between at once and very late: each end counts by its half of a
		// rectangle.
		for _, late := range []int{0, 2} {
			all = append(all, move{"lag of the walls to " + s.Name, func(m *model) { m.late[j] = late }, 1 / math.Sqrt(6)})
		}
	}
	add("loggers in the room", func(m *model) { m.roomOffset += g.roomU })
	if m.duty && m.seenCap > 0 {
		// A part of what the capacity changes from the days to the design day (assumed).
		part := 0.1
		if !m.heat {
			part = 0.3
		}
		add("capacity's slopes", func(m *model) { m.designCap += part * (m.designCap - m.seenCap) })
	}
	if !m.heat {
		return all
	}
	u := a.in.Unit.relative()
	add(capacityName, func(m *model) { m.capacity *= 1 + u/2 })
	add("heat capacity of the contents", func(m *model) { m.bottles *= 1.1; m.light *= 1.2 })
	if m.latent > 0 {
		u := 0.3 // two days weighed say little of the others (assumed)
		if m.weighed {
			u = 0.05
		}
		add("condensate", func(m *model) { m.latent *= 1 + u; m.designLatent *= 1 + u })
	}
	return all
}

// share is the relative standard uncertainty of a side's conductance against the
// others'.
func (s Side) share() float64 {
	if s.Uncertainty > 0 {
		return s.Uncertainty
	}
	return 0.10
}

// relative is the relative expanded uncertainty of the maker's capacity.
func (u CoolingUnit) relative() float64 {
	if u.Uncertainty > 0 {
		return u.Uncertainty
	}
	return 0.10
}

// uncertainty makes each move by itself, fits again, and adds up.
func (r *Signature) uncertainty(moves []move) error {
	m, l := &r.model, r.Line
	r.Latent = units.Power(m.latent)
	r.Budget = []Contribution{{scatterName, units.Conductance(l.SlopeHalf()), r.scatterDuty()}}
	base := 0.0
	for _, x := range moves {
		c := m.moved(x)
		moved, err := c.fit(r.Days)
		if err != nil {
			return err
		}
		y := Contribution{Name: x.name, UA: units.Conductance(normal95 * x.part * math.Abs(moved.Slope-l.Slope))}
		if m.duty {
			y.Duty = normal95 * x.part * math.Abs(c.designDuty(moved)-m.designDuty(l))
		}
		base = math.Hypot(base, x.part*(moved.Intercept-l.Intercept))
		r.Budget = append(r.Budget, y)
	}
	r.Budget = joined(r.Budget)
	if !m.heat {
		return nil
	}
	u := math.Hypot(l.a1, r.system(func(c Contribution) float64 { return float64(c.UA) }))
	r.UA = around(units.Conductance(l.Slope), combined(math.Sqrt(l.c11), l.Freedom(), u))
	r.Base = around(units.Power(l.Intercept), math.Hypot(l.InterceptHalf(), normal95*base))
	return nil
}

// system is the standard uncertainty of all moves together.
func (r *Signature) system(of func(Contribution) float64) float64 {
	sum := 0.0
	for _, c := range r.Budget {
		if c.Name != scatterName {
			sum += of(c) * of(c)
		}
	}
	return math.Sqrt(sum) / normal95
}

const (
	scatterName  = "scatter of the days"
	capacityName = "maker's capacity"
)

func (r *Signature) scatterDuty() float64 {
	if !r.model.duty {
		return 0
	}
	return r.Line.NextHalf(r.model.designX()) / r.model.designCap
}

// At returns the mean daily heat at a difference of temperatures, with the 95 %
// interval of the line by scatter and anchor alone.
func (r *Signature) At(x units.TemperatureDifference) (Estimate[float64], error) {
	if r.Line.N == 0 {
		return Estimate[float64]{}, fmt.Errorf("%w: there is no signature", ErrTooLittle)
	}
	return around(r.Line.At(float64(x)), r.Line.MeanHalf(float64(x))), nil
}

// joined adds up the moves of one name.
func joined(all []Contribution) []Contribution {
	kept := all[:0]
	for _, c := range all {
		if n := len(kept); n > 0 && kept[n-1].Name == c.Name {
			kept[n-1].UA = units.Conductance(math.Hypot(float64(kept[n-1].UA), float64(c.UA)))
			kept[n-1].Duty = math.Hypot(kept[n-1].Duty, c.Duty)
			continue
		}
		kept = append(kept, c)
	}
	return kept
}

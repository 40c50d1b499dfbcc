package proof

import (
	"fmt"
	"math"

	"proveout/checks/units"
)

// uncertainty moves what is not scatter by one standard uncertainty each, fits
// again, and adds up.
func (r *Signature) uncertainty(a *analyser, g *grid) {
	m := &r.model
	r.Latent = units.Power(m.latent)
	add := func(name string, move func(*model)) { r.contribute(name, move) }
	for j, s := range a.in.Room.Sides {
		if len(a.in.Room.Sides) > 1 {
			u := s.Uncertainty
			if u == 0 {
				u = 0.10
			}
			add("share of "+s.Name, func(m *model) { m.conductances[j] *= 1 + u })
		}
		if u := g.sideU[j]; u > 0 {
			add("loggers at "+s.Name, func(m *model) { m.sideOffsets[j] += u })
		}
	}
	add("loggers in the room", func(m *model) { m.roomOffset += g.roomU })
	if m.heat {
		u := a.in.Unit.Uncertainty
		if u == 0 {
			u = 0.10
		}
		add("maker's capacity", func(m *model) { m.capacity *= 1 + u/2 })
		add("heat capacity of the bottles", func(m *model) { m.bottles *= 1.1; m.light *= 1.2 })
		if m.latent > 0 {
			add("condensate", func(m *model) { m.latent *= 1.05; m.designLatent *= 1.05 })
		}
	}
	l := r.Line
	r.Budget = append(r.Budget, Contribution{scatterName, units.Conductance(l.SlopeHalf()), r.scatterDuty()})
	if m.heat {
		sd, ν := math.Sqrt(l.c11), l.Freedom()
		half := combined(sd, ν, math.Hypot(l.a1, r.system(func(c Contribution) float64 { return float64(c.UA) })))
		r.UA = around(units.Conductance(l.Slope), half)
		r.Base = around(units.Power(l.Intercept), math.Hypot(l.InterceptHalf(), normal95*r.baseU))
	}
}

// contribute notes what a move changes.
func (r *Signature) contribute(name string, move func(*model)) {
	moved := r.model
	moved.conductances = append([]float64(nil), r.model.conductances...)
	moved.sideOffsets = append([]float64(nil), r.model.sideOffsets...)
	move(&moved)
	l, err := moved.fit(r.Days)
	if err != nil {
		return
	}
	c := Contribution{Name: name, UA: units.Conductance(normal95 * math.Abs(l.Slope-r.Line.Slope))}
	if moved.duty {
		c.Duty = normal95 * math.Abs(moved.designDuty(l)-r.model.designDuty(r.Line))
	}
	r.baseU = math.Hypot(r.baseU, l.Intercept-r.Line.Intercept)
	r.Budget = append(r.Budget, c)
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

const scatterName = "scatter of the days"

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

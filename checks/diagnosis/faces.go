package diagnosis

import (
	"fmt"
	"slices"

	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// probe is the error of one contact probe, K; two make a difference (common
// practice).
const probe = 0.3

// surface is a face with what was found out about its heat.
type surface struct {
	Face
	films     envelope.Films
	described Reading[units.Transmittance] // of the construction as found
	sound     units.Transmittance          // as planned, or of an ordinary room
	planned   bool                         // sound is that of the plan
	// measured follows from the surface temperatures, with its error; used is what
	// the load is computed with.
	measured Reading[units.Transmittance]
	within   units.Transmittance
	used     Reading[units.Transmittance]
	// permeance of the whole face; 0 when a layer's vapor value is not known.
	permeance units.Permeance
	// coldest surface read on the other side.
	coldest Reading[units.Temperature]
	where   string
	steps   []units.Step
}

func (s surface) opaque() bool { return s.Kind != envelope.Door && s.Kind != envelope.Glass }

// surfaces looks at each face in the climate of the visit.
func (r Room) surfaces(c climate, room units.Temperature, limits Limits) []surface {
	all := make([]surface, len(r.Faces))
	for i, f := range r.Faces {
		s := surface{Face: f}
		other := c.sides[f.Side].Temperature
		if !other.Taken {
			other.Value = room // the films then hold for no heat flow
		}
		s.films, _ = envelope.SurfaceResistances(envelope.Face{Kind: f.Kind, Other: f.Side}, other.Value, room)
		s.described, s.steps = transmittance(f, s.films)
		s.permeance = permeance(f.Assembly)
		s.soundness(r.Planned, s.films, limits)
		s.measure(other, room)
		s.used = s.described
		if s.measured.Taken && (!s.described.Taken || s.measured.Value-s.within > s.described.Value) {
			s.used = s.measured
		}
		all[i] = s
	}
	return all
}

// transmittance returns U of a face as described.
func transmittance(f Face, films envelope.Films) (Reading[units.Transmittance], []units.Step) {
	if f.Transmittance > 0 {
		return Read(f.Transmittance), nil
	}
	if len(f.Assembly.Layers) == 0 {
		return Reading[units.Transmittance]{}, nil
	}
	r, err := f.Assembly.Resistance(films)
	if err != nil {
		return Reading[units.Transmittance]{}, nil
	}
	return Read(r.Transmittance), r.Steps
}

// permeance returns that of the layers in series at 50 % RH.
func permeance(a envelope.Assembly) units.Permeance {
	var total units.Length
	for _, l := range a.Layers {
		sd, err := l.Vapor.SD(l.Thickness, 50)
		if err != nil {
			return 0
		}
		total += sd
	}
	if total <= 0 {
		return 0
	}
	return envelope.PermeanceFromSD(total)
}

// soundness finds what the face would be in order: as planned, else as usual.
func (s *surface) soundness(plan *Plan, films envelope.Films, limits Limits) {
	s.sound = limits.SoundTransmittance[s.Kind]
	if plan == nil {
		return
	}
	i := slices.IndexFunc(plan.Faces, func(f Face) bool { return f.Name == s.Name })
	if i < 0 {
		return
	}
	if u, _ := transmittance(plan.Faces[i], films); u.Taken {
		s.sound, s.planned = u.Value, true
	}
}

// measure takes U from the middle one of the surface temperatures on the other side,
// U = (θ_other − θ_s)/(Rs·(θ_other − θ_room)), and the coldest place for condensation.
func (s *surface) measure(other Reading[units.Temperature], room units.Temperature) {
	if len(s.OtherSurface) == 0 {
		return
	}
	sorted := slices.Clone(s.OtherSurface)
	slices.SortStableFunc(sorted, func(a, b Spot[units.Temperature]) int {
		if a.Value < b.Value {
			return -1
		} else if a.Value > b.Value {
			return 1
		}
		return 0
	})
	s.coldest, s.where = Read(sorted[0].Value), sorted[0].Place
	difference := float64(other.Value.Sub(room))
	rs := float64(s.films.OtherSide)
	if !other.Taken || difference < 3 || rs == 0 {
		return // too little to divide by
	}
	middle := sorted[len(sorted)/2].Value
	u := float64(other.Value.Sub(middle)) / (rs * difference)
	s.measured = Read(units.Transmittance(max(0, u)))
	s.within = units.Transmittance(1.41 * probe / (rs * difference))
	s.steps = append(s.steps, units.Step{
		Name: s.Name + ": transmittance by its surface", Formula: fmt.Sprintf("(θ_other − θ_s)/(Rs·Δθ) = (%.1f − %.1f)/(%.2f·%.1f)", other.Value, middle, rs, difference),
		Value: fmt.Sprintf("%.2f ± %.2f W/(m²·K)", u, float64(s.within)), Source: s.films.Source + "; steady conduction",
	})
}

// loses reports whether the face was measured to lose clearly more than described.
func (s surface) loses() bool {
	return s.measured.Taken && s.described.Taken && s.measured.Value-s.within > 1.2*s.described.Value
}

// asFace returns the face for a load, with the transmittance u.
func (s surface) asFace(u units.Transmittance, vapor bool) cooling.Face {
	f := cooling.Face{Name: s.Name, Area: s.Area, Transmittance: u, Side: string(s.Side), Sun: s.Sun}
	if vapor {
		f.Permeance = s.permeance
	}
	return f
}

// excess returns the heat that the face lets in beyond a sound one at the set point.
func (s surface) excess(c climate, set units.Temperature) units.Power {
	other := c.sides[s.Side].Temperature
	if !other.Taken || !s.used.Taken {
		return 0
	}
	more := float64(s.used.Value-s.sound) * float64(s.Area)
	return positive(units.Power(more * float64(other.Value.Add(s.Sun).Sub(set))))
}

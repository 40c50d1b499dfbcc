package cooling

import (
	"fmt"
	"maps"

	"proveout/checks/units"
)

// Demand reduces the room's load to its form over a year: what follows the outdoor
// temperature, what follows the house's, and what stays. Other sides keep the
// temperatures of sides all year, which puts their difference to the house, and the
// sun on outside faces, into the base. A room with nothing to outdoors needs no such
// side.
func (r Room) Demand(sides Sides, outdoors, house string) (Demand, error) {
	load, err := r.Load(sides)
	if err != nil {
		return Demand{}, err
	}
	inside, known := sides[house]
	if !known {
		return Demand{}, fmt.Errorf("demand: no side is called %q; say what air the house has", house)
	}
	all, weighted, stays := load.sums()
	d := Demand{Inside: inside.Temperature, Room: r.Air.Temperature}
	if out, exposed := sides[outdoors]; exposed {
		warmer := maps.Clone(sides)
		out.Temperature += 0.01
		warmer[outdoors] = out
		more, err := r.Load(warmer)
		if err != nil {
			return Demand{}, err
		}
		// Σ UA·T rises by UA_out for each kelvin outdoors.
		_, raised, _ := more.sums()
		d.Outdoors = units.Conductance(max(0, raised-weighted) / 0.01)
		weighted -= float64(d.Outdoors) * float64(sides[outdoors].Temperature)
	}
	d.House = units.Conductance(max(0, all-float64(d.Outdoors)))
	d.Base = stays + units.Power(weighted-float64(d.House)*float64(d.Inside))
	if d.Base > -1e-6 && d.Base < 1e-6 {
		d.Base = 0 // what the step of 0.01 K leaves
	}
	return d, nil
}

// sums are Σ UA, Σ UA·T of what follows temperatures, and the rest of the load.
func (l Load) sums() (conductance, weighted float64, stays units.Power) {
	for _, i := range l.Items {
		if i.Conductance == 0 {
			stays += i.Sensible
		}
		conductance += float64(i.Conductance)
		weighted += float64(i.Conductance) * float64(i.Other)
	}
	return conductance, weighted, stays + l.Latent
}

// Held is a unit whose condenser is kept at 30 °C at least, as Efficiency takes it:
// outdoor air below 18 °C gives it no more capacity.
type Held struct{ Capacity }

// At returns the capacity with the condenser held.
func (h Held) At(room, outdoor units.Temperature) (units.Power, error) {
	return h.Capacity.At(room, max(outdoor, 18))
}

package airflow

import (
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// MassRate is in kg/s.
type MassRate float64

// PerDay returns the mass of a day.
func (m MassRate) PerDay() units.Mass { return units.Mass(m) * 86400 }

// Carried is what exchanged air brings into a room. Negative values are what it
// takes out.
type Carried struct {
	DryAir   MassRate
	Sensible units.Power
	Latent   units.Power
	Water    MassRate
}

// Total returns the heat of both kinds.
func (c Carried) Total() units.Power { return c.Sensible + c.Latent }

// Exchange returns what dry air at the rate m carries from one air to another:
//
//	total m·(h − h_r), sensible m·(h(t, W_r) − h_r), latent the rest, water m·(W − W_r)
//
// ASHRAE Fundamentals ch. 1 for the enthalpies.
func Exchange(m MassRate, from, room State) (Carried, error) {
	if err := within("air exchange", float64(m), 0, 100, "kg/s"); err != nil {
		return Carried{}, err
	}
	dry, err := humidair.Enthalpy(from.Temperature, room.Ratio)
	if err != nil {
		return Carried{}, err
	}
	return Carried{
		DryAir:   m,
		Sensible: units.Power(float64(m) * float64(dry-room.Enthalpy)),
		Latent:   units.Power(float64(m) * float64(from.Enthalpy-dry)),
		Water:    m * MassRate(from.Ratio-room.Ratio),
	}, nil
}

// Entering returns the rate of dry air in a volume flow of this air.
func (s State) Entering(flow units.Airflow) MassRate {
	return MassRate(float64(flow) / float64(s.Volume))
}

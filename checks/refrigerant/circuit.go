package refrigerant

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

const gravity = 9.80665 // m/s², standard gravity

// Circuit is the state a unit works at.
type Circuit struct {
	Fluid      *Fluid
	Capacity   units.Power       // of the evaporator
	Evaporator units.Temperature // dew
	// CoilSuperheat is that at the outlet of the coil, LineSuperheat that of the gas
	// in the suction line.
	CoilSuperheat, LineSuperheat units.TemperatureDifference
	Condenser                    units.Temperature // bubble
	Liquid                       units.Temperature // of the liquid line
}

// MassFlow returns the rate in kg/s: capacity over the difference in enthalpy
// between the coil's outlet and the liquid.
func (c Circuit) MassFlow() (float64, error) {
	err := errors.Join(
		within("capacity", float64(c.Capacity), 10, 1e5, "W"),
		within("subcooling", float64(c.Condenser-c.Liquid), 0, 30, "K"),
	)
	if err != nil {
		return 0, err
	}
	out, err := c.Fluid.VaporAt(c.Evaporator, c.CoilSuperheat)
	if err != nil {
		return 0, err
	}
	in, err := c.Fluid.LiquidAt(c.Liquid)
	if err != nil {
		return 0, err
	}
	if out.Enthalpy <= in.Enthalpy {
		return 0, fmt.Errorf("%s: liquid of %s holds as much heat as vapor at %s", c.Fluid.Name, temperatureText(c.Liquid), temperatureText(c.Evaporator))
	}
	return float64(c.Capacity) / (out.Enthalpy - in.Enthalpy), nil
}

// SuctionLossAtMost is what a suction line may lose, as saturated temperature: ASHRAE
// Handbook—Refrigeration ch. 1 (from memory).
const SuctionLossAtMost units.TemperatureDifference = 1

const (
	// oilMargin is the factor over the least velocity in a riser, this project's own.
	oilMargin = 1.25
	// Velocities of practice, m/s: 1000 and 4000 ft/min in a riser; read as 900 to
	// 4000 ft/min for suction gas in ASHRAE Handbook—Refrigeration 2006 ch. 2 table 1.
	practiceRiser, practiceMost = 5.08, 20.3
)

// SuctionLine is the line from coil to compressor.
type SuctionLine struct {
	Circuit
	Tube     Tube
	Length   units.Length // 0.5 to 100 m
	Fittings Fittings
	// Riser says that gas has to lift oil somewhere on its way.
	Riser bool
	// LeastLoad is the smallest share of the capacity that the unit runs at, above 0
	// to 1: 1 for a compressor of one speed.
	LeastLoad float64
}

// SuctionResult is what a suction line does.
type SuctionResult struct {
	Outcome Outcome
	Reason  string
	Flow
	LossKelvin    units.TemperatureDifference // loss as saturated temperature
	LeastVelocity float64                     // that lifts oil in a riser, m/s
	LiftsOil      bool                        // with a quarter to spare, or nothing rises
	// Notes say what is unusual and does not decide.
	Notes []string
	Steps []Step
}

// Judge works the line out.
func (s SuctionLine) Judge() (SuctionResult, error) {
	err := errors.Join(
		within("length", float64(s.Length), 0.5, 100, "m"),
		within("least load", s.LeastLoad, 0.05, 1, "of the capacity"),
	)
	if err != nil {
		return SuctionResult{}, fmt.Errorf("suction line: %w", err)
	}
	rate, err := s.MassFlow()
	if err != nil {
		return SuctionResult{}, fmt.Errorf("suction line: %w", err)
	}
	gas, err := s.Fluid.VaporAt(s.Evaporator, s.LineSuperheat)
	if err != nil {
		return SuctionResult{}, fmt.Errorf("suction line: %w", err)
	}
	slope, err := s.Fluid.dewSlope(s.Evaporator)
	if err != nil {
		return SuctionResult{}, fmt.Errorf("suction line: %w", err)
	}
	oil, err := s.Fluid.LiquidAt(s.Evaporator)
	if err != nil {
		return SuctionResult{}, fmt.Errorf("suction line: %w", err)
	}
	r := SuctionResult{Flow: s.Tube.flow(rate, gas.Density, gas.Viscosity, s.Length, s.Fittings)}
	r.LossKelvin = units.TemperatureDifference(float64(r.Loss) / slope)
	r.LeastVelocity = leastVelocity(gas.Density, oil.Density, s.Tube.Inside())
	r.LiftsOil = !s.Riser || atMost(oilMargin*r.LeastVelocity, r.Velocity*s.LeastLoad)
	r.Outcome, r.Reason = s.decide(r)
	r.Notes = s.notes(r)
	r.Steps = append(r.Flow.Steps,
		Step{Name: "loss as saturated temperature", Formula: "Δp / (dp/dT of the dew line)", Value: kelvinText(r.LossKelvin) + ", at most " + kelvinText(SuctionLossAtMost), Source: "ASHRAE Handbook—Refrigeration ch. 1 (from memory)"},
		Step{Name: "least velocity in a riser", Formula: "0.7225·√(ρ_g·(ρ_l − ρ_g)·g·D) / ρ_g", Value: velocityText(r.LeastVelocity), Source: "Jacobs et al. 1976 (coefficient from memory)"},
	)
	return r, nil
}

// leastVelocity lifts the film of oil on the wall of a riser: Jacobs et al. 1976,
// coefficient from memory. Refrigerant liquid stands for oil, whose density enters
// by its root.
func leastVelocity(gas, liquid float64, inside units.Length) float64 {
	return 0.7225 * math.Sqrt(gas*(liquid-gas)*gravity*float64(inside)) / gas
}

func (s SuctionLine) decide(r SuctionResult) (Outcome, string) {
	switch {
	case !r.LiftsOil:
		return Fail, fmt.Sprintf("at least load the gas rises at %s; %s lifts the oil with a quarter to spare; a smaller riser",
			velocityText(r.Velocity*s.LeastLoad), velocityText(oilMargin*r.LeastVelocity))
	case !atMost(float64(r.LossKelvin), float64(SuctionLossAtMost)):
		return Fail, fmt.Sprintf("it loses %s, at most %s keeps the unit's capacity; a larger tube or fewer fittings", kelvinText(r.LossKelvin), kelvinText(SuctionLossAtMost))
	}
	return Pass, ""
}

func (s SuctionLine) notes(r SuctionResult) []string {
	var notes []string
	if s.Riser && r.Velocity < practiceRiser {
		notes = append(notes, fmt.Sprintf("Practice wants %s in a riser; the formula for oil wants %s.", velocityText(practiceRiser), velocityText(r.LeastVelocity)))
	}
	if r.Velocity > practiceMost {
		notes = append(notes, "It will be heard: practice stays below "+velocityText(practiceMost)+".")
	}
	return append(notes, "The maker's tube sizes, lengths and traps come before this.")
}

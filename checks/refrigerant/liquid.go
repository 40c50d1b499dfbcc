package refrigerant

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// LiquidLine is the line from condenser to expansion valve.
type LiquidLine struct {
	Circuit
	Tube     Tube
	Length   units.Length // 0.5 to 100 m
	Fittings Fittings
	Rise     units.Length   // of the valve above the condenser, −30 to 30 m
	Drier    units.Pressure // loss of drier and valves, from their data sheets
	// Least is the subcooling that must be left at the valve; 1 to 2 K are common
	// practice.
	Least units.TemperatureDifference
}

// LiquidResult is what a liquid line does.
type LiquidResult struct {
	Outcome Outcome
	Reason  string
	Flow
	Head     units.Pressure              // of the liquid over the rise
	AtValve  units.Pressure              // absolute
	Left     units.TemperatureDifference // of the subcooling, at the valve
	PerMetre float64                     // charge in kg/m
	Charge   units.Mass                  // of the whole line
	Steps    []Step
}

// Judge works the line out: whether liquid reaches the valve without flashing.
func (l LiquidLine) Judge() (LiquidResult, error) {
	err := errors.Join(
		within("length", float64(l.Length), 0.5, 100, "m"),
		within("rise", float64(l.Rise), -30, 30, "m"),
		within("loss of the drier", float64(l.Drier), 0, 500e3, "Pa"),
		within("least subcooling", float64(l.Least), 0.1, 20, "K"),
	)
	if err != nil {
		return LiquidResult{}, fmt.Errorf("liquid line: %w", err)
	}
	rate, err := l.MassFlow()
	if err != nil {
		return LiquidResult{}, fmt.Errorf("liquid line: %w", err)
	}
	liquid, err := l.Fluid.LiquidAt(l.Liquid)
	if err != nil {
		return LiquidResult{}, fmt.Errorf("liquid line: %w", err)
	}
	r := LiquidResult{Flow: l.Tube.flow(rate, liquid.Density, liquid.Viscosity, l.Length, l.Fittings)}
	r.Head = units.Pressure(liquid.Density * gravity * float64(l.Rise))
	start, err := l.Fluid.BubblePressure(l.Condenser)
	if err != nil {
		return LiquidResult{}, fmt.Errorf("liquid line: %w", err)
	}
	r.AtValve = start - r.Loss - r.Head - l.Drier
	boils, err := l.Fluid.BubbleTemperature(r.AtValve)
	if err != nil {
		return LiquidResult{}, fmt.Errorf("liquid line: at the valve: %w", err)
	}
	r.Left = boils.Sub(l.Liquid)
	r.PerMetre = liquid.Density * float64(l.Tube.Bore())
	r.Charge = units.Mass(r.PerMetre * float64(l.Length))
	r.Outcome, r.Reason = Pass, ""
	if !atMost(float64(l.Least), float64(r.Left)) {
		r.Outcome = Fail
		r.Reason = fmt.Sprintf("%s of subcooling are left at the valve, %s are wanted; gas before the valve starves it: more subcooling, less rise or a drier that takes less", kelvinText(r.Left), kelvinText(l.Least))
	}
	r.Steps = l.steps(r, boils)
	return r, nil
}

func (l LiquidLine) steps(r LiquidResult, boils units.Temperature) []Step {
	return append(r.Flow.Steps,
		Step{Name: "head of the liquid", Formula: "ρ·g·rise", Value: pressureText(r.Head), Source: "hydrostatics"},
		Step{Name: "drier and valves", Value: pressureText(l.Drier), Source: "data sheet"},
		Step{Name: "absolute pressure at the valve", Formula: "condensing − friction − head − drier", Value: pressureText(r.AtValve)},
		Step{Name: "boils there at", Value: temperatureText(boils), Source: interpolated},
		Step{Name: "subcooling left", Formula: "boiling − liquid", Value: kelvinText(r.Left) + ", at least " + kelvinText(l.Least), Source: "1 to 2 K are common practice"},
		Step{Name: "charge in the line", Formula: "ρ·A·length", Value: fmt.Sprintf("%.3f kg, %.1f g/m", float64(r.Charge), 1000*r.PerMetre), Source: interpolated},
	)
}

// Added is the charge that a longer line takes.
type Added struct {
	Fluid *Fluid
	// Liquid and Suction are the tubes; Length that of each and Precharged what the
	// unit was charged for at the factory, by its plate.
	Liquid, Suction    Tube
	Length, Precharged units.Length
	// LiquidTemperature is usually near 40 °C; Evaporator the dew temperature.
	LiquidTemperature, Evaporator units.Temperature
}

// AddedCharge is the mass that a line takes beyond the factory's charge.
type AddedCharge struct {
	Liquid, Suction units.Mass
	Steps           []Step
}

// Total returns both lines' together.
func (a AddedCharge) Total() units.Mass { return a.Liquid + a.Suction }

// Charge returns the mass of liquid and vapor that fill the length beyond the
// precharged one. It is 0 where the line is no longer than that: nobody takes
// charge out by a formula.
func (a Added) Charge() (AddedCharge, error) {
	err := errors.Join(
		within("length", float64(a.Length), 0.5, 100, "m"),
		within("precharged length", float64(a.Precharged), 0, 100, "m"),
	)
	if err != nil {
		return AddedCharge{}, fmt.Errorf("added charge: %w", err)
	}
	liquid, err := a.Fluid.LiquidAt(a.LiquidTemperature)
	if err != nil {
		return AddedCharge{}, fmt.Errorf("added charge: %w", err)
	}
	vapor, err := a.Fluid.VaporAt(a.Evaporator, 0)
	if err != nil {
		return AddedCharge{}, fmt.Errorf("added charge: %w", err)
	}
	beyond := max(0, float64(a.Length-a.Precharged))
	perMetre := liquid.Density * float64(a.Liquid.Bore())
	c := AddedCharge{
		Liquid:  units.Mass(perMetre * beyond),
		Suction: units.Mass(vapor.Density * float64(a.Suction.Bore()) * beyond),
	}
	c.Steps = []Step{
		{Name: "beyond the factory's charge", Formula: "length − precharged length", Value: fmt.Sprintf("%.2f m (%.1f ft)", beyond, beyond/0.3048), Source: "plate"},
		{Name: "liquid line", Formula: "ρ_liquid · A", Value: fmt.Sprintf("%.1f g/m, %.0f g", 1000*perMetre, 1000*c.Liquid), Source: interpolated},
		{Name: "suction line", Formula: "ρ_vapor · A", Value: fmt.Sprintf("%.0f g", 1000*c.Suction), Source: interpolated},
		{Name: "added charge", Value: fmt.Sprintf("%.0f g (%.2f oz)", 1000*c.Total(), 1000*c.Total()/28.349523125)},
	}
	return c, nil
}

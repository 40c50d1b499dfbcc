package airflow

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

const gravity = 9.80665 // m/s², standard gravity

// SharpEdged is the discharge coefficient of a sharp-edged opening (ASHRAE
// Fundamentals ch. 16, from memory).
const SharpEdged = 0.6

// StackPressure returns the pressure difference that two airs of different
// density make over a height. It is positive when the room is the heavier one.
func StackPressure(house, room humidair.MassPerVolume, height units.Length) units.Pressure {
	return units.Pressure(float64(room-house) * gravity * float64(height))
}

// Gap is an opening low in a room with another high in it, such as the gap below
// a door and what leaks at the head or the ceiling.
type Gap struct {
	Low, High units.Area   // of the openings, above 0 to 1 m²
	Height    units.Length // between them, above 0 to 6 m
	Discharge float64      // 0.3 to 1; SharpEdged unless it was measured
}

// Leak is the air that passes through a room, and what the house's air brings.
type Leak struct {
	Pressure units.Pressure // across the low opening; negative when air enters there
	Flow     units.Airflow  // the same in and out, never negative
	Carried  Carried
	Steps    []Step
}

// Leak returns the steady exchange by the difference in density alone. It
// returns an error for values that are missing, not finite or outside the ranges
// above.
func (g Gap) Leak(house, room State) (Leak, error) {
	err := errors.Join(
		within("low opening", float64(g.Low), 1e-8, 1, "m²"),
		within("high opening", float64(g.High), 1e-8, 1, "m²"),
		within("height", float64(g.Height), 0.01, 6, "m"),
		within("discharge coefficient", g.Discharge, 0.3, 1, ""),
	)
	if err != nil {
		return Leak{}, fmt.Errorf("gap: %w", err)
	}
	total := StackPressure(house.Density, room.Density, g.Height)
	low, high := float64(g.Low), float64(g.High)
	// Openings in series: the share of pressure goes as 1/A².
	share := high * high / (low*low + high*high)
	effective := low * math.Sqrt(share)
	density := float64(house.Density+room.Density) / 2
	l := Leak{
		Pressure: total * units.Pressure(share),
		Flow:     units.Airflow(g.Discharge * effective * math.Sqrt(2*math.Abs(float64(total))/density)),
	}
	if l.Carried, err = Exchange(house.Entering(l.Flow), house, room); err != nil {
		return Leak{}, fmt.Errorf("gap: %w", err)
	}
	l.Steps = g.steps(l, total)
	return l, nil
}

func (g Gap) steps(l Leak, total units.Pressure) []Step {
	const orifice = "orifice law"
	return append([]Step{
		{Name: "stack pressure", Formula: "(ρ_room − ρ_house) · g · height", Value: fmt.Sprintf("%.2f Pa", total), Source: "hydrostatics"},
		{Name: "across the low opening", Formula: "total · A_high² / (A_low² + A_high²)", Value: fmt.Sprintf("%.2f Pa", l.Pressure), Source: orifice},
		{Name: "air leak", Formula: "C_d · A · √(2Δp/ρ)", Value: flowText(l.Flow), Source: orifice},
	}, l.Carried.steps()...)
}

func (c Carried) steps() []Step {
	const exchange = "ASHRAE Fundamentals ch. 1"
	return []Step{
		{Name: "heat brought in", Formula: "ṁ · (h_house − h_room)", Value: fmt.Sprintf("%.1f W, of it %.1f W latent", c.Total(), c.Latent), Source: exchange},
		{Name: "water brought in", Formula: "ṁ · (W_house − W_room)", Value: fmt.Sprintf("%.2f kg/day", c.Water.PerDay()), Source: exchange},
	}
}

func flowText(q units.Airflow) string {
	return fmt.Sprintf("%.1f m³/h (%.1f cfm)", float64(q)*3600, float64(q)*2118.88)
}

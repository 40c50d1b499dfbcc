package airflow

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Cracks is the leakage of a room as a fan test gives it: flow = C·Δpⁿ.
type Cracks struct {
	Coefficient float64      // C in m³/(s·Paⁿ), above 0 to 1
	Exponent    float64      // n, 0.5 to 1
	Height      units.Length // of the room, above 0 to 6 m
	// Spread says that the cracks lie evenly over the height. Otherwise half are at
	// the floor and half at the ceiling, the most that cracks of that size can pass.
	Spread bool
}

// Leak returns the steady exchange by the difference in density alone. It returns an
// error for values that are missing, not finite or outside the ranges above.
func (c Cracks) Leak(house, room State) (Leak, error) {
	err := errors.Join(
		within("leakage coefficient", c.Coefficient, 1e-9, 1, "m³/(s·Paⁿ)"),
		within("leakage exponent", c.Exponent, 0.5, 1, ""),
		within("height", float64(c.Height), 0.01, 6, "m"),
	)
	if err != nil {
		return Leak{}, fmt.Errorf("cracks: %w", err)
	}
	total := StackPressure(house.Density, room.Density, c.Height)
	flow, formula := c.Coefficient/2*math.Pow(math.Abs(float64(total))/2, c.Exponent), "(C/2) · (Δp/2)^n"
	if c.Spread {
		// (C/H)·(Δρ·g)^n·(H/2)^(n+1)/(n+1), in terms of Δp = Δρ·g·H.
		flow, formula = flow/(c.Exponent+1), "(C/2) · (Δp/2)^n / (n+1)"
	}
	l := Leak{Pressure: total / 2, Flow: units.Airflow(flow)}
	if l.Carried, err = Exchange(house.Entering(l.Flow), house, room); err != nil {
		return Leak{}, fmt.Errorf("cracks: %w", err)
	}
	l.Steps = append([]Step{
		{Name: "stack pressure", Formula: "Δp = (ρ_room − ρ_house) · g · H", Value: fmt.Sprintf("%.3f Pa", total), Source: "hydrostatics"},
		{Name: "air leak", Formula: formula, Value: flowText(l.Flow), Source: "power law of ISO 9972:2015 over the height"},
	}, l.Carried.steps()...)
	return l, nil
}

// Coefficients of the basic infiltration model: (L/s)²/(cm⁴·K), and
// (L/s)²/(cm⁴·(m/s)²) by shelter.
type Coefficients struct {
	Stack, Wind float64
}

// SingleStorey returns the coefficients of a one-storey house in shelter class 1
// (none) to 5 (complete): ASHRAE Fundamentals 2017 ch. 16, tables 4 and 6 (table
// numbers from memory).
func SingleStorey(class int) (Coefficients, error) {
	wind := [...]float64{0.000319, 0.000246, 0.000174, 0.000104, 0.000032}
	if class < 1 || class > len(wind) {
		return Coefficients{}, fmt.Errorf("shelter class %d is not in the table; give 1 (none) to %d (complete)", class, len(wind))
	}
	return Coefficients{0.000145, wind[class-1]}, nil
}

// Interior has the stack of one storey and no wind: a room inside a house.
var Interior = Coefficients{Stack: 0.000145}

// Infiltration returns the flow through an effective leakage area (that which
// passes the same at 4 Pa with a discharge coefficient of 1), at a temperature
// difference of either sign and a wind speed in m/s.
func (c Coefficients) Infiltration(area units.Area, difference units.TemperatureDifference, wind float64) (units.Airflow, error) {
	err := errors.Join(
		within("effective leakage area", float64(area), 0, 1, "m²"),
		within("temperature difference", math.Abs(float64(difference)), 0, 100, "K"),
		within("wind speed", wind, 0, 60, "m/s"),
	)
	if err != nil {
		return 0, fmt.Errorf("infiltration: %w", err)
	}
	cm2 := float64(area) * 1e4
	return units.Airflow(cm2 / 1000 * math.Sqrt(c.Stack*math.Abs(float64(difference))+c.Wind*wind*wind)), nil
}

// AirChange returns the flow that changes a volume n times an hour.
func AirChange(perHour float64, volume units.Volume) (units.Airflow, error) {
	err := errors.Join(within("air change", perHour, 0, 1000, "1/h"), within("volume", float64(volume), 0.1, 1e5, "m³"))
	if err != nil {
		return 0, fmt.Errorf("air change: %w", err)
	}
	return units.Airflow(perHour * float64(volume) / 3600), nil
}

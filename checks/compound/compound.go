// Package compound says how long a coat of drying-type joint compound takes to dry
// in air of a temperature and humidity.
//
// Water leaves a fresh coat as fast as the air takes it: by the difference between
// the vapor pressure of water at the air's temperature and that of the air. One
// constant then serves every temperature and humidity,
//
//	t = C / (p_sat(T) · (1 − h))
//
// C is taken from one point of the chart that the trade uses for a coat of 1/16 in,
// 17 h at 70 °F and 50 % (Gypsum Association GA-236 and the Drywall Finishing
// Council's chart; from memory). The other points of the chart, 32 to 100 °F and 0
// to 80 %, come out within 16 %; see the tests. Above 85 % there is no answer: the
// chart's points there could not be read, and a room that damp is dried first.
//
// A coat of another thickness: up to the chart's the time stays that of the chart,
// above it grows with the square of the thickness, as for water that must get
// through the coat (our choice, on the long side). A factor of 1.2 on all of it
// covers the formula's error. Setting-type compound hardens by itself and still has
// to dry before paint.
//
// The product's data sheet comes first where it gives a longer time. Neither looks
// nor meters tell that a joint is dry (GA-236, quoted).
package compound

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Coat is a coat of compound and the air it dries in.
type Coat struct {
	Temperature units.Temperature      // lowest while it dries, 0 to 40 °C
	Humidity    units.RelativeHumidity // highest while it dries, 0 to 85 %
	Thickness   units.Length           // wet, 0.2 to 6 mm
}

// ChartCoat is the thickness that the chart is made for.
const ChartCoat units.Length = 0.0254 / 16

// chartConstant is C in Pa·h: 17 h at 70 °F and 50 % (from memory).
const (
	chartHours       = 17
	chartTemperature = units.Temperature((70 - 32) / 1.8)
	chartHumidity    = 0.5
	margin           = 1.2
)

// Source names where the drying time comes from.
const Source = "drying chart for a 1/16 in coat, Drywall Finishing Council and GA-236 (from memory), carried over by vapor pressure; factor 1.2 and thickness: our choice"

// Drying is how long a coat takes.
type Drying struct {
	Time  time.Duration
	Steps []units.Step
}

// Dry returns how long the coat takes to dry. It returns an error for values that
// are missing, not finite or outside the ranges of Coat.
func (c Coat) Dry() (Drying, error) {
	if err := c.valid(); err != nil {
		return Drying{}, fmt.Errorf("joint compound: %w", err)
	}
	saturated, err := humidair.SaturationPressure(c.Temperature)
	if err != nil {
		return Drying{}, fmt.Errorf("joint compound: %w", err)
	}
	at, err := humidair.SaturationPressure(chartTemperature)
	if err != nil {
		return Drying{}, fmt.Errorf("joint compound: %w", err)
	}
	deficit := float64(saturated) * (1 - c.Humidity.Fraction())
	chart := chartHours * float64(at) * (1 - chartHumidity) / deficit
	thicker := math.Pow(max(1, float64(c.Thickness/ChartCoat)), 2)
	hours := chart * thicker * margin
	return Drying{Time: time.Duration(hours * float64(time.Hour)), Steps: c.steps(deficit, chart, thicker, hours)}, nil
}

func (c Coat) steps(deficit, chart, thicker, hours float64) []units.Step {
	return []units.Step{
		{Name: "air", Value: fmt.Sprintf("%.1f °C (%.0f °F), %g %% RH", c.Temperature, float64(c.Temperature)*1.8+32, c.Humidity), Source: "reading"},
		{Name: "room for vapor", Formula: "p_sat(T) · (1 − h)", Value: fmt.Sprintf("%.0f Pa", deficit), Source: "ASHRAE Fundamentals 2017 ch. 1"},
		{Name: "a coat of 1/16 in", Formula: "17 h at 70 °F and 50 %, times the room for vapor there, over that here", Value: fmt.Sprintf("%.1f h", chart), Source: Source},
		{Name: "this coat", Formula: "1.2 · (thickness / 1/16 in)²", Value: fmt.Sprintf("%.1f mm (%.3f in), factor %.2f: %.1f h", 1000*c.Thickness, c.Thickness/0.0254, thicker*margin, hours), Source: "our choice, on the long side"},
	}
}

func (c Coat) valid() error {
	return errors.Join(
		units.Within("temperature", float64(c.Temperature), 0, 40, "°C"),
		units.Within("humidity", float64(c.Humidity), 0, 85, "% RH"),
		units.Within("thickness", float64(c.Thickness), 0.0002, 0.006, "m"),
	)
}

package refrigerant

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// LineReading is a pressure with the temperature of the tube beside it.
type LineReading struct {
	Fluid *Fluid
	// Absolute is gauge and barometer of the place together; see Absolute.
	Absolute         units.Pressure
	GaugeUncertainty units.Pressure // k = 2, above 0
	Tube             units.Temperature
	TubeUncertainty  units.TemperatureDifference // k = 2, above 0
}

// Absolute returns the absolute pressure of a gauge reading where the barometer,
// not reduced to sea level, stands at b.
func Absolute(gauge, b units.Pressure) (units.Pressure, error) {
	err := errors.Join(
		within("gauge pressure", float64(gauge), -float64(b), 10e6, "Pa"),
		within("barometer", float64(b), 50e3, 110e3, "Pa"),
	)
	return gauge + b, err
}

// Distance is how far a tube is from saturation.
type Distance struct {
	Saturated   units.Temperature // dew for superheat, bubble for subcooling
	Value       units.TemperatureDifference
	Uncertainty units.TemperatureDifference // k = 2
	Steps       []Step
}

// Superheat returns how far the tube is above the dew temperature of the pressure.
// A negative value says that liquid is there, or that refrigerant, gauge or
// thermometer is not what the record says.
func (r LineReading) Superheat() (Distance, error) {
	d, err := r.distance("superheat", "dew", r.Fluid.DewTemperature)
	d.Value = r.Tube.Sub(d.Saturated)
	return r.told(d, "superheat", "dew temperature", "tube − dew", err)
}

// Subcooling returns how far the tube is below the bubble temperature of the
// pressure.
func (r LineReading) Subcooling() (Distance, error) {
	d, err := r.distance("subcooling", "bubble", r.Fluid.BubbleTemperature)
	d.Value = d.Saturated.Sub(r.Tube)
	return r.told(d, "subcooling", "bubble temperature", "bubble − tube", err)
}

func (r LineReading) distance(name, of string, saturated func(units.Pressure) (units.Temperature, error)) (Distance, error) {
	err := errors.Join(
		within("gauge uncertainty", float64(r.GaugeUncertainty), 1, 1e6, "Pa"),
		within("thermometer uncertainty", float64(r.TubeUncertainty), 0.001, 10, "K"),
		within("tube temperature", float64(r.Tube), -60, 120, "°C"),
	)
	if err != nil {
		return Distance{}, fmt.Errorf("%s: %w", name, err)
	}
	t, err := saturated(r.Absolute)
	if err != nil {
		return Distance{}, fmt.Errorf("%s: %w", name, err)
	}
	// Downwards the pressure counts for more kelvin.
	lower, err := saturated(r.Absolute - r.GaugeUncertainty)
	if err != nil {
		return Distance{}, fmt.Errorf("%s: with the gauge's uncertainty of %s the %s temperature leaves the table: %w", name, pressureText(r.GaugeUncertainty), of, err)
	}
	return Distance{Saturated: t, Uncertainty: units.TemperatureDifference(math.Hypot(float64(t-lower), float64(r.TubeUncertainty)))}, nil
}

func (r LineReading) told(d Distance, name, saturated, formula string, err error) (Distance, error) {
	if err != nil {
		return Distance{}, err
	}
	d.Steps = []Step{
		{Name: "refrigerant", Value: fmt.Sprintf("%s, group %s", r.Fluid.Name, r.Fluid.Group), Source: r.Fluid.GroupSet},
		{Name: "absolute pressure", Formula: "gauge + barometer", Value: pressureText(r.Absolute), Source: readings},
		{Name: saturated, Value: temperatureText(d.Saturated), Source: interpolated},
		{Name: "tube", Value: temperatureText(r.Tube), Source: readings},
		{Name: name, Formula: formula, Value: kelvinText(d.Value)},
		{Name: "uncertainty, k = 2", Formula: "√(U_tube² + (U_gauge·dT/dp)²)", Value: kelvinText(d.Uncertainty), Source: guide},
	}
	return d, nil
}

// kelvinText prints a temperature difference in both scales.
func kelvinText(d units.TemperatureDifference) string {
	return fmt.Sprintf("%.2f K (%.1f °F)", float64(d), float64(d)*1.8)
}

package refrigerant

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Surface coefficients of an insulated line, W/(m²·K): open, and boxed in or with a
// skin that radiates little (assumed, from memory of practice).
const (
	OpenSurface  = 9.0
	BoxedSurface = 5.0
)

// Insulation is what a cold tube is wrapped in.
type Insulation struct {
	Outside      units.Length // of the tube
	Tube         units.Temperature
	Conductivity units.Conductivity // near 0.036 W/(m·K) for closed-cell rubber at 10 °C
	Surface      float64            // OpenSurface or BoxedSurface
	Ambient      units.Temperature
	DewPoint     units.Temperature // of the air round it
}

// Wrapped is what a thickness does.
type Wrapped struct {
	Surface units.Temperature
	Margin  units.TemperatureDifference // above the dew point
	Gain    float64                     // W/m into the tube
	Steps   []Step
}

// thickest is the largest thickness that is looked at, m.
const thickest units.Length = 0.15

// At returns the surface of a thickness, 1 to 150 mm, in steady state: the radial
// case of ISO 12241 (clause B.7, its text from memory).
func (i Insulation) At(thickness units.Length) (Wrapped, error) {
	err := errors.Join(i.valid(), within("thickness", float64(thickness), 0.001, float64(thickest), "m"))
	if err != nil {
		return Wrapped{}, fmt.Errorf("line insulation: %w", err)
	}
	w := i.at(thickness)
	w.Steps = []Step{
		{Name: "tube", Value: fmt.Sprintf("%.1f mm outside at %s", 1000*float64(i.Outside), temperatureText(i.Tube)), Source: readings},
		{Name: "air round it", Value: fmt.Sprintf("%s, dew point %s", temperatureText(i.Ambient), temperatureText(i.DewPoint)), Source: readings},
		{Name: "insulation", Value: fmt.Sprintf("%.1f mm, %.3f W/(m·K)", 1000*float64(thickness), float64(i.Conductivity)), Source: "data sheet"},
		{Name: "heat into the line", Formula: "(T_a − T_p) / [ln(D_o/D_i)/(2πk) + 1/(πD_o·h)]", Value: fmt.Sprintf("%.2f W/m, h %.0f W/(m²·K)", w.Gain, i.Surface), Source: "ISO 12241; h assumed"},
		{Name: "surface", Formula: "T_a − q/(πD_o·h)", Value: temperatureText(w.Surface), Source: "ISO 12241"},
		{Name: "above the dew point", Value: kelvinText(w.Margin)},
	}
	return w, nil
}

func (i Insulation) at(thickness units.Length) Wrapped {
	outer := float64(i.Outside + 2*thickness)
	skin := 1 / (math.Pi * outer * i.Surface)
	gain := float64(i.Ambient-i.Tube) / (math.Log(outer/float64(i.Outside))/(2*math.Pi*float64(i.Conductivity)) + skin)
	surface := i.Ambient - units.Temperature(gain*skin)
	return Wrapped{Surface: surface, Margin: surface.Sub(i.DewPoint), Gain: gain}
}

// Least returns the thinnest insulation whose surface stays at the dew point or
// above, and an error where 150 mm do not do it: the air is too damp for insulation
// alone.
func (i Insulation) Least() (units.Length, error) {
	if err := i.valid(); err != nil {
		return 0, fmt.Errorf("line insulation: %w", err)
	}
	low, high := units.Length(0), thickest
	if i.at(high).Margin < 0 {
		return 0, fmt.Errorf("line insulation: in air of %s with a dew point of %s even %.0f mm sweat; dry the air or ventilate the space",
			temperatureText(i.Ambient), temperatureText(i.DewPoint), 1000*float64(thickest))
	}
	for range 40 {
		if middle := (low + high) / 2; i.at(middle).Margin < 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return high, nil
}

func (i Insulation) valid() error {
	return errors.Join(
		within("tube's outside", float64(i.Outside), 0.003, 0.2, "m"),
		within("tube temperature", float64(i.Tube), -40, 30, "°C"),
		within("conductivity", float64(i.Conductivity), 0.01, 0.2, "W/(m·K)"),
		within("surface coefficient", i.Surface, 1, 50, "W/(m²·K)"),
		within("air temperature", float64(i.Ambient), float64(i.Tube), 70, "°C"),
		within("dew point", float64(i.DewPoint), -40, float64(i.Ambient), "°C"),
	)
}

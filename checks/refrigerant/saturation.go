package refrigerant

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"proveout/checks/units"
)

// interpolated names the rule between the rows of the tables.
const interpolated = "CoolProp 8.0.1dev tables (computed), ln p straight in 1/T between rows of 1 K"

// side is a column of pressure: bubble or dew.
type side func(saturated) float64

func bubble(s saturated) float64 { return s.bubble }
func dew(s saturated) float64    { return s.dew }

// BubblePressure returns the absolute pressure at which liquid of this
// temperature, −40 to 65 °C, begins to boil.
func (f *Fluid) BubblePressure(t units.Temperature) (units.Pressure, error) {
	return f.pressure(bubble, "bubble", t)
}

// DewPressure returns the absolute pressure at which vapor of this temperature,
// −40 to 65 °C, begins to condense.
func (f *Fluid) DewPressure(t units.Temperature) (units.Pressure, error) {
	return f.pressure(dew, "dew", t)
}

// BubbleTemperature returns that of an absolute pressure. Between 150 and 2400 kPa
// the interpolation is within 0.0003 K of the equations of state (computed).
func (f *Fluid) BubbleTemperature(p units.Pressure) (units.Temperature, error) {
	return f.temperature(bubble, "bubble", p)
}

// DewTemperature returns that of an absolute pressure, as BubbleTemperature does.
func (f *Fluid) DewTemperature(p units.Pressure) (units.Temperature, error) {
	return f.temperature(dew, "dew", p)
}

func (f *Fluid) pressure(of side, name string, t units.Temperature) (units.Pressure, error) {
	if !(t >= lowestSaturated && t <= highestSaturated) {
		return 0, fmt.Errorf("%s: %q is outside the %s table, %g to %g °C; read it again", f.Name, fmt.Sprintf("%g °C", t), name, lowestSaturated, highestSaturated)
	}
	i := min(int(t-lowestSaturated), len(f.saturated)-2)
	cold, warm := lowestSaturated+units.Temperature(i), lowestSaturated+units.Temperature(i+1)
	// ln p is a straight line in 1/T, after Clausius and Clapeyron.
	share := (1/cold.Kelvin() - 1/t.Kelvin()) / (1/cold.Kelvin() - 1/warm.Kelvin())
	low, high := of(f.saturated[i]), of(f.saturated[i+1])
	return units.Pressure(low * math.Pow(high/low, share)), nil
}

func (f *Fluid) temperature(of side, name string, p units.Pressure) (units.Temperature, error) {
	lowest, highest := of(f.saturated[0]), of(f.saturated[len(f.saturated)-1])
	if !(float64(p) >= lowest && float64(p) <= highest) {
		return 0, fmt.Errorf("%s: %q absolute is outside the %s table, %.0f to %.0f kPa; read it again", f.Name, pressureText(p), name, lowest/1000, highest/1000)
	}
	i := sort.Search(len(f.saturated)-1, func(i int) bool { return of(f.saturated[i+1]) >= float64(p) })
	i = min(i, len(f.saturated)-2)
	cold, warm := lowestSaturated+units.Temperature(i), lowestSaturated+units.Temperature(i+1)
	low, high := of(f.saturated[i]), of(f.saturated[i+1])
	share := math.Log(float64(p)/low) / math.Log(high/low)
	return units.Temperature(1/(1/cold.Kelvin()+share*(1/warm.Kelvin()-1/cold.Kelvin())) - 273.15), nil
}

// dewSlope returns dp/dT of the dew line in Pa/K, from half a kelvin below to half
// a kelvin above.
func (f *Fluid) dewSlope(t units.Temperature) (float64, error) {
	low, err := f.DewPressure(t - 0.5)
	if err != nil {
		return 0, err
	}
	high, err := f.DewPressure(t + 0.5)
	return float64(high - low), err
}

// Vapor is vapor at a state.
type Vapor struct {
	Pressure  units.Pressure // absolute
	Density   float64        // kg/m³
	Enthalpy  float64        // J/kg, 200 kJ/kg for saturated liquid at 0 °C
	Viscosity float64        // Pa·s
}

// VaporAt returns vapor superheated above a dew temperature, −30 to 20 °C and 0 to
// 30 K, straight between the rows both ways.
func (f *Fluid) VaporAt(t units.Temperature, superheat units.TemperatureDifference) (Vapor, error) {
	if !(t >= lowestDew && t <= highestDew && superheat >= 0 && superheat <= 30) {
		return Vapor{}, fmt.Errorf("%s: vapor %q over a dew temperature of %q is outside the table, 0 to 30 K over %g to %g °C",
			f.Name, fmt.Sprintf("%g K", superheat), fmt.Sprintf("%g °C", t), lowestDew, highestDew)
	}
	p, err := f.DewPressure(t)
	if err != nil {
		return Vapor{}, err
	}
	at := float64(t-lowestDew) / dewStep
	row := min(int(at), int(highestDew-lowestDew)/dewStep-1)
	column, _ := slices.BinarySearch(superheats[:], float64(superheat))
	column = min(max(column-1, 0), len(superheats)-2)
	down := at - float64(row)
	across := (float64(superheat) - superheats[column]) / (superheats[column+1] - superheats[column])
	corner := func(r, c int) superheated { return f.vapor[(row+r)*len(superheats)+column+c] }
	between := func(of func(superheated) float64) float64 {
		return mix(mix(of(corner(0, 0)), of(corner(0, 1)), across), mix(of(corner(1, 0)), of(corner(1, 1)), across), down)
	}
	return Vapor{
		Pressure:  p,
		Density:   between(func(s superheated) float64 { return s.density }),
		Enthalpy:  between(func(s superheated) float64 { return s.enthalpy }),
		Viscosity: between(func(s superheated) float64 { return s.viscosity }),
	}, nil
}

// Liquid is saturated liquid, which stands for subcooled liquid of the same
// temperature.
type Liquid struct {
	Density   float64 // kg/m³
	Enthalpy  float64 // J/kg
	Viscosity float64 // Pa·s
}

// warmestLiquid is where the first of the refrigerants comes near its critical
// point.
const warmestLiquid units.Temperature = 60

// LiquidAt returns liquid of a temperature, −40 to 60 °C, straight between rows.
func (f *Fluid) LiquidAt(t units.Temperature) (Liquid, error) {
	if !(t >= lowestSaturated && t <= warmestLiquid) {
		return Liquid{}, fmt.Errorf("%s: liquid of %q is outside the table, %g to %g °C", f.Name, fmt.Sprintf("%g °C", t), lowestSaturated, warmestLiquid)
	}
	i := int(t - lowestSaturated)
	share := float64(t-lowestSaturated) - float64(i)
	a, b := f.saturated[i], f.saturated[i+1]
	return Liquid{
		Density:   mix(a.liquidDensity, b.liquidDensity, share),
		Enthalpy:  mix(a.liquidEnthalpy, b.liquidEnthalpy, share),
		Viscosity: mix(a.liquidViscosity, b.liquidViscosity, share),
	}, nil
}

// mix returns the value a share of the way from a to b.
func mix(a, b, share float64) float64 { return a + share*(b-a) }

// Package humidair holds the properties of moist air and the saturation curves
// of water and ice.
//
// The relations are those of the ASHRAE Handbook—Fundamentals (2017 and 2021),
// chapter 1, in SI units: the Hyland–Wexler saturation curves (eqs. 5 and 6)
// and the perfect-gas relations for a mixture of dry air and water vapor. A
// second, separate pair of functions whose names begin with ISO gives the
// curves of ISO 13788:2012, Annex E, for vapor diffusion calculations that are
// compared with other work to that standard. The two disagree by up to half a
// percent, so one calculation uses one of them and never both.
//
// Symbols and names:
//
//	t    dry-bulb temperature, °C            units.Temperature
//	t*   thermodynamic wet bulb, °C          WetBulb
//	φ    relative humidity, %                units.RelativeHumidity
//	p    total pressure, Pa                  units.Pressure
//	pws  saturation pressure, Pa             SaturationPressure
//	pw   vapor pressure, Pa                  VaporPressure
//	W    kg vapor per kg dry air             HumidityRatio
//	h    J per kg dry air                    Enthalpy
//	v    m³ per kg dry air                   SpecificVolume
//	ρ    kg moist air per m³                 Density
//
// Range: −100 to 200 °C, 0 to 100 % relative humidity, 20 to 180 kPa, humidity
// ratio 0 to 1 kg/kg. Outside it, and for NaN and infinities, every function
// returns a *RangeError and no number. None allocates when it succeeds.
//
// Known deviations. The perfect-gas relations leave out the enhancement factor
// of real moist air, which makes the saturated humidity ratio 0.4 to 0.5 % too
// low at room conditions. The handbook changes from the ice to the water curve
// at 0 °C, where the two are 0.06 Pa apart; here the change is at the triple
// point, 0.01 °C, where they meet, so that the inverse has no jump. Below that
// point "dew point" means the frost point unless a name says OverWater.
package humidair

import "fmt"

// HumidityRatio is in kg of water vapor per kg of dry air, 0 to 1. A chart in
// grams per kilogram shows a thousand times as much.
type HumidityRatio float64

// SpecificEnthalpy is in J per kg of dry air, zero for dry air at 0 °C and
// liquid water at 0 °C.
type SpecificEnthalpy float64

// VolumePerMass is in m³ of moist air per kg of dry air.
type VolumePerMass float64

// MassPerVolume is in kg of moist air per m³.
type MassPerVolume float64

// A RangeError reports an argument outside the range in which a relation holds.
// NaN and infinities are outside every range.
type RangeError struct {
	Quantity  string  // such as "temperature"
	Value     float64 // as given
	Low, High float64 // the valid range, both ends included
	Unit      string  // of Value, Low and High
	Because   string  // what sets the range
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s %g %s is outside %.6g to %.6g %s: %s",
		e.Quantity, e.Value, e.Unit, e.Low, e.High, e.Unit, e.Because)
}

// A span is a fixed valid range.
type span struct {
	quantity, unit, because string
	low, high               float64
}

func (s *span) check(v float64) error {
	if v >= s.low && v <= s.high {
		return nil
	}
	return s.outside(v)
}

func (s *span) outside(v float64) error {
	return &RangeError{s.quantity, v, s.low, s.high, s.unit, s.because}
}

var (
	temperatures = span{"temperature", "°C", "ASHRAE Fundamentals ch. 1, eqs. 5 and 6", -100, 200}
	humidities   = span{"relative humidity", "%", "a share of saturation", 0, 100}
	// The pressures of the standard atmosphere from 11,000 m down to
	// −5000 m, rounded outwards; our choice, the relations name none.
	pressures = span{"total pressure", "Pa", "the standard atmosphere from 11,000 m to -5000 m", 20e3, 180e3}
	// Above 1 kg/kg the gas is steam with some air in it. The bound is our
	// choice; it also catches grams per kilogram given for kilograms.
	ratios = span{"humidity ratio", "kg/kg", "moist-air relations; divide g/kg by 1000", 0, 1}
)

// noise is the relative excess over saturation that rounding may cause.
const noise = 1e-9

package humidair

import "proveout/checks/units"

// DewPoint returns the temperature to which air at t and rh must cool to
// saturate. Below 0.01 °C that is the frost point, as in ASHRAE's curve. Air
// with no vapor has no dew point: rh 0 is an error, and so is a vapor pressure
// below 0.0014 Pa.
//
// It inverts ASHRAE Fundamentals 2017, ch. 1, eqs. 5 and 6, and not the cruder
// regressions 37 and 38.
func DewPoint(t units.Temperature, rh units.RelativeHumidity) (units.Temperature, error) {
	pw, err := VaporPressure(t, rh)
	if err != nil {
		return 0, err
	}
	td, err := SaturationTemperature(pw)
	if err != nil {
		return 0, err
	}
	return min(td, t), nil
}

// FrostPoint returns the temperature at which the vapor of air at t and rh is in
// equilibrium with ice. Air with more than 611.66 Pa of vapor has none.
func FrostPoint(t units.Temperature, rh units.RelativeHumidity) (units.Temperature, error) {
	pw, err := VaporPressure(t, rh)
	if err != nil {
		return 0, err
	}
	tf, err := SaturationTemperatureOverIce(pw)
	if err != nil {
		return 0, err
	}
	return min(tf, t), nil
}

// DewPointOverWater returns the temperature at which the vapor of air at t and
// rh is in equilibrium with liquid water, supercooled below 0 °C: what a dew
// point mirror shows before its film freezes. It holds down to −40 °C, 19 Pa.
func DewPointOverWater(t units.Temperature, rh units.RelativeHumidity) (units.Temperature, error) {
	pw, err := VaporPressure(t, rh)
	if err != nil {
		return 0, err
	}
	return SaturationTemperatureOverWater(pw)
}

// DewPointFromHumidityRatio returns the dew point (below 0.01 °C the frost
// point) of air of humidity ratio W at total pressure p.
func DewPointFromHumidityRatio(W HumidityRatio, p units.Pressure) (units.Temperature, error) {
	pw, err := VaporPressureFromHumidityRatio(W, p)
	if err != nil {
		return 0, err
	}
	return SaturationTemperature(pw)
}

package humidair

import (
	"proveout/checks/units"
)

// massRatio is the molar mass of water over that of dry air.
const massRatio = 0.621945 // ASHRAE Fundamentals 2017, ch. 1, eq. 20 (read)

// VaporPressure returns the partial pressure of the water vapor in air at t,
// −100 to 200 °C, and rh, 0 to 100 %.
//
// ASHRAE Fundamentals 2017, ch. 1, eqs. 12 and 22.
func VaporPressure(t units.Temperature, rh units.RelativeHumidity) (units.Pressure, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	if err := humidities.check(float64(rh)); err != nil {
		return 0, err
	}
	return units.Pressure(rh.Fraction() * saturation(float64(t))), nil
}

// VaporPressureFromHumidityRatio returns the vapor pressure of air of humidity
// ratio W at total pressure p.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 20 solved for pw.
func VaporPressureFromHumidityRatio(W HumidityRatio, p units.Pressure) (units.Pressure, error) {
	if err := ratios.check(float64(W)); err != nil {
		return 0, err
	}
	if err := pressures.check(float64(p)); err != nil {
		return 0, err
	}
	return p * units.Pressure(W/(massRatio+W)), nil
}

// RelativeHumidity returns the relative humidity of air at t whose vapor
// pressure is pw. Above saturation is an error.
//
// ASHRAE Fundamentals 2017, ch. 1, eqs. 12 and 22.
func RelativeHumidity(t units.Temperature, pw units.Pressure) (units.RelativeHumidity, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	pws := saturation(float64(t))
	if !(pw >= 0 && float64(pw) <= pws*(1+noise)) {
		return 0, &RangeError{"vapor pressure", float64(pw), 0, pws, "Pa", "saturation at the air's temperature"}
	}
	return units.RelativeHumidity(min(100*float64(pw)/pws, 100)), nil
}

// RelativeHumidityFromDewPoint returns the relative humidity of air at t with
// the dew point td, which below 0.01 °C is the frost point. A dew point above t
// is an error.
func RelativeHumidityFromDewPoint(t, td units.Temperature) (units.RelativeHumidity, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	if !(td >= -100 && td <= t) {
		return 0, &RangeError{"dew point", float64(td), -100, float64(t), "°C", "the air's temperature"}
	}
	return units.RelativeHumidity(100 * saturation(float64(td)) / saturation(float64(t))), nil
}

// RelativeHumidityFromHumidityRatio returns the relative humidity of air at t,
// of humidity ratio W, at total pressure p. Above saturation is an error.
func RelativeHumidityFromHumidityRatio(t units.Temperature, W HumidityRatio, p units.Pressure) (units.RelativeHumidity, error) {
	pw, err := VaporPressureFromHumidityRatio(W, p)
	if err != nil {
		return 0, err
	}
	return RelativeHumidity(t, pw)
}

// RelativeHumidityFromWetBulb returns the relative humidity of air at t with the
// thermodynamic wet bulb tw at total pressure p.
func RelativeHumidityFromWetBulb(t, tw units.Temperature, p units.Pressure) (units.RelativeHumidity, error) {
	W, err := HumidityRatioFromWetBulb(t, tw, p)
	if err != nil {
		return 0, err
	}
	return RelativeHumidityFromHumidityRatio(t, W, p)
}

// HumidityRatioFromVaporPressure returns the humidity ratio of air of vapor
// pressure pw at total pressure p; pw may be at most 0.6165·p, which is 1 kg/kg.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 20.
func HumidityRatioFromVaporPressure(pw, p units.Pressure) (HumidityRatio, error) {
	if err := pressures.check(float64(p)); err != nil {
		return 0, err
	}
	W := HumidityRatio(massRatio * pw / (p - pw))
	if !(pw >= 0 && W >= 0 && W <= 1+noise) {
		most := float64(p) / (1 + massRatio)
		return 0, &RangeError{"vapor pressure", float64(pw), 0, most, "Pa", "1 kg vapor per kg dry air at this total pressure"}
	}
	return min(W, 1), nil
}

// HumidityRatioFromRelativeHumidity returns the humidity ratio of air at t and
// rh at total pressure p.
func HumidityRatioFromRelativeHumidity(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (HumidityRatio, error) {
	pw, err := VaporPressure(t, rh)
	if err != nil {
		return 0, err
	}
	return HumidityRatioFromVaporPressure(pw, p)
}

// HumidityRatioFromDewPoint returns the humidity ratio of air of dew point td
// (below 0.01 °C, frost point) at total pressure p.
func HumidityRatioFromDewPoint(td units.Temperature, p units.Pressure) (HumidityRatio, error) {
	return SaturationHumidityRatio(td, p)
}

// SaturationHumidityRatio returns the humidity ratio of saturated air at t and
// total pressure p.
func SaturationHumidityRatio(t units.Temperature, p units.Pressure) (HumidityRatio, error) {
	pws, err := SaturationPressure(t)
	if err != nil {
		return 0, err
	}
	return HumidityRatioFromVaporPressure(pws, p)
}

// SpecificHumidity returns kg of vapor per kg of moist air.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 9b.
func SpecificHumidity(W HumidityRatio) (float64, error) {
	if err := ratios.check(float64(W)); err != nil {
		return 0, err
	}
	return float64(W / (1 + W)), nil
}

// DegreeOfSaturation returns the humidity ratio as a share, 0 to 1, of the
// saturated one at the same temperature and pressure. It is a little less than
// the relative humidity.
//
// ASHRAE Fundamentals 2009, ch. 1, eq. 12.
func DegreeOfSaturation(t units.Temperature, W HumidityRatio, p units.Pressure) (float64, error) {
	Ws, err := SaturationHumidityRatio(t, p)
	if err != nil {
		return 0, err
	}
	if !(W >= 0 && W <= Ws*(1+noise)) {
		return 0, supersaturated(W, Ws)
	}
	return min(float64(W/Ws), 1), nil
}

func supersaturated(W, Ws HumidityRatio) error {
	return &RangeError{"humidity ratio", float64(W), 0, float64(Ws), "kg/kg", "saturation at the air's temperature and pressure"}
}

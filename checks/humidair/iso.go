package humidair

import (
	"math"

	"proveout/checks/units"
)

// The curves of ISO 13788:2012, Annex E (read in code that quotes them; the
// standard itself from memory). Some public code has 267.5 for the 265.5 of the
// ice curve, which is wrong.
const (
	isoZero                = 610.5 // Pa at 0 °C
	isoWaterA, isoWaterB   = 17.269, 237.3
	isoIceA, isoIceB       = 21.875, 265.5
	isoColdest, isoHottest = -40.0, 80.0
)

var (
	// Our choice, since the annex names no range (from memory). In it the
	// curves stay within 1.9 % of the Hyland–Wexler ones, and within 0.2 %
	// from −5 to 80 °C (computed).
	isoTemperatures = span{"temperature", "°C", "ISO 13788 Annex E, as used here", isoColdest, isoHottest}
	isoPressures    = span{"vapor pressure", "Pa", "ISO 13788 Annex E from -40 to 80 °C",
		isoSaturation(isoColdest), isoSaturation(isoHottest)}
)

// ISOSaturationPressure returns the saturation pressure at t, −40 to 80 °C, by
// ISO 13788:2012, Annex E. It is for vapor diffusion calculations and is never
// mixed with SaturationPressure, from which it differs by −0.5 % at −20 °C and
// −0.1 % at 0 and at 24 °C.
func ISOSaturationPressure(t units.Temperature) (units.Pressure, error) {
	if err := isoTemperatures.check(float64(t)); err != nil {
		return 0, err
	}
	return units.Pressure(isoSaturation(float64(t))), nil
}

func isoSaturation(θ float64) float64 {
	if θ < 0 {
		return isoZero * math.Exp(isoIceA*θ/(isoIceB+θ))
	}
	return isoZero * math.Exp(isoWaterA*θ/(isoWaterB+θ))
}

// ISOSaturationTemperature is the inverse of ISOSaturationPressure, for 12.61 Pa
// to 47.4 kPa.
func ISOSaturationTemperature(p units.Pressure) (units.Temperature, error) {
	if err := isoPressures.check(float64(p)); err != nil {
		return 0, err
	}
	k := math.Log(float64(p) / isoZero)
	if p < isoZero {
		return units.Temperature(isoIceB * k / (isoIceA - k)), nil
	}
	return units.Temperature(isoWaterB * k / (isoWaterA - k)), nil
}

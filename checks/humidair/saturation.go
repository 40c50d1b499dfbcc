package humidair

import (
	"math"

	"proveout/checks/units"
)

// TriplePoint is where the ice and the water curve meet, in °C.
const TriplePoint units.Temperature = 0.01

// A curve is ln p = c0/T + c1 + c2·T + c3·T² + c4·T³ + c5·T⁴ + c6·ln T, with p
// in Pa and T in K.
type curve struct{ c0, c1, c2, c3, c4, c5, c6 float64 }

// Hyland and Wexler 1983, as ASHRAE Fundamentals 2017, ch. 1, eqs. 5 and 6
// (read in a copy).
var (
	ice = curve{-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7,
		2.0747825e-9, -9.484024e-13, 4.1635019}
	water = curve{-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5,
		-1.4452093e-8, 0, 6.5459673}
)

func (c *curve) ln(T float64) float64 {
	return c.c0/T + c.c1 + T*(c.c2+T*(c.c3+T*(c.c4+T*c.c5))) + c.c6*math.Log(T)
}

func (c *curve) pressure(T float64) float64 { return math.Exp(c.ln(T)) }

// slope is d(ln p)/dT in 1/K.
func (c *curve) slope(T float64) float64 {
	return -c.c0/(T*T) + c.c2 + T*(2*c.c3+T*(3*c.c4+T*4*c.c5)) + c.c6/T
}

// temperature inverts the curve by Newton's method on ln p, which is so nearly
// straight that a step below 1e-5 K leaves less than 1e-12 K to go. The start
// is θ, in °C, and the result is in °C.
func (c *curve) temperature(lnp, θ float64) float64 {
	T := θ + zeroCelsius
	for range 20 {
		step := (c.ln(T) - lnp) / c.slope(T)
		T -= step
		if math.Abs(step) < 1e-5 {
			break
		}
	}
	return T - zeroCelsius
}

const zeroCelsius = 273.15

var (
	iceTemperatures = span{"temperature", "°C", "the curve over ice, ASHRAE Fundamentals ch. 1, eq. 5", -100, float64(TriplePoint)}
	// Equation 6 is stated from 0 °C. Continued to −40 °C it stays within
	// 0.8 % of Murphy and Koop 2005, eq. 10; see the tests.
	waterTemperatures = span{"temperature", "°C", "the curve over water, ASHRAE Fundamentals ch. 1, eq. 6, continued below 0 °C", -40, 200}

	triplePressure = ice.pressure(float64(TriplePoint) + zeroCelsius)
	lnTriple       = math.Log(triplePressure)

	saturationPressures = span{"vapor pressure", "Pa", "saturation from -100 to 200 °C",
		saturation(temperatures.low), saturation(temperatures.high)}
	icePressures = span{"vapor pressure", "Pa", "saturation over ice from -100 to 0.01 °C",
		saturation(iceTemperatures.low), triplePressure}
	waterPressures = span{"vapor pressure", "Pa", "saturation over water from -40 to 200 °C",
		water.pressure(waterTemperatures.low + zeroCelsius), saturation(waterTemperatures.high)}
)

// over returns the curve in force at t: ice up to the triple point, water above.
func over(t float64) *curve {
	if t <= float64(TriplePoint) {
		return &ice
	}
	return &water
}

func saturation(t float64) float64 { return over(t).pressure(t + zeroCelsius) }

// SaturationPressure returns the vapor pressure of saturated air at t, −100 to
// 200 °C: over ice up to 0.01 °C, over water above.
//
// ASHRAE Fundamentals 2017, ch. 1, eqs. 5 and 6.
func SaturationPressure(t units.Temperature) (units.Pressure, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	return units.Pressure(saturation(float64(t))), nil
}

// SaturationPressureOverIce is the same over ice only, −100 to 0.01 °C.
func SaturationPressureOverIce(t units.Temperature) (units.Pressure, error) {
	if err := iceTemperatures.check(float64(t)); err != nil {
		return 0, err
	}
	return units.Pressure(ice.pressure(t.Kelvin())), nil
}

// SaturationPressureOverWater is the same over liquid water only, −40 to
// 200 °C; below 0 °C the water is supercooled.
func SaturationPressureOverWater(t units.Temperature) (units.Pressure, error) {
	if err := waterTemperatures.check(float64(t)); err != nil {
		return 0, err
	}
	return units.Pressure(water.pressure(t.Kelvin())), nil
}

// SaturationSlope returns d(ln pws)/dt in 1/K at t, −100 to 200 °C: the relative
// change of saturation pressure, and so of relative humidity at constant vapor
// pressure, with temperature. It is the derivative of eqs. 5 and 6.
func SaturationSlope(t units.Temperature) (float64, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	return over(float64(t)).slope(t.Kelvin()), nil
}

// SaturationTemperature returns the temperature at which pw saturates: the dew
// point above 0.01 °C, the frost point below. It is the inverse of
// SaturationPressure and holds from 0.0014 Pa to 1.555 MPa.
func SaturationTemperature(pw units.Pressure) (units.Temperature, error) {
	if err := saturationPressures.check(float64(pw)); err != nil {
		return 0, err
	}
	return units.Temperature(saturationTemperature(float64(pw))), nil
}

func saturationTemperature(pw float64) float64 {
	if pw <= triplePressure {
		return frost(math.Log(pw))
	}
	return dew(math.Log(pw))
}

// SaturationTemperatureOverIce is the inverse of SaturationPressureOverIce, from
// 0.0014 to 611.66 Pa.
func SaturationTemperatureOverIce(pw units.Pressure) (units.Temperature, error) {
	if err := icePressures.check(float64(pw)); err != nil {
		return 0, err
	}
	return units.Temperature(frost(math.Log(float64(pw)))), nil
}

// SaturationTemperatureOverWater is the inverse of SaturationPressureOverWater,
// from 19 Pa to 1.555 MPa.
func SaturationTemperatureOverWater(pw units.Pressure) (units.Temperature, error) {
	if err := waterPressures.check(float64(pw)); err != nil {
		return 0, err
	}
	return units.Temperature(dew(math.Log(float64(pw)))), nil
}

// frost and dew start from the Magnus form of the curves, which is within a few
// kelvin at the ends of their ranges and within 0.1 K between −40 and 60 °C.

func frost(lnp float64) float64 {
	k := lnp - lnTriple
	return ice.temperature(lnp, 265.5*k/(21.875-k))
}

func dew(lnp float64) float64 {
	k := lnp - lnTriple
	return water.temperature(lnp, 237.3*k/(17.269-k))
}

package humidair

import (
	"math"

	"proveout/checks/units"
)

// ASHRAE states eqs. 3 and 4 for −5000 to 11,000 m.
var altitudes = span{"altitude", "m", "ASHRAE Fundamentals ch. 1, eqs. 3 and 4", -5000, 11000}

// StandardPressure returns the pressure of the standard atmosphere at an
// altitude of −5000 to 11,000 m.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 3.
func StandardPressure(altitude units.Length) (units.Pressure, error) {
	if err := altitudes.check(float64(altitude)); err != nil {
		return 0, err
	}
	return units.Pressure(101325 * math.Pow(1-2.25577e-5*float64(altitude), 5.2559)), nil
}

// StandardTemperature returns the temperature of the standard atmosphere at an
// altitude of −5000 to 11,000 m.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 4.
func StandardTemperature(altitude units.Length) (units.Temperature, error) {
	if err := altitudes.check(float64(altitude)); err != nil {
		return 0, err
	}
	return units.Temperature(15 - 0.0065*float64(altitude)), nil
}

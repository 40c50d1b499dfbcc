package envelope

import (
	"fmt"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Air is the air on one side of a face: temperature and vapor pressure, because
// the pressure is what averages over time and drives diffusion. An attic's air,
// for one, has its own temperature and the outdoor vapor pressure.
type Air struct {
	Temperature   units.Temperature
	VaporPressure units.Pressure
}

// AirAt returns air of a temperature, −40 to 80 °C, and relative humidity, by
// the saturation pressure of ISO 13788:2012 Annex E.
func AirAt(t units.Temperature, rh units.RelativeHumidity) (Air, error) {
	if !(rh >= 0 && rh <= 100) {
		return Air{}, fmt.Errorf("relative humidity %v %% is outside 0 to 100", float64(rh))
	}
	sat, err := humidair.ISOSaturationPressure(t)
	if err != nil {
		return Air{}, err
	}
	return Air{t, sat * units.Pressure(rh.Fraction())}, nil
}

// RelativeHumidity returns the relative humidity of the air.
func (a Air) RelativeHumidity() (units.RelativeHumidity, error) {
	return a.humidityAt(a.Temperature)
}

// humidityAt returns the relative humidity at a surface of temperature t.
func (a Air) humidityAt(t units.Temperature) (units.RelativeHumidity, error) {
	sat, err := humidair.ISOSaturationPressure(t)
	if err != nil {
		return 0, err
	}
	return units.RelativeHumidity(100 * a.VaporPressure / sat), nil
}

// DewPoint returns the temperature at which the air is saturated, over ice
// below 0 °C (ISO 13788:2012 Annex E).
func (a Air) DewPoint() (units.Temperature, error) {
	return humidair.ISOSaturationTemperature(a.VaporPressure)
}

func (a Air) check(side string) error {
	sat, err := humidair.ISOSaturationPressure(a.Temperature)
	if err != nil {
		return fmt.Errorf("air on the %s: %w", side, err)
	}
	if !(a.VaporPressure >= 0 && a.VaporPressure <= sat*(1+slack)) {
		return fmt.Errorf("air on the %s at %v °C cannot hold %v Pa of vapor, only 0 to %.0f", side, float64(a.Temperature), float64(a.VaporPressure), float64(sat))
	}
	return nil
}

// slack is the relative float noise allowed in comparisons.
const slack = 1e-9

package airflow

import (
	"fmt"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Air is air as instruments show it, at the pressure of the place.
type Air struct {
	Temperature units.Temperature
	Humidity    units.RelativeHumidity
	Pressure    units.Pressure
}

// State is air with the properties that follow.
type State struct {
	Air
	Ratio    humidair.HumidityRatio
	Enthalpy humidair.SpecificEnthalpy
	Volume   humidair.VolumePerMass
	Density  humidair.MassPerVolume
}

// State returns the properties of the air, by ASHRAE Fundamentals ch. 1. It
// returns an error outside their range.
func (a Air) State() (State, error) {
	s := State{Air: a}
	w, err := humidair.HumidityRatioFromRelativeHumidity(a.Temperature, a.Humidity, a.Pressure)
	if err != nil {
		return State{}, err
	}
	s.Ratio = w
	if s.Enthalpy, err = humidair.Enthalpy(a.Temperature, w); err != nil {
		return State{}, err
	}
	if s.Volume, err = humidair.SpecificVolume(a.Temperature, w, a.Pressure); err != nil {
		return State{}, err
	}
	s.Density, err = humidair.Density(a.Temperature, w, a.Pressure)
	return s, err
}

// Step is one line of a calculation.
type Step = units.Step

// within returns an error unless lo ≤ x ≤ hi, which no NaN is.
func within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%g %s", x, unit), lo, hi, unit)
}

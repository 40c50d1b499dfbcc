package humidair

import (
	"proveout/checks/units"
)

// gasConstant of dry air in J/(kg·K), and the molar mass of dry air over that of
// water.
const (
	gasConstant      = 287.042  // ASHRAE Fundamentals 2017, ch. 1, eq. 26 (read)
	inverseMassRatio = 1.607858 // the same
)

// Enthalpy returns the enthalpy of air at t of humidity ratio W.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 30.
func Enthalpy(t units.Temperature, W HumidityRatio) (SpecificEnthalpy, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	if err := ratios.check(float64(W)); err != nil {
		return 0, err
	}
	return SpecificEnthalpy(1000 * (cp*float64(t) + float64(W)*(h0+cv*float64(t)))), nil
}

// TemperatureFromEnthalpy returns the temperature of air of enthalpy h and
// humidity ratio W. It does not look whether such air is saturated.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 30 solved for t.
func TemperatureFromEnthalpy(h SpecificEnthalpy, W HumidityRatio) (units.Temperature, error) {
	if err := ratios.check(float64(W)); err != nil {
		return 0, err
	}
	t := (float64(h)/1000 - h0*float64(W)) / (cp + cv*float64(W))
	if !(t >= temperatures.low && t <= temperatures.high) {
		return 0, enthalpyRange(h, temperatures.low, temperatures.high, W, W)
	}
	return units.Temperature(t), nil
}

// HumidityRatioFromEnthalpy returns the humidity ratio of air at t of enthalpy
// h. It does not look whether such air is saturated.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 30 solved for W.
func HumidityRatioFromEnthalpy(t units.Temperature, h SpecificEnthalpy) (HumidityRatio, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	W := (float64(h)/1000 - cp*float64(t)) / (h0 + cv*float64(t))
	if !(W >= -noise && W <= 1+noise) {
		return 0, enthalpyRange(h, float64(t), float64(t), 0, 1)
	}
	return HumidityRatio(min(max(W, 0), 1)), nil
}

func enthalpyRange(h SpecificEnthalpy, low, high float64, dry, moist HumidityRatio) error {
	from, _ := Enthalpy(units.Temperature(low), dry)
	to, _ := Enthalpy(units.Temperature(high), moist)
	return &RangeError{"enthalpy", float64(h), float64(from), float64(to), "J/kg", "-100 to 200 °C and 0 to 1 kg/kg"}
}

// SpecificVolume returns the specific volume of air at t of humidity ratio W at total
// pressure p.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 26.
func SpecificVolume(t units.Temperature, W HumidityRatio, p units.Pressure) (VolumePerMass, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	if err := ratios.check(float64(W)); err != nil {
		return 0, err
	}
	if err := pressures.check(float64(p)); err != nil {
		return 0, err
	}
	return VolumePerMass(volume(float64(t), float64(W), float64(p))), nil
}

func volume(t, W, p float64) float64 {
	return gasConstant * (t + zeroCelsius) * (1 + inverseMassRatio*W) / p
}

// Density returns the density of air, its vapor included, at t of humidity
// ratio W at total pressure p.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 11.
func Density(t units.Temperature, W HumidityRatio, p units.Pressure) (MassPerVolume, error) {
	v, err := SpecificVolume(t, W, p)
	if err != nil {
		return 0, err
	}
	return MassPerVolume((1 + float64(W)) / float64(v)), nil
}

// Package wood relates the moisture content of wood to the air it is in
// equilibrium with, and corrects what a pin meter reads.
//
// Equilibrium moisture content is that of the Hailwood–Horrobin equation with
// two hydrates as fitted in the Wood Handbook, FPL-GTR-190 (2010) and
// FPL-GTR-282 (2021), eq. 4-5, with its Celsius coefficients. It is for small
// pieces of any species and stands between adsorption and desorption.
//
// Symbols and names:
//
//	T    temperature of air and wood, °C           units.Temperature
//	h    relative humidity, 0 to 1 in the formula  units.RelativeHumidity
//	M    mass of water per mass of dry wood, %     units.Percent
//
// Range: −1.1 °C (30 °F), where the handbook's table begins, to 70 °C; 0 to
// 95 % relative humidity. Above 95 % wood takes up water by capillarity and the
// equation says little. Outside the range, and for NaN and infinities, every
// function returns a *humidair.RangeError and no number.
//
// Known deviations. Against the handbook's Table 4-2 (from memory) the equation
// stays within 0.05 % moisture from 30 to 90 °F; at 140 °F and 55 % a secondary
// source gives the table as 8.0 % where the equation gives 8.4 %. Wood that
// dries holds up to about 2 % more water than wood that gets wet (common
// practice).
package wood

import (
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// The range of the equilibrium; the upper temperature is our choice, above which
// no wood in a house stays.
const (
	coldest, hottest units.Temperature      = -1.1112, 70 // 30 °F is −1.1111 °C
	wettest          units.RelativeHumidity = 95
)

// A sorption is eq. 4-5 at one temperature.
type sorption struct{ scale, K, K1, K1K2 float64 }

// Wood Handbook, eq. 4-5, with T in °C (read in code that quotes them).
func sorptionAt(t units.Temperature) sorption {
	T := float64(t)
	W := 349 + T*(1.29+T*0.0135)
	K := 0.805 + T*(0.000736-T*0.00000273)
	K1 := 6.27 + T*(-0.00938-T*0.000303)
	K2 := 1.91 + T*(0.0407-T*0.000293)
	return sorption{1800 / W, K, K1, K1 * K2}
}

// moisture returns M in % at h, a fraction, and its derivative by h.
func (s *sorption) moisture(h float64) (M, slope float64) {
	k := s.K * h
	hydrated := s.K1*k + 2*s.K1K2*k*k
	all := 1 + s.K1*k + s.K1K2*k*k
	M = s.scale * (k/(1-k) + hydrated/all)
	slope = s.scale * s.K * (1/((1-k)*(1-k)) +
		((s.K1+4*s.K1K2*k)*all-hydrated*(s.K1+2*s.K1K2*k))/(all*all))
	return M, slope
}

// EquilibriumMoisture returns the moisture content that wood reaches in air at
// t, −1.1 to 70 °C, and rh, 0 to 95 %.
//
// Wood Handbook FPL-GTR-282, eq. 4-5.
func EquilibriumMoisture(t units.Temperature, rh units.RelativeHumidity) (units.Percent, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	if !(rh >= 0 && rh <= wettest) {
		return 0, &humidair.RangeError{Quantity: "relative humidity", Value: float64(rh), Low: 0, High: float64(wettest),
			Unit: "%", Because: "sorption by Wood Handbook eq. 4-5"}
	}
	s := sorptionAt(t)
	M, _ := s.moisture(rh.Fraction())
	return units.Percent(M), nil
}

// EquilibriumHumidity returns the relative humidity of air in equilibrium with
// wood of moisture content mc at t: the air in a closed stud bay. It is the
// inverse of EquilibriumMoisture; mc above what 95 % gives, 24 % at 13 °C, is an
// error.
func EquilibriumHumidity(t units.Temperature, mc units.Percent) (units.RelativeHumidity, error) {
	if err := checkTemperature(t); err != nil {
		return 0, err
	}
	s := sorptionAt(t)
	high := wettest.Fraction()
	most, _ := s.moisture(high)
	if !(mc >= 0 && float64(mc) <= most) {
		return 0, &humidair.RangeError{Quantity: "moisture content", Value: float64(mc), Low: 0, High: most,
			Unit: "%", Because: "equilibrium with air of 0 to 95 % by Wood Handbook eq. 4-5"}
	}
	return units.RelativeHumidity(100 * s.humidity(float64(mc), high)), nil
}

// humidity solves moisture(h) = M between 0 and high by Newton's method, halving
// instead where a step would leave the bracket.
func (s *sorption) humidity(M, high float64) float64 {
	low := 0.0
	h := high / 2
	for range 60 {
		got, slope := s.moisture(h)
		if got < M {
			low = h
		} else {
			high = h
		}
		next := h - (got-M)/slope
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		if step := next - h; step < 1e-12 && step > -1e-12 {
			return next
		}
		h = next
	}
	return h
}

func checkTemperature(t units.Temperature) error {
	if t >= coldest && t <= hottest {
		return nil
	}
	return &humidair.RangeError{Quantity: "temperature", Value: float64(t), Low: float64(coldest), High: float64(hottest),
		Unit: "°C", Because: "sorption by Wood Handbook eq. 4-5"}
}

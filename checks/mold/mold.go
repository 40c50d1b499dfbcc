// Package mold computes the mold growth index of a surface from the hourly
// temperature and relative humidity of the air at it.
//
// The model is that of Hukka and Viitanen (Wood Science and Technology 33, 1999,
// 475) for pine and spruce sapwood, with the sensitivity classes and the decline
// factor for other materials of Ojanen, Viitanen and others (2010). ASHRAE
// Standard 160 judges by the same index: it must stay below 3 (from memory).
// Coefficients were read in research code that quotes them; equation numbers are
// from memory.
//
// Symbols and names:
//
//	M        the index, 0 to 6                         Index
//	T, RH    temperature and humidity at the surface   units.Temperature, units.RelativeHumidity
//	RHcrit   least humidity at which mold grows        Class.CriticalHumidity
//	Mmax     where the index levels off                Class.Greatest
//	tm, tv   weeks to index 1 and to index 3           Class.WeeksToStart, Class.WeeksToVisible
//	Cmat     decline factor                            Decline
//
// Growth is possible above 0 and below 50 °C at or above the critical humidity;
// at any other time the index declines. Series hold one value an hour. A value
// that is missing, not finite, outside −60 to 100 °C or outside 0 to 100 % is a
// *humidair.RangeError and no index comes back.
//
// Known deviations and choices. The critical humidity is the cubic up to 20 °C,
// 80.04 % there, and the class's least humidity above; a form that takes the
// greater of the two at every temperature gives 80.03 % at 25 °C. Some editions
// keep the spruce term in tm for the classes other than the very sensitive one
// (from memory, uncertain); here it is left out of all of them, which grows
// sooner. Public code often has a wrong sign in the cubic or a wrong bracket in
// k1; see the tests. Integration is by explicit Euler steps of an hour.
package mold

import (
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// An Index is the amount of mold: 0 none, 1 growth starts under the microscope,
// 2 less than 10 % seen there, 3 visible or less than 50 % under the microscope,
// 4 visible on 10 to 50 % of the surface, 5 on more than 50 %, 6 on all of it.
type Index float64

// The indices that name a stage.
const (
	Microscopic Index = 1
	Visible     Index = 3
)

// A Decline is the factor Cmat, 0 to 1, by which mold on a material declines in
// dry or cold times compared with pine.
type Decline float64

// Ojanen and others 2010 (from memory). ASHRAE 160 takes AlmostNoDecline where
// nothing is known (from memory).
const (
	StrongDecline        Decline = 1
	SignificantDecline   Decline = 0.5
	RelativelyLowDecline Decline = 0.25
	AlmostNoDecline      Decline = 0.1
)

// The limits of growth and of what a series may hold, in °C.
const (
	freezing, tooHot = 0.0, 50.0
	coldest, hottest = -60.0, 100.0
)

// noise is the relative excess over 100 % that a computed humidity may have.
const noise = 1e-9

// checkAir reports values that no air has.
func checkAir(t units.Temperature, rh units.RelativeHumidity) error {
	if !(t >= coldest && t <= hottest) {
		return &humidair.RangeError{Quantity: "temperature", Value: float64(t), Low: coldest, High: hottest,
			Unit: "°C", Because: "air at a surface of a building"}
	}
	if !(rh >= 0 && rh <= 100*(1+noise)) {
		return &humidair.RangeError{Quantity: "relative humidity", Value: float64(rh), Low: 0, High: 100,
			Unit: "%", Because: "a share of saturation"}
	}
	return nil
}

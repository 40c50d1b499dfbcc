package mold

import (
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// A Class says how fast and how far mold grows on a kind of surface.
type Class struct {
	name string
	// k1 while the index is below 1 and from there on; 1 and the times of the
	// 1999 model where byTimes.
	slow, fast float64
	byTimes    bool
	// Mmax = a + b·x − c·x².
	a, b, c float64
	driest  float64 // RHmin, %
	// The spruce and kiln-dried-face terms of tm and tv together, in their
	// exponents.
	startTerm, visibleTerm float64
}

// The classes of Ojanen, Viitanen and others 2010, table 3 and eq. 6 (figures
// read in research code that quotes them), with typical surfaces.
var (
	// VerySensitive is pine sapwood.
	VerySensitive = &Class{name: "very sensitive", slow: 1, fast: 2, a: 1, b: 7, c: 2, driest: 80}
	// Sensitive is glued or planed wood and paper-faced board.
	Sensitive = &Class{name: "sensitive", slow: 0.578, fast: 0.386, a: 0.3, b: 6, c: 1, driest: 80}
	// MediumResistant is concrete, glass wool and plastic wool.
	MediumResistant = &Class{name: "medium resistant", slow: 0.072, fast: 0.097, a: 0, b: 5, c: 1.5, driest: 85}
	// Resistant is glass, metal and polished polyurethane.
	Resistant = &Class{name: "resistant", slow: 0.033, fast: 0.014, a: 0, b: 3, c: 1, driest: 85}
)

// Classes lists the four, the most sensitive first.
var Classes = []*Class{VerySensitive, Sensitive, MediumResistant, Resistant}

// A Wood is a species of the 1999 model.
type Wood int

const (
	Pine Wood = iota
	Spruce
)

// A Face is how the surface of the wood was made.
type Face int

const (
	Resawn Face = iota
	KilnDried
)

// Sapwood returns the class of the model of 1999, made from experiments with
// pine and spruce sapwood. An original kiln-dried face, rich in nutrients,
// molds sooner than a resawn one.
//
// Hukka and Viitanen 1999, eqs. 2 to 6.
func Sapwood(wood Wood, face Face) *Class {
	var W, SQ float64
	if wood == Spruce {
		W = 1
	}
	if face == KilnDried {
		SQ = 1
	}
	return &Class{name: "sapwood", slow: 1, byTimes: true, a: 1, b: 7, c: 2, driest: 80,
		startTerm: 0.14*W - 0.33*SQ, visibleTerm: 0.06 * W}
}

func (c *Class) String() string { return c.name }

// CriticalHumidity returns the least relative humidity at which mold grows on
// the class at t, 0 to 50 °C.
//
// Hukka and Viitanen 1999, eq. 1; RHmin of Ojanen and others 2010.
func (c *Class) CriticalHumidity(t units.Temperature) (units.RelativeHumidity, error) {
	if !(t >= freezing && t <= tooHot) {
		return 0, noGrowthRange(t)
	}
	return units.RelativeHumidity(c.critical(float64(t))), nil
}

func noGrowthRange(t units.Temperature) error {
	return &humidair.RangeError{Quantity: "temperature", Value: float64(t), Low: freezing, High: tooHot,
		Unit: "°C", Because: "mold grows between these"}
}

func (c *Class) critical(T float64) float64 {
	if T > 20 {
		return c.driest
	}
	return max(100+T*(-3.13+T*(0.160-T*0.00267)), c.driest)
}

// Greatest returns the index at which growth levels off in steady air at t, 0 to
// 50 °C, and rh: 0 below the critical humidity.
//
// Hukka and Viitanen 1999, eq. 5; Ojanen and others 2010, eq. 6.
func (c *Class) Greatest(t units.Temperature, rh units.RelativeHumidity) (Index, error) {
	if err := c.checkGrowing(t, rh); err != nil {
		return 0, err
	}
	crit := c.critical(float64(t))
	if float64(rh) < crit || crit >= 100 {
		return 0, nil
	}
	return Index(c.greatest(crit, min(float64(rh), 100))), nil
}

func (c *Class) greatest(crit, RH float64) float64 {
	x := (crit - RH) / (crit - 100)
	return c.a + x*(c.b-x*c.c)
}

// WeeksToStart returns how long it takes in steady air at t and rh until growth
// shows under the microscope, index 1, on sapwood: tm. The other classes take
// that time over their k1.
//
// Hukka and Viitanen 1999, eq. 2, a fit above the critical humidity.
func (c *Class) WeeksToStart(t units.Temperature, rh units.RelativeHumidity) (float64, error) {
	if err := c.checkGrowing(t, rh); err != nil {
		return 0, err
	}
	return 1 / c.startRate(math.Log(float64(t)), math.Log(float64(rh))), nil
}

// startRate is 1/tm in 1/week.
func (c *Class) startRate(lnT, lnRH float64) float64 {
	return math.Exp(0.68*lnT + 13.9*lnRH - c.startTerm - 66.02)
}

// WeeksToVisible is the same to index 3 on sapwood, when mold shows: tv.
//
// Hukka and Viitanen 1999, eq. 4.
func (c *Class) WeeksToVisible(t units.Temperature, rh units.RelativeHumidity) (float64, error) {
	if err := c.checkGrowing(t, rh); err != nil {
		return 0, err
	}
	return c.visibleTime(math.Log(float64(t)), math.Log(float64(rh))), nil
}

func (c *Class) visibleTime(lnT, lnRH float64) float64 {
	return math.Exp(-0.74*lnT - 12.72*lnRH + c.visibleTerm + 61.50)
}

// checkGrowing reports air in which the growth equations have no meaning.
func (c *Class) checkGrowing(t units.Temperature, rh units.RelativeHumidity) error {
	if !(t > freezing && t < tooHot) {
		return noGrowthRange(t)
	}
	if !(rh > 0 && rh <= 100*(1+noise)) {
		return &humidair.RangeError{Quantity: "relative humidity", Value: float64(rh), Low: 0, High: 100,
			Unit: "%", Because: "a share of saturation, above 0"}
	}
	return nil
}

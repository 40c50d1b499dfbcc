package mold

import (
	"errors"
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// A Growth carries the index of one surface from hour to hour. Set Class and
// Decline, and Index where there is mold to begin with.
type Growth struct {
	Class   *Class
	Decline Decline
	Index   Index
	// DryHours counts the hours since the air last let mold grow.
	DryHours int
}

// check reports a Growth that no surface can have.
func (g *Growth) check() error {
	if g.Class == nil {
		return errors.New("a mold growth without a class: take one of Classes or Sapwood")
	}
	if !(g.Decline >= 0 && g.Decline <= 1) {
		return &humidair.RangeError{Quantity: "decline factor", Value: float64(g.Decline), Low: 0, High: 1,
			Unit: "", Because: "compared with pine; 0.1 where nothing is known"}
	}
	if !(g.Index >= 0 && g.Index <= 6) {
		return &humidair.RangeError{Quantity: "mold index", Value: float64(g.Index), Low: 0, High: 6,
			Unit: "", Because: "the scale of the index"}
	}
	return nil
}

// Hour moves the index on by an hour in air of t, −60 to 100 °C, and rh at the
// surface. After an error the growth stands as it was.
func (g *Growth) Hour(t units.Temperature, rh units.RelativeHumidity) error {
	if err := g.check(); err != nil {
		return err
	}
	if err := checkAir(t, rh); err != nil {
		return err
	}
	g.hour(float64(t), min(float64(rh), 100))
	return nil
}

func (g *Growth) hour(T, RH float64) {
	if T > freezing && T < tooHot {
		if crit := g.Class.critical(T); RH >= crit && crit < 100 {
			g.DryHours = 0
			g.Index += Index(g.Class.hourly(float64(g.Index), T, RH, crit))
			return
		}
	}
	g.DryHours++
	g.Index = max(g.Index-Index(float64(g.Decline)*declineHourly(g.DryHours)), 0)
}

const hoursPerWeek = 7 * 24

// hourly returns the growth of index M in an hour.
//
// Hukka and Viitanen 1999, eqs. 3, 4 and 6: dM/dt = k1·k2/(7·tm) a day.
func (c *Class) hourly(M, T, RH, crit float64) float64 {
	k2 := 1 - math.Exp(2.3*(M-c.greatest(crit, RH)))
	if k2 <= 0 {
		return 0
	}
	lnT, lnRH := math.Log(T), math.Log(RH)
	rate := c.startRate(lnT, lnRH)
	return c.k1(M, lnT, lnRH, rate) * k2 * rate / hoursPerWeek
}

func (c *Class) k1(M, lnT, lnRH, startRate float64) float64 {
	switch {
	case M < 1:
		return c.slow
	case c.byTimes:
		return 2 / (c.visibleTime(lnT, lnRH)*startRate - 1)
	}
	return c.fast
}

// declineHourly is the fall of the index on pine in the given hour without
// growth: at once for six hours, then not for eighteen, then at half the pace.
//
// Hukka and Viitanen 1999, eq. 7: 0.032, 0 and 0.016 a day.
func declineHourly(hours int) float64 {
	switch {
	case hours <= 6:
		return 0.032 / 24
	case hours <= 24:
		return 0
	}
	return 0.016 / 24
}

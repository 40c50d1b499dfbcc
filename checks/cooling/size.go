package cooling

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/units"
)

// Size is what one capacity does to a pull-down.
type Size struct {
	Capacity units.Power
	Stall    units.Temperature
	// Air is when the air is at its set point, Bottles how warm the bottles then
	// are, Proven when they are at the target. Arrives and Proves say whether those
	// times ever come.
	Air, Proven     time.Duration
	Arrives, Proves bool
	Bottles         units.Temperature
}

// With returns the pull-down with another size of the same kind of unit: its gain
// per kelvin grows with its capacity.
func (p PullDown) With(capacity units.Power) PullDown {
	p.PerKelvin *= units.Conductance(capacity / p.Capacity)
	p.Capacity = capacity
	return p
}

// Sizes returns the pull-down for several capacities, with the time at which the
// bottles are at target.
func (p PullDown) Sizes(capacities []units.Power, target units.Temperature) ([]Size, error) {
	if err := within("capacity", float64(p.Capacity), 1, 1e6, "W"); err != nil {
		return nil, fmt.Errorf("sizes: %w", err)
	}
	var sizes []Size
	for _, q := range capacities {
		c, err := p.With(q).Course()
		if err != nil {
			return nil, fmt.Errorf("size %g W: %w", q, err)
		}
		s := Size{Capacity: q, Stall: c.Stall, Bottles: c.bottlesAtArrive}
		s.Air, s.Arrives = c.AirTime()
		s.Proven, s.Proves = c.BottleTime(target)
		sizes = append(sizes, s)
	}
	return sizes, nil
}

// SizeFor returns the least capacity, of the same kind of unit, that brings the
// bottles to target within a time. It returns an error when no capacity does: beyond
// a size the bottles' own coupling to the air sets the pace.
func (p PullDown) SizeFor(target units.Temperature, limit time.Duration) (units.Power, error) {
	err := errors.Join(p.valid(), within("capacity", float64(p.Capacity), 1, 1e6, "W"), within("time", limit.Hours(), 0.1, 24*366, "h"))
	if err != nil {
		return 0, fmt.Errorf("size for a time: %w", err)
	}
	inTime := func(q units.Power) bool {
		c, err := p.With(q).Course()
		if err != nil {
			return false
		}
		t, ok := c.BottleTime(target)
		return ok && t <= limit
	}
	low, high := units.Power(1), units.Power(1e5)
	if !inTime(high) {
		return 0, fmt.Errorf("size for a time: not even %g W brings the bottles to %g °C in %s; they give off %g W per kelvin and no more: allow more time or more air around them",
			high, target, durationText(limit, true), p.Coupling)
	}
	if inTime(low) {
		return low, nil
	}
	for high-low > 0.01 {
		mid := (low + high) / 2
		if inTime(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	return high, nil
}

// Steps returns the course as lines for a document, with the time at which the
// bottles are at target.
func (c Course) Steps(target units.Temperature) []Step {
	const model = "two-node model, exact solution"
	p := c.from
	air, arrives := c.AirTime()
	bottles, proves := c.BottleTime(target)
	lump, lumps := c.OneLump()
	steps := []Step{
		{Name: "room", Formula: "UA_e to its source, with leaks", Value: fmt.Sprintf("%.1f W/K to %s; %.0f W inside", p.Gain, temperatureText(p.Source), p.Inside), Source: "load calculation"},
		{Name: "to be cooled", Formula: "light things; bottles", Value: fmt.Sprintf("%.0f kJ/K; %.0f kJ/K through %.1f W/K", p.Light/1000, p.Bottles/1000, p.Coupling), Source: "mass · specific heat"},
		{Name: "unit", Formula: "Q0 + q1·(T − T_set)", Value: fmt.Sprintf("%.0f W + %.2f W/K", p.Capacity, p.PerKelvin), Source: "data sheet, corrected"},
		{Name: "stall temperature", Formula: "(UA_e·T_e + Q_i − Q0 + q1·T_set)/(UA_e + q1)", Value: temperatureText(c.Stall), Source: model},
		{Name: "time constants", Formula: "−1/λ", Value: fmt.Sprintf("%.2f h and %.2f h", c.Slow.Hours(), c.Fast.Hours()), Source: model},
		{Name: "air at the set point", Formula: "first meets " + temperatureText(p.Set), Value: durationText(air, arrives), Source: model},
		{Name: "bottles at " + temperatureText(target), Value: durationText(bottles, proves), Source: model},
		{Name: "all in one lump", Formula: "ΣC/(UA_e + q1) · ln[(T_0 − T_ss)/(T_set − T_ss)]", Value: durationText(lump, lumps), Source: "check by hand"},
	}
	if arrives {
		steps = append(steps, Step{Name: "bottles when the air arrives", Value: temperatureText(c.bottlesAtArrive), Source: model})
	}
	return steps
}

package diagnosis

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/units"
)

// warmUpReach is how far a time constant may lie from the expected one, as a factor
// (assumed: the heat capacity of a room full of bottles is no better known).
const warmUpReach = 1.35

// warmUp reads the warm-up test: how fast the room warms with the unit off, against
// how fast it should with the load as found. It tells the envelope from the unit,
// but not one part of the envelope from another.
func (d *diagnosis) warmUp() {
	r := d.room.Readings.WarmUp
	expected, ok := d.expectedWarmUp()
	if !r.Taken || !ok {
		return
	}
	ratio := float64(r.Value) / float64(expected)
	d.losesMore = ratio < 1/warmUpReach
	d.unit.steps = append(d.unit.steps, units.Step{Name: "warm-up with the unit off", Formula: "slow time constant of air and bottles, load as found",
		Value: fmt.Sprintf("%.1f h expected, %.1f h read", expected.Hours(), r.Value.Hours()), Source: "two-node model, exact solution"})
	const source = "two-node model of air and bottles"
	switch {
	case d.losesMore:
		d.favorAll([]Cause{AirLeakage, Insulation}, source, only(WarmUp), "with the unit off the room warms with a time constant of %s where its description gives %s: the envelope loses more than it should", timeText(r.Value), timeText(expected))
	case ratio <= warmUpReach:
		d.favor(UnitFaulty, source, only(WarmUp), "with the unit off the room warms as its description says (%s, expected %s): the envelope is what it was taken for", timeText(r.Value), timeText(expected))
	}
}

// expectedWarmUp is the slow time constant of the room with the load as found.
func (d *diagnosis) expectedWarmUp() (time.Duration, bool) {
	c, b := d.room.Contents, d.visit
	if c == nil || b == nil {
		return 0, false
	}
	coupling, err := c.Bottle.Coupling(c.Count, c.Film, c.Exposed)
	if err != nil {
		return 0, false
	}
	p := cooling.PullDown{
		Light: c.Light, Bottles: cooling.HeatCapacity(math.Max(1, c.Count)) * c.Bottle.HeatCapacity(), Coupling: coupling,
		Set: d.room.Set, Air: d.room.Set, Contents: d.room.Set,
	}
	p.Gain, p.Source, _ = b.Found.Coupling()
	off, err := p.Off()
	return off.Slow, err == nil
}

package cooling

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// PullDown is a warm room with bottles that a unit is to bring to its set point.
type PullDown struct {
	Light   HeatCapacity // C_a: air, racks, board: what follows the air
	Bottles HeatCapacity // C_p
	// Coupling is H, between bottles and air; Gain is UA_e, between air and
	// everything outside, leaks included; Source the temperature it comes from.
	Coupling, Gain units.Conductance
	Source         units.Temperature
	Inside         units.Power // Q_i: fan, lights, latent load
	// Capacity is Q0, at the set point and the outdoor temperature of the day;
	// PerKelvin is q1, what it gains with the room's temperature.
	Capacity  units.Power
	PerKelvin units.Conductance

	Set units.Temperature
	// Air and Contents are the temperatures of air and bottles at the start. Air
	// below the set point counts as at it: the unit would wait until it is.
	Air, Contents units.Temperature
}

// Course is a pull-down worked out. It is exact for the model.
type Course struct {
	from PullDown
	// Stall is where air and bottles would end with the unit never off. At or
	// above the set point the room never arrives.
	Stall units.Temperature
	// Slow and Fast are the two time constants.
	Slow, Fast time.Duration

	air, bottles    curve   // with the unit always on
	arrival         float64 // s; infinite when the air never arrives
	bottlesAtArrive units.Temperature
}

// Course solves the pull-down. It returns an error for values that are missing, not
// finite or out of range, and when the capacity grows so fast with temperature that
// the model has no steady state.
func (p PullDown) Course() (Course, error) {
	if err := p.valid(); err != nil {
		return Course{}, fmt.Errorf("pull-down: %w", err)
	}
	p.Air = max(p.Air, p.Set)
	c := p.free()
	c.arrival = c.arrives()
	if !math.IsInf(c.arrival, 1) {
		_, c.bottlesAtArrive = c.running(c.arrival)
	}
	return c, nil
}

// Off solves the same room with its unit off and no thermostat: how it warms up.
func (p PullDown) Off() (Course, error) {
	if err := p.valid(); err != nil {
		return Course{}, fmt.Errorf("warm-up: %w", err)
	}
	p.Capacity, p.PerKelvin = 0, 0
	c := p.free()
	c.arrival = math.Inf(1)
	return c, nil
}

// free solves the linear equations with the unit always on.
func (p PullDown) free() Course {
	ua, h, q1 := float64(p.Gain), float64(p.Coupling), float64(p.PerKelvin)
	stall := (ua*float64(p.Source) + float64(p.Inside-p.Capacity) + q1*float64(p.Set)) / (ua + q1)
	a, b, c := (ua+q1+h)/float64(p.Light), h/float64(p.Light), h/float64(p.Bottles)
	s := math.Sqrt((a-c)*(a-c) + 4*b*c)
	// The product of the roots is a·c − b·c; dividing by the larger keeps the
	// digits that −(a + c − s)/2 would lose.
	fast := -(a + c + s) / 2
	slow := c * (ua + q1) / float64(p.Light) / fast
	v1, v2 := (slow+a)/b, (fast+a)/b // of the bottles for each kelvin of air
	a0, p0 := float64(p.Air)-stall, float64(p.Contents)-stall
	k1, k2 := (p0-v2*a0)/(v1-v2), (v1*a0-p0)/(v1-v2)
	rates := [2]float64{slow, fast}
	return Course{
		from:  p,
		Stall: units.Temperature(stall),
		Slow:  seconds(-1 / slow), Fast: seconds(-1 / fast),
		air:     curve{stall, [2]float64{k1, k2}, rates},
		bottles: curve{stall, [2]float64{k1 * v1, k2 * v2}, rates},
	}
}

// running returns the temperatures with the unit always on.
func (c *Course) running(t float64) (air, contents units.Temperature) {
	a, _ := c.air.at(t)
	b, _ := c.bottles.at(t)
	return units.Temperature(a), units.Temperature(b)
}

// arrives returns the time in s at which the air meets the set point and the unit
// can hold it there; infinity when it never does.
func (c *Course) arrives() float64 {
	p := c.from
	if p.Air <= p.Set && float64(p.held(p.Contents)) <= float64(p.Capacity)*(1+slack) {
		return 0 // the thermostat has nothing to pull down
	}
	if c.Stall >= p.Set {
		return math.Inf(1)
	}
	t := c.air.falls(c.air.maximum(), float64(p.Set))
	if _, ok := longTime(t); !ok {
		return math.Inf(1)
	}
	return t
}

// At returns the temperatures of air and bottles a time after the start. From the
// air's arrival on, the thermostat holds it at the set point.
func (c Course) At(after time.Duration) (air, contents units.Temperature) {
	t := max(0, after.Seconds())
	if t < c.arrival {
		return c.running(t)
	}
	rate := float64(c.from.Coupling) / float64(c.from.Bottles)
	left := c.bottlesAtArrive.Sub(c.from.Set) * units.TemperatureDifference(math.Exp(-rate*(t-c.arrival)))
	return c.from.Set, c.from.Set.Add(left)
}

// Arrives reports whether the room ever comes to its set point.
func (c Course) Arrives() bool { return !math.IsInf(c.arrival, 1) }

// AirTime returns when the air first meets the set point and stays; ok is false when
// it never does.
func (c Course) AirTime() (after time.Duration, ok bool) {
	if !c.Arrives() {
		return 0, false
	}
	return seconds(c.arrival), true
}

// BottleTime returns from when on the bottles are at or below a temperature; ok is
// false when they never are, as at the set point itself, which they only approach.
func (c Course) BottleTime(target units.Temperature) (after time.Duration, ok bool) {
	limit := c.Stall
	if c.Arrives() {
		limit = c.from.Set
	}
	peak := c.bottles.maximum()
	_, highest := c.At(seconds(min(peak, c.arrival)))
	switch {
	case limit > target:
		return 0, false
	case max(highest, c.from.Contents) <= target:
		return 0, true
	case limit == target:
		return 0, false
	case c.Arrives() && c.bottlesAtArrive > target:
		rate := float64(c.from.Coupling) / float64(c.from.Bottles)
		ratio := float64(c.bottlesAtArrive.Sub(c.from.Set) / target.Sub(c.from.Set))
		return longTime(c.arrival + math.Log(ratio)/rate)
	}
	return longTime(c.bottles.falls(peak, float64(target)))
}

// Duty returns the share of time that the unit runs a time after the start: 1 until
// the air arrives, afterwards what holds the set point.
func (c Course) Duty(after time.Duration) float64 {
	if c.from.Capacity == 0 {
		return 0
	}
	if after.Seconds() < c.arrival {
		return 1
	}
	p := c.from
	_, contents := c.At(after)
	return max(0, float64(p.held(contents))/float64(p.Capacity))
}

// held is the heat that comes into the air at its set point.
func (p PullDown) held(contents units.Temperature) units.Power {
	return units.Power(float64(p.Gain)*float64(p.Source.Sub(p.Set))+float64(p.Coupling)*float64(contents.Sub(p.Set))) + p.Inside
}

// OneLump returns the time that air and bottles as a single lump would take, for a
// check by hand: (ΣC/(UA_e + q1))·ln[(T_0 − T_ss)/(T_set − T_ss)]. ok is false when
// it never arrives.
func (c Course) OneLump() (after time.Duration, ok bool) {
	p := c.from
	sum := float64(p.Light + p.Bottles)
	start := (float64(p.Light)*float64(p.Air) + float64(p.Bottles)*float64(p.Contents)) / sum
	ratio := (start - float64(c.Stall)) / float64(p.Set.Sub(c.Stall))
	switch {
	case !(ratio > 0) || p.Set <= c.Stall:
		return 0, false
	case ratio <= 1:
		return 0, true
	}
	return longTime(sum / float64(p.Gain+p.PerKelvin) * math.Log(ratio))
}

// longTime converts seconds; what takes more than ten years never comes.
func longTime(s float64) (time.Duration, bool) {
	if !(s <= 10*366*day) {
		return 0, false
	}
	return seconds(s), true
}

func (p PullDown) valid() error {
	return errors.Join(
		within("heat capacity of the air and light things", float64(p.Light), 100, 1e9, "J/K"),
		within("heat capacity of the bottles", float64(p.Bottles), 100, 1e10, "J/K"),
		within("conductance between bottles and air", float64(p.Coupling), 1e-3, 1e6, "W/K"),
		within("conductance of the room", float64(p.Gain), 1e-3, 1e5, "W/K"),
		within("heat inside", float64(p.Inside), -1e5, 1e5, "W"),
		within("capacity", float64(p.Capacity), 0, 1e6, "W"),
		within("capacity per kelvin", float64(p.PerKelvin), 0, 1e5, "W/K"),
		airTemperature("source", p.Source), airTemperature("set point", p.Set),
		airTemperature("air at the start", p.Air), airTemperature("bottles at the start", p.Contents),
	)
}

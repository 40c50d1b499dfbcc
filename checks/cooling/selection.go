package cooling

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Sizing is how a load becomes a required capacity.
type Sizing struct {
	Safety float64 // factor on the load, 1 to 2
	Hours  float64 // of running on the design day, 1 to 24
}

// DefaultSizing adds 10 % (ASHRAE Refrigeration ch. 24, from memory) and runs 18 h
// of the day (common practice: 18 to 20, and 16 where frost must melt in the off
// cycle; never 24).
var DefaultSizing = Sizing{Safety: 1.10, Hours: 18}

// Required returns the capacity that carries a load: safety · load · 24/hours, at
// the room's temperature and the design outdoor temperature. A load of nothing or
// less needs no cooling: 0.
func (s Sizing) Required(l Load) (units.Power, error) {
	err := errors.Join(
		within("safety factor", s.Safety, 1, 2, ""),
		within("hours of running", s.Hours, 1, 24, "h/day"),
		within("load", float64(l.Total()), -1e6, 1e6, "W"),
	)
	if err != nil {
		return 0, fmt.Errorf("required capacity: %w", err)
	}
	return max(0, l.Total()) * units.Power(s.Safety*24/s.Hours), nil
}

// Unit is a cooling unit that could be bought.
type Unit struct {
	Name     string
	Capacity Capacity
}

// Condition is what a unit is chosen for.
type Condition struct {
	Room, Outdoor units.Temperature
}

// Judged is a unit at a condition.
type Judged struct {
	Unit
	At units.Power // its capacity there
	// Duty is load over capacity, the share of time that it runs; above 1 it never
	// catches up.
	Duty float64
	// Enough says that its capacity is at least the required one.
	Enough bool
	Steps  []Step
}

// Judge returns what a unit does under a load at a condition.
func (s Sizing) Judge(u Unit, l Load, c Condition) (Judged, error) {
	required, err := s.Required(l)
	if err != nil {
		return Judged{}, err
	}
	at, err := u.Capacity.At(c.Room, c.Outdoor)
	if err != nil {
		return Judged{}, fmt.Errorf("unit %q: %w", u.Name, err)
	}
	if !(at > 0) {
		return Judged{}, fmt.Errorf("unit %q: no capacity left in a room of %g °C at %g °C outdoors", u.Name, c.Room, c.Outdoor)
	}
	j := Judged{Unit: u, At: at, Duty: max(0, float64(l.Total()/at)), Enough: float64(at) >= float64(required)*(1-slack)}
	j.Steps = []Step{
		{Name: "load", Value: powerText(l.Total()), Source: "load calculation"},
		{Name: "required capacity", Formula: fmt.Sprintf("%.2f · load · 24 h / %g h", s.Safety, s.Hours), Value: powerText(required), Source: "ASHRAE Refrigeration ch. 24 (from memory); hours: common practice"},
		{Name: "capacity", Formula: fmt.Sprintf("at %s in the room, %s outdoors", temperatureText(c.Room), temperatureText(c.Outdoor)), Value: powerText(at), Source: u.Name},
		{Name: "duty", Formula: "load / capacity", Value: fmt.Sprintf("%.0f %% = %.1f h of the day", 100*j.Duty, 24*j.Duty)},
	}
	return j, nil
}

// Select returns the smallest of the units that is enough. When none is, the error
// says how much is missing. A unit without data for the condition is an error: it
// may be the right one.
func (s Sizing) Select(choice []Unit, l Load, c Condition) (Judged, error) {
	best := Judged{At: units.Power(math.Inf(1))}
	var largest units.Power
	for _, u := range choice {
		j, err := s.Judge(u, l, c)
		if err != nil {
			return Judged{}, err
		}
		largest = max(largest, j.At)
		if j.Enough && j.At < best.At {
			best = j
		}
	}
	if math.IsInf(float64(best.At), 1) {
		required, err := s.Required(l)
		if err != nil {
			return Judged{}, err
		}
		return Judged{}, fmt.Errorf("no unit of %d is enough: %s is needed, the largest has %s; reduce the load or look for a larger one", len(choice), powerText(required), powerText(largest))
	}
	return best, nil
}

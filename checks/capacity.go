package checks

import (
	"cmp"
	"errors"
	"fmt"

	"proveout/checks/cooling"
	"proveout/checks/units"
)

// Capacity asks how much of the load the cooling unit can carry on the design
// day. Where job.yaml describes the unit both are computed; where it does not, a
// record may state both.
var Capacity = &Check{
	Name:    "capacity",
	Doc:     "capacity of the unit as a share of the load, both at the design conditions",
	Source:  "capacity / load; margin of 10 to 20 %: common practice",
	Result:  units.PercentKind,
	Figures: loadFigures,
	Built:   true,
	Needs: []Need{
		{Name: "load", Kind: units.PowerKind, Doc: "from the load calculation, on the design day"},
		{Name: "capacity", Kind: units.PowerKind, Doc: "from the unit's table, at the room's temperature and the hottest intake air"},
	},
	Each:     capacity,
	Whole:    capacityOfDesign,
	Computes: func(r *Room) bool { return r.planned() != nil },
}

func capacity(c Case, f Fact) Point {
	load, can := f.Values["load"], f.Values["capacity"]
	if !(load.Base() > 0) {
		return undecided(f.Place, "the load %s is not above zero", load)
	}
	q := units.Of(units.PercentKind, 100*can.Base()/load.Base(), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Steps: []Step{
		{Name: "load", Value: load.String(), Source: "record"},
		{Name: "capacity", Value: can.String(), Source: "record"},
		{Name: "share", Formula: "capacity / load", Value: q.String()},
	}}
}

func capacityOfDesign(c Case) []Point {
	return c.ofRoom(func(d duty) Point {
		q := units.Of(units.PercentKind, 100/d.judged.Duty, c.Room.Units)
		return Point{Quantity: q, Steps: []Step{{Name: "share", Formula: "capacity / load", Value: q.String()}}}
	})
}

// PredictedDuty asks what share of the design day the unit will run. What is
// left is its reserve for warm bottles, a dirty coil and hotter days.
var PredictedDuty = &Check{
	Name:    "predicted-duty",
	Doc:     "share of the design day that the unit will run",
	Source:  "load / capacity; 18 of 24 hours: common practice",
	Result:  units.PercentKind,
	Figures: loadFigures,
	Built:   true,
	Whole: func(c Case) []Point {
		return c.ofRoom(func(d duty) Point {
			return Point{Quantity: units.Of(units.PercentKind, 100*d.judged.Duty, c.Room.Units)}
		})
	},
}

// duty is the room and its unit on the design day.
type duty struct {
	cooled
	load   cooling.Load
	unit   cooling.Capacity
	at     cooling.Condition
	judged cooling.Judged
}

// ofRoom makes the one point of a check on the room and its unit.
func (c Case) ofRoom(of func(duty) Point) []Point {
	d, err := c.duty()
	if err != nil {
		p := undecided("room", "%v", err)
		p.Facts = d.facts
		return []Point{p}
	}
	p := of(d)
	p.Place, p.Facts = "room", d.facts
	p.Steps = append(append(append(d.steps, d.load.Steps()...), d.judged.Steps...), p.Steps...)
	return []Point{p}
}

// planned is the unit that the room will have.
func (r *Room) planned() *Unit { return cmp.Or(r.UnitAsPlanned, r.UnitAsFound) }

func (c Case) duty() (duty, error) {
	r, load, err := c.load()
	d := duty{cooled: r, load: load}
	if err != nil {
		return d, err
	}
	u := c.Room.planned()
	if u == nil {
		return d, errors.New("job.yaml describes no cooling unit; add unit as planned: with refrigerant, capacity, room, outdoor and rejects heat to, from its data sheet")
	}
	if d.unit, err = capacityOf(u); err != nil {
		return d, fmt.Errorf("job.yaml, the unit as planned: %w", err)
	}
	intake := c.Room.Space(u.Rejects, "summer")
	if intake == nil || !intake.Temperature.Known() {
		return d, fmt.Errorf("job.yaml does not say what air the unit's warm side gets on the design day; say where it rejects heat to, and give %s a temperature in summer", cmp.Or(u.Rejects, "that space"))
	}
	d.at = cooling.Condition{Room: r.room.Air.Temperature, Outdoor: intake.Temperature.Temperature()}
	if !(load.Total() > 0) {
		return d, fmt.Errorf("the load of the design day is %.0f W; a room that needs no cooling proves no unit", float64(load.Total()))
	}
	d.judged, err = cooling.DefaultSizing.Judge(cooling.Unit{Name: cmp.Or(u.Model, "the unit"), Capacity: d.unit}, load, d.at)
	return d, err
}

package cooling

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// Room is a room as the load calculation sees it.
type Room struct {
	Air        airflow.Air // what it is kept at
	Faces      []Face
	Doors      []Door
	Leaks      []Leak
	Restock    Restock
	Appliances []Appliance
	People     float64 // persons in the room
	PeopleFor  float64 // hours a day
}

// Door is a door that is used; what leaks past it shut is a Leak.
type Door struct {
	Name string
	Doorway
	DoorUse
	Side string
}

// Leak is a steady flow of air from one side: a flow that is known, or an opening
// through which the reversed stack of the cold room drives it.
type Leak struct {
	Name string
	Side string
	Flow units.Airflow // of that side's air, 0 with an opening
	// Opening is an airflow.Gap or airflow.Cracks, nil with a flow.
	Opening Opening
}

// Opening gives the air that passes between a side and the room by the difference in
// density.
type Opening interface {
	Leak(outside, room airflow.State) (airflow.Leak, error)
}

// Sides are the conditions on the other sides of a room by name: house, attic,
// outdoors, ground.
type Sides map[string]airflow.Air

// Item is one line of a load: what brings heat, how it was worked out with its
// numbers, and the heat.
type Item struct {
	Name, Basis, Source string
	Sensible, Latent    units.Power
	Water               airflow.MassRate
	// Conductance is Sensible per kelvin between Other and the room for what
	// follows that difference, otherwise 0.
	Conductance units.Conductance
	Other       units.Temperature
}

// Load is a room's load under one set of conditions.
type Load struct {
	Room             units.Temperature
	Items            []Item
	Sensible, Latent units.Power
	Water            airflow.MassRate
}

func (i Item) text() string {
	switch {
	case i.Latent == 0:
		return powerText(i.Sensible)
	case i.Sensible == 0:
		return fmt.Sprintf("%.1f W latent", i.Latent)
	}
	return fmt.Sprintf("%s sensible, %.1f W latent", powerText(i.Sensible), i.Latent)
}

// Total returns the heat of both kinds.
func (l Load) Total() units.Power { return l.Sensible + l.Latent }

// Load returns the load under the conditions of sides. It names every face, door
// or leak whose side is missing or out of range.
func (r Room) Load(sides Sides) (Load, error) {
	if len(r.Faces) == 0 {
		return Load{}, errors.New("load: the room has no faces; list its walls, ceiling, floor, door and glass")
	}
	b := builder{room: r, sides: sides, load: Load{Room: r.Air.Temperature}}
	var err error
	if b.inside, err = r.Air.State(); err != nil {
		return Load{}, fmt.Errorf("load: room: %w", err)
	}
	err = errors.Join(b.faces(), b.vapor(), b.doors(), b.leaks(), b.inner())
	if err != nil {
		return Load{}, fmt.Errorf("load: %w", err)
	}
	for _, i := range b.load.Items {
		b.load.Sensible += i.Sensible
		b.load.Latent += i.Latent
		b.load.Water += i.Water
	}
	return b.load, nil
}

// Months returns the load of each month.
func (r Room) Months(sides [12]Sides) ([12]Load, error) {
	var loads [12]Load
	for i := range loads {
		var err error
		if loads[i], err = r.Load(sides[i]); err != nil {
			return [12]Load{}, fmt.Errorf("%s: %w", time.Month(i+1), err)
		}
	}
	return loads, nil
}

// Coupling reduces the load to the terms of a pull-down: the conductance of all
// that follows the room's temperature, the temperature that it comes from, and
// the heat that stays whatever the room is at.
func (l Load) Coupling() (conductance units.Conductance, source units.Temperature, inside units.Power) {
	weighted := 0.0
	inside = l.Latent
	for _, i := range l.Items {
		if i.Conductance == 0 {
			inside += i.Sensible
			continue
		}
		conductance += i.Conductance
		weighted += float64(i.Conductance) * float64(i.Other)
	}
	return conductance, units.Temperature(weighted / float64(conductance)), inside
}

// Steps returns the load as lines that can be checked with a pencil.
func (l Load) Steps() []Step {
	var steps []Step
	for _, i := range l.Items {
		steps = append(steps, Step{Name: i.Name, Formula: i.Basis, Value: i.text(), Source: i.Source})
	}
	return append(steps,
		Step{Name: "sensible", Formula: "sum", Value: powerText(l.Sensible)},
		Step{Name: "latent", Formula: "sum", Value: powerText(l.Latent)},
		Step{Name: "water", Formula: "sum", Value: fmt.Sprintf("%.2f kg/day", l.Water.PerDay())},
		Step{Name: "total", Formula: "sensible + latent", Value: powerText(l.Total())},
	)
}

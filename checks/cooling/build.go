package cooling

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// builder gathers the items of one load.
type builder struct {
	room   Room
	inside airflow.State
	sides  Sides
	load   Load
}

func (b *builder) add(i Item) { b.load.Items = append(b.load.Items, i) }

// side returns the air on a side, or an error that lists the sides there are.
func (b *builder) side(name string) (airflow.Air, error) {
	air, ok := b.sides[name]
	if ok {
		return air, nil
	}
	var known []string
	for k := range b.sides {
		known = append(known, k)
	}
	slices.Sort(known)
	return airflow.Air{}, fmt.Errorf("side %q has no conditions; give its temperature and humidity, or write one of %s", name, strings.Join(known, ", "))
}

func (b *builder) faces() error {
	var errs []error
	room := b.room.Air.Temperature
	for _, f := range b.room.Faces {
		other, err := b.side(f.Side)
		if err == nil {
			err = errors.Join(f.valid(), airTemperature(f.Side, other.Temperature))
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("face %q: %w", f.Name, err))
			continue
		}
		t := other.Temperature.Add(f.Sun)
		b.add(Item{
			Name:        f.Name,
			Basis:       fmt.Sprintf("%.2f m² · %.3f W/(m²·K) · (%.1f − %.1f) K", f.Area, f.Transmittance, t, room),
			Source:      "transmission, U·A·ΔT",
			Sensible:    f.Gain(other.Temperature, room),
			Conductance: f.Conductance(),
			Other:       t,
		})
	}
	return errors.Join(errs...)
}

// vapor adds one line for the diffusion through all faces.
func (b *builder) vapor() error {
	item := Item{Name: "vapor through the faces", Source: "diffusion; ASHRAE Fundamentals ch. 1 for pressures and latent heat"}
	counted := false
	for _, f := range b.room.Faces {
		other, err := b.side(f.Side)
		if f.Permeance == 0 || err != nil {
			continue // a missing side has been named with the face
		}
		c, err := f.Diffusion(other, b.room.Air)
		if err != nil {
			return fmt.Errorf("face %q: %w", f.Name, err)
		}
		counted = true
		item.Latent += c.Latent
		item.Water += c.Water
	}
	if counted {
		item.Basis = fmt.Sprintf("Σ permeance · area · (p_other − p_room) = %.3f kg/day", item.Water.PerDay())
		b.add(item)
	}
	return nil
}

func (b *builder) doors() error {
	var errs []error
	for _, d := range b.room.Doors {
		c, other, err := b.exchange(d.Side, func(outside airflow.State) (airflow.Carried, error) {
			return d.Average(d.DoorUse, outside, b.inside)
		})
		if err != nil {
			errs = append(errs, fmt.Errorf("door %q: %w", d.Name, err))
			continue
		}
		share, _ := d.Share() // Average has looked at it
		b.exchanged(d.Name, fmt.Sprintf("open %.2f %% of the time · flow factor %.1f · %.0f %% past its curtain = %.2f g/s of dry air",
			100*share, FlowFactor(other.Temperature.Sub(b.inside.Temperature)), 100*(1-d.Protection), 1000*float64(c.DryAir)),
			"Gosney and Olama 1975, ASHRAE Refrigeration", c, other)
	}
	return errors.Join(errs...)
}

func (b *builder) leaks() error {
	var errs []error
	for _, l := range b.room.Leaks {
		var flow units.Airflow
		c, other, err := b.exchange(l.Side, func(outside airflow.State) (c airflow.Carried, err error) {
			c, flow, err = l.carried(outside, b.inside)
			return c, err
		})
		if err != nil {
			errs = append(errs, fmt.Errorf("leak %q: %w", l.Name, err))
			continue
		}
		basis := fmt.Sprintf("%.1f m³/h = %.2f g/s of dry air", 3600*float64(flow), 1000*float64(c.DryAir))
		if l.Opening != nil {
			basis = "reversed stack: " + basis
		}
		b.exchanged(l.Name, basis, "enthalpy difference, ASHRAE Fundamentals ch. 1", c, other)
	}
	return errors.Join(errs...)
}

// carried returns what a leak brings and its flow.
func (l Leak) carried(outside, room airflow.State) (airflow.Carried, units.Airflow, error) {
	if l.Opening != nil && l.Flow != 0 {
		return airflow.Carried{}, 0, errors.New("has both a flow and an opening; give one of them")
	}
	if l.Opening != nil {
		leak, err := l.Opening.Leak(outside, room)
		return leak.Carried, leak.Flow, err
	}
	if err := within("flow", float64(l.Flow), 0, 10, "m³/s"); err != nil {
		return airflow.Carried{}, 0, err
	}
	c, err := airflow.Exchange(outside.Entering(l.Flow), outside, room)
	return c, l.Flow, err
}

func (b *builder) exchange(side string, carried func(airflow.State) (airflow.Carried, error)) (airflow.Carried, airflow.State, error) {
	air, err := b.side(side)
	if err != nil {
		return airflow.Carried{}, airflow.State{}, err
	}
	outside, err := air.State()
	if err != nil {
		return airflow.Carried{}, airflow.State{}, err
	}
	c, err := carried(outside)
	return c, outside, err
}

func (b *builder) exchanged(name, basis, source string, c airflow.Carried, other airflow.State) {
	// The sensible part is ṁ·(c_p,a + W_r·c_p,v)·ΔT exactly.
	perKelvin := float64(c.DryAir) * (dryHeat + vaporHeat*float64(b.inside.Ratio))
	b.add(Item{
		Name: name, Basis: basis, Source: source,
		Sensible: c.Sensible, Latent: c.Latent, Water: c.Water,
		Conductance: units.Conductance(perKelvin), Other: other.Temperature,
	})
}

// inner adds what is warm inside: bottles, appliances, people.
func (b *builder) inner() error {
	room := b.room.Air.Temperature
	heat, err := b.room.Restock.Heat(room)
	errs := []error{err}
	if r := b.room.Restock; r.Count > 0 && err == nil {
		b.add(Item{
			Name: "bottles brought in", Sensible: heat, Source: "mass · specific heat",
			Basis: fmt.Sprintf("%g · %.1f J/K · (%.1f − %.1f) K / %g h", r.Count, r.Bottle.HeatCapacity(), r.Arriving, room, r.Over.Hours()),
		})
	}
	for _, a := range b.room.Appliances {
		if err := errors.Join(within("power", float64(a.Power), 0, 1e5, "W"), within("hours", a.Hours, 0, 24, "h/day")); err != nil {
			errs = append(errs, fmt.Errorf("appliance %q: %w", a.Name, err))
			continue
		}
		b.add(Item{Name: a.Name, Basis: fmt.Sprintf("%g W · %g h / 24 h", a.Power, a.Hours), Source: "electrical input", Sensible: a.Mean()})
	}
	return errors.Join(append(errs, b.people())...)
}

func (b *builder) people() error {
	if b.room.People == 0 {
		return nil
	}
	each, err := PersonHeat(b.room.Air.Temperature)
	err = errors.Join(err, within("people", b.room.People, 0, 100, ""), within("hours of people", b.room.PeopleFor, 0, 24, "h/day"))
	if err != nil {
		return err
	}
	b.add(Item{
		Name:   "people",
		Basis:  fmt.Sprintf("%g · (272 − 6 · %.1f) W · %.3g h / 24 h, all as sensible", b.room.People, b.room.Air.Temperature, b.room.PeopleFor),
		Source: "ASHRAE Refrigeration ch. 24 (from memory)", Sensible: each * units.Power(b.room.People*b.room.PeopleFor/24),
	})
	return nil
}

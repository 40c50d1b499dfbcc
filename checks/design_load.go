package checks

import (
	"errors"
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// loadFigures are what the load and the unit that carries it are made of.
var loadFigures = []string{"set point", "low humidity", "high humidity", "unit as planned", "use"}

// cooled is the room whose load is computed, as planned or, as far as it is
// recorded, as built, with the airs of the design day around it.
type cooled struct {
	room     cooling.Room
	sides    cooling.Sides
	contents *cooling.Contents
	steps    []Step
	facts    []string
}

// load returns the load of the design day. The error says what job.yaml lacks.
func (c Case) load() (cooled, cooling.Load, error) {
	r, err := c.cooled()
	if err != nil {
		return r, cooling.Load{}, err
	}
	load, err := r.room.Load(r.sides)
	return r, load, err
}

func (c Case) cooled() (cooled, error) {
	if err := c.Room.describesLoad(); err != nil {
		return cooled{}, err
	}
	r := cooled{sides: cooling.Sides{}}
	pressure, err := c.atmosphere()
	if err != nil {
		return r, err
	}
	humidity := (c.Room.LowHumidity.RelativeHumidity() + c.Room.HighHumidity.RelativeHumidity()) / 2
	r.room.Air = airflow.Air{Temperature: c.Room.SetPoint.Temperature(), Humidity: humidity, Pressure: pressure}
	if err := errors.Join(c.surround(&r, pressure), c.bound(&r)); err != nil {
		return r, err
	}
	v := &visit{c: c}
	v.room()
	use := v.out.Use
	r.contents = v.out.Contents
	r.room.Doors, r.room.Restock, r.room.Appliances = use.Doors, use.Restock, use.Appliances
	r.room.People, r.room.PeopleFor = use.People, use.PeopleFor
	return r, errors.Join(c.leaks(&r), c.lights(&r))
}

// describesLoad says what job.yaml lacks for a load.
func (r *Room) describesLoad() error {
	var problems []error
	lacks := func(is bool, format string, args ...any) {
		if is {
			problems = append(problems, fmt.Errorf("job.yaml "+format, args...))
		}
	}
	_, sized := r.Volume()
	lacks(!sized, "does not give length, width and height of the room")
	lacks(!r.SetPoint.Known() || !r.LowHumidity.Known() || !r.HighHumidity.Known(), "gives no set point or no humidity band of the room")
	lacks(!r.AirChange.Known(), "does not say how tight the room is to be; add to room: air changes: 0.15 /h")
	lacks(len(r.Faces) == 0, "lists no faces")
	lacks(len(r.Use.Appliances) == 0, "names nothing that runs in the room; add to use: appliances: with at least the fan of the cooling unit, and the lights with light: \"yes\"")
	for i := range r.Faces {
		f := &r.Faces[i]
		lacks(!f.Area.Known(), "gives no area of the %s", f.Name)
		lacks(f.Kind == "door" && !r.Use.of(f.Name), "does not say how the %s is used; add to use: doors: - {door: %s, width: 32 in, height: 80 in, passages: 6, each: 20 s}", f.Name, f.Name)
	}
	return errors.Join(problems...)
}

// of reports whether the use says how a door is used.
func (u Use) of(door string) bool {
	for _, d := range u.Doors {
		if d.Door == door {
			return true
		}
	}
	return false
}

// atmosphere is the pressure at the job's altitude, sea level where it is not
// given: the load is then a little high.
func (c Case) atmosphere() (units.Pressure, error) {
	return humidair.StandardPressure(known[units.Length](c.Room.Altitude))
}

// surround takes the air of the design day beyond each face.
func (c Case) surround(r *cooled, pressure units.Pressure) error {
	var problems []error
	for _, f := range c.Room.Faces {
		if _, done := r.sides[f.OtherSide]; done {
			continue
		}
		s := c.Room.Space(f.OtherSide, "summer")
		if s == nil || !s.Temperature.Known() || !s.Humidity.Known() {
			problems = append(problems, fmt.Errorf("job.yaml gives no temperature and humidity of %s in summer; add them to design conditions", f.OtherSide))
			continue
		}
		r.sides[f.OtherSide] = airflow.Air{Temperature: s.Temperature.Temperature(), Humidity: s.Humidity.RelativeHumidity(), Pressure: pressure}
	}
	return errors.Join(problems...)
}

// bound takes the faces with what passes through them.
func (c Case) bound(r *cooled) error {
	var problems []error
	for i := range c.Room.Faces {
		f := &c.Room.Faces[i]
		side, ok := r.sides[f.OtherSide]
		if !ok {
			continue // named by surround
		}
		d, err := c.design(f, meanDepth)
		if err != nil {
			problems = append(problems, err)
			continue
		}
		u, _, _, err := d.transmittance(side.Temperature, r.room.Air.Temperature)
		if err != nil {
			problems = append(problems, err)
			continue
		}
		r.room.Faces = append(r.room.Faces, cooling.Face{
			Name: f.Name, Side: f.OtherSide, Area: f.Area.Area(), Transmittance: u,
			Permeance: d.whole(), Sun: known[units.TemperatureDifference](f.Sun),
		})
		for _, s := range d.steps {
			s.Name = f.Name + ", " + s.Name
			r.steps = append(r.steps, s)
		}
		r.facts = append(r.facts, d.facts...)
	}
	return errors.Join(problems...)
}

// whole is the permeance of all layers in series, 0 where one is not known: what
// diffuses is then left out of the load, of which it is a thousandth.
func (d *faceDesign) whole() units.Permeance {
	var sum units.Length
	for _, l := range d.assembly.Layers {
		sd, err := l.Vapor.SD(l.Thickness, 50)
		if err != nil {
			return 0
		}
		sum += sd
	}
	if sum <= 0 {
		return 0
	}
	return envelope.PermeanceFromSD(sum)
}

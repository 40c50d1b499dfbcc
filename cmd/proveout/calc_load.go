package main

import (
	"fmt"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/units"
)

var loadQuestion = &question{
	use:   "load FILE.yaml",
	short: "Cooling load of a room, item by item, and the capacity it takes",
	long: `Adds up what warms and wets a cold room: heat through its faces, its doors and
leaks, vapor, bottles brought in, lights, fans, people. The capacity wanted is the
load with 10 % added (ASHRAE Refrigeration ch. 24, from memory) in 18 hours of
running (common practice). With a unit in the file its duty, too. A file:

` + roomExample,
	example: `  proveout calc load room.yaml
  proveout calc load room.yaml --explain --units SI`,
	files:  "one",
	answer: loadAnswer,
}

// roomFile reads the file that the question names.
func (a *asking) roomFile() (*roomFile, error) {
	if len(a.files) == 0 {
		return nil, &usageError{"name the file that describes the room; what it holds: " + a.c.CommandPath() + " --help"}
	}
	f, err := readRoomFile(a.env.path(a.files[0]))
	if err == nil {
		a.takeSystem(f.first)
	}
	return f, err
}

func loadAnswer(a *asking) (*answer, error) {
	f, err := a.roomFile()
	if err != nil {
		return nil, err
	}
	load, err := f.room.Load(f.sides)
	if err != nil {
		return nil, err
	}
	power := func(p units.Power) units.Quantity { return a.of(units.PowerKind, float64(p)) }
	r := &answer{Steps: load.Steps()}
	for _, i := range load.Items {
		r.add(i.Name, power(i.Sensible+i.Latent))
	}
	r.add("sensible", power(load.Sensible))
	r.add("latent", power(load.Latent))
	r.add("water a day", a.of(units.MassKind, float64(load.Water.PerDay())))
	r.add("load", power(load.Total()))
	required, err := cooling.DefaultSizing.Required(load)
	if err != nil {
		return nil, err
	}
	r.add("capacity wanted", power(required))
	if !f.hasUnit {
		return r, nil
	}
	at := cooling.Condition{Room: f.room.Air.Temperature, Outdoor: f.outdoor.Temperature()}
	j, err := cooling.DefaultSizing.Judge(cooling.Unit{Name: "the unit", Capacity: f.rating}, load, at)
	if err != nil {
		return nil, err
	}
	r.add("capacity of the unit there", power(j.At))
	r.addText("duty of the unit", fmt.Sprintf("%.0f %% of the time", 100*j.Duty))
	r.Steps = append(r.Steps, j.Steps...)
	r.judge(j.Enough, "the unit has "+power(j.At).String()+", wanted are "+power(required).String())
	return r, nil
}

var pullDownModelQuestion = &question{
	use:   "pull-down-model FILE.yaml",
	short: "How long a warm room full of bottles takes to come down",
	long: `Two nodes, the air with what is light and the bottles, with a capacity that rises
with the room's temperature. The air is at its set point hours before the bottles:
judge by the bottles, at set point + 0.5 K. The file is that of calc load, with
its unit and pull-down:

` + roomExample + `

The pull-down also takes film (6 W/(m²·K)), exposed (60 %, the share of a bottle
that sees moving air; assumed) and light heat per kelvin (what follows the air
besides the air itself; 0 J).`,
	example: `  proveout calc pull-down-model room.yaml --explain`,
	files:   "one",
	answer:  pullDownModelAnswer,
}

// provedAbove is how far above the set point the bottles count as arrived:
// 0.5 K, common practice.
const provedAbove = 0.5

func pullDownModelAnswer(a *asking) (*answer, error) {
	f, err := a.roomFile()
	if err != nil {
		return nil, err
	}
	if !f.hasUnit || !f.from.Known() {
		return nil, &usageError{"the file names no unit or no pull-down; add both, as in: " + a.c.CommandPath() + " --help"}
	}
	model, err := f.model()
	if err != nil {
		return nil, err
	}
	course, err := model.Course()
	if err != nil {
		return nil, err
	}
	target := model.Set + provedAbove
	r := &answer{Steps: course.Steps(target)}
	air, arrives := course.AirTime()
	bottles, proves := course.BottleTime(target)
	r.addText("air at its set point after", hoursOr(air, arrives))
	r.addText("bottles at set point + 0.5 K after", hoursOr(bottles, proves))
	r.add("with the unit never off it would end at", a.of(units.TemperatureKind, float64(course.Stall)))
	limit := f.within.Duration()
	if size, err := model.SizeFor(target, limit); err != nil {
		r.note("%v", err)
	} else {
		r.add("least capacity for "+f.within.String(), a.of(units.PowerKind, float64(size)))
	}
	r.judge(proves && bottles <= limit, "bottles after "+hoursOr(bottles, proves)+", wanted within "+f.within.String())
	r.note("The coupling of the bottles to the air is assumed; a log of a probe in a bottle replaces it.")
	return r, nil
}

// model is the pull-down of the closed room, nothing brought in.
func (f *roomFile) model() (cooling.PullDown, error) {
	f.room.Restock.Count = 0
	load, err := f.room.Load(f.sides)
	if err != nil {
		return cooling.PullDown{}, err
	}
	if f.volume.Base() > 0 {
		var state airflow.State
		if state, err = f.room.Air.State(); err != nil {
			return cooling.PullDown{}, err
		}
		f.contents.Light += cooling.AirHeat(f.volume.Volume(), state)
	}
	return load.PullDown(f.contents, f.rating, f.outdoor.Temperature(), f.from.Temperature())
}

func hoursOr(d time.Duration, ok bool) string {
	if !ok {
		return "never"
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

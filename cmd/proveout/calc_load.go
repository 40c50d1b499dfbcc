package main

import (
	"errors"
	"fmt"
	"maps"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/units"
)

var loadQuestion = &question{
	use:   "load FILE.yaml",
	short: "Cooling load of a room, item by item, and the capacity it takes",
	long: `Adds up what warms and wets a cold room: heat through its faces, its doors and
leaks, vapor, bottles brought in, lights, fans, people. The capacity wanted is the
load with 10 % added (ASHRAE Refrigeration ch. 24, from memory) in 18 hours of
running (common practice); --safety and --running set others. With a unit in the
file its duty, too; with a choice of units the smallest that is enough. A unit has
one rated point, or a table: [{room, outdoor, capacity}, …]. With a side called
outdoors and months: [{month, temperature, humidity}, …] also the load of each month.
A file:

` + roomExample,
	example: `  proveout calc load room.yaml
  proveout calc load room.yaml --safety 20% --running "16 h"
  proveout calc load room.yaml --explain --units SI`,
	inputs: []input{
		{flag: "safety", kind: units.PercentKind, doc: "added to the load", otherwise: "10 %"},
		{flag: "running", kind: units.DurationKind, doc: "running on the design day; less where frost must melt", otherwise: "18 h"},
	},
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
	return r, errors.Join(a.size(r, f, load), a.monthly(r, f))
}

// monthly adds the load of each month, where the file gives months outdoors: the
// other sides keep their air.
func (a *asking) monthly(r *answer, f *roomFile) error {
	outdoors, exposed := f.sides["outdoors"]
	if len(f.months) != 12 || !exposed {
		return nil
	}
	var year [12]cooling.Sides
	for i := range year {
		outdoors.Temperature = f.months[i]
		if f.damp[i].Known() {
			outdoors.Humidity = f.damp[i].RelativeHumidity()
		}
		year[i] = maps.Clone(f.sides)
		year[i]["outdoors"] = outdoors
	}
	loads, err := f.room.Months(year)
	if err != nil {
		return err
	}
	for i, l := range loads {
		r.add("load in "+time.Month(i+1).String(), a.of(units.PowerKind, float64(l.Total())))
	}
	return nil
}

// size adds the capacity that the load takes, and what the file's units do.
func (a *asking) size(r *answer, f *roomFile, load cooling.Load) error {
	sizing := cooling.Sizing{Safety: 1 + a.values["safety"].Base()/100, Hours: a.values["running"].Duration().Hours()}
	required, err := sizing.Required(load)
	if err != nil {
		return err
	}
	r.add("capacity wanted", a.of(units.PowerKind, float64(required)))
	at := cooling.Condition{Room: f.room.Air.Temperature, Outdoor: f.outdoor.Temperature()}
	if len(f.choice) > 0 {
		best, err := sizing.Select(f.choice, load, at)
		if err != nil {
			return err
		}
		r.addText("smallest that is enough", fmt.Sprintf("%s, %s there, %.0f %% of the time", best.Name, a.of(units.PowerKind, float64(best.At)), 100*best.Duty))
	}
	if f.unit == nil {
		return nil
	}
	j, err := sizing.Judge(cooling.Unit{Name: "the unit", Capacity: f.unit}, load, at)
	if err != nil {
		return err
	}
	there := a.of(units.PowerKind, float64(j.At))
	r.add("capacity of the unit there", there)
	r.addText("duty of the unit", fmt.Sprintf("%.0f %% of the time", 100*j.Duty))
	r.Steps = append(r.Steps, j.Steps...)
	r.judge(j.Enough, fmt.Sprintf("the unit has %s, wanted are %s", there, a.of(units.PowerKind, float64(required))))
	return nil
}

var pullDownModelQuestion = &question{
	use:   "pull-down-model FILE.yaml",
	also:  []string{"pulldown"},
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
	if f.unit == nil || !f.from.Known() {
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
	if err := a.sizes(r, model, target); err != nil {
		return nil, err
	}
	r.judge(proves && bottles <= limit, "bottles after "+hoursOr(bottles, proves)+", wanted within "+f.within.String())
	r.note("The coupling of the bottles to the air is assumed; a log of a probe in a bottle replaces it.")
	return r, nil
}

// sizes adds what a smaller and a larger unit of the same kind would take.
func (a *asking) sizes(r *answer, model cooling.PullDown, target units.Temperature) error {
	var capacities []units.Power
	for _, share := range []units.Power{0.75, 1, 1.25, 1.5, 2} {
		capacities = append(capacities, share*model.Capacity)
	}
	sizes, err := model.Sizes(capacities, target)
	if err != nil {
		return err
	}
	for _, s := range sizes {
		r.addText("with "+a.of(units.PowerKind, float64(s.Capacity)).String(), fmt.Sprintf("air after %s, bottles after %s", hoursOr(s.Air, s.Arrives), hoursOr(s.Proven, s.Proves)))
	}
	return nil
}

// model is the pull-down of the closed room, nothing brought in.
func (f *roomFile) model() (cooling.PullDown, error) {
	f.room.Restock.Count = 0
	load, err := f.room.Load(f.sides)
	if err != nil {
		return cooling.PullDown{}, err
	}
	if !(f.volume.Base() > 0) && f.contents.Light == 0 {
		return cooling.PullDown{}, &usageError{"the pull-down needs the room's volume: under room, or what follows its air as light heat per kelvin under pull-down"}
	}
	if err := f.lighten(); err != nil {
		return cooling.PullDown{}, err
	}
	return load.PullDown(f.contents, f.unit, f.outdoor.Temperature(), f.from.Temperature())
}

// lighten adds the room's own air to what follows the air.
func (f *roomFile) lighten() error {
	if !(f.volume.Base() > 0) {
		return nil
	}
	state, err := f.room.Air.State()
	if err != nil {
		return err
	}
	f.contents.Light += cooling.AirHeat(f.volume.Volume(), state)
	return nil
}

func hoursOr(d time.Duration, ok bool) string {
	if !ok {
		return "never"
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

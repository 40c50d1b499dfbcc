package main

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/cooling"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// analysisValues are the values that an analysis of logs takes beside the times.
var analysisValues = []input{
	{flag: "set-point", kind: units.TemperatureKind, doc: "set point of the room (default: the room's temperature in ROOM.yaml)", optional: true},
	{flag: "band", kind: units.TemperatureDifferenceKind, doc: "band on each side of the set point", otherwise: "1 K"},
	{flag: "rh-low", kind: units.HumidityKind, doc: "lowest humidity of the band", otherwise: "50 % RH"},
	{flag: "rh-high", kind: units.HumidityKind, doc: "highest humidity of the band", otherwise: "70 % RH"},
	{flag: "uncertainty", kind: units.TemperatureDifferenceKind, doc: "of each logger's temperature, k = 2", otherwise: "0.5 K"},
	{flag: "bottles", kind: units.CountKind, doc: "bottles in the room while it was logged", otherwise: "0"},
}

// roomHelp says what the file of a room gives to an analysis.
const roomHelp = `
ROOM.yaml is the file of calc load: its faces, doors and leaks give the conductance
to each side, its sides and outdoor the design day, its unit the capacity, its
appliances the heat inside, its pull-down (light heat per kelvin) what follows the
air. Without it nothing is said of UA and of the design day.

PLACE is room low, room middle, room high, bottle probe, supply air, condenser intake,
door, power (a meter or clamp on the unit's feed), or a side: house, outdoors, attic.
One answer about zone, dates and columns goes for all files; what a file says of
itself needs none.`

var analysisQuestion = &question{
	use:   "analysis [ROOM.yaml] --at PLACE=FILE…",
	short: "What the loggers of a room prove: faults, UA, will it hold",
	long: `Looks at the loggers of a cooled room by where they stood, names what is wrong with
them and with the room, and says what the sound ones prove: pull-down, how it kept,
how the unit ran, UA against the design, will it hold on the design day, how it warms
up with the unit off, mold, whether its moisture follows the house. What cannot be
said is named with the reason. All intervals are for 95 %.
` + roomHelp,
	example: `  proveout calc analysis room.yaml --at "room middle=middle.csv" --at house=house.csv \
      --at outdoors=out.csv --at "condenser intake=intake.csv" --at power=clamp.csv \
      --start "2026-05-04 14:00" --zone America/Chicago`,
	inputs: analysisValues,
	files:  "one",
	flags: func(c *cobra.Command) {
		(&readingFlags{}).addFlags(c)
		runFlags(c, "", "the run")
	},
	answer: analysisAnswer,
}

func analysisAnswer(a *asking) (*answer, error) {
	room, err := a.loggedRoom()
	if err != nil {
		return nil, err
	}
	r := &answer{}
	run, err := a.analyse(r, room, "")
	if err != nil {
		return nil, err
	}
	p := &proofPrinter{asking: a, answer: r, loggedRun: run, within: room.within}
	p.print()
	if room.design != nil && run.Hold == nil {
		p.verdict("will it hold", units.Undecided, "the log does not say")
	}
	p.settle()
	return r, nil
}

// loggedRoom is what is known of the room, from the file and the flags.
type loggedRoom struct {
	room   proof.Room
	unit   proof.CoolingUnit
	design *proof.DesignDay
	within time.Duration // accepted for the pull-down
}

func (a *asking) loggedRoom() (*loggedRoom, error) {
	l := &loggedRoom{}
	if len(a.files) > 0 {
		f, err := a.roomFile()
		if err != nil {
			return nil, err
		}
		if err := l.take(f); err != nil {
			return nil, fmt.Errorf("%s: %w", a.files[0], err)
		}
	}
	set, given := a.values["set-point"]
	switch {
	case given:
		l.room.Set = set.Temperature()
	case len(a.files) == 0:
		return nil, &usageError{`--set-point is missing: set point of the room; write it as --set-point "55 °F", or name a ROOM.yaml`}
	}
	half := a.values["band"].Base()
	l.room.Temperatures.Low, l.room.Temperatures.High = float64(l.room.Set)-half, float64(l.room.Set)+half
	l.room.Humidities.Low, l.room.Humidities.High = a.values["rh-low"].Base(), a.values["rh-high"].Base()
	return l, l.fill(a.values["bottles"].Base())
}

// take takes the design of a room from its file.
func (l *loggedRoom) take(f *roomFile) error {
	l.room.Set = f.room.Air.Temperature
	load, err := f.room.Load(f.sides)
	if err != nil {
		return err
	}
	if err := f.lighten(); err != nil {
		return err
	}
	if f.within.Known() {
		l.within = f.within.Duration()
	}
	l.room.Light, l.unit.Capacity = f.contents.Light, f.unit
	for _, x := range f.room.Appliances {
		l.room.Inside += x.Mean()
	}
	l.design = &proof.DesignDay{Sides: map[string]units.Temperature{}, Intake: f.outdoor.Temperature(), Latent: &load.Latent}
	for name, air := range f.sides {
		part, err := f.beside(name).Load(f.sides)
		if err != nil {
			return err
		}
		if c, _, _ := part.Coupling(); c > 0 {
			l.room.Sides = append(l.room.Sides, proof.Side{Name: name, Conductance: c})
			l.design.Sides[name] = air.Temperature
		}
	}
	slices.SortFunc(l.room.Sides, func(x, y proof.Side) int { return cmp.Compare(x.Name, y.Name) })
	return nil
}

// beside is the room with what lies between it and one side alone.
func (f *roomFile) beside(side string) cooling.Room {
	r := cooling.Room{Air: f.room.Air}
	for _, x := range f.room.Faces {
		if x.Side == side {
			r.Faces = append(r.Faces, x)
		}
	}
	for _, x := range f.room.Doors {
		if x.Side == side {
			r.Doors = append(r.Doors, x)
		}
	}
	for _, x := range f.room.Leaks {
		if x.Side == side {
			r.Leaks = append(r.Leaks, x)
		}
	}
	return r
}

// fill says how many bottles stood in the room.
func (l *loggedRoom) fill(bottles float64) error {
	if !(bottles >= 0 && bottles <= 1e5) {
		return &usageError{fmt.Sprintf("the number of bottles is %g; write 0 to 100000", bottles)}
	}
	l.room.Bottles = cooling.HeatCapacity(bottles) * cooling.StandardBottle.HeatCapacity()
	return nil
}

package checks

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// LogsOfPlaces are the logger files of one run of the room, by where they stood.
type LogsOfPlaces struct {
	Input  proof.Input // what was analysed
	Placed []PlacedLog // in the order of Input.Loggers
	Left   []LeftLog   // files that prove nothing, with the reason
	// Notes say what of the design is missing, so that less can be proved.
	Notes []string
}

// PlacedLog is one logger file with the record it came with.
type PlacedLog struct {
	Place      proof.Place
	Side       string // of proof.OtherSide
	Distance   units.Quantity
	Instrument *Instrument // nil when none was named
	Fact       Fact
	File       File
}

// LeftLog is a file that was left out.
type LeftLog struct{ File, Place, Why string }

// The checks whose records hold the files of a run: how the room was switched on,
// how it kept, empty and loaded, and the loggers beside it and on its unit.
const (
	pullDownLogs = "commissioning.pull-down"
	steadyLogs   = "commissioning.log-duration"
	loadedLogs   = "commissioning.loaded-log-duration"
)

var besideLogs = []string{pullDownLogs, "commissioning.unit-log", "commissioning.surroundings-log"}

// runChecks are these of the empty room and of the loaded one.
var runChecks = map[bool][]string{
	false: append([]string{steadyLogs}, besideLogs...),
	true:  {loadedLogs},
}

// CommissioningProof analyses the loggers of the commissioning phase: of the
// empty room, or of the loaded one. The design is that of the room as built. What
// the record lacks is said in Left, Notes and the analysis' Skipped; it is an error
// when no logger can be used at all.
func (c Case) CommissioningProof(loaded bool) (*proof.Analysis, *LogsOfPlaces, error) {
	c.Question = &Question{Phase: "commissioning"} // after all that is built
	l := &LogsOfPlaces{}
	c.describeProof(l, loaded)
	c.takeLogs(l, runChecks[loaded])
	if len(l.Placed) == 0 {
		return nil, l, fmt.Errorf("no logger file of the run can be used; %d were left out", len(l.Left))
	}
	a, err := proof.Analyse(l.Input)
	return a, l, err
}

// takeLogs takes the usable files of the checks, each once.
func (c Case) takeLogs(l *LogsOfPlaces, names []string) {
	seen := map[string]bool{}
	for _, name := range names {
		q := c.Questions[name]
		if q == nil {
			continue
		}
		of := c
		of.Question = q
		for _, f := range c.Facts[name] {
			if why := of.problem(f); why != "" {
				l.leave(f, why)
				continue
			}
			l.spans(f, name == pullDownLogs)
			for _, file := range f.Files {
				if key := file.SHA256 + cmp.Or(file.Place, f.Place); !seen[key] {
					seen[key] = true
					c.takeLog(l, f, file)
				}
			}
		}
	}
}

// spans takes the times that a record names: when the unit was switched on, or from
// when to when the room kept itself, as all loggers saw it.
func (l *LogsOfPlaces) spans(f Fact, pullDown bool) {
	if pullDown {
		if l.Input.On.IsZero() || f.Start.Before(l.Input.On) {
			l.Input.On = f.Start
		}
		return
	}
	s := &l.Input.Steady
	if f.Start.After(s.From) {
		s.From = f.Start
	}
	if !f.End.IsZero() && (s.To.IsZero() || f.End.Before(s.To)) {
		s.To = f.End
	}
}

func (l *LogsOfPlaces) leave(f Fact, why string) {
	for _, file := range f.Files {
		l.Left = append(l.Left, LeftLog{file.Name, f.Place, why})
	}
}

func (c Case) takeLog(l *LogsOfPlaces, f Fact, file File) {
	where := cmp.Or(file.Place, f.Place)
	place, side, ok := c.Room.loggerPlace(where)
	if !ok {
		l.Left = append(l.Left, LeftLog{file.Name, where, fmt.Sprintf("%q is no place of a logger; name one of them, or what lies beyond a face", where)})
		return
	}
	log, err := readForProof(file)
	if err != nil {
		l.Left = append(l.Left, LeftLog{file.Name, where, err.Error()})
		return
	}
	for _, s := range log.Columns {
		if n := len(s.Times); n > 0 && time.UnixMilli(s.Times[n-1]).After(c.Now) {
			l.Left = append(l.Left, LeftLog{file.Name, where, "it ends in time still to come; the logger's clock is wrong"})
			return
		}
	}
	p := PlacedLog{Place: place, Side: side, Instrument: f.Instrument, Fact: f, File: file}
	in := proof.Logger{Name: file.Name, Place: place, Side: side, Series: log.Columns}
	if own := file.Logger; own != nil {
		p.Distance, p.Instrument = own.Distance, cmp.Or(own.Instrument, f.Instrument)
		in.Distance, in.Salts = known[units.Length](own.Distance), own.Salts
	}
	if i := p.Instrument; i != nil && i.Uncertainty.Known() && i.Uncertainty.Kind() == units.TemperatureDifferenceKind {
		in.Uncertainty = i.Uncertainty.TemperatureDifference()
	}
	l.Input.Loggers, l.Placed = append(l.Input.Loggers, in), append(l.Placed, p)
}

// readForProof reads a file with its offsets taken off; package proof applies the
// salt points itself.
func readForProof(file File) (*logs.File, error) {
	log, err := file.Log()
	if err != nil || file.Logger == nil {
		return log, err
	}
	return file.Logger.Correct(log, false)
}

// loggerPlace is the place of a logger by the name the record has.
func (r *Room) loggerPlace(name string) (place proof.Place, side string, ok bool) {
	switch {
	case name == "power":
		return proof.Unit, "", true
	case slices.Contains(LoggerPlaces, name):
		return proof.Place(name), "", true
	case slices.Contains(r.adjoining(), name):
		return proof.OtherSide, name, true
	}
	return "", "", false
}

// describeProof takes what the design says of room, unit and design day.
func (c Case) describeProof(l *LogsOfPlaces, loaded bool) {
	set, half := c.Room.SetPoint, 1.0
	if q, err := c.Room.Value("temperature band", units.TemperatureDifferenceKind); err == nil {
		half = q.Base()
	}
	room := &l.Input.Room
	if set.Known() {
		room.Set = set.Temperature()
		room.Temperatures = logs.Band{Low: set.Base() - half, High: set.Base() + half}
	}
	if c.Room.LowHumidity.Known() && c.Room.HighHumidity.Known() {
		room.Humidities = logs.Band{Low: c.Room.LowHumidity.Base(), High: c.Room.HighHumidity.Base()}
	}
	d, err := c.duty()
	if err != nil {
		l.Notes = append(l.Notes, "designed conductance and design day: "+err.Error())
		return
	}
	l.Input.Unit.Capacity = d.unit
	room.Sides, l.Input.Design = c.designedSides(d)
	for _, a := range d.room.Appliances {
		room.Inside += a.Mean()
	}
	if d.contents != nil {
		room.Light = d.contents.Light
		if loaded {
			room.Bottles = cooling.HeatCapacity(c.Room.Bottles) * d.contents.Bottle.HeatCapacity()
		}
	}
	latent := d.load.Latent
	l.Input.Design.Intake, l.Input.Design.Latent = d.at.Outdoor, &latent
}

// designedSides adds the conductances of the load up by what lies beyond, and
// gives each side the temperature of the design day, the sun on its faces included;
// leaks and doors count with the side that air leaks in from.
func (c Case) designedSides(d duty) ([]proof.Side, *proof.DesignDay) {
	var sides []proof.Side
	weighted := map[string]float64{}
	for _, item := range d.load.Items {
		if item.Conductance == 0 {
			continue
		}
		name := c.Room.leakSide()
		if f := c.Room.Face(item.Name); f != nil {
			name = f.OtherSide
		}
		i := slices.IndexFunc(sides, func(s proof.Side) bool { return s.Name == name })
		if i < 0 {
			i, sides = len(sides), append(sides, proof.Side{Name: name})
		}
		sides[i].Conductance += item.Conductance
		weighted[name] += float64(item.Conductance) * float64(item.Other)
	}
	day := &proof.DesignDay{Sides: map[string]units.Temperature{}}
	for _, s := range sides {
		day.Sides[s.Name] = units.Temperature(weighted[s.Name] / float64(s.Conductance))
	}
	return sides, day
}

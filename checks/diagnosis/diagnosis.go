package diagnosis

import (
	"fmt"
	"slices"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// diagnosis is one room being looked at.
type diagnosis struct {
	room     Room
	limits   Limits
	show     shown
	pressure units.Pressure
	now, hot climate
	in       inside
	faces    []surface
	leak     leakage
	unit     delivery
	// losesMore says that the room warms faster than its description lets it.
	losesMore bool
	visit     *Balance
	summer    *Balance
	follow    *Following
	logNote   string
	findings  map[Cause]*Finding
	signs     []*Sign
	asks      []*ask
	report    Report
}

// Diagnose says why a room fails. It returns an error when the description itself
// cannot be: values that are not finite or out of range, faces named twice. Missing
// readings are no error: they make the answer undecided where they would decide.
func Diagnose(room Room) (Report, error) {
	d, err := start(room)
	if err != nil {
		return Report{}, fmt.Errorf("diagnosis: %w", err)
	}
	d.faces = room.surfaces(d.now, d.from().Temperature, d.limits)
	d.measureLeak()
	d.measureUnit()
	d.readLog()
	if err := d.balances(); err != nil {
		return Report{}, fmt.Errorf("diagnosis: %w", err)
	}
	d.walls()
	d.lookForSigns()
	for _, s := range d.signs {
		d.explain(s)
	}
	d.explainByOthers()
	d.conclude()
	return d.report, nil
}

func start(room Room) (*diagnosis, error) {
	if room.Band == (Band{}) {
		room.Band = Band{50, 70}
	}
	if room.Show == 0 {
		room.Show = units.SI
	}
	if err := room.valid(); err != nil {
		return nil, err
	}
	d := &diagnosis{room: room, limits: DefaultLimits(), show: shown(room.Show), findings: map[Cause]*Finding{}}
	if room.Limits != nil {
		d.limits = *room.Limits
	}
	if err := d.limits.valid(); err != nil {
		return nil, err
	}
	d.now, d.hot = room.visit(), room.summer()
	var err error
	if d.pressure, err = humidair.StandardPressure(room.Altitude); err != nil {
		return nil, err
	}
	d.in, err = room.inside(d.pressure)
	return d, err
}

// from returns the room's air at the visit, or at its set point when it was not read.
func (d *diagnosis) from() airflow.State {
	if d.in.stated {
		return d.in.state
	}
	return d.in.atSet
}

func (d *diagnosis) readLog() {
	if d.room.Readings.Log == nil {
		d.logNote = "no loggers were in room and house together"
		return
	}
	f, err := d.room.Readings.Log.Following(d.limits)
	if err != nil {
		d.logNote = err.Error()
		return
	}
	d.follow = &f
}

// balances works out what can be worked out of visit and design day.
func (d *diagnosis) balances() error {
	if len(d.room.Faces) == 0 {
		return nil
	}
	for _, b := range []struct {
		climate
		into **Balance
	}{{d.now, &d.visit}, {d.hot, &d.summer}} {
		if len(b.missing(d.room.Faces)) > 0 || len(d.faceLoads(used)) == 0 {
			continue
		}
		balance, err := d.balance(b.climate)
		if err != nil {
			return fmt.Errorf("%s: %w", b.name, err)
		}
		*b.into = balance
	}
	return nil
}

// faceLoads returns the faces for a load, with a transmittance of choice. Vapor is
// left out where the air's humidity is not known.
func (d *diagnosis) faceLoads(u func(surface) Reading[units.Transmittance]) []cooling.Face {
	var faces []cooling.Face
	for _, s := range d.faces {
		if r := u(s); r.Taken && r.Value > 0 {
			faces = append(faces, s.asFace(r.Value, true))
		}
	}
	return faces
}

// loadAt computes a load at an air of the room. Sides whose humidity was not read
// bring heat through the faces, and neither vapor nor air.
func (d *diagnosis) loadAt(c climate, faces []cooling.Face, leaks []cooling.Leak, air airflow.Air) (cooling.Load, error) {
	sides := cooling.Sides{}
	for side, a := range c.sides {
		if a.Temperature.Taken {
			sides[string(side)] = airflow.Air{Temperature: a.Temperature.Value, Humidity: a.Humidity.Value, Pressure: d.pressure}
		}
	}
	dry := func(side string) bool {
		air := c.sides[sideOf(side)]
		return !air.Temperature.Taken || !air.Humidity.Taken
	}
	for i := range faces {
		if dry(faces[i].Side) {
			faces[i].Permeance = 0
		}
	}
	leaks = slices.DeleteFunc(slices.Clone(leaks), func(l cooling.Leak) bool { return dry(l.Side) })
	use := d.room.Use
	doors := slices.DeleteFunc(slices.Clone(use.Doors), func(door cooling.Door) bool { return dry(door.Side) })
	return cooling.Room{
		Air: air, Faces: faces, Doors: doors, Leaks: leaks,
		Restock: use.Restock, Appliances: use.Appliances, People: use.People, PeopleFor: use.PeopleFor,
	}.Load(sides)
}

// finding returns the cause's finding, made when it is first asked for.
func (d *diagnosis) finding(c Cause) *Finding {
	f := d.findings[c]
	if f == nil {
		f = &Finding{Cause: c}
		d.findings[c] = f
	}
	return f
}

// favor writes down what speaks for a cause.
func (d *diagnosis) favor(c Cause, source string, readings []Measurement, format string, args ...any) {
	f := d.finding(c)
	f.For = addEvidence(f.For, Evidence{Text: fmt.Sprintf(format, args...), Readings: readings, Source: source})
}

// favorAll writes down what speaks for several causes alike; it makes none of them
// more certain.
func (d *diagnosis) favorAll(causes []Cause, source string, readings []Measurement, format string, args ...any) {
	for _, c := range causes {
		f := d.finding(c)
		f.For = addEvidence(f.For, Evidence{Text: fmt.Sprintf(format, args...), Readings: readings, Source: source, shared: true})
	}
}

// oppose writes down what speaks against it.
func (d *diagnosis) oppose(c Cause, source string, readings []Measurement, format string, args ...any) {
	f := d.finding(c)
	f.Against = addEvidence(f.Against, Evidence{Text: fmt.Sprintf(format, args...), Readings: readings, Source: source})
}

func addEvidence(list []Evidence, e Evidence) []Evidence {
	if slices.ContainsFunc(list, func(o Evidence) bool { return o.Text == e.Text }) {
		return list
	}
	return append(list, e)
}

// name makes causes the answer to a sign.
func (d *diagnosis) name(s *Sign, causes ...Cause) {
	for _, c := range causes {
		d.finding(c).Named = true
		if !slices.Contains(s.By, c) {
			s.By = append(s.By, c)
		}
	}
}

// want asks for the reading that would decide a sign.
func (d *diagnosis) want(s *Sign, m Measurement, because string, between ...Cause) {
	s.Explained = false
	i := slices.IndexFunc(d.asks, func(a *ask) bool { return a.Measurement == m })
	if i < 0 {
		d.asks = append(d.asks, &ask{Wanted: Wanted{Measurement: m, Because: because}})
		i = len(d.asks) - 1
	}
	a := d.asks[i]
	a.signs = append(a.signs, s)
	for _, c := range between {
		if !slices.Contains(a.Between, c) {
			a.Between = append(a.Between, c)
		}
	}
}

func only(m ...Measurement) []Measurement { return m }

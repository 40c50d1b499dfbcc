package main

import (
	"os"
	"strings"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/humidair"
	"proveout/checks/units"
	"proveout/phases/strict"
)

// roomExample is a file that calc load and calc pull-down-model read.
const roomExample = `  altitude: 600 ft
  room: {temperature: 55 °F, humidity: 60 % RH, volume: 720 ft³}
  sides:
    - {side: house, temperature: 75 °F, humidity: 50 % RH}
  faces:
    - {face: walls, side: house, area: 290 ft², resistance: R-18}
    - {face: ceiling, side: house, area: 80 ft², resistance: R-28, permeance: 0.5 perm}
    - {face: glass door, side: house, area: 20 ft², transmittance: 1.7 W/(m²·K)}
  doors:
    - {door: door, side: house, width: 32 in, height: 80 in, passages: 12, each: 15 s}
  leaks:
    - {leak: door gap, side: house, flow: 3 cfm}
  appliances:
    - {appliance: evaporator fan, power: 60 W, runs: 24 h}
  people: 1
  people stay: 30 min
  restock: {bottles: 12, temperature: 75 °F, over: 24 h}
  unit: {capacity: 3400 Btu/h, room: 55 °F, outdoor: 85 °F, difference: 14 °F, refrigerant: R134a}
  outdoor: 95 °F
  pull-down: {from: 75 °F, bottles: 900, within: 72 h}`

// roomFile is a room, its surroundings and its unit, as a file gives them.
type roomFile struct {
	room     cooling.Room
	sides    cooling.Sides
	volume   units.Quantity
	months   []units.Temperature // outdoors, January first; nil when not given
	damp     []units.Quantity    // their humidities; unknown where not given
	unit     cooling.Capacity    // nil without a unit
	choice   []cooling.Unit
	outdoor  units.Quantity
	contents cooling.Contents
	from     units.Quantity // of the pull-down
	within   units.Quantity
	first    units.Quantity // with a unit of one system
}

// roomReader reads the file; what is wrong is gathered on the document.
type roomReader struct {
	out roomFile
	air units.Pressure
}

func readRoomFile(file string) (*roomFile, error) {
	data, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	r := &roomReader{}
	r.surroundings(m)
	r.faces(m)
	r.openings(m)
	r.inside(m)
	r.unit(m)
	r.pullDown(m)
	r.year(m)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return &r.out, nil
}

// need reads a quantity that must be there.
func (r *roomReader) need(m *strict.Map, key string, kind units.Kind) units.Quantity {
	text := m.Text(key)
	return r.parse(m, key, kind, text)
}

// may reads a quantity that may be missing.
func (r *roomReader) may(m *strict.Map, key string, kind units.Kind, otherwise string) units.Quantity {
	text := m.OptionalText(key)
	if text == "" {
		text = otherwise
	}
	return r.parse(m, key, kind, text)
}

// parse reads a quantity. What cannot be read is reported, and comes back as
// one that can be asked for its value: the whole file is refused then.
func (r *roomReader) parse(m *strict.Map, key string, kind units.Kind, text string) units.Quantity {
	if text == "" {
		return units.Of(kind, 0, units.SI)
	}
	q, err := units.Parse(kind, text)
	if err != nil {
		m.Fail(key, "%v", err)
		return units.Of(kind, 0, units.SI)
	}
	if r.out.first.Unit.System() == 0 {
		r.out.first = q
	}
	return q
}

func (r *roomReader) airOf(m *strict.Map) airflow.Air {
	return airflow.Air{
		Temperature: r.need(m, "temperature", units.TemperatureKind).Temperature(),
		Humidity:    r.need(m, "humidity", units.HumidityKind).RelativeHumidity(),
		Pressure:    r.air,
	}
}

func (r *roomReader) surroundings(m *strict.Map) {
	var err error
	if r.air, err = humidair.StandardPressure(r.may(m, "altitude", units.LengthKind, "0 m").Length()); err != nil {
		m.Fail("altitude", "%v", err)
	}
	room := m.Map("room")
	r.out.room.Air = r.airOf(room)
	r.out.volume = r.may(room, "volume", units.VolumeKind, "")
	r.out.sides = cooling.Sides{}
	for _, s := range m.Maps("sides") {
		r.out.sides[s.Text("side")] = r.airOf(s)
	}
	r.out.outdoor = r.may(m, "outdoor", units.TemperatureKind, "35 °C")
}

func (r *roomReader) faces(m *strict.Map) {
	for _, f := range m.Maps("faces") {
		face := cooling.Face{Name: f.Text("face"), Side: f.Text("side"), Area: r.need(f, "area", units.AreaKind).Area()}
		face.Permeance = r.may(f, "permeance", units.PermeanceKind, "0 perm").Permeance()
		switch {
		case f.Has("resistance") == f.Has("transmittance"):
			f.Fail("face", "face %s: give its resistance, air to air, or its transmittance", face.Name)
		case f.Has("resistance"):
			face.Transmittance = units.Transmittance(1 / r.need(f, "resistance", units.ThermalResistanceKind).Base())
		default:
			face.Transmittance = r.need(f, "transmittance", units.TransmittanceKind).Transmittance()
		}
		r.out.room.Faces = append(r.out.room.Faces, face)
	}
}

func (r *roomReader) openings(m *strict.Map) {
	for _, d := range m.OptionalMaps("doors") {
		height := r.need(d, "height", units.LengthKind).Length()
		door := cooling.Door{Name: d.Text("door"), Side: d.Text("side")}
		door.Doorway = cooling.Doorway{Height: height, Area: units.Area(float64(height) * r.need(d, "width", units.LengthKind).Base())}
		door.DoorUse = cooling.DoorUse{
			Passages: r.may(d, "passages", units.CountKind, "0").Base(), PerPassage: r.may(d, "each", units.DurationKind, "0 s").Duration(),
			Standing: r.may(d, "standing", units.DurationKind, "0 s").Duration(), Period: 24 * time.Hour,
			Protection: r.may(d, "protection", units.PercentKind, "0 %").Base() / 100,
		}
		r.out.room.Doors = append(r.out.room.Doors, door)
	}
	for _, l := range m.OptionalMaps("leaks") {
		r.out.room.Leaks = append(r.out.room.Leaks, cooling.Leak{
			Name: l.Text("leak"), Side: l.Text("side"), Flow: r.need(l, "flow", units.AirflowKind).Airflow(),
		})
	}
}

func (r *roomReader) inside(m *strict.Map) {
	for _, a := range m.OptionalMaps("appliances") {
		r.out.room.Appliances = append(r.out.room.Appliances, cooling.Appliance{
			Name: a.Text("appliance"), Power: r.need(a, "power", units.PowerKind).Power(), Hours: r.need(a, "runs", units.DurationKind).Duration().Hours(),
		})
	}
	r.out.room.People = r.may(m, "people", units.CountKind, "0").Base()
	r.out.room.PeopleFor = r.may(m, "people stay", units.DurationKind, "0 h").Duration().Hours()
	r.out.room.Restock.Bottle = cooling.StandardBottle
	if b, ok := m.OptionalMap("restock"); ok {
		r.out.room.Restock = cooling.Restock{
			Bottle: cooling.StandardBottle, Count: r.need(b, "bottles", units.CountKind).Base(),
			Arriving: r.need(b, "temperature", units.TemperatureKind).Temperature(), Over: r.need(b, "over", units.DurationKind).Duration(),
		}
	}
}

func (r *roomReader) unit(m *strict.Map) {
	if u, ok := m.OptionalMap("unit"); ok {
		r.out.unit = r.capacity(u)
	}
	for _, u := range m.OptionalMaps("choice") {
		r.out.choice = append(r.out.choice, cooling.Unit{Name: u.Text("unit"), Capacity: r.capacity(u)})
	}
}

// capacity reads one rated point, or a table of at least three.
func (r *roomReader) capacity(u *strict.Map) cooling.Capacity {
	if u.Has("table") {
		return r.table(u)
	}
	slopes, err := cooling.RefrigerantSlopes(u.Text("refrigerant"))
	if err != nil {
		u.Fail("refrigerant", "%s", strings.TrimPrefix(err.Error(), "capacity: "))
	}
	return cooling.Rating{
		Capacity: r.need(u, "capacity", units.PowerKind).Power(), Room: r.need(u, "room", units.TemperatureKind).Temperature(),
		Outdoor:    r.need(u, "outdoor", units.TemperatureKind).Temperature(),
		Difference: r.may(u, "difference", units.TemperatureDifferenceKind, "8 K").TemperatureDifference(), Slopes: slopes,
	}
}

func (r *roomReader) table(u *strict.Map) cooling.Capacity {
	var points []cooling.RatedPoint
	for _, p := range u.Maps("table") {
		points = append(points, cooling.RatedPoint{
			Room: r.need(p, "room", units.TemperatureKind).Temperature(), Outdoor: r.need(p, "outdoor", units.TemperatureKind).Temperature(),
			Capacity: r.need(p, "capacity", units.PowerKind).Power(),
		})
	}
	table, err := cooling.NewTable(points)
	if err != nil {
		u.Fail("table", "%v", err)
	}
	return table
}

func (r *roomReader) pullDown(m *strict.Map) {
	p, ok := m.OptionalMap("pull-down")
	if !ok {
		return
	}
	r.out.from = r.need(p, "from", units.TemperatureKind)
	r.out.within = r.may(p, "within", units.DurationKind, "72 h")
	r.out.contents = cooling.Contents{
		Bottle: cooling.StandardBottle, Count: r.need(p, "bottles", units.CountKind).Base(),
		Film:    r.may(p, "film", units.TransmittanceKind, "6 W/(m²·K)").Base(),
		Exposed: r.may(p, "exposed", units.PercentKind, "60 %").Base() / 100,
		Light:   cooling.HeatCapacity(r.may(p, "light heat per kelvin", units.EnergyKind, "0 J").Base()),
	}
}

// year reads the mean temperatures outdoors of twelve months.
func (r *roomReader) year(m *strict.Map) {
	lines := m.OptionalMaps("months")
	for _, l := range lines {
		l.Text("month")
		r.out.months = append(r.out.months, r.need(l, "temperature", units.TemperatureKind).Temperature())
		damp := units.Quantity{}
		if l.Has("humidity") {
			damp = r.need(l, "humidity", units.HumidityKind)
		}
		r.out.damp = append(r.out.damp, damp)
	}
	if lines != nil && len(lines) != 12 {
		m.Fail("months", "months has %d lines; write twelve, January first, or none", len(lines))
	}
}

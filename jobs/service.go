package jobs

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/cooling"
	"proveout/checks/units"
	"proveout/phases"
	"proveout/phases/strict"
)

// readService reads what the room is cooled with, what goes on in it, and the
// year outdoors: what the load is computed from.
func readService(m *strict.Map, r *checks.Room) {
	r.UnitAsFound, r.UnitAsPlanned = readUnit(m, "unit as found"), readUnit(m, "unit as planned")
	if u, ok := m.OptionalMap("use"); ok {
		r.Use = readUse(u, r)
	}
	if c, ok := m.OptionalMap("costs"); ok {
		r.Costs = readCosts(c)
	}
	months := m.OptionalMaps("outdoor months")
	if len(months) != 0 && len(months) != 12 {
		m.Fail("outdoor months", "outdoor months has %d lines; write twelve, January first, or none", len(months))
	}
	for i, o := range months {
		r.Months = append(r.Months, readMonth(o, i))
	}
}

// readCosts reads prices; they are plain numbers of one currency.
func readCosts(m *strict.Map) checks.Costs {
	return checks.Costs{
		Currency: m.Text("currency"), Electricity: number(m, "electricity", 1000),
		CoolingUnit: number(m, "cooling unit", 1e6), UnitsPerYear: number(m, "units replaced a year", 12),
	}
}

// number reads a plain number above 0 and at most most; 0 when it is missing.
func number(m *strict.Map, key string, most float64) float64 {
	text := m.OptionalText(key)
	if text == "" {
		return 0
	}
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || !(n > 0 && n <= most) {
		m.Fail(key, "%s: %q is not a number above 0 and up to %g; write it with a point, without a unit", key, text, most)
		return 0
	}
	return n
}

func readMonth(m *strict.Map, i int) checks.Month {
	month := checks.Month{Name: m.Text("month"), Temperature: needed(m, "temperature", units.TemperatureKind), Humidity: needed(m, "humidity", units.HumidityKind)}
	if want := time.Month(i%12 + 1).String(); month.Name != "" && month.Name != want {
		m.Fail("month", "month is %q where %s was expected; write all twelve, January first", month.Name, want)
	}
	return month
}

func readUnit(m *strict.Map, key string) *checks.Unit {
	u, ok := m.OptionalMap(key)
	if !ok {
		return nil
	}
	unit := &checks.Unit{
		Model: u.OptionalText("model"), Refrigerant: u.OptionalText("refrigerant"),
		Difference: quantity(u, "difference", units.TemperatureDifferenceKind),
		Split:      quantity(u, "split", units.TemperatureDifferenceKind), Humidity: quantity(u, "humidity", units.HumidityKind),
		HighestIntake: quantity(u, "highest intake", units.TemperatureKind), Rejects: word(u, "rejects heat to", phases.OtherSides),
	}
	if _, err := cooling.RefrigerantSlopes(unit.Refrigerant); unit.Refrigerant != "" && err != nil {
		u.Fail("refrigerant", "%s", strings.TrimPrefix(err.Error(), "capacity: "))
	}
	if !u.Has("table") {
		unit.Capacity, unit.Room, unit.Outdoor = quantity(u, "capacity", units.PowerKind), quantity(u, "room", units.TemperatureKind), quantity(u, "outdoor", units.TemperatureKind)
		if unit.Capacity.Known() && !(unit.Room.Known() && unit.Outdoor.Known()) {
			u.Fail("capacity", "capacity %s stands without the room and outdoor temperature that it holds at; write room: and outdoor:", unit.Capacity)
		}
		return unit
	}
	unit.Room, unit.Outdoor = quantity(u, "room", units.TemperatureKind), quantity(u, "outdoor", units.TemperatureKind) // of the split
	for _, t := range u.Maps("table") {
		unit.Table = append(unit.Table, checks.RatedCapacity{
			Room: needed(t, "room", units.TemperatureKind), Outdoor: needed(t, "outdoor", units.TemperatureKind), Capacity: needed(t, "capacity", units.PowerKind),
		})
	}
	return unit
}

func readUse(m *strict.Map, r *checks.Room) checks.Use {
	u := checks.Use{
		People: quantity(m, "people", units.CountKind), PeopleStay: quantity(m, "people stay", units.DurationKind),
		Water: quantity(m, "water", units.MassRateKind),
	}
	for _, d := range m.OptionalMaps("doors") {
		u.Doors = append(u.Doors, readDoorUse(d, r))
	}
	for _, a := range m.OptionalMaps("appliances") {
		one := checks.Appliance{Name: a.Text("appliance"), Power: needed(a, "power", units.PowerKind), Runs: needed(a, "runs", units.DurationKind)}
		one.Light, _ = a.OptionalBool("light")
		u.Appliances = append(u.Appliances, one)
	}
	if b, ok := m.OptionalMap("restock"); ok {
		u.Restock = checks.Restock{
			Bottles: needed(b, "bottles", units.CountKind), Temperature: needed(b, "temperature", units.TemperatureKind), Over: needed(b, "over", units.DurationKind),
		}
	}
	return u
}

func readDoorUse(m *strict.Map, r *checks.Room) checks.DoorUse {
	d := checks.DoorUse{
		Door: m.Text("door"), Width: needed(m, "width", units.LengthKind), Height: needed(m, "height", units.LengthKind),
		Passages: needed(m, "passages", units.CountKind), Each: needed(m, "each", units.DurationKind), Standing: quantity(m, "standing", units.DurationKind),
	}
	if d.Door != "" && !slices.ContainsFunc(r.Faces, func(f checks.Face) bool { return f.Name == d.Door }) {
		m.Fail("door", "no face is called %q; write the name of the door's face", d.Door)
	}
	return d
}

package diagnosis

import (
	"fmt"
	"math"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// split is what the temperature split says about the unit.
type split int

const (
	splitUnknown split = iota
	splitNormal
	splitLow
	splitHigh
	splitBetween // between normal and not: read it again
)

// delivery is what the unit gives against what its data sheet promises.
type delivery struct {
	split    split
	missing  Measurement // with splitUnknown: what is not there
	measured units.TemperatureDifference
	// expected is the data sheet's split at the room and the intake as read,
	// unspoilt at the intake of the sheet.
	expected, unspoilt units.TemperatureDifference
	ratio              float64 // measured/expected
	ratioUnspoilt      float64 // measured/unspoilt
	// sensible is the sensible heat that the unit takes out while it runs, by its
	// split and the data sheet's airflow; total has the condensate's with it.
	sensible, total units.Power
	capacity        units.Power // of a unit in order at this room and intake
	steps           []units.Step
}

// share is the part of its capacity that the unit gives: 1 with a normal split.
func (v delivery) share() float64 {
	if v.split == splitLow && v.capacity > 0 {
		return math.Min(1, float64(v.total/v.capacity))
	}
	return 1
}

// measureUnit compares the split with the data sheet.
func (d *diagnosis) measureUnit() {
	u, v := d.room.Unit, &d.unit
	switch {
	case len(d.room.Readings.Split) == 0:
		v.missing = UnitSplit
	case !u.Sheet.Split.Taken || u.Capacity == nil:
		v.missing = UnitSheet
	case !d.in.temperature.Taken:
		v.missing = RoomTemperature
	case !d.in.humidity.Taken:
		v.missing = RoomHumidity
	default:
		v.compare(u, d.room.Readings, d.in.state, d.limits)
		v.deliver(u, d.room.Readings, d.in.state)
	}
}

// deliver works out the heat that the unit takes out while it runs: the sheet's
// sensible capacity in proportion to the split, and the heat of the condensate, or
// what the coil's line gives for it.
func (v *delivery) deliver(u Unit, r Readings, room airflow.State) {
	sheet, err := airflow.Air{Temperature: u.Sheet.Room.Temperature, Humidity: u.Sheet.Room.Humidity, Pressure: room.Pressure}.State()
	if err != nil {
		return
	}
	rated, shrRated, err := u.sensible(sheet, u.Sheet.Outdoor, 0)
	if err != nil {
		return
	}
	intake := u.Sheet.Outdoor
	if r.Intake.Taken {
		intake = r.Intake.Value
	}
	capacity, shr, err := u.sensible(room, intake, rated)
	if err != nil {
		return
	}
	v.capacity = capacity
	v.sensible = rated * units.Power(shrRated*float64(v.measured/u.Sheet.Split.Value))
	v.total = v.sensible / units.Power(shr)
	if r.Condensate.Taken && r.Duty.Taken && r.Duty.Value >= 1 {
		water := float64(r.Condensate.Value) / 86400 * evaporation
		v.total = v.sensible + units.Power(water/(float64(r.Duty.Value)/100))
	}
	v.steps = append(v.steps, units.Step{Name: "heat taken out while it runs", Formula: "sensible capacity of the sheet · split/split of the sheet, and the condensate's heat",
		Value: fmt.Sprintf("%.0f W, of it %.0f W sensible; in order it would be %.0f W", float64(v.total), float64(v.sensible), float64(v.capacity)), Source: "airflow as on the data sheet"})
}

// evaporation is the heat of water vapor, J/kg (ASHRAE Fundamentals ch. 1, at 0 °C).
const evaporation = 2501e3

// compare works out the split that the sheet gives at the room as read.
func (v *delivery) compare(u Unit, r Readings, room airflow.State, limits Limits) {
	v.measured = mean(r.Split).Value
	intake := u.Sheet.Outdoor
	if r.Intake.Taken {
		intake = r.Intake.Value
	}
	unspoilt, err := u.splitAt(room, u.Sheet.Outdoor)
	expected, errAt := u.splitAt(room, intake)
	if err != nil || errAt != nil || expected < 0.5 {
		v.missing = UnitSheet
		return
	}
	v.unspoilt, v.expected = unspoilt, expected
	v.ratio = float64(v.measured / expected)
	v.ratioUnspoilt = float64(v.measured / unspoilt)
	v.split = limits.classify(v.ratio)
	v.steps = []units.Step{
		{Name: "split of the data sheet", Value: fmt.Sprintf("%.1f K at %.1f °C, %.0f %% RH, intake %.1f °C", u.Sheet.Split.Value, u.Sheet.Room.Temperature, u.Sheet.Room.Humidity, u.Sheet.Outdoor), Source: "data sheet"},
		{Name: "split expected here", Formula: "ΔT_sheet · Q/Q_sheet · SHR/SHR_sheet", Value: fmt.Sprintf("%.1f K at %.1f °C, %.0f %% RH, intake %.1f °C", expected, room.Temperature, room.Humidity, intake), Source: "capacity by its rating; coil line, ASHRAE Fundamentals ch. 1"},
		{Name: "split measured", Formula: fmt.Sprintf("mean of %d", len(r.Split)), Value: fmt.Sprintf("%.1f K, %.0f %% of it", v.measured, 100*v.ratio), Source: "reading"},
	}
}

func (l Limits) classify(ratio float64) split {
	off := math.Abs(ratio-1) * 100
	switch {
	case off <= float64(l.Normal):
		return splitNormal
	case off < float64(l.Off):
		return splitBetween
	case ratio < 1:
		return splitLow
	}
	return splitHigh
}

// splitAt returns the split of a unit in order at a room and an intake: the sheet's,
// times how its capacity and the sensible share of it have changed.
func (u Unit) splitAt(room airflow.State, intake units.Temperature) (units.TemperatureDifference, error) {
	sheet, err := airflow.Air{Temperature: u.Sheet.Room.Temperature, Humidity: u.Sheet.Room.Humidity, Pressure: room.Pressure}.State()
	if err != nil {
		return 0, err
	}
	q0, shr0, err := u.sensible(sheet, u.Sheet.Outdoor, 0)
	if err != nil {
		return 0, err
	}
	q, shr, err := u.sensible(room, intake, q0)
	if err != nil {
		return 0, err
	}
	return u.Sheet.Split.Value * units.TemperatureDifference(float64(q/q0)*shr/shr0), nil
}

// sensible returns the unit's capacity at a room and an intake, and the share of it
// that is sensible. The coil lies below the room by the coil difference, in
// proportion to the capacity: a coil of fixed conductance. rated is the capacity
// at the data sheet's condition, 0 there.
func (u Unit) sensible(room airflow.State, intake units.Temperature, rated units.Power) (units.Power, float64, error) {
	q, err := u.Capacity.At(room.Temperature, intake)
	if err != nil {
		return 0, 0, err
	}
	if rated == 0 {
		rated = q
	}
	shr, err := u.coil(room.Temperature, q, rated).SensibleHeatRatio(room)
	return q, shr, err
}

// coil returns the coil by its temperature at a capacity.
func (u Unit) coil(room units.Temperature, q, rated units.Power) cooling.Coil {
	difference := u.CoilDifference
	if difference == 0 {
		difference = usualCoilDifference
	}
	return cooling.Coil{DewPoint: room.Add(-difference * units.TemperatureDifference(q/rated)), Sensible: q}
}

// freeIntake is the warmest air that a condenser with its heat led away would have to
// draw: what it draws, but no warmer than outdoors or the data sheet's rating,
// whichever is more. The plan's intake comes first on the design day.
func (d *diagnosis) freeIntake(c climate) Reading[units.Temperature] {
	if c.name == d.hot.name && d.room.Planned != nil && d.room.Planned.Intake.Taken {
		return d.room.Planned.Intake
	}
	free := d.room.Unit.ratedOutdoor()
	if out := c.sides[envelope.Outdoors].Temperature; out.Taken && (!free.Taken || out.Value > free.Value) {
		free = out
	}
	draws := c.intake
	if !draws.Taken {
		draws = c.sides[d.room.Unit.RejectsTo].Temperature
	}
	if draws.Taken && (!free.Taken || draws.Value < free.Value) {
		free = draws
	}
	return free
}

// ratedOutdoor returns the condenser intake that the unit was sold for.
func (u Unit) ratedOutdoor() Reading[units.Temperature] {
	if r, ok := u.Capacity.(cooling.Rating); ok {
		return Read(r.Outdoor)
	}
	if u.Sheet.Split.Taken {
		return Read(u.Sheet.Outdoor)
	}
	return Reading[units.Temperature]{}
}

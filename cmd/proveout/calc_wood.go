package main

import (
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/units"
	"proveout/checks/wood"
)

var woodQuestion = &question{
	use:   "wood",
	short: "Wood moisture and the air it is in balance with; pin meter by temperature",
	long: `With --rh: the moisture content that wood reaches in that air. With --mc: the
humidity of the air around wood of that moisture, as in a closed stud bay. With
--meter: what a pin meter's reading in wood of that temperature really is, for a
meter without a temperature correction of its own.`,
	example: `  proveout calc wood --temp 55F --rh 70%
  proveout calc wood --temp 55F --mc 15%
  proveout calc wood --temp 41F --meter 15% --sealed-at 55F --species-factor 95%`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "temperature of wood and air"},
		{flag: "rh", kind: units.HumidityKind, doc: "humidity of the air", optional: true},
		{flag: "mc", kind: units.MoistureContentKind, doc: "moisture content of the wood", optional: true},
		{flag: "meter", kind: units.MoistureContentKind, doc: "reading of a pin meter", optional: true},
		{flag: "species-factor", kind: units.PercentKind, doc: "a of the meter's table of species; with --meter", otherwise: "100 %"},
		{flag: "species-offset", kind: units.PercentKind, doc: "b of that table", otherwise: "0 %"},
		{flag: "sealed-at", kind: units.TemperatureKind, doc: "temperature at which the wood will be closed in; with --meter", optional: true},
	},
	answer: woodAnswer,
}

const (
	equilibriumSource = "Wood Handbook FPL-GTR-282, eq. 4-5 (Hailwood and Horrobin)"
	meterSource       = "Pfaff and Garrahan, Forest Products Journal 36, 1986 (from memory)"
)

func woodAnswer(a *asking) (*answer, error) {
	if err := a.oneOf("rh", "mc", "meter"); err != nil {
		return nil, err
	}
	t := a.values["temp"].Temperature()
	r := &answer{}
	if q, ok := a.values["rh"]; ok {
		mc, err := wood.EquilibriumMoisture(t, q.RelativeHumidity())
		r.add("moisture content in balance", a.of(units.MoistureContentKind, float64(mc)))
		r.step("moisture content in balance", fmt.Sprintf("T = %.2f °C, h = %.4f", float64(t), q.RelativeHumidity().Fraction()), equilibriumSource)
		r.note("Wood that dries holds up to about 2 %% more than wood that gets wet (common practice).")
		return r, err
	}
	if q, ok := a.values["mc"]; ok {
		rh, err := wood.EquilibriumHumidity(t, q.Percent())
		r.add("humidity of the air around it", a.of(units.HumidityKind, float64(rh)))
		r.step("humidity of the air around it", fmt.Sprintf("T = %.2f °C, M = %s, solved for h", float64(t), q), equilibriumSource)
		return r, err
	}
	return r, a.addMeter(r, t)
}

// addMeter adds what a pin meter's reading really is, and what air the wood makes
// around itself where it is closed in.
func (a *asking) addMeter(r *answer, t units.Temperature) error {
	species := wood.Species{A: a.values["species-factor"].Base() / 100, B: a.values["species-offset"].Base()}
	mc, err := wood.MeterMoisture(a.values["meter"].Percent(), t, species)
	if err != nil {
		return err
	}
	r.add("moisture content", a.of(units.MoistureContentKind, float64(mc)))
	r.step("moisture content", fmt.Sprintf("reading %s at %.2f °C, a = %.3g, b = %.3g %%", a.values["meter"], float64(t), species.A, species.B), meterSource)
	r.note("For a meter without a temperature correction of its own. Factor and offset of the species are the meter maker's; without them it is read on the scale of Douglas fir.")
	sealed, ok := a.values["sealed-at"]
	if !ok {
		return nil
	}
	rh, err := wood.EquilibriumHumidity(sealed.Temperature(), mc)
	if err != nil {
		return err
	}
	r.add("humidity of the air once closed in", a.of(units.HumidityKind, float64(rh)))
	r.step("humidity of the air once closed in", fmt.Sprintf("T = %s, M = %.2f %%, solved for h", sealed, float64(mc)), equilibriumSource)
	return nil
}

// step adds a line of the calculation whose value is the newest result.
func (r *answer) step(name, formula, source string) {
	r.Steps = append(r.Steps, stepOf(name, formula, r.Results[len(r.Results)-1].Value, source))
}

var doorGapQuestion = &question{
	use:   "door-gap",
	short: "Air, heat and water through a gap at the door and one high in the room",
	long: `A cold room is heavy: its air falls out of the gap below the door and the house's
air comes in high up. Give the low opening as --width and --gap, or as --low, and
the high one as --high; --height is between them. With --jamb the gap runs all round
a closed door of --width and --height: --gap below, --head above, --jamb at each side.`,
	example: `  proveout calc door-gap --width "36 in" --gap "1/4 in" --high "4 in²" --height "80 in" --house-temp 75F --house-rh 50% --room-temp 55F --room-rh 60%
  proveout calc door-gap --width "32 in" --height "80 in" --gap "1/16 in" --jamb "1/32 in" --house-temp 75F --house-rh 50%`,
	inputs: []input{
		{flag: "house-temp", kind: units.TemperatureKind, doc: "temperature of the house"},
		{flag: "house-rh", kind: units.HumidityKind, doc: "humidity of the house"},
		{flag: "room-temp", kind: units.TemperatureKind, doc: "temperature of the room", otherwise: "13 °C"},
		{flag: "room-rh", kind: units.HumidityKind, doc: "humidity of the room", otherwise: "60 % RH"},
		{flag: "height", kind: units.LengthKind, doc: "height between the two openings"},
		{flag: "width", kind: units.LengthKind, doc: "width of the door", optional: true},
		{flag: "gap", kind: units.LengthKind, doc: "gap below it", optional: true},
		{flag: "low", kind: units.AreaKind, doc: "area of the low opening, in place of --width and --gap", optional: true},
		{flag: "high", kind: units.AreaKind, doc: "area of the high opening (default: as the low one)", optional: true},
		{flag: "jamb", kind: units.LengthKind, doc: "gap at each side of a door, all the way up", optional: true},
		{flag: "head", kind: units.LengthKind, doc: "gap above that door (default: as at the sides)", optional: true},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
	},
	answer: doorGapAnswer,
}

func doorGapAnswer(a *asking) (*answer, error) {
	gap, err := a.opening()
	if err != nil {
		return nil, err
	}
	house, err := a.state("house-temp", "house-rh")
	if err != nil {
		return nil, fmt.Errorf("house: %w", err)
	}
	room, err := a.state("room-temp", "room-rh")
	if err != nil {
		return nil, fmt.Errorf("room: %w", err)
	}
	leak, err := gap.Leak(house, room)
	if err != nil {
		return nil, err
	}
	r := &answer{Steps: leak.Steps}
	r.add("pressure across the low opening", a.of(units.PressureKind, float64(leak.Pressure)))
	r.add("air in and out", a.of(units.AirflowKind, float64(leak.Flow)))
	r.add("heat, sensible", a.of(units.PowerKind, float64(leak.Carried.Sensible)))
	r.add("heat, latent", a.of(units.PowerKind, float64(leak.Carried.Latent)))
	r.add("water a day", a.of(units.MassKind, float64(leak.Carried.Water.PerDay())))
	r.note("Both openings as sharp edges, discharge 0.6 (ASHRAE Fundamentals ch. 16, from memory); a deep narrow gap passes less.")
	return r, nil
}

// opening is a gap and an opening high up, or the gap all round a door.
func (a *asking) opening() (interface {
	Leak(house, room airflow.State) (airflow.Leak, error)
}, error) {
	jamb, round := a.values["jamb"]
	if !round {
		return a.gap()
	}
	width, hasWidth := a.values["width"]
	bottom, hasBottom := a.values["gap"]
	if !hasWidth || !hasBottom || a.given("low") || a.given("high") {
		return nil, &usageError{"with --jamb give --width and --gap, and neither --low nor --high"}
	}
	d := airflow.Perimeter{
		Width: width.Length(), Height: a.values["height"].Length(), Bottom: bottom.Length(), Jamb: jamb.Length(), Head: jamb.Length(), Discharge: airflow.SharpEdged,
	}
	if head, ok := a.values["head"]; ok {
		d.Head = head.Length()
	}
	return d, nil
}

func (a *asking) gap() (airflow.Gap, error) {
	g := airflow.Gap{Height: a.values["height"].Length(), Discharge: airflow.SharpEdged}
	low, given := a.values["low"]
	width, hasWidth := a.values["width"]
	high, hasGap := a.values["gap"]
	switch {
	case given && !hasWidth && !hasGap:
		g.Low = low.Area()
	case !given && hasWidth && hasGap:
		g.Low = units.Area(float64(width.Length()) * float64(high.Length()))
	default:
		return g, &usageError{"give the low opening as --width and --gap, or as --low"}
	}
	g.High = g.Low
	if q, ok := a.values["high"]; ok {
		g.High = q.Area()
	}
	return g, nil
}

// state is an air of the question with the properties that follow.
func (a *asking) state(temp, rh string) (airflow.State, error) {
	air, err := a.air(temp, rh)
	if err != nil {
		return airflow.State{}, err
	}
	return air.State()
}

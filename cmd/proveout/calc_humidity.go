package main

import (
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

var humidityQuestion = &question{
	use:   "humidity",
	short: "Humidity that a room settles to, its condensate, and the water to add",
	long: `What comes into a steady room as vapor is what the coil takes out. The coil takes
the more the colder it is, so a unit too large dries the room, and a leak wets it.
With --target: the coil temperature that would hold it, and the water that must be
added in a dry house. Water that a continuous fan dries off the coil is not counted.`,
	example: `  proveout calc humidity --room 55F --coil 40F --sensible "335 W" --leak "5 cfm" --house 75F --house-rh 50%
  proveout calc humidity --room 13C --coil 4.5C --sensible "335 W" --leak "8.5 m³/h" --house 24C --house-rh 25% --target 60%`,
	inputs: []input{
		{flag: "room", kind: units.TemperatureKind, doc: "temperature of the room"},
		{flag: "coil", kind: units.TemperatureKind, doc: "apparatus dew point: where the coil's line meets saturation, close to its surface"},
		{flag: "sensible", kind: units.PowerKind, doc: "sensible load, from calc load"},
		{flag: "leak", kind: units.AirflowKind, doc: "house air that leaks in"},
		{flag: "house", kind: units.TemperatureKind, doc: "temperature of the house"},
		{flag: "house-rh", kind: units.HumidityKind, doc: "relative humidity of the house"},
		{flag: "water", kind: units.MassRateKind, doc: "water set free in the room", otherwise: "0 kg/day"},
		{flag: "target", kind: units.HumidityKind, doc: "relative humidity that is wanted", optional: true},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
	},
	answer: humidityAnswer,
}

func humidityAnswer(a *asking) (*answer, error) {
	pressure, err := humidair.StandardPressure(a.values["altitude"].Length())
	if err != nil {
		return nil, err
	}
	house, err := airflow.Air{Temperature: a.values["house"].Temperature(), Humidity: a.values["house-rh"].RelativeHumidity(), Pressure: pressure}.State()
	if err != nil {
		return nil, err
	}
	coil := cooling.Coil{DewPoint: a.values["coil"].Temperature(), Sensible: a.values["sensible"].Power()}
	wet := cooling.Moisture{
		Exchange: house.Entering(a.values["leak"].Airflow()),
		Inside:   airflow.MassRate(a.values["water"].Base() / 86400),
	}
	steady, err := coil.SteadyHumidity(wet, house, a.values["room"].Temperature())
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("A room at %s with its coil at %s, %s of house air", a.values["room"], a.values["coil"], a.values["leak"]), Steps: steady.Steps}
	r.add("the room settles to", a.of(units.HumidityKind, float64(steady.Humidity)))
	r.add("condensate", a.of(units.MassRateKind, float64(steady.Condensate.PerDay())))
	r.addText("sensible share of the coil's heat", fmt.Sprintf("%.2f", steady.SensibleHeat))
	if !steady.Wet {
		r.note("The coil stays dry: it is warmer than the room's dew point, and has no say in the humidity.")
	}
	return r, a.towards(r, coil, wet, house)
}

// towards adds what would hold the humidity that is wanted.
func (a *asking) towards(r *answer, coil cooling.Coil, wet cooling.Moisture, house airflow.State) error {
	target, ok := a.values["target"]
	if !ok {
		return nil
	}
	room := a.values["room"].Temperature()
	water, err := coil.Humidification(wet, house, room, target.RelativeHumidity())
	if err != nil {
		return err
	}
	r.add("water to add for "+target.String(), a.of(units.MassRateKind, float64(water.PerDay())))
	at, err := coil.DewPointFor(wet, house, room, target.RelativeHumidity())
	if err != nil {
		r.note("%v.", err)
		return nil
	}
	r.add("coil that would hold it", a.of(units.TemperatureKind, float64(at)))
	return nil
}

var bottleQuestion = &question{
	use:   "bottle",
	short: "How fast one bottle follows the air around it",
	long: `The time constant is the time in which a bottle comes within 37 % of its first
difference. One temperature for all of its wine is the quick end; conduction alone,
with no movement in the wine, the slow end. The surface coefficient and the share
of the bottle that sees moving air are assumed; a probe in a bottle replaces them.`,
	example: `  proveout calc bottle
  proveout calc bottle --from 75F --air 55F --after "6 h"
  proveout calc bottle --film "8 W/(m²·K)" --exposed 100%`,
	inputs: []input{
		{flag: "film", kind: units.TransmittanceKind, doc: "surface coefficient; 5 to 8 W/(m²·K) in still air", otherwise: "6 W/(m²·K)"},
		{flag: "exposed", kind: units.PercentKind, doc: "share of the bottle that sees moving air", otherwise: "60 %"},
		{flag: "from", kind: units.TemperatureKind, doc: "temperature of the bottle at the start", otherwise: "75 °F"},
		{flag: "air", kind: units.TemperatureKind, doc: "temperature of the air", otherwise: "55 °F"},
		{flag: "after", kind: units.DurationKind, doc: "time after the start", otherwise: "12 h"},
	},
	answer: bottleAnswer,
}

func bottleAnswer(a *asking) (*answer, error) {
	film, exposed := a.values["film"].Base(), a.values["exposed"].Base()/100
	quick, err := cooling.StandardBottle.TimeConstant(film, exposed)
	if err != nil {
		return nil, err
	}
	slow, err := cooling.StandardBottle.Cylinder(film * exposed)
	if err != nil {
		return nil, err
	}
	from, air, after := a.values["from"].Temperature(), a.values["air"].Temperature(), a.values["after"].Duration()
	lump := cooling.Approach(from, air, quick, after)
	r := &answer{Of: fmt.Sprintf("One bottle from %s in air of %s", a.values["from"], a.values["air"])}
	r.addText("time constant, wine mixed", fmt.Sprintf("%.1f h", quick.Hours()))
	r.addText("time constant, conduction alone", fmt.Sprintf("%.1f h", slow.TimeConstant.Hours()))
	r.add("after "+a.values["after"].String()+", wine mixed", a.of(units.TemperatureKind, float64(lump)))
	if axis, err := slow.Axis(from, air, after); err != nil {
		r.note("%v.", err)
	} else {
		r.add("after "+a.values["after"].String()+", its axis by conduction alone", a.of(units.TemperatureKind, float64(axis)))
	}
	b := cooling.StandardBottle
	r.Steps = []units.Step{
		stepOf("heat capacity of a bottle", "wine · 4200 J/(kg·K) + glass · 840 J/(kg·K)", fmt.Sprintf("%.0f J/K", float64(b.HeatCapacity())), "wine derived from ethanol and water (CoolProp, computed); glass from a textbook"),
		stepOf("time constant, wine mixed", "C / (exposed · h · A)", fmt.Sprintf("%.2f h", quick.Hours()), "one lump"),
		stepOf("Biot number", "h · r / k", fmt.Sprintf("%.2f", slow.Biot), "long cylinder"),
		stepOf("first root", "ζ · J1(ζ) = Bi · J0(ζ)", fmt.Sprintf("%.4f", slow.Root), "heat transfer textbooks, transient conduction (from memory)"),
		stepOf("time constant, conduction alone", "r² / (a · ζ²)", fmt.Sprintf("%.2f h", slow.TimeConstant.Hours()), "first term of the series"),
	}
	return r, nil
}

package main

import (
	"fmt"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// labelQuestion is asked where glass or a door is bought: labels are stated for
// weather outside.
var labelQuestion = &question{
	use:   "label",
	short: "The U-value of a glass or door label, for a room inside a house",
	long: `A label is stated with weather on one side. Between house and room there is still
air on both sides, so less heat passes: 1/U' = 1/U − 0.17 + 0.26 m²·K/W (ISO 6946 and
EN 673 surface resistances, from memory). job.yaml wants the figure for still air.
Then: how warm the house side stays, and whether that is above the house's dew
point. The edge of the glass and the frame are colder than its middle: measure there.`,
	example: `  proveout calc label --u "1.1 W/(m²·K)"
  proveout calc label --u "0.3 Btu/(h·ft²·°F)" --house 75F --house-rh 55% --room 55F --explain`,
	inputs: []input{
		{flag: "u", kind: units.TransmittanceKind, doc: "on the label"},
		{flag: "house", kind: units.TemperatureKind, doc: "temperature of the house", otherwise: "24 °C"},
		{flag: "house-rh", kind: units.HumidityKind, doc: "relative humidity of the house", otherwise: "55 %"},
		{flag: "room", kind: units.TemperatureKind, doc: "temperature of the room", otherwise: "13 °C"},
	},
	answer: labelAnswer,
}

func labelAnswer(a *asking) (*answer, error) {
	label := a.values["u"]
	u, err := envelope.RebasedTransmittance(label.Transmittance(), envelope.CatalogueFilms, envelope.StillAirFilms)
	if err != nil {
		return nil, err
	}
	house, err := envelope.AirAt(a.values["house"].Temperature(), a.values["house-rh"].RelativeHumidity())
	if err != nil {
		return nil, err
	}
	surface, err := envelope.WarmSurface(u, envelope.StillAirFilms.OtherSide, house, a.values["room"].Temperature())
	if err != nil {
		return nil, err
	}
	r := &answer{Of: "A label of " + label.String() + ", between house and room"}
	r.add("still air on both sides", a.of(units.TransmittanceKind, float64(u)))
	r.add("house side of the glass", a.of(units.TemperatureKind, float64(surface.Temperature)))
	r.add("dew point of the house", a.of(units.TemperatureKind, float64(surface.DewPoint)))
	r.add("margin", a.of(units.TemperatureDifferenceKind, float64(surface.Margin)))
	r.Steps = append([]units.Step{stepOf("with still air on both sides", fmt.Sprintf("1/U' = 1/%.3f − 0.17 + 0.26", float64(label.Transmittance())),
		fmt.Sprintf("%.3f W/(m²·K)", float64(u)), "ISO 6946 and EN 673 surface resistances (from memory)")}, surface.Steps...)
	why := "its middle stays dry"
	if surface.Wet {
		why = "water forms on the house side"
	}
	r.judge(!surface.Wet, why)
	return r, nil
}

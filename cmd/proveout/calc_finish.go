package main

import (
	"fmt"

	"proveout/checks/compound"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

var compoundQuestion = &question{
	use:   "compound",
	short: "Drying time of a coat of joint compound",
	long: `How long a coat of drying-type compound takes in air of a temperature and
humidity: the chart of the trade for a coat of 1/16 in (from memory), carried over
by the vapor pressure that the air still takes, and a fifth more. The product's
sheet counts where it gives a longer time; looks and meters mislead at joints.`,
	example: `  proveout calc compound --temp 66F --rh 55%
  proveout calc compound --temp "15 °C" --rh 70% --coat "2 mm" --explain`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "coldest air while it dries"},
		{flag: "rh", kind: units.HumidityKind, doc: "dampest air while it dries, up to 85 %"},
		{flag: "coat", kind: units.LengthKind, doc: "wet thickness of the thickest place", otherwise: "1/16 in"},
	},
	answer: func(a *asking) (*answer, error) {
		d, err := compound.Coat{
			Temperature: a.values["temp"].Temperature(), Humidity: a.values["rh"].RelativeHumidity(), Thickness: a.values["coat"].Length(),
		}.Dry()
		if err != nil {
			return nil, err
		}
		r := &answer{Steps: d.Steps}
		r.add("dry after", a.of(units.DurationKind, d.Time.Seconds()))
		r.note("Source: %s.", compound.Source)
		return r, nil
	},
}

var glassQuestion = &question{
	use:   "glass",
	short: "Glass or frame on the most humid day, from what was measured today",
	long: `The house side of a pane or frame, measured with both airs, gives its temperature
factor; that gives the surface on a humid day and its margin over the dew point.
Dew shows first at the bottom corner of the glass: measure there.`,
	example: `  proveout calc glass --surface "70.7 °F" --house "75.6 °F" --room "55.2 °F" --humid-temp "79 °F" --humid-rh "70 %"`,
	inputs: []input{
		{flag: "surface", kind: units.TemperatureKind, doc: "house side of glass or frame, as measured"},
		{flag: "house", kind: units.TemperatureKind, doc: "house air at that moment"},
		{flag: "room", kind: units.TemperatureKind, doc: "room air at that moment"},
		{flag: "humid-temp", kind: units.TemperatureKind, doc: "house air on the most humid day", otherwise: "26 °C"},
		{flag: "humid-rh", kind: units.HumidityKind, doc: "its humidity", otherwise: "70 % RH"},
		{flag: "set-point", kind: units.TemperatureKind, doc: "set point of the room", otherwise: "13 °C"},
		{flag: "at-least", kind: units.TemperatureDifferenceKind, doc: "margin wanted over the dew point", otherwise: "0 K"},
	},
	answer: glassAnswer,
}

func glassAnswer(a *asking) (*answer, error) {
	factor, err := envelope.TemperatureFactor(a.values["surface"].Temperature(), a.values["house"].Temperature(), a.values["room"].Temperature())
	if err != nil {
		return nil, err
	}
	air, err := envelope.AirAt(a.values["humid-temp"].Temperature(), a.values["humid-rh"].RelativeHumidity())
	if err != nil {
		return nil, err
	}
	state, err := envelope.PredictSurface(factor, air, a.values["set-point"].Temperature())
	if err != nil {
		return nil, err
	}
	margin := a.of(units.TemperatureDifferenceKind, float64(state.Margin))
	r := &answer{Of: fmt.Sprintf("house air of %s, %s beside a room at %s", a.values["humid-temp"], a.values["humid-rh"], a.values["set-point"])}
	r.addNumber("temperature factor", fmt.Sprintf("%.3f", factor), factor, "1")
	r.add("surface on that day", a.of(units.TemperatureKind, float64(state.Temperature)))
	r.add("dew point of the house", a.of(units.TemperatureKind, float64(state.DewPoint)))
	r.add("margin over the dew point", margin)
	r.add("humidity at the surface", a.of(units.HumidityKind, min(float64(state.Humidity), 100)))
	r.Steps = append([]units.Step{stepOf("temperature factor", "(θs − θroom)/(θhouse − θroom)", fmt.Sprintf("%.3f", factor), "ISO 13788:2012, 5.2 (clause number from memory)")}, state.Steps...)
	r.judge(units.AtLeast(margin, a.values["at-least"]) && !state.Wet, "margin "+margin.String()+", wanted at least "+a.values["at-least"].String())
	if state.AtRisk && !state.Wet {
		r.note("Above 80 %% at the surface mold may grow where dust lies, if such days last (ISO 13788:2012, 5.1, clause number from memory).")
	}
	return r, nil
}

package main

import (
	"fmt"

	"proveout/checks/humidair"
	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

var nitrogenQuestion = &question{
	use:   "nitrogen",
	short: "Standing test of a line with dry nitrogen, corrected for temperature",
	long: `Pressure in a closed line follows its temperature. Without --end-pressure: what
the gauge of a tight line should show. With it: whether the line is tight, a pass
only if the loss with the instruments' uncertainty is within --allowed-loss;
between pass and fail it is undecided and proves nothing.`,
	example: `  proveout calc nitrogen --start-pressure "300 psig" --start-temp 75F --end-temp 60F
  proveout calc nitrogen --start-pressure "300 psig" --start-temp 75F --end-pressure "291 psig" --end-temp 60F --held "24 h"`,
	inputs: []input{
		{flag: "start-pressure", kind: units.GaugePressureKind, doc: "on the gauge after filling and settling"},
		{flag: "start-temp", kind: units.TemperatureKind, doc: "of the line at the start, in shade"},
		{flag: "end-temp", kind: units.TemperatureKind, doc: "of the line at the end, in shade"},
		{flag: "end-pressure", kind: units.GaugePressureKind, doc: "on the same gauge after the hold", optional: true},
		{flag: "held", kind: units.DurationKind, doc: "time between the readings", otherwise: "24 h"},
		{flag: "required", kind: units.DurationKind, doc: "time that is asked", otherwise: "24 h"},
		{flag: "allowed-loss", kind: units.GaugePressureKind, doc: "loss that is accepted", otherwise: "1 psi"},
		{flag: "gauge-uncertainty", kind: units.GaugePressureKind, doc: "of the gauge, k = 2", otherwise: "0.25 psi"},
		{flag: "thermometer-uncertainty", kind: units.TemperatureDifferenceKind, doc: "of the thermometer, k = 2", otherwise: "0.5 K"},
		{flag: "test-pressure", kind: units.GaugePressureKind, doc: "pressure that the procedure asks for (default: the start's)", optional: true},
		{flag: "nameplate", kind: units.GaugePressureKind, doc: "highest pressure of the weakest part (default: not judged)", optional: true},
		{flag: "hottest", kind: units.TemperatureKind, doc: "hottest that the line may get while it is full, for the most to fill to", optional: true},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
	},
	answer: nitrogenAnswer,
}

func nitrogenAnswer(a *asking) (*answer, error) {
	air, err := humidair.StandardPressure(a.values["altitude"].Length())
	if err != nil {
		return nil, err
	}
	start, end := a.values["start-temp"].Temperature(), a.values["end-temp"].Temperature()
	expected, err := refrigerant.ExpectedPressure(a.values["start-pressure"].GaugePressure(), start, air, end, air)
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("Dry nitrogen, %s at %s, then %s", a.values["start-pressure"], a.values["start-temp"], a.values["end-temp"])}
	r.add("a tight line shows", a.of(units.GaugePressureKind, float64(expected)))
	if err := a.addFillLimit(r, start, air); err != nil {
		return nil, err
	}
	if _, ok := a.values["end-pressure"]; !ok {
		r.note("p2 = p1·T2/T1 in absolute values (UFGS 15217, superseded number). It goes by the line's temperature, not by the weather's.")
		return r, nil
	}
	return r, a.addStanding(r, air)
}

// addFillLimit says how high to fill where the line may warm up.
func (a *asking) addFillLimit(r *answer, filled units.Temperature, air units.Pressure) error {
	hottest, ok := a.values["hottest"]
	if !ok {
		return nil
	}
	plate, ok := a.values["nameplate"]
	if !ok {
		return &usageError{"--hottest wants --nameplate too: the most to fill to follows from both"}
	}
	most, err := refrigerant.FillLimit(plate.GaugePressure(), filled, hottest.Temperature(), air)
	if err != nil {
		return err
	}
	r.add("fill to at most", a.of(units.GaugePressureKind, float64(most)))
	return nil
}

// addStanding judges the test.
func (a *asking) addStanding(r *answer, air units.Pressure) error {
	reading := func(when string) refrigerant.Reading {
		return refrigerant.Reading{
			Gauge: a.values[when+"-pressure"].GaugePressure(), GaugeUncertainty: a.values["gauge-uncertainty"].GaugePressure(),
			Line: a.values[when+"-temp"].Temperature(), LineUncertainty: a.values["thermometer-uncertainty"].TemperatureDifference(),
			Barometer: air,
		}
	}
	t := refrigerant.StandingTest{
		Start: reading("start"), End: reading("end"), AllowedLoss: a.values["allowed-loss"].GaugePressure(),
		Held: a.values["held"].Duration(), Required: a.values["required"].Duration(),
		TestPressure: a.values["start-pressure"].GaugePressure(), Nameplate: highestGauge,
	}
	if q, ok := a.values["test-pressure"]; ok {
		t.TestPressure = q.GaugePressure()
	}
	if q, ok := a.values["nameplate"]; ok {
		t.Nameplate = q.GaugePressure()
	}
	result, err := t.Judge()
	if err != nil {
		return err
	}
	show := func(name string, p units.Pressure) {
		r.addNumber(name, a.fine(units.PressureKind, float64(p), "%.2f", "psi", "kPa"), float64(p), "Pa")
	}
	show("loss", result.Loss)
	show("uncertainty of it, k = 2", result.Uncertainty)
	show("real gas, left out by the formula", result.RealGas)
	show("left of the allowed loss", result.Margin)
	r.Outcome, r.Reason, r.Steps = result.Outcome.String(), result.Reason, result.Steps
	return nil
}

// highestGauge is the highest pressure that the test is made for, 600 psig,
// which stands for a nameplate that is not judged.
const highestGauge units.Pressure = 600 * 6894.757293168

var evacuationQuestion = &question{
	use:   "evacuation",
	short: "Vacuum of a line after the pump is shut off",
	long: `A line that is tight and dry keeps its vacuum. A rise that levels off tells of
water, one that goes on tells of a leak. Give the limits of the unit's manual; the
defaults are those of the plan (Unified Facilities Guide Specification 15182).`,
	example: `  proveout calc evacuation --pulled "280 micron" --risen "420 micron" --held "1 h" --coldest 55F`,
	inputs: []input{
		{flag: "pulled", kind: units.VacuumKind, doc: "vacuum when the valve to the pump is shut"},
		{flag: "risen", kind: units.VacuumKind, doc: "vacuum at the end, on the same gauge"},
		{flag: "held", kind: units.DurationKind, doc: "time between the two"},
		{flag: "coldest", kind: units.TemperatureKind, doc: "coldest place along the line"},
		{flag: "required", kind: units.DurationKind, doc: "time that is asked", otherwise: "1 h"},
		{flag: "pulled-at-most", kind: units.VacuumKind, doc: "limit when the valve is shut", otherwise: "300 micron"},
		{flag: "risen-at-most", kind: units.VacuumKind, doc: "limit at the end", otherwise: "500 micron"},
		{flag: "coldest-at-least", kind: units.TemperatureKind, doc: "temperature below which water stays in the line", otherwise: "35 °F"},
		{flag: "gauge-uncertainty", kind: units.VacuumKind, doc: "of the gauge, k = 2", otherwise: "20 micron"},
	},
	answer: evacuationAnswer,
}

func evacuationAnswer(a *asking) (*answer, error) {
	result, err := refrigerant.Evacuation{
		Pulled: a.values["pulled"].Pressure(), Risen: a.values["risen"].Pressure(),
		Coldest: a.values["coldest"].Temperature(), Held: a.values["held"].Duration(),
		GaugeUncertainty: a.values["gauge-uncertainty"].Pressure(),
		Limits: refrigerant.EvacuationLimits{
			Pulled: a.values["pulled-at-most"].Pressure(), Risen: a.values["risen-at-most"].Pressure(),
			Required: a.values["required"].Duration(), Coldest: a.values["coldest-at-least"].Temperature(),
		},
	}.Judge()
	if err != nil {
		return nil, err
	}
	r := &answer{Outcome: result.Outcome.String(), Reason: result.Reason, Steps: result.Steps}
	r.add("rise", a.of(units.VacuumKind, float64(result.Rise)))
	if result.NearLimit {
		r.note("A reading lies within the gauge's uncertainty of its limit.")
	}
	return r, nil
}

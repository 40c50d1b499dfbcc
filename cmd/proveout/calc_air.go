package main

import (
	"fmt"

	"proveout/checks"
	"proveout/checks/airflow"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Where the figures of moist air come from.
const (
	saturationSource = "ASHRAE Fundamentals 2017 ch. 1, eq. 5 and 6"
	vaporSource      = "ASHRAE Fundamentals 2017 ch. 1, eq. 12 and 22"
	moistAirSource   = "ASHRAE Fundamentals 2017 ch. 1"
)

// iceLimit is the vapor pressure above which nothing is in balance with ice: the
// triple point's, Pa.
const iceLimit = 611.66

var airQuestion = &question{
	use:   "air",
	short: "Dew point and all else that follows from temperature and humidity",
	long: `Dew point, frost point, humidity ratio, wet bulb, enthalpy, density and vapor
pressure of air. Give the humidity as --rh, or as --dew-point or --wet-bulb. The
pressure is that of the standard atmosphere at --altitude, or --pressure.`,
	example: `  proveout calc air --temp "24 °C" --rh "60 %"
  proveout calc air --temp 75F --dew-point 55F
  proveout calc air --temp 75F --rh 50% --altitude "5280 ft" --explain`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "temperature of the air"},
		{flag: "rh", kind: units.HumidityKind, doc: "relative humidity", optional: true},
		{flag: "dew-point", kind: units.TemperatureKind, doc: "dew point, in place of --rh", optional: true},
		{flag: "wet-bulb", kind: units.TemperatureKind, doc: "wet bulb, in place of --rh", optional: true},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
		{flag: "pressure", kind: units.PressureKind, doc: "pressure of the air, in place of --altitude", optional: true},
	},
	answer: func(a *asking) (*answer, error) {
		air, err := a.air("temp", "rh")
		if err != nil {
			return nil, err
		}
		return a.describeAir(air)
	},
}

// oneOf wants exactly one of some flags.
func (a *asking) oneOf(flags ...string) error {
	n := 0
	text := ""
	for i, f := range flags {
		if _, ok := a.values[f]; ok {
			n++
		}
		if i > 0 {
			text += " or "
		}
		text += "--" + f
	}
	if n == 1 {
		return nil
	}
	return &usageError{fmt.Sprintf("give one of %s; %d are given\nsee: %s --help", text, n, a.c.CommandPath())}
}

// pressure is the air pressure of the place.
func (a *asking) pressure() (units.Pressure, error) {
	if p, ok := a.values["pressure"]; ok {
		return p.Pressure(), nil
	}
	return humidair.StandardPressure(a.values["altitude"].Length())
}

// air reads the air of the question. The humidity may come in three ways.
func (a *asking) air(temp, rh string) (airflow.Air, error) {
	p, err := a.pressure()
	if err != nil {
		return airflow.Air{}, err
	}
	air := airflow.Air{Temperature: a.values[temp].Temperature(), Pressure: p}
	if a.c.Flags().Lookup("dew-point") == nil {
		air.Humidity = a.values[rh].RelativeHumidity()
		return air, nil
	}
	if err := a.oneOf(rh, "dew-point", "wet-bulb"); err != nil {
		return air, err
	}
	if q, ok := a.values[rh]; ok {
		air.Humidity = q.RelativeHumidity()
	}
	if q, ok := a.values["dew-point"]; ok {
		air.Humidity, err = humidair.RelativeHumidityFromDewPoint(air.Temperature, q.Temperature())
	}
	if q, ok := a.values["wet-bulb"]; ok {
		air.Humidity, err = humidair.RelativeHumidityFromWetBulb(air.Temperature, q.Temperature(), p)
	}
	return air, err
}

// describeAir works out all properties of an air.
func (a *asking) describeAir(air airflow.Air) (*answer, error) {
	state, err := air.State()
	if err != nil {
		return nil, err
	}
	saturation, err := humidair.SaturationPressure(air.Temperature)
	if err != nil {
		return nil, err
	}
	vapor, err := humidair.VaporPressure(air.Temperature, air.Humidity)
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("Air at %s, %s, %s", a.of(units.TemperatureKind, float64(air.Temperature)), a.of(units.HumidityKind, float64(air.Humidity)), a.pressureText(air.Pressure))}
	if err := a.addDewPoints(r, air, vapor); err != nil {
		return nil, err
	}
	if wet, err := humidair.WetBulb(air.Temperature, air.Humidity, air.Pressure); err != nil {
		r.note("no wet bulb: %v", err)
	} else {
		r.add("wet bulb", a.of(units.TemperatureKind, float64(wet)))
	}
	r.addNumber("humidity ratio", a.ratioText(state.Ratio), float64(state.Ratio), "kg/kg")
	if err := a.addEnthalpy(r, state); err != nil {
		return nil, err
	}
	r.addNumber("density", a.fine(units.DensityKind, float64(state.Density), "%.4f", "lb/ft³", "kg/m³"), float64(state.Density), "kg/m³")
	r.addNumber("vapor pressure", a.fine(units.PressureKind, float64(vapor), "%.4g", "inHg", "Pa"), float64(vapor), "Pa")
	r.Steps = a.airSteps(state, saturation, vapor, r)
	return r, nil
}

// addDewPoints adds the dew point and, where there can be ice, the frost point.
func (a *asking) addDewPoints(r *answer, air airflow.Air, vapor units.Pressure) error {
	if vapor <= 0 {
		r.addText("dew point", "none: the air holds no vapor")
		return nil
	}
	if vapor >= iceLimit {
		dew, err := humidair.DewPoint(air.Temperature, air.Humidity)
		r.add("dew point", a.of(units.TemperatureKind, float64(dew)))
		return err
	}
	frost, err := humidair.FrostPoint(air.Temperature, air.Humidity)
	if err != nil {
		return err
	}
	if dew, err := humidair.DewPointOverWater(air.Temperature, air.Humidity); err == nil {
		r.add("dew point, over water", a.of(units.TemperatureKind, float64(dew)))
	}
	r.add("frost point", a.of(units.TemperatureKind, float64(frost)))
	return nil
}

// ratioText writes a humidity ratio as charts do.
func (a *asking) ratioText(w humidair.HumidityRatio) string {
	if a.system == units.US {
		return fmt.Sprintf("%.1f gr/lb (%.5f lb/lb)", 7000*float64(w), float64(w))
	}
	return fmt.Sprintf("%.2f g/kg", 1000*float64(w))
}

// addEnthalpy adds the enthalpy as charts count it: from dry air at 0 °C in SI,
// at 0 °F in US units; from liquid water at 0 °C in both.
func (a *asking) addEnthalpy(r *answer, s airflow.State) error {
	if a.system == units.SI {
		r.addNumber("enthalpy", fmt.Sprintf("%.1f kJ/kg", float64(s.Enthalpy)/1000), float64(s.Enthalpy), "J/kg")
		return nil
	}
	zero, err := humidair.Enthalpy(fahrenheitZero, 0)
	r.addNumber("enthalpy", fmt.Sprintf("%.2f Btu/lb", float64(s.Enthalpy-zero)/joulePerKgInBtuPerLb), float64(s.Enthalpy), "J/kg")
	return err
}

// fahrenheitZero is 0 °F in °C, and 2326 J/kg are 1 Btu/lb exactly (NIST SP 811,
// B.8).
const (
	fahrenheitZero       units.Temperature = -160.0 / 9
	joulePerKgInBtuPerLb                   = 2326
)

func (a *asking) airSteps(s airflow.State, saturation, vapor units.Pressure, r *answer) []units.Step {
	pa := func(p units.Pressure) string { return fmt.Sprintf("%.1f Pa", float64(p)) }
	steps := []units.Step{
		{Name: "air", Value: fmt.Sprintf("%.2f °C, %.2f %% RH, %.0f Pa", float64(s.Temperature), float64(s.Humidity), float64(s.Pressure)), Source: "given; pressure by altitude: " + moistAirSource + ", eq. 3"},
		{Name: "saturation pressure", Formula: "pws(t), over ice below 0.01 °C", Value: pa(saturation), Source: saturationSource},
		{Name: "vapor pressure", Formula: fmt.Sprintf("pw = φ·pws = %.4f × %.1f", s.Humidity.Fraction(), float64(saturation)), Value: pa(vapor), Source: vaporSource},
		{Name: "humidity ratio", Formula: fmt.Sprintf("W = 0.621945·pw/(p − pw) = 0.621945 × %.1f/(%.0f − %.1f)", float64(vapor), float64(s.Pressure), float64(vapor)), Value: fmt.Sprintf("%.6f kg/kg", float64(s.Ratio)), Source: moistAirSource + ", eq. 20"},
		{Name: "enthalpy", Formula: fmt.Sprintf("h = 1.006·t + W·(2501 + 1.86·t), t = %.2f", float64(s.Temperature)), Value: fmt.Sprintf("%.2f kJ/kg", float64(s.Enthalpy)/1000), Source: moistAirSource + ", eq. 30"},
		{Name: "density", Formula: "ρ = (1 + W)/v", Value: fmt.Sprintf("%.4f kg/m³", float64(s.Density)), Source: moistAirSource + ", eq. 11"},
	}
	for _, x := range r.Results {
		switch x.Name {
		case "dew point", "frost point", "dew point, over water":
			steps = append(steps, units.Step{Name: x.Name, Formula: "the temperature at which pw is the saturation pressure", Value: x.Value, Source: saturationSource + ", solved"})
		case "wet bulb":
			steps = append(steps, units.Step{Name: x.Name, Formula: "W = [(2501 − 2.326·t*)·Ws* − 1.006·(t − t*)]/(2501 + 1.86·t − 4.186·t*), solved for t*", Value: x.Value, Source: moistAirSource + ", eq. 33, below 0 °C eq. 35"})
		}
	}
	return steps
}

var surfaceQuestion = &question{
	use:   "surface",
	short: "How far a surface is above the dew point of the air it faces",
	long: `The margin of a surface over the dew point of the air in front of it, and the
humidity right at the surface: drops at 100 %, mold from about 80 % on over weeks
(ISO 13788). With --at-least it judges, and exits with 3 unless it passes.`,
	example: `  proveout calc surface --temp 75F --rh 60% --surface 58F
  proveout calc surface --temp "24 °C" --rh "60 %" --surface "18 °C" --at-least "2 K"`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "temperature of the air in front of it"},
		{flag: "rh", kind: units.HumidityKind, doc: "humidity of that air"},
		{flag: "surface", kind: units.TemperatureKind, doc: "temperature of the surface"},
		{flag: "at-least", kind: units.TemperatureDifferenceKind, doc: "margin wanted", optional: true},
	},
	answer: surfaceAnswer,
}

func surfaceAnswer(a *asking) (*answer, error) {
	v := checks.SurfaceDewPoint.Each(checks.Case{Room: &checks.Room{Units: a.system}}, checks.Fact{Values: map[string]units.Quantity{
		"air temperature": a.values["temp"], "air humidity": a.values["rh"], "surface temperature": a.values["surface"],
	}})
	if v.Reason != "" {
		return nil, fmt.Errorf("%s", v.Reason)
	}
	t, surface := a.values["temp"].Temperature(), a.values["surface"].Temperature()
	vapor, err := humidair.VaporPressure(t, a.values["rh"].RelativeHumidity())
	if err != nil {
		return nil, err
	}
	saturation, err := humidair.SaturationPressure(surface)
	if err != nil {
		return nil, err
	}
	there := 100 * float64(vapor/saturation)
	r := &answer{Of: fmt.Sprintf("A surface of %s in air of %s, %s", a.values["surface"], a.values["temp"], a.values["rh"]), Steps: v.Steps}
	r.add("dew point", a.of(units.TemperatureKind, float64(surface)-v.Quantity.Base()))
	r.add("margin over the dew point", v.Quantity)
	r.addNumber("humidity at the surface", fmt.Sprintf("%.1f %%", there), there, "%")
	r.Steps = append(r.Steps, units.Step{Name: "humidity at the surface", Formula: fmt.Sprintf("pw/pws(surface) = %.1f/%.1f", float64(vapor), float64(saturation)), Value: fmt.Sprintf("%.1f %%", there), Source: saturationSource})
	switch {
	case there >= 100:
		r.note("It is wet: water condenses on it.")
	case there >= 80:
		r.note("Above 80 %% at the surface mold may grow if it lasts (ISO 13788:2012, 5.1, from memory).")
	}
	if limit, ok := a.values["at-least"]; ok {
		r.judge(units.AtLeast(v.Quantity, limit), "margin "+v.Quantity.String()+", wanted at least "+limit.String())
	}
	return r, nil
}

// judge sets the outcome of a comparison that was made.
func (r *answer) judge(ok bool, reason string) {
	r.Outcome, r.Reason = checks.Fail.String(), reason
	if ok {
		r.Outcome = checks.Pass.String()
	}
}

// pressureText is an air pressure as barometers show it.
func (a *asking) pressureText(p units.Pressure) string {
	return a.fine(units.PressureKind, float64(p), "%.4g", "inHg", "kPa")
}

// fine is a value with more digits than people write, in one of two units.
func (a *asking) fine(kind units.Kind, base float64, format, us, si string) string {
	unit := si
	if a.system == units.US {
		unit = us
	}
	q, err := units.OfUnit(kind, base, unit)
	if err != nil {
		return fmt.Sprintf("%g %s", base, kind.BaseUnit())
	}
	return fmt.Sprintf(format, q.Value) + " " + unit
}

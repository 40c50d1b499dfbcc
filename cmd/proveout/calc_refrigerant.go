package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks/humidair"
	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// refrigerantFlag is for questions about one refrigerant.
func refrigerantFlag(c *cobra.Command) {
	c.Flags().String("refrigerant", "", "by the plate, one of: "+strings.Join(refrigerant.FluidNames(), ", "))
}

// fluid is the refrigerant that was asked about.
func (a *asking) fluid() (*refrigerant.Fluid, error) {
	name, err := a.c.Flags().GetString("refrigerant")
	if err != nil {
		return nil, err
	}
	if name == "" {
		return nil, &usageError{"say which refrigerant, as the plate does: --refrigerant R513A"}
	}
	return refrigerant.FluidNamed(name)
}

var saturationQuestion = &question{
	use:   "saturation",
	short: "Pressure of a refrigerant at a temperature, or the other way round",
	long: `Bubble (liquid begins to boil) and dew (vapor begins to condense) of a blend are
two; superheat counts from dew, subcooling from bubble. A gauge shows pressure above
the barometer of the place: give the altitude, or the absolute pressure.`,
	example: `  proveout calc saturation --refrigerant R448A --temp 40F
  proveout calc saturation --refrigerant R513A --gauge "40 psig" --altitude "5000 ft"
  proveout calc saturation --refrigerant R134a --absolute "500 kPa" --units SI`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "temperature at saturation", optional: true},
		{flag: "gauge", kind: units.GaugePressureKind, doc: "pressure on the gauge", optional: true},
		{flag: "absolute", kind: units.PressureKind, doc: "absolute pressure", optional: true},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
	},
	flags:  refrigerantFlag,
	answer: saturationAnswer,
}

func saturationAnswer(a *asking) (*answer, error) {
	if err := a.oneOf("temp", "gauge", "absolute"); err != nil {
		return nil, err
	}
	fluid, err := a.fluid()
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("%s (%s), safety group %s", fluid.Name, strings.ReplaceAll(fluid.Parts, "/", ", "), fluid.Group)}
	r.note("Tables computed with CoolProp 8.0.1dev, ln p straight in 1/T. Safety group: %s.", fluid.GroupSet)
	air, err := humidair.StandardPressure(a.values["altitude"].Length())
	if err != nil {
		return nil, err
	}
	if t, ok := a.values["temp"]; ok {
		return r, a.addPressures(r, fluid, t.Temperature(), air)
	}
	p := units.Pressure(0)
	if q, ok := a.values["absolute"]; ok {
		p = q.Pressure()
	} else if p, err = refrigerant.Absolute(a.values["gauge"].GaugePressure(), air); err != nil {
		return nil, err
	}
	bubble, err := fluid.BubbleTemperature(p)
	if err != nil {
		return nil, err
	}
	dew, err := fluid.DewTemperature(p)
	if err != nil {
		return nil, err
	}
	r.add("bubble", a.of(units.TemperatureKind, float64(bubble)))
	r.step("liquid begins to boil", "bubble column of the table, T(p)", "CoolProp 8.0.1dev (computed)")
	r.add("dew", a.of(units.TemperatureKind, float64(dew)))
	r.step("vapor begins to condense", "dew column of the table, T(p)", "CoolProp 8.0.1dev (computed)")
	return r, nil
}

func (a *asking) addPressures(r *answer, fluid *refrigerant.Fluid, t units.Temperature, air units.Pressure) error {
	for _, side := range []struct {
		name string
		of   func(units.Temperature) (units.Pressure, error)
	}{{"bubble", fluid.BubblePressure}, {"dew", fluid.DewPressure}} {
		p, err := side.of(t)
		if err != nil {
			return err
		}
		r.addNumber(side.name+", absolute", a.fine(units.PressureKind, float64(p), "%.2f", "psi", "kPa"), float64(p), "Pa")
		r.step(side.name+", absolute", "column of the table, p(T)", "CoolProp 8.0.1dev (computed)")
		r.add(side.name+", on the gauge", a.of(units.GaugePressureKind, float64(p-air)))
	}
	return nil
}

var superheatQuestion = &question{
	use:   "superheat",
	short: "Superheat from dew, or subcooling from bubble, by gauge and thermometer",
	long: `Suction gas above the dew temperature of its pressure; with --liquid, liquid below
the bubble temperature of its pressure. Judge a charge only after 15 minutes of
running near set point, by the unit's data sheet.`,
	example: `  proveout calc superheat --refrigerant R448A --gauge "58 psig" --tube 42F --at-least "7 °F" --at-most "14 °F"
  proveout calc superheat --refrigerant R513A --gauge "10.5 barg" --tube "40 °C" --liquid`,
	inputs: []input{
		{flag: "gauge", kind: units.GaugePressureKind, doc: "pressure on the gauge"},
		{flag: "tube", kind: units.TemperatureKind, doc: "temperature of the tube beside it"},
		{flag: "altitude", kind: units.LengthKind, doc: "altitude of the place", otherwise: "0 m"},
		{flag: "gauge-uncertainty", kind: units.GaugePressureKind, doc: "of the gauge, k = 2", otherwise: "1 psi"},
		{flag: "thermometer-uncertainty", kind: units.TemperatureDifferenceKind, doc: "of the thermometer, k = 2", otherwise: "0.5 K"},
		{flag: "at-least", kind: units.TemperatureDifferenceKind, doc: "least by the data sheet", optional: true},
		{flag: "at-most", kind: units.TemperatureDifferenceKind, doc: "most by the data sheet", optional: true},
	},
	flags: func(c *cobra.Command) {
		refrigerantFlag(c)
		c.Flags().Bool("liquid", false, "the liquid line: subcooling")
	},
	answer: superheatAnswer,
}

func superheatAnswer(a *asking) (*answer, error) {
	fluid, err := a.fluid()
	if err != nil {
		return nil, err
	}
	liquid, err := a.c.Flags().GetBool("liquid")
	if err != nil {
		return nil, err
	}
	air, err := humidair.StandardPressure(a.values["altitude"].Length())
	if err != nil {
		return nil, err
	}
	p, err := refrigerant.Absolute(a.values["gauge"].GaugePressure(), air)
	if err != nil {
		return nil, err
	}
	reading := refrigerant.LineReading{
		Fluid: fluid, Absolute: p, GaugeUncertainty: a.values["gauge-uncertainty"].GaugePressure(),
		Tube: a.values["tube"].Temperature(), TubeUncertainty: a.values["thermometer-uncertainty"].TemperatureDifference(),
	}
	name, from, distance := "superheat", "dew", reading.Superheat
	if liquid {
		name, from, distance = "subcooling", "bubble", reading.Subcooling
	}
	d, err := distance()
	if err != nil {
		return nil, err
	}
	value := a.of(units.TemperatureDifferenceKind, float64(d.Value))
	r := &answer{Of: fmt.Sprintf("%s at %s, tube %s", fluid.Name, a.values["gauge"], a.values["tube"]), Steps: d.Steps}
	r.add(from+" temperature", a.of(units.TemperatureKind, float64(d.Saturated)))
	r.add(name, value)
	r.add("uncertainty of it, k = 2", a.of(units.TemperatureDifferenceKind, float64(d.Uncertainty)))
	if d.Value < 0 {
		r.note("Below zero: liquid where gas should be, or gas where liquid should be, or another refrigerant than the plate says.")
	}
	a.judgeBetween(r, name, value)
	return r, nil
}

// judgeBetween judges a value by --at-least and --at-most, where they are given.
func (a *asking) judgeBetween(r *answer, name string, value units.Quantity) {
	least, hasLeast := a.values["at-least"]
	most, hasMost := a.values["at-most"]
	var wanted []string
	ok := true
	if hasLeast {
		wanted, ok = append(wanted, "at least "+least.String()), units.AtLeast(value, least)
	}
	if hasMost {
		wanted, ok = append(wanted, "at most "+most.String()), ok && units.AtMost(value, most)
	}
	if wanted != nil {
		r.judge(ok, name+" "+value.String()+", wanted "+strings.Join(wanted, ", "))
	}
}

var roomChargeQuestion = &question{
	use:   "room-charge",
	short: "Whether a room's size stands for a unit's whole charge",
	long: `Group A1: the concentration limit times the volume. Groups that burn, A2L and A3:
the area rule of IEC 60335-2-40:2018, annex GG. ` + refrigerant.Caution,
	example: `  proveout calc room-charge --refrigerant R32 --charge "42 oz" --floor "80 ft²" --volume "640 ft³" --mounting wall`,
	inputs: []input{
		{flag: "charge", kind: units.MassKind, doc: "whole charge, plate and added together"},
		{flag: "floor", kind: units.AreaKind, doc: "floor of the smallest room that a leak can fill"},
		{flag: "volume", kind: units.VolumeKind, doc: "volume of the same room"},
	},
	flags: func(c *cobra.Command) {
		refrigerantFlag(c)
		c.Flags().String("mounting", string(refrigerant.OnWall), "where the unit hangs: floor, window, wall or ceiling")
	},
	answer: roomChargeAnswer,
}

func roomChargeAnswer(a *asking) (*answer, error) {
	fluid, err := a.fluid()
	if err != nil {
		return nil, err
	}
	mounting, err := a.c.Flags().GetString("mounting")
	if err != nil {
		return nil, err
	}
	result, err := refrigerant.RoomCharge{
		Fluid: fluid, Charge: a.values["charge"].Mass(), Floor: a.values["floor"].Area(), Volume: a.values["volume"].Volume(),
		Mounting: refrigerant.Mounting(mounting),
	}.Judge()
	if err != nil {
		return nil, err
	}
	r := &answer{
		Of:      fmt.Sprintf("%s of %s, group %s, unit on %s", a.values["charge"], fluid.Name, fluid.Group, mounting),
		Outcome: result.Outcome.String(), Reason: result.Reason, Steps: result.Steps,
	}
	r.add("largest charge for this room", a.of(units.MassKind, float64(result.Most)))
	if result.LeastArea > 0 {
		r.add("least floor for this charge", a.of(units.AreaKind, float64(result.LeastArea)))
	}
	r.note("%s", refrigerant.Caution)
	return r, nil
}

package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"proveout/checks/humidair"
	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// lineInputs are what both lines are sized from.
func lineInputs(more ...input) []input {
	return append([]input{
		{flag: "capacity", kind: units.PowerKind, doc: "of the unit at this state"},
		{flag: "length", kind: units.LengthKind, doc: "of the line, one way"},
		{flag: "evaporating", kind: units.TemperatureKind, doc: "dew temperature of the coil", otherwise: "4.5 °C"},
		{flag: "condensing", kind: units.TemperatureKind, doc: "bubble temperature of the condenser", otherwise: "45 °C"},
		{flag: "liquid", kind: units.TemperatureKind, doc: "temperature of the liquid", otherwise: "40 °C"},
		{flag: "coil-superheat", kind: units.TemperatureDifferenceKind, doc: "at the coil's outlet", otherwise: "6 K"},
		{flag: "line-superheat", kind: units.TemperatureDifferenceKind, doc: "of the gas in the line", otherwise: "10 K"},
		{flag: "rise", kind: units.LengthKind, doc: "height that it climbs; 0 for none", otherwise: "0 m"},
	}, more...)
}

func lineFlags(c *cobra.Command) {
	refrigerantFlag(c)
	c.Flags().Int("elbows", 0, "bends of 90° on the way")
	c.Flags().Int("traps", 0, "traps on the way")
}

// circuit is the state and the fittings that were asked about.
func (a *asking) circuit() (refrigerant.Circuit, refrigerant.Fittings, error) {
	fluid, err := a.fluid()
	if err != nil {
		return refrigerant.Circuit{}, refrigerant.Fittings{}, err
	}
	elbows, err := a.c.Flags().GetInt("elbows")
	if err != nil {
		return refrigerant.Circuit{}, refrigerant.Fittings{}, err
	}
	traps, err := a.c.Flags().GetInt("traps")
	if elbows < 0 || traps < 0 {
		err = &usageError{"--elbows and --traps are counts; write 0 or more"}
	}
	return refrigerant.Circuit{
		Fluid: fluid, Capacity: a.values["capacity"].Power(), Evaporator: a.values["evaporating"].Temperature(),
		CoilSuperheat: a.values["coil-superheat"].TemperatureDifference(), LineSuperheat: a.values["line-superheat"].TemperatureDifference(),
		Condenser: a.values["condensing"].Temperature(), Liquid: a.values["liquid"].Temperature(),
	}, refrigerant.Fittings{Elbows: elbows, Traps: traps}, err
}

var suctionQuestion = &question{
	use:   "suction-line",
	short: "Loss of a suction line as saturated temperature, and oil return in a riser",
	long: `Without --tube all sizes of ASTM B280 are asked, and the smallest that is enough is
named. A line fails that loses more than 1 K (ASHRAE Handbook—Refrigeration ch. 1,
from memory), or whose gas does not lift oil where it rises. The maker's tube sizes,
lengths and traps come before this.`,
	example: `  proveout calc suction-line --refrigerant R513A --capacity "600 W" --length "12 m" --elbows 6 --rise "4 m"
  proveout calc suction-line --refrigerant R134a --capacity "2000 Btu/h" --length "40 ft" --elbows 4 --tube "3/8 in" --explain`,
	inputs: lineInputs(
		input{flag: "tube", kind: units.LengthKind, doc: "outside diameter as sold", optional: true},
		input{flag: "least-load", kind: units.PercentKind, doc: "smallest share of its capacity that the unit runs at", otherwise: "100 %"},
	),
	flags:  lineFlags,
	answer: suctionAnswer,
}

func suctionAnswer(a *asking) (*answer, error) {
	circuit, fittings, err := a.circuit()
	if err != nil {
		return nil, err
	}
	line := refrigerant.SuctionLine{
		Circuit: circuit, Length: a.values["length"].Length(), Fittings: fittings,
		Riser: a.values["rise"].Base() > 0, LeastLoad: float64(a.values["least-load"].Percent()) / 100,
	}
	r := &answer{Of: fmt.Sprintf("%s of %s, %s of suction line", a.values["capacity"], circuit.Fluid.Name, a.values["length"])}
	if q, ok := a.values["tube"]; ok {
		return r, a.addSuction(r, line, q.Length())
	}
	best := ""
	for _, tube := range refrigerant.Tubes() {
		line.Tube = tube
		result, err := line.Judge()
		if err != nil {
			return nil, err
		}
		loss := a.of(units.TemperatureDifferenceKind, float64(result.LossKelvin))
		r.addNumber(tube.Size+" in", fmt.Sprintf("%s, loses %s, gas at %s", result.Outcome, loss, a.of(units.SpeedKind, result.Velocity)), float64(result.LossKelvin), "K")
		if best == "" && result.Outcome == refrigerant.Pass {
			best, r.Steps = tube.Size, result.Steps
			r.Notes = result.Notes
		}
	}
	if best == "" {
		r.Outcome, r.Reason = refrigerant.Fail.String(), "no size of ASTM B280 is enough; split the riser or ask the maker"
		return r, nil
	}
	r.Outcome, r.Reason = refrigerant.Pass.String(), best+" in is the smallest that is enough"
	return r, nil
}

func (a *asking) addSuction(r *answer, line refrigerant.SuctionLine, outside units.Length) (err error) {
	if line.Tube, err = refrigerant.TubeOf(outside); err != nil {
		return err
	}
	result, err := line.Judge()
	if err != nil {
		return err
	}
	a.addFlow(r, result.Flow)
	r.add("loss as saturated temperature", a.of(units.TemperatureDifferenceKind, float64(result.LossKelvin)))
	r.add("least velocity in a riser", a.of(units.SpeedKind, result.LeastVelocity))
	r.Outcome, r.Reason, r.Notes, r.Steps = result.Outcome.String(), result.Reason, result.Notes, result.Steps
	return nil
}

func (a *asking) addFlow(r *answer, f refrigerant.Flow) {
	r.add("velocity", a.of(units.SpeedKind, f.Velocity))
	r.addNumber("Reynolds number", fmt.Sprintf("%.0f", f.Reynolds), f.Reynolds, "1")
	r.addNumber("friction", a.fine(units.PressureKind, float64(f.Loss), "%.3f", "psi", "kPa"), float64(f.Loss), "Pa")
}

var liquidQuestion = &question{
	use:   "liquid-line",
	short: "What is left of the subcooling at the valve",
	long: `Friction, the head of the liquid where the valve is higher than the condenser, and
the drier take pressure; where none of the subcooling is left gas comes before the
valve. A fall helps: give --rise below zero.`,
	example: `  proveout calc liquid-line --refrigerant R513A --capacity "600 W" --length "12 m" --elbows 6 --rise "4 m" --tube "1/4 in" --drier "14 kPa"`,
	inputs: lineInputs(
		input{flag: "tube", kind: units.LengthKind, doc: "outside diameter as sold", otherwise: "1/4 in"},
		input{flag: "drier", kind: units.PressureKind, doc: "loss of drier and valves, by their data sheets", otherwise: "14 kPa"},
		input{flag: "at-least", kind: units.TemperatureDifferenceKind, doc: "subcooling that must be left; 1 to 2 K are common practice", otherwise: "1 K"},
	),
	flags:  lineFlags,
	answer: liquidAnswer,
}

func liquidAnswer(a *asking) (*answer, error) {
	circuit, fittings, err := a.circuit()
	if err != nil {
		return nil, err
	}
	tube, err := refrigerant.TubeOf(a.values["tube"].Length())
	if err != nil {
		return nil, err
	}
	result, err := refrigerant.LiquidLine{
		Circuit: circuit, Tube: tube, Length: a.values["length"].Length(), Fittings: fittings,
		Rise: a.values["rise"].Length(), Drier: a.values["drier"].Pressure(), Least: a.values["at-least"].TemperatureDifference(),
	}.Judge()
	if err != nil {
		return nil, err
	}
	r := &answer{
		Of:      fmt.Sprintf("%s of %s, %s of liquid line", a.values["capacity"], circuit.Fluid.Name, a.values["length"]),
		Outcome: result.Outcome.String(), Reason: result.Reason, Steps: result.Steps,
	}
	a.addFlow(r, result.Flow)
	r.addNumber("head of the liquid", a.fine(units.PressureKind, float64(result.Head), "%.2f", "psi", "kPa"), float64(result.Head), "Pa")
	r.add("subcooling left at the valve", a.of(units.TemperatureDifferenceKind, float64(result.Left)))
	r.add("charge in the line", a.of(units.MassKind, float64(result.Charge)))
	return r, nil
}

var addedChargeQuestion = &question{
	use:   "added-charge",
	short: "Charge that a longer line takes beyond the factory's",
	long: `Liquid of the line's temperature and vapor of the suction line fill the length
beyond what the factory charged for. The maker's figure for each length governs.`,
	example: `  proveout calc added-charge --refrigerant R513A --length "50 ft" --precharged "15 ft" --liquid-tube "1/4 in" --suction-tube "3/8 in"`,
	inputs: []input{
		{flag: "length", kind: units.LengthKind, doc: "of the line, one way"},
		{flag: "precharged", kind: units.LengthKind, doc: "length that the factory's charge is for"},
		{flag: "liquid-tube", kind: units.LengthKind, doc: "outside diameter as sold", otherwise: "1/4 in"},
		{flag: "suction-tube", kind: units.LengthKind, doc: "outside diameter as sold", otherwise: "3/8 in"},
		{flag: "liquid", kind: units.TemperatureKind, doc: "temperature of the liquid", otherwise: "40 °C"},
		{flag: "evaporating", kind: units.TemperatureKind, doc: "dew temperature of the coil", otherwise: "4.5 °C"},
	},
	flags:  refrigerantFlag,
	answer: addedChargeAnswer,
}

func addedChargeAnswer(a *asking) (*answer, error) {
	fluid, err := a.fluid()
	if err != nil {
		return nil, err
	}
	added := refrigerant.Added{
		Fluid: fluid, Length: a.values["length"].Length(), Precharged: a.values["precharged"].Length(),
		LiquidTemperature: a.values["liquid"].Temperature(), Evaporator: a.values["evaporating"].Temperature(),
	}
	if added.Liquid, err = refrigerant.TubeOf(a.values["liquid-tube"].Length()); err != nil {
		return nil, err
	}
	if added.Suction, err = refrigerant.TubeOf(a.values["suction-tube"].Length()); err != nil {
		return nil, err
	}
	charge, err := added.Charge()
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("%s, %s of line, %s in the factory's charge", fluid.Name, a.values["length"], a.values["precharged"]), Steps: charge.Steps}
	r.add("liquid line", a.of(units.MassKind, float64(charge.Liquid)))
	r.add("suction line", a.of(units.MassKind, float64(charge.Suction)))
	r.add("charge to add", a.of(units.MassKind, float64(charge.Total())))
	r.note("The maker's figure for each length governs. Weigh it in.")
	return r, nil
}

var lineInsulationQuestion = &question{
	use:   "line-insulation",
	short: "Insulation that keeps a cold line from sweating",
	long: `The surface of an insulated tube and the thinnest wall whose surface stays at the
dew point of the air or above. Joints and hangers sweat first: seams glued, no gaps.`,
	example: `  proveout calc line-insulation --tube "1/2 in" --tube-temp 40F --temp 86F --rh 80% --thickness "3/4 in"`,
	inputs: []input{
		{flag: "tube", kind: units.LengthKind, doc: "outside diameter of the tube"},
		{flag: "temp", kind: units.TemperatureKind, doc: "air round the line on the worst day"},
		{flag: "rh", kind: units.HumidityKind, doc: "humidity of that air"},
		{flag: "tube-temp", kind: units.TemperatureKind, doc: "coldest suction gas", otherwise: "4.5 °C"},
		{flag: "thickness", kind: units.LengthKind, doc: "wall of the insulation", optional: true},
		{flag: "conductivity", kind: units.ConductivityKind, doc: "of the insulation, by its data sheet", otherwise: "0.036 W/(m·K)"},
		{flag: "film", kind: units.TransmittanceKind, doc: "of the air outside: 9 in the open, 5 boxed in or shiny", otherwise: "5 W/(m²·K)"},
	},
	answer: lineInsulationAnswer,
}

func lineInsulationAnswer(a *asking) (*answer, error) {
	air := a.values["temp"].Temperature()
	dew, err := humidair.DewPoint(air, a.values["rh"].RelativeHumidity())
	if err != nil {
		return nil, err
	}
	in := refrigerant.Insulation{
		Outside: a.values["tube"].Length(), Tube: a.values["tube-temp"].Temperature(), Conductivity: a.values["conductivity"].Conductivity(),
		Surface: a.values["film"].Base(), Ambient: air, DewPoint: dew,
	}
	least, err := in.Least()
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("A tube of %s at %s in air of %s, %s", a.values["tube"], a.values["tube-temp"], a.values["temp"], a.values["rh"])}
	r.add("dew point", a.of(units.TemperatureKind, float64(dew)))
	r.add("thinnest that does not sweat", a.of(units.LengthKind, float64(least)))
	thickness := max(least, 0.001)
	q, given := a.values["thickness"]
	if given {
		thickness = q.Length()
	}
	w, err := in.At(thickness)
	if err != nil {
		return nil, err
	}
	r.add("surface", a.of(units.TemperatureKind, float64(w.Surface)))
	r.addNumber("heat into the line", fmt.Sprintf("%.2f W/m (%.2f Btu/(h·ft))", w.Gain, w.Gain*1.0400), w.Gain, "W/m")
	r.Steps = w.Steps
	if given {
		margin := a.of(units.TemperatureDifferenceKind, float64(w.Margin))
		r.judge(w.Margin >= 0, "margin "+margin.String()+" over the dew point")
	}
	return r, nil
}

var drainTrapQuestion = &question{
	use:   "drain-trap",
	short: "Least heights of a drain trap in the suction of a fan",
	long: `Air drawn in through a drain holds the water in the pan back, until the drop below
the pan is higher than what the suction lifts. The maker's drawing comes before it.`,
	example: `  proveout calc drain-trap --suction "0.4 in. w.c."`,
	inputs:  []input{{flag: "suction", kind: units.PressureKind, doc: "in the pan below the space, with a dirty filter"}},
	answer: func(a *asking) (*answer, error) {
		depth, err := refrigerant.Trap{Suction: a.values["suction"].Pressure()}.Depth()
		if err != nil {
			return nil, err
		}
		r := &answer{}
		r.add("drop from the pan to the trap's outlet", a.of(units.LengthKind, float64(depth.Drop)))
		r.step("drop", "p/(ρ·g) + 25 mm", "hydrostatics; 25 mm to spare are common practice")
		r.add("seal below the trap's outlet", a.of(units.LengthKind, float64(depth.Seal)))
		r.step("seal", "half of the drop", "one leg falls by half of what stands between the two")
		return r, nil
	},
}

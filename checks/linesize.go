package checks

import (
	"errors"
	"fmt"

	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// lineSizeNeeds are what both lines are sized from.
func lineSizeNeeds(more ...Need) []Need {
	return append([]Need{
		{Name: "tube", Kind: units.LengthKind, Example: "3/8 in", Doc: "outside diameter as sold, 3/8 in"},
		{Name: "length", Kind: units.LengthKind, Example: "25 ft", Doc: "one way"},
		{Name: "elbows", Kind: units.CountKind, Example: "4", Doc: "bends of 90° on the way"},
		{Name: "evaporating temperature", Kind: units.TemperatureKind, Example: "35 °F", Doc: "dew, by the unit's data sheet"},
		{Name: "condensing temperature", Kind: units.TemperatureKind, Example: "110 °F", Doc: "bubble, by the unit's data sheet"},
		{Name: "liquid temperature", Kind: units.TemperatureKind, Example: "100 °F", Doc: "in the liquid line"},
	}, more...)
}

// SuctionLine asks what the suction line loses, as saturated temperature, and
// whether gas lifts the oil where it rises.
var SuctionLine = &Check{
	Name:    "suction-line",
	Doc:     "loss of the suction line as saturated temperature, with oil return in a riser",
	Source:  "Haaland's friction, CoolProp 8.0.1dev tables (computed); least velocity Jacobs et al. 1976 (from memory); limit ASHRAE Handbook—Refrigeration ch. 1 (from memory)",
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"unit as planned", "unit as found"},
	Needs: lineSizeNeeds(
		Need{Name: "rise", Kind: units.LengthKind, Example: "8 ft", Doc: "that gas must lift oil on its way to the compressor; 0 where it only falls"},
		Need{Name: "least load", Kind: units.PercentKind, Doc: "of capacity that the unit runs at; 100 % without it", Optional: true},
	),
	Each: suctionLine,
}

// Superheats that a line is sized with (common practice).
const coilSuperheat, lineSuperheat units.TemperatureDifference = 6, 10

func suctionLine(c Case, f Fact) Point {
	circuit, tube, err := lineOf(c, f)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	load := 1.0
	if q := f.Values["least load"]; q.Known() {
		load = float64(q.Percent()) / 100
	}
	r, err := refrigerant.SuctionLine{
		Circuit: circuit, Tube: tube, Length: f.Values["length"].Length(),
		Fittings: refrigerant.Fittings{Elbows: f.Values["elbows"].Count()},
		Riser:    f.Values["rise"].Base() > 0, LeastLoad: load,
	}.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Steps: r.Steps}
	p.Quantity = units.Of(units.TemperatureDifferenceKind, float64(r.LossKelvin), c.Room.Units)
	p.Value = fmt.Sprintf("%s lost by %s in tube, gas at %.1f m/s", p.Quantity, tube.Size, r.Velocity)
	if !r.LiftsOil {
		p.Outcome, p.Reason, p.judged = Fail, r.Reason, true
	}
	return p
}

// LiquidLine asks what is left of the subcooling at the valve.
var LiquidLine = &Check{
	Name:    "liquid-line",
	Doc:     "subcooling that is left at the valve, after friction, rise and drier",
	Source:  "Haaland's friction, head of the liquid, CoolProp 8.0.1dev tables (computed); 1 to 2 K left are common practice",
	Result:  units.TemperatureDifferenceKind,
	Figures: []string{"unit as planned", "unit as found"},
	Needs: lineSizeNeeds(
		Need{Name: "rise", Kind: units.LengthKind, Example: "8 ft", Doc: "of the valve above the condenser; 0 where it is below"},
		Need{Name: "drier loss", Kind: units.PressureKind, Example: "7 kPa", Doc: "of drier and valves, by their data sheets"},
	),
	Each: liquidLine,
}

func liquidLine(c Case, f Fact) Point {
	circuit, tube, err := lineOf(c, f)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	r, err := refrigerant.LiquidLine{
		Circuit: circuit, Tube: tube, Length: f.Values["length"].Length(),
		Fittings: refrigerant.Fittings{Elbows: f.Values["elbows"].Count()},
		Rise:     f.Values["rise"].Length(), Drier: f.Values["drier loss"].Pressure(),
		Least: 1, // the question's limit judges
	}.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.TemperatureDifferenceKind, float64(r.Left), c.Room.Units), Steps: r.Steps}
}

// lineOf returns the unit's circuit and the tube of a record.
func lineOf(c Case, f Fact) (refrigerant.Circuit, refrigerant.Tube, error) {
	fluid, err := fluidOf(c.Room)
	if err != nil {
		return refrigerant.Circuit{}, refrigerant.Tube{}, err
	}
	capacity := c.Room.planned().Capacity
	if !capacity.Known() {
		return refrigerant.Circuit{}, refrigerant.Tube{}, errors.New("job.yaml gives no single capacity under unit as planned; write capacity with its room and outdoor temperature")
	}
	tube, err := refrigerant.TubeOf(f.Values["tube"].Length())
	return refrigerant.Circuit{
		Fluid: fluid, Capacity: capacity.Power(), Evaporator: f.Values["evaporating temperature"].Temperature(),
		CoilSuperheat: coilSuperheat, LineSuperheat: lineSuperheat,
		Condenser: f.Values["condensing temperature"].Temperature(), Liquid: f.Values["liquid temperature"].Temperature(),
	}, tube, err
}

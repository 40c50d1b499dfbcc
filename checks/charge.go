package checks

import (
	"fmt"
	"math"

	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// AddedCharge asks how far the charge that was weighed in lies from that which the
// line's length takes.
var AddedCharge = &Check{
	Name:    "added-charge",
	Doc:     "charge weighed in for the line's length, off the computed one",
	Source:  "liquid at the density of CoolProp 8.0.1dev tables (computed) in ASTM B280 tube; the maker's figure for each length governs",
	Result:  units.MassKind,
	Figures: []string{"unit as planned", "unit as found"},
	Needs: []Need{
		{Name: "liquid tube", Kind: units.LengthKind, Example: "1/4 in", Doc: "outside diameter as sold, 1/4 in"},
		{Name: "suction tube", Kind: units.LengthKind, Example: "3/8 in", Doc: "outside diameter as sold, 3/8 in"},
		{Name: "length", Kind: units.LengthKind, Example: "25 ft", Doc: "one way"},
		{Name: "precharged length", Kind: units.LengthKind, Example: "15 ft", Doc: "that the factory's charge is for, by the plate"},
		{Name: "evaporating temperature", Kind: units.TemperatureKind, Example: "35 °F", Doc: "dew, by the unit's data sheet"},
		{Name: "liquid temperature", Kind: units.TemperatureKind, Example: "100 °F", Doc: "in the liquid line"},
		{Name: "weighed in", Kind: units.MassKind, Example: "0.5 lb", Doc: "on the scale, beyond the factory's charge"},
		{Name: "by the maker", Kind: units.MassKind, Doc: "that the maker's sheet gives for this length; it then counts", Optional: true},
	},
	Each: addedCharge,
}

func addedCharge(c Case, f Fact) Point {
	fluid, err := fluidOf(c.Room)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	liquid, err := refrigerant.TubeOf(f.Values["liquid tube"].Length())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	suction, err := refrigerant.TubeOf(f.Values["suction tube"].Length())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	added, err := refrigerant.Added{
		Fluid: fluid, Liquid: liquid, Suction: suction, Length: f.Values["length"].Length(), Precharged: f.Values["precharged length"].Length(),
		LiquidTemperature: f.Values["liquid temperature"].Temperature(), Evaporator: f.Values["evaporating temperature"].Temperature(),
	}.Charge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	wanted, from := added.Total(), "as computed"
	p := Point{Place: f.Place, Steps: added.Steps}
	if q := f.Values["by the maker"]; q.Known() {
		wanted, from = q.Mass(), "by the maker's sheet"
		p.Steps = append(p.Steps, Step{Name: "by the maker", Value: q.String(), Source: "the maker's sheet, which governs"})
	}
	weighed := f.Values["weighed in"]
	p.Quantity = units.Of(units.MassKind, math.Abs(float64(weighed.Mass()-wanted)), c.Room.Units)
	p.Value = fmt.Sprintf("%s weighed in, %s %s", weighed, units.Of(units.MassKind, float64(wanted), c.Room.Units), from)
	p.Steps = append(p.Steps,
		Step{Name: "weighed in", Value: weighed.String(), Source: "scale"},
		Step{Name: "apart", Formula: "weighed in − wanted, either way", Value: p.Quantity.String()})
	return p
}

// RoomCharge asks whether a room's size stands for all of the unit's charge.
var RoomCharge = &Check{
	Name:    "room-charge",
	Doc:     "whole charge of the unit against the size of the room",
	Source:  "group A1: concentration limit of ASHRAE 34 × volume; A2L and A3: IEC 60335-2-40:2018 annex GG. " + refrigerant.Caution,
	Rule:    "no more charge than a room of this size stands for",
	Answers: []string{string(refrigerant.OnFloor), string(refrigerant.InWindow), string(refrigerant.OnWall), string(refrigerant.OnCeiling)},
	Figures: []string{"unit as planned", "unit as found"},
	Needs: []Need{
		{Name: "charge", Kind: units.MassKind, Example: "2 lb", Doc: "whole charge, plate and added together"},
		{Name: "by the listing", Kind: units.MassKind, Doc: "that the unit's listing or the maker's table allows in a room of this size; it then counts", Optional: true},
	},
	Each: roomCharge,
}

func roomCharge(c Case, f Fact) Point {
	fluid, err := fluidOf(c.Room)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	volume, ok := c.Room.Volume()
	if !ok {
		return undecided(f.Place, "job.yaml does not give length, width and height of the room")
	}
	charge := f.Values["charge"]
	r, err := refrigerant.RoomCharge{
		Fluid: fluid, Charge: charge.Mass(), Floor: units.Area(c.Room.Length.Base() * c.Room.Width.Base()), Volume: volume,
		Mounting: refrigerant.Mounting(f.Answer),
	}.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	most := units.Of(units.MassKind, float64(r.Most), c.Room.Units)
	p := Point{
		Place: f.Place, judged: true, Outcome: r.Outcome, Reason: r.Reason, Quantity: charge,
		Value: fmt.Sprintf("%s of %s, unit on %s", charge, fluid.Name, f.Answer), Limit: "at most " + most.String(),
		Margin: signed(units.Difference(most, charge)), Steps: r.Steps,
	}
	if listed := f.Values["by the listing"]; listed.Known() {
		p.listed(charge, listed)
	}
	return p
}

// listed judges by what the unit's listing allows, which governs either way.
func (p *Point) listed(charge, most units.Quantity) {
	p.Limit, p.Margin = "at most "+most.String()+" by the listing", signed(units.Difference(most, charge))
	p.Steps = append(p.Steps, Step{Name: "by the listing", Value: most.String(), Source: "the unit's listing or the maker's table, which governs"})
	p.Outcome, p.Reason = Pass, ""
	if !units.AtMost(charge, most) {
		p.Outcome, p.Reason = Fail, fmt.Sprintf("%s is more than the %s that the listing allows in a room of this size", charge, most)
	}
}

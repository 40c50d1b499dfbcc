package refrigerant

import (
	_ "embed" // limits of concentration
	"errors"
	"fmt"
	"math"
	"sync"

	"proveout/checks/units"
)

// Caution stands beside every result of RoomCharge.
const Caution = "This is a plausibility check of a room's size. The unit's listing, its nameplate, the maker's table and the code in force at the place govern, and a licensed technician decides. A tight room without ventilation is the bad case for a refrigerant that burns."

//go:embed limits.csv
var limitsCSV string

// concentration is a limit of what may be in the air of a room, kg/m³.
type concentration struct {
	value        float64
	source, mark string
}

// limits are parsed once, on first use; their test reads every row.
var limits = sync.OnceValues(func() (map[string]concentration, error) {
	all := map[string]concentration{}
	err := eachRow(limitsCSV, func(row fields) {
		all[row.text[0]+" "+row.text[1]] = concentration{row.number(2, 1), row.text[3], row.text[4]}
	})
	return all, err
})

// Mounting is where a unit hangs, which decides from what height a leak spreads.
type Mounting string

// The mountings of IEC 60335-2-40:2018, annex GG.
const (
	OnFloor   Mounting = "floor"
	InWindow  Mounting = "window"
	OnWall    Mounting = "wall"
	OnCeiling Mounting = "ceiling"
)

// mountedAt is the height of release in m: IEC 60335-2-40:2018, annex GG (read as
// reproduced in makers' manuals).
var mountedAt = map[Mounting]float64{OnFloor: 0.6, InWindow: 1.0, OnWall: 1.8, OnCeiling: 2.2}

// RoomCharge asks whether all of a circuit's charge may be let out into a room.
type RoomCharge struct {
	Fluid    *Fluid
	Charge   units.Mass
	Floor    units.Area   // of the smallest room that a leak can fill
	Volume   units.Volume // of the same
	Mounting Mounting
}

// RoomChargeResult is what a room stands for.
type RoomChargeResult struct {
	Outcome   Outcome
	Reason    string
	Most      units.Mass // that a room of this size takes
	LeastArea units.Area // for this charge; 0 for group A1
	// Exempt says that the charge is so small that the edition asks for no area.
	Exempt bool
	Steps  []Step
}

// Judge works out the limit: for group A1 the concentration limit times the volume,
// for groups that burn the area rule of IEC 60335-2-40:2018, annex GG.
func (c RoomCharge) Judge() (RoomChargeResult, error) {
	height, known := mountedAt[c.Mounting]
	err := errors.Join(
		within("charge", float64(c.Charge), 0.001, 1000, "kg"),
		within("floor area", float64(c.Floor), 0.5, 1e4, "m²"),
		within("volume", float64(c.Volume), 0.5, 1e5, "m³"),
	)
	if !known {
		err = errors.Join(err, fmt.Errorf("mounting %q is not known; it is one of floor, window, wall, ceiling", c.Mounting))
	}
	if err != nil {
		return RoomChargeResult{}, fmt.Errorf("room charge: %w", err)
	}
	if c.Fluid.Group.Burns() {
		return c.flammable(height)
	}
	return c.concentrated()
}

func (c RoomCharge) limit(name string) (concentration, error) {
	all, err := limits()
	if err != nil {
		return concentration{}, err
	}
	l, ok := all[c.Fluid.Name+" "+name]
	if !ok {
		return l, fmt.Errorf("room charge: no %s of %s is in the tables; take it from the edition in force", name, c.Fluid.Name)
	}
	return l, nil
}

// concentrated is RCL · volume.
func (c RoomCharge) concentrated() (RoomChargeResult, error) {
	l, err := c.limit("RCL")
	if err != nil {
		return RoomChargeResult{}, err
	}
	r := RoomChargeResult{Most: units.Mass(l.value * float64(c.Volume))}
	r.Steps = []Step{
		c.groupStep(),
		{Name: "concentration limit", Value: fmt.Sprintf("%.0f g/m³", 1000*l.value), Source: l.source + " (" + l.mark + ")"},
		{Name: "volume", Value: fmt.Sprintf("%.2f m³", c.Volume), Source: readings},
		{Name: "largest charge", Formula: "limit · volume", Value: massText(r.Most), Source: "ASHRAE 15 and IMC ch. 11"},
	}
	c.decide(&r)
	return r, nil
}

// flammable is annex GG of IEC 60335-2-40:2018. Its first term, heights and least
// area are read in makers' manuals; the second term was inferred there and gives
// their printed table to the last digit.
func (c RoomCharge) flammable(height float64) (RoomChargeResult, error) {
	l, err := c.limit("LFL")
	if err != nil {
		return RoomChargeResult{}, err
	}
	factor := 2.5 * math.Pow(l.value, 1.25) * height
	area := float64(c.Floor)
	exempt, exemptText := 4*l.value, "4·LFL for group A3 (from memory)"
	if c.Fluid.Group == A2L {
		exempt, exemptText = 6*l.value, "6·LFL for group A2L (read for R32)"
	}
	r := RoomChargeResult{
		Most:      units.Mass(min(factor*math.Sqrt(area), 0.75*l.value*height*area)),
		LeastArea: units.Area(math.Max(math.Pow(float64(c.Charge)/factor, 2), float64(c.Charge)/(0.75*l.value*height))),
		Exempt:    float64(c.Charge) <= exempt,
	}
	const annex = "IEC 60335-2-40:2018, annex GG"
	r.Steps = []Step{
		c.groupStep(),
		{Name: "lower flammability limit", Value: fmt.Sprintf("%.3f kg/m³", l.value), Source: l.source + " (" + l.mark + ")"},
		{Name: "height of release", Value: fmt.Sprintf("%.1f m, %s", height, c.Mounting), Source: annex + " (read)"},
		{Name: "largest charge", Formula: "min(2.5·LFL^1.25·h·√A, 0.75·LFL·h·A)", Value: massText(r.Most), Source: annex},
		{Name: "least area for this charge", Formula: "the same, solved for A", Value: fmt.Sprintf("%.2f m² (%.0f ft²)", float64(r.LeastArea), float64(r.LeastArea)/0.09290304), Source: annex},
		{Name: "no area asked up to", Formula: exemptText, Value: massText(units.Mass(exempt)), Source: annex},
	}
	c.decide(&r)
	return r, nil
}

func (c RoomCharge) groupStep() Step {
	return Step{Name: "refrigerant", Value: fmt.Sprintf("%s, group %s, %s", c.Fluid.Name, c.Fluid.Group, massText(c.Charge)), Source: c.Fluid.GroupSet}
}

func (c RoomCharge) decide(r *RoomChargeResult) {
	switch {
	case atMost(float64(c.Charge), float64(r.Most)):
		r.Outcome = Pass
	case r.Exempt:
		r.Outcome = Undecided
		r.Reason = fmt.Sprintf("%s is more than the %s that a room of this size stands for, and below what that edition asks an area for; the unit's listing decides", massText(c.Charge), massText(r.Most))
	default:
		r.Outcome = Fail
		r.Reason = fmt.Sprintf("%s is more than the %s that a room of this size stands for; another unit, another place or the measures that the listing names", massText(c.Charge), massText(r.Most))
	}
}

// massText prints a charge in both systems.
func massText(m units.Mass) string {
	return fmt.Sprintf("%.3f kg (%.1f oz)", float64(m), float64(m)/0.028349523125)
}

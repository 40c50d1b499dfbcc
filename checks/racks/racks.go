// Package racks computes what full wine racks put on a floor.
//
// Two figures matter. The load averaged over the whole room is compared with the
// uniform live load that the floor was built for. The load under the racks alone
// is several times that, runs along the walls, and tells an engineer where to
// look; a code's uniform load gives no limit for it.
//
//	per metre   n·m_bottle + m_rack
//	footprint   per metre / depth of the rack
//	average     per metre · length of all racks / floor area
//
// each times g for a pressure. Bottles: 750 mL weigh 1.05 to 1.65 kg full, since
// the glass alone is 0.3 to 0.9 kg; 1.3 kg is common practice. Magnums and racks
// above 2.4 m need their own figures.
//
// A floor that carries its own load today says nothing about what it may carry:
// beyond the allowance, or where the framing is unknown, an engineer decides.
package racks

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

const (
	gravity = 9.80665  // m/s², standard gravity
	psf     = 47.88026 // Pa in 1 lbf/ft², NIST SP 811
	pound   = 0.45359237
	foot    = 0.3048
)

// Bottle is the mass of a full 750 mL bottle when nothing better is known:
// common practice.
const Bottle units.Mass = 1.3

// Allowance is a uniform live load that floors are built for.
type Allowance struct {
	Use    string
	Load   units.Pressure
	Source string
}

// Allowances returns the uniform live loads by use of the room.
func Allowances() []Allowance {
	return []Allowance{
		{"living area", 40 * psf, "IRC Table R301.5 (from memory)"},
		{"sleeping room", 30 * psf, "IRC Table R301.5 (from memory)"},
		{"domestic, low", 1500, "EN 1991-1-1:2002 Table 6.2, category A, 1.5 to 2.0 kN/m² by country (from memory)"},
		{"domestic, high", 2000, "EN 1991-1-1:2002 Table 6.2, category A, 1.5 to 2.0 kN/m² by country (from memory)"},
	}
}

// Step is one line of a calculation.
type Step = units.Step

// Racks describes the full racks of a room.
type Racks struct {
	PerMetre float64      // bottles in one metre of rack, all rows, 1 to 2000
	Bottle   units.Mass   // one full bottle, 0.3 to 20 kg
	Rack     units.Mass   // one metre of empty rack, up to 1000 kg
	Depth    units.Length // of the footprint, 0.1 to 3 m
	Length   units.Length // of all racks together, up to 200 m
	Floor    units.Area   // of the room, up to 1000 m²
}

// Load is what racks put on the floor.
type Load struct {
	PerMetre  units.Mass     // mass on one metre of rack
	Total     units.Mass     // mass of all racks, full
	Footprint units.Pressure // under the racks
	Average   units.Pressure // over the whole floor
	Steps     []Step
}

// Load returns the mass and the floor load. It returns an error for values that
// are missing, not finite or outside the ranges above, and for racks whose
// footprint is larger than the floor.
func (r Racks) Load() (Load, error) {
	if err := r.valid(); err != nil {
		return Load{}, fmt.Errorf("rack load: %w", err)
	}
	var l Load
	l.PerMetre = units.Mass(r.PerMetre)*r.Bottle + r.Rack
	l.Total = l.PerMetre * units.Mass(r.Length)
	l.Footprint = units.Pressure(gravity * float64(l.PerMetre) / float64(r.Depth))
	l.Average = units.Pressure(gravity * float64(l.Total) / float64(r.Floor))
	l.Steps = r.steps(l)
	return l, nil
}

// Within reports whether the load averaged over the floor is at most the
// allowance, and the margin.
func (l Load) Within(allowance units.Pressure) (ok bool, margin units.Pressure) {
	const slack = 1e-9 // relative, for float noise
	return float64(l.Average) <= float64(allowance)*(1+slack), allowance - l.Average
}

func (r Racks) steps(l Load) []Step {
	const arithmetic = "arithmetic"
	return []Step{
		{Name: "bottles per metre", Value: fmt.Sprintf("%g of %.2f kg (%.2f lb)", r.PerMetre, r.Bottle, r.Bottle/pound), Source: "rack drawing"},
		{Name: "load per metre", Formula: "bottles · mass + rack", Value: fmt.Sprintf("%.0f kg/m (%.0f lb/ft)", l.PerMetre, float64(l.PerMetre)/pound*foot), Source: arithmetic},
		{Name: "all racks, full", Formula: "per metre · length", Value: fmt.Sprintf("%.0f kg (%.0f lb)", l.Total, l.Total/pound), Source: arithmetic},
		{Name: "under the racks", Formula: "per metre · g / depth", Value: loadText(l.Footprint), Source: arithmetic},
		{Name: "averaged over the floor", Formula: "all racks · g / floor area", Value: loadText(l.Average), Source: arithmetic},
	}
}

func loadText(p units.Pressure) string {
	return fmt.Sprintf("%.2f kPa = %.0f kg/m² (%.1f psf)", float64(p)/1000, float64(p)/gravity, float64(p)/psf)
}

func (r Racks) valid() error {
	err := errors.Join(
		units.Within("bottles per metre", r.PerMetre, 1, 2000, ""),
		units.Within("bottle", float64(r.Bottle), 0.3, 20, "kg"),
		units.Within("rack per metre", float64(r.Rack), 0, 1000, "kg"),
		units.Within("rack depth", float64(r.Depth), 0.1, 3, "m"),
		units.Within("rack length", float64(r.Length), 0.1, 200, "m"),
		units.Within("floor", float64(r.Floor), 0.1, 1000, "m²"),
	)
	if err == nil && float64(r.Depth*r.Length) > float64(r.Floor) {
		err = fmt.Errorf("racks of %g m by %g m do not stand on %g m² of floor; measure again", r.Length, r.Depth, r.Floor)
	}
	return err
}

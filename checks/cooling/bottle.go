package cooling

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// Bottle is what a bottle holds and is made of.
type Bottle struct {
	Wine, Glass                 units.Mass
	WineHeat, GlassHeat         float64      // specific heats, J/(kg·K)
	Surface                     units.Area   // outside
	Radius                      units.Length // of the wine, as a cylinder
	WineDensity, WineConduction float64      // kg/m³, W/(m·K)
}

// StandardBottle is 750 mL of wine in 0.5 kg of glass. Wine of 4200 J/(kg·K)
// ± 100 is derived from ethanol–water of 9.7 % by mass, 4309 J/(kg·K), 0.53
// W/(m·K) (CoolProp, computed), since no measurement on wine was found; glass of
// 840 J/(kg·K) is a textbook value; 0.5 kg of glass is assumed of 0.3 to 0.9 kg.
// Its surface and radius are those of an equal cylinder 74.5 mm thick.
var StandardBottle = Bottle{
	Wine: 0.7425, Glass: 0.50,
	WineHeat: 4200, GlassHeat: 840,
	Surface: 0.0597, Radius: 0.03725,
	WineDensity: 985, WineConduction: 0.53,
}

// HeatCapacity returns the heat that warms the bottle by one kelvin.
func (b Bottle) HeatCapacity() HeatCapacity {
	return HeatCapacity(float64(b.Wine)*b.WineHeat + float64(b.Glass)*b.GlassHeat)
}

// Mass returns the mass of the full bottle.
func (b Bottle) Mass() units.Mass { return b.Wine + b.Glass }

// SpecificHeat returns the heat capacity per mass of full bottle, J/(kg·K).
func (b Bottle) SpecificHeat() float64 { return float64(b.HeatCapacity()) / float64(b.Mass()) }

// TimeConstant returns the time in which a bottle in air comes within 37 % of its
// first difference, all of its wine at one temperature: C/(φ·h·A). film is the
// surface coefficient h in W/(m²·K), 5 to 8 in still air; exposed the share φ of
// its surface that sees moving air, 1 for a bare bottle, about 0.6 in a rack
// (assumed: no measurement was found; fit it from a bottle probe).
func (b Bottle) TimeConstant(film, exposed float64) (time.Duration, error) {
	if err := errors.Join(b.valid(), within("surface coefficient", film, 0.5, 100, "W/(m²·K)"), within("exposed share", exposed, 0.01, 1, "")); err != nil {
		return 0, fmt.Errorf("bottle: %w", err)
	}
	return seconds(float64(b.HeatCapacity()) / (film * exposed * float64(b.Surface))), nil
}

// Coupling returns the conductance between n bottles and the air, n·A·φ·h.
func (b Bottle) Coupling(n, film, exposed float64) (units.Conductance, error) {
	if _, err := b.TimeConstant(film, exposed); err != nil {
		return 0, err
	}
	if err := within("bottles", n, 1, 1e6, ""); err != nil {
		return 0, err
	}
	return units.Conductance(n * float64(b.Surface) * exposed * film), nil
}

// Approach returns the temperature of a body of one time constant, a time after it
// came from one temperature into air of another: T_air + (T_0 − T_air)·e^(−t/τ).
func Approach(from, air units.Temperature, constant, after time.Duration) units.Temperature {
	return air + units.Temperature(float64(from-air)*math.Exp(-after.Seconds()/constant.Seconds()))
}

// Cylinder is a long bottle cooled through its side, by conduction alone: the
// slowest that its wine can be, since convection inside is left out. It is the
// first term of the exact series, good after Fo = 0.2, about 2 h.
type Cylinder struct {
	Biot         float64 // h·r/k
	Root         float64 // ζ1 of ζ·J1(ζ) = Bi·J0(ζ)
	Start        float64 // C1, the factor of the first term at the axis
	TimeConstant time.Duration
}

// Cylinder returns the exact cooling of the bottle's axis at a surface
// coefficient. Çengel, Heat Transfer, transient conduction (from memory).
func (b Bottle) Cylinder(film float64) (Cylinder, error) {
	if err := errors.Join(b.valid(), within("surface coefficient", film, 0.5, 100, "W/(m²·K)")); err != nil {
		return Cylinder{}, fmt.Errorf("bottle: %w", err)
	}
	r := float64(b.Radius)
	c := Cylinder{Biot: film * r / b.WineConduction}
	c.Root, c.Start = firstTerm(c.Biot)
	diffusivity := b.WineConduction / (b.WineDensity * b.WineHeat)
	c.TimeConstant = seconds(r * r / (diffusivity * c.Root * c.Root))
	return c, nil
}

// firstTerm returns ζ1 and C1 for a Biot number above 0. ζ·J1 − Bi·J0 rises from
// −Bi at 0 to a positive value at the first zero of J0, 2.4048.
func firstTerm(biot float64) (root, start float64) {
	low, high := 0.0, 2.404825557695773
	for range 60 {
		mid := (low + high) / 2
		if mid*math.J1(mid) < biot*math.J0(mid) {
			low = mid
		} else {
			high = mid
		}
	}
	ζ := (low + high) / 2
	j0, j1 := math.J0(ζ), math.J1(ζ)
	return ζ, 2 / ζ * j1 / (j0*j0 + j1*j1)
}

// Axis returns the temperature of the axis after a time in air of another
// temperature. It returns an error before Fo = 0.2, where the first term alone
// says nothing.
func (c Cylinder) Axis(start, air units.Temperature, after time.Duration) (units.Temperature, error) {
	decay := after.Seconds() / c.TimeConstant.Seconds() // ζ1²·Fo
	if !(decay >= 0.2*c.Root*c.Root) {
		return 0, fmt.Errorf("bottle axis after %s: the first term holds from %s on; ask for a later time", after, seconds(0.2*c.Root*c.Root*c.TimeConstant.Seconds()).Round(time.Minute))
	}
	return air + units.Temperature(float64(start-air)*c.Start*math.Exp(-decay)), nil
}

func (b Bottle) valid() error {
	return errors.Join(
		within("wine in a bottle", float64(b.Wine), 0.1, 20, "kg"),
		within("glass of a bottle", float64(b.Glass), 0.01, 20, "kg"),
		within("specific heat of wine", b.WineHeat, 3000, 4500, "J/(kg·K)"),
		within("specific heat of glass", b.GlassHeat, 400, 1500, "J/(kg·K)"),
		within("bottle surface", float64(b.Surface), 0.005, 1, "m²"),
		within("bottle radius", float64(b.Radius), 0.01, 0.2, "m"),
		within("wine density", b.WineDensity, 900, 1200, "kg/m³"),
		within("conduction of wine", b.WineConduction, 0.2, 0.7, "W/(m·K)"),
	)
}

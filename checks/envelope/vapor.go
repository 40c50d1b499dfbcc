package envelope

import (
	"errors"
	"fmt"
	"slices"

	"proveout/checks/units"
)

// StillAirPermeability is δ0, the one value by which permeance and s_d are
// converted, kg/(m·s·Pa). ISO 13788:2012 and ISO 12572 (from memory). German
// tables may rest on 1.852e-10, the Danish on 1.82e-10: convert those by
// permeance, not by s_d.
const StillAirPermeability = units.ReferenceAirPermeability

// ImpermeableSD stands for steel, glass and other materials without
// measurable diffusion, m. Common practice; it keeps the sums finite.
const ImpermeableSD units.Length = 1e4

// Perms returns the permeance in IP perms, grain/(h·ft²·inHg), inch of mercury
// at 0 °C: 1 perm is 57.2135 ng/(s·m²·Pa). (The 23 °C perm of some tables is
// 0.4 % larger.)
func Perms(p units.Permeance) float64 { return float64(p) / permeancePerPerm }

// PermeanceFromPerms returns the permeance of a number of IP perms.
func PermeanceFromPerms(perms float64) units.Permeance {
	return units.Permeance(perms * permeancePerPerm)
}

// PermeanceFromSD returns W = δ0/s_d.
func PermeanceFromSD(sd units.Length) units.Permeance {
	return units.Permeance(StillAirPermeability / float64(sd))
}

// SDFromPermeance returns s_d = δ0/W: the thickness of still air that would
// resist diffusion as much.
func SDFromPermeance(p units.Permeance) units.Length {
	return units.Length(StillAirPermeability / float64(p))
}

// Vapor is a layer's resistance to diffusion, constant or varying with the
// mean relative humidity in the layer. The zero value is unknown, which a
// vapor calculation refuses.
type Vapor struct {
	perThickness bool // values are μ, otherwise s_d in m
	points       []VaporPoint
}

// VaporPoint is one point of a humidity-dependent value: μ or s_d in m.
type VaporPoint struct {
	RH    units.RelativeHumidity
	Value float64
}

// Mu is the resistance of a bulk material by its factor μ = δ0/δ.
func Mu(mu float64) Vapor { return Vapor{true, []VaporPoint{{0, mu}}} }

// SD is the resistance of a membrane, coat or whole layer by s_d.
func SD(sd units.Length) Vapor { return Vapor{false, []VaporPoint{{0, float64(sd)}}} }

// OfPermeance is the resistance of a layer of the given permeance; 0, as tables
// print for foil, counts as ImpermeableSD.
func OfPermeance(p units.Permeance) Vapor {
	if p == 0 {
		return SD(ImpermeableSD)
	}
	return SD(SDFromPermeance(p))
}

// OfPerms is the resistance of a layer of the given IP perms.
func OfPerms(perms float64) Vapor { return OfPermeance(PermeanceFromPerms(perms)) }

// OfPermInches is the resistance of a bulk material of the given IP
// permeability in perm·in; 1 perm·in is 1.45322e-12 kg/(s·m·Pa).
func OfPermInches(permInches float64) Vapor {
	return Mu(StillAirPermeability / (permInches * permeancePerPerm * metersPerInch))
}

// VariableMu is a bulk material whose μ varies with humidity, linear between
// the points and constant outside them.
func VariableMu(points ...VaporPoint) Vapor { return Vapor{true, slices.Clone(points)} }

// VariableSD is a membrane whose s_d varies with humidity, linear between the
// points and constant outside them.
func VariableSD(points ...VaporPoint) Vapor { return Vapor{false, slices.Clone(points)} }

// Known reports whether a value was given.
func (v Vapor) Known() bool { return len(v.points) > 0 }

// Varies reports whether the value depends on humidity.
func (v Vapor) Varies() bool { return len(v.points) > 1 }

// SD returns s_d of the layer at a mean relative humidity and its thickness,
// which matters for bulk materials only.
func (v Vapor) SD(thickness units.Length, rh units.RelativeHumidity) (units.Length, error) {
	if err := v.check(thickness); err != nil {
		return 0, err
	}
	return v.sd(thickness, rh), nil
}

func (v Vapor) sd(thickness units.Length, rh units.RelativeHumidity) units.Length {
	value := v.at(rh)
	if v.perThickness {
		value *= float64(thickness)
	}
	return units.Length(value)
}

func (v Vapor) at(rh units.RelativeHumidity) float64 {
	last := len(v.points) - 1
	if last == 0 || rh <= v.points[0].RH {
		return v.points[0].Value
	}
	for i := 1; i <= last; i++ {
		a, b := v.points[i-1], v.points[i]
		if rh <= b.RH {
			return a.Value + float64((rh-a.RH)/(b.RH-a.RH))*(b.Value-a.Value)
		}
	}
	return v.points[last].Value
}

func (v Vapor) check(thickness units.Length) error {
	if !v.Known() {
		return errors.New("vapor resistance is unknown; give its permeance, sd or μ from the product's data sheet")
	}
	for i, p := range v.points {
		if !(p.Value >= 0 && p.Value <= 1e9) {
			return fmt.Errorf("vapor resistance %v is not a finite number from 0 up; give its permeance, sd or μ", p.Value)
		}
		if i > 0 && !(p.RH > v.points[i-1].RH) || !(p.RH >= 0 && p.RH <= 100) {
			return fmt.Errorf("vapor resistance at %v %% RH: list the points by rising humidity from 0 to 100", float64(p.RH))
		}
	}
	if v.perThickness && !(thickness > 0 && thickness <= 5) {
		return fmt.Errorf("thickness %v m is outside 0 to 5; μ needs one", float64(thickness))
	}
	return nil
}

// thinned returns the resistance of a layer that was stated whole, at a thickness,
// once it is less thick: in proportion. A factor μ takes the thickness itself.
func (v Vapor) thinned(to, from units.Length) Vapor {
	if v.perThickness || !(to < from) {
		return v
	}
	share := float64(to / from)
	return Vapor{false, pairs(v.points, func(sd float64) float64 { return sd * share })}
}

// Storage says what a layer does with condensate beside it.
type Storage struct {
	Kind    StorageKind
	Density float64 // kg/m³, needed for wood
}

// StorageKind sorts materials by the limits of condensate mass.
type StorageKind int

// Kinds of storage, in the words of DIN 4108-3.
const (
	TakesNone StorageKind = iota
	Absorbs
	SolidWood
	WoodPanel
)

// Class is a vapor-retarder class of the model codes.
type Class string

// The classes of IRC R702.7 by dry-cup permeance (ASTM E96 procedure A).
const (
	ClassI   Class = "Class I"   // at most 0.1 perm
	ClassII  Class = "Class II"  // above 0.1 to 1 perm
	ClassIII Class = "Class III" // above 1 to 10 perm
	NoClass  Class = "no vapor retarder"
)

// RetarderClass returns the class of a permeance (IRC R702.7, IBC 1404.3;
// clause numbers from memory). The code's tables place retarders inside in cold
// climates and do not cover a cooled room: a class is no approval of a place.
func RetarderClass(p units.Permeance) (Class, error) {
	if !(p >= 0 && p <= 1) {
		return "", fmt.Errorf("permeance %v kg/(s·m²·Pa) is not a finite number from 0 up; give perms or sd", float64(p))
	}
	switch perms := Perms(p) * (1 - 1e-9); {
	case perms <= 0.1:
		return ClassI, nil
	case perms <= 1:
		return ClassII, nil
	case perms <= 10:
		return ClassIII, nil
	}
	return NoClass, nil
}

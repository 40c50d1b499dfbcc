package checks

import (
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// EffectiveResistance asks for the resistance of the whole face, air to air:
// layers, framing and films, with the insulation at its worst measured depth.
var EffectiveResistance = &Check{
	Name:   "effective-resistance",
	Doc:    "thermal resistance of the whole assembly, with the measured insulation depth",
	Source: "ISO 6946:2017, 6.7.2, combined method (clause number from memory)",
	Result: units.ThermalResistanceKind,
	Whole:  effectiveResistance,
}

// InstalledResistance asks for the resistance of the insulation layers alone.
// It is not the resistance of the wall: framing takes its share of that.
var InstalledResistance = &Check{
	Name:   "installed-resistance",
	Doc:    "thermal resistance of the installed insulation alone, at the measured depth",
	Source: "R = d/λ, ISO 6946:2017, 6.7.1.1 (clause number from memory)",
	Result: units.ThermalResistanceKind,
	Whole:  installedResistance,
}

func effectiveResistance(c Case) []Point {
	return c.resistances(func(b envelope.AsBuilt) (units.ThermalResistance, []envelope.Step) {
		return b.Whole.Total, b.Steps
	})
}

func installedResistance(c Case) []Point {
	return c.resistances(func(b envelope.AsBuilt) (units.ThermalResistance, []envelope.Step) {
		return b.Installed, b.Steps[:len(b.Steps)-len(b.Whole.Steps)]
	})
}

// resistances computes one point for each face from its worst depth.
func (c Case) resistances(of func(envelope.AsBuilt) (units.ThermalResistance, []envelope.Step)) []Point {
	var points []Point
	for _, f := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.resistance(f, of))
	}
	return points
}

func (c Case) resistance(f *Face, of func(envelope.AsBuilt) (units.ThermalResistance, []envelope.Step)) Point {
	worst, facts := shallowest(c.Facts.On(c.source(), f.Name))
	if !worst.Known() {
		return undecided(f.Name, "no depth is measured on the %s", f.Name)
	}
	b, err := assemblyOf(c.Room, f)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	measured := envelope.Measurement{Layer: b.insulation[0], Depth: worst.Length()}
	built, err := b.assembly.AsBuilt(b.films, measured)
	if err != nil {
		return undecided(f.Name, "%v", err)
	}
	r, how := of(built)
	q := units.Of(units.ThermalResistanceKind, float64(r), c.Room.Units)
	first := Step{Name: "worst depth measured", Value: worst.String(), Source: "reading"}
	return Point{Place: f.Name, Quantity: q, Steps: append([]Step{first}, how...), Facts: facts}
}

// shallowest returns the smallest depth and the records it was taken from.
func shallowest(facts []Fact) (units.Quantity, []string) {
	var least units.Quantity
	var ids []string
	for _, f := range facts {
		ids = append(ids, f.ID)
		if !f.Quantity.Known() {
			return units.Quantity{}, ids
		}
		if !least.Known() || f.Quantity.Base() < least.Base() {
			least = f.Quantity
		}
	}
	return least, ids
}

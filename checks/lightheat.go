package checks

import (
	"proveout/checks/units"
)

// LightHeat asks whether lamps and their drivers give off no more than the load
// was computed with.
var LightHeat = &Check{
	Name:    "light-heat",
	Doc:     "measured power of lamps and drivers as a share of the planned",
	Source:  "all electricity that lamps and drivers take in the room becomes heat there",
	Result:  units.PercentKind,
	From:    "electrical.light-power",
	Figures: []string{"use"},
	Whole:   lightHeat,
}

func lightHeat(c Case) []Point {
	facts := c.Facts[c.source()]
	planned, _ := c.Room.plannedLight()
	measured, p := 0.0, Point{Place: "room"}
	for _, f := range facts {
		measured += known[float64](f.Quantity)
		p.Facts = append(p.Facts, f.ID)
	}
	share := 0.0
	switch {
	case len(facts) == 0:
		return []Point{undecided("room", "the power of the lights is not measured")}
	case planned > 0:
		share = 100 * measured / float64(planned)
	case measured > 0:
		return []Point{undecided("room", "%v", errNoLight)}
	}
	watts := func(w float64) string { return units.Of(units.PowerKind, w, units.SI).String() }
	p.Quantity = units.Of(units.PercentKind, share, c.Room.Units)
	p.Value = p.Quantity.String() + ", " + watts(measured)
	p.Steps = []Step{
		{Name: "planned", Formula: "lights in job.yaml", Value: watts(float64(planned)), Source: "job.yaml, use"},
		{Name: "measured", Value: watts(measured), Source: "reading"},
		{Name: "share", Formula: "measured / planned", Value: p.Quantity.String()},
	}
	return []Point{p}
}

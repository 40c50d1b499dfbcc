package checks

import (
	"fmt"
	"slices"

	"proveout/checks/drying"
	"proveout/checks/slab"
	"proveout/checks/units"
	"proveout/checks/wood"
)

// DryingTrend asks of each marked point whether it falls and has been at the goal
// on two days running, and when it will be.
var DryingTrend = &Check{
	Name:   "drying-trend",
	Doc:    "each marked point falls and is at the goal on two days running",
	Source: "daily readings at the same marks: IICRC S500 (quoted); two days at the goal: common practice; date by exponential drying, least squares",
	Rule:   "at the goal on two days running",
	From:   "demo.drying",
	Also:   []string{"demo.dry-reference"},
	Whole:  dryingTrend,
}

func dryingTrend(c Case) []Point {
	used := c.used()
	if used == nil {
		return []Point{undecided("", "the plan has no daily readings to compute from")}
	}
	goal, err := used.Limits.AtMost.Resolve(units.MoistureContentKind, c.Room, nil)
	if err != nil {
		return []Point{undecided("", "the goal of drying: %v", err)}
	}
	var points []Point
	balance := c.dryReference()
	facts := c.Facts.On(c.source(), c.Face)
	for _, place := range placesOf(facts) {
		points = append(points, dryingMark(place, facts, goal, balance))
	}
	return points
}

// dryReference is the newest moisture of a dry place of the house, unknown when it
// was not read.
func (c Case) dryReference() units.Quantity {
	var newest Fact
	for _, f := range c.Facts["demo.dry-reference"] {
		if f.Quantity.Kind() == units.MoistureContentKind && f.Measured.After(newest.Measured) {
			newest = f
		}
	}
	return newest.Quantity
}

func placesOf(facts []Fact) []string {
	var places []string
	for _, f := range facts {
		if !slices.Contains(places, f.Place) {
			places = append(places, f.Place)
		}
	}
	return places
}

func dryingMark(place string, facts []Fact, goal, balance units.Quantity) Point {
	mark := drying.Mark{Goal: goal.Percent(), Balance: known[units.Percent](balance)}
	p := Point{Place: place, Limit: "at most " + goal.String() + " on two days", judged: true}
	for _, f := range facts {
		if f.Place != place {
			continue
		}
		p.Facts = append(p.Facts, f.ID)
		mark.Readings = append(mark.Readings, drying.Reading{Time: f.Measured, Moisture: f.Quantity.Percent()})
	}
	t, err := mark.Trend()
	if err != nil {
		p.Reason = err.Error()
		return p
	}
	p.Steps = t.Steps
	p.Value = fmt.Sprintf("%.4g %%, %s", t.Last.Moisture, t.Course)
	when := ""
	if !t.DryOn.IsZero() && t.DryOn.After(t.Last.Time) {
		when = "; by this line it is there on " + t.DryOn.Format("Mon 2 January 2006")
	}
	switch t.Course {
	case drying.Dry:
		p.Outcome = Pass
	case drying.Rising:
		p.Outcome, p.Reason = Fail, "it rises: water still comes"
	case drying.Unclear:
		p.Reason = "it takes readings of two days at least"
	default:
		p.Reason = t.Course.String() + when
	}
	return p
}

// CorrectedMoisture asks what a pin meter without a correction of its own really
// says of cold wood of some species.
var CorrectedMoisture = &Check{
	Name:    "corrected-moisture",
	Doc:     "moisture of wood from a pin meter, corrected for temperature and species",
	Source:  "Pfaff and Garrahan, Forest Products Journal 36, 1986 (from memory); species by the meter's maker; air in balance: Wood Handbook FPL-GTR-282, eq. 4-5",
	Result:  units.MoistureContentKind,
	Figures: []string{"set point"},
	Needs: []Need{
		{Name: "reading", Kind: units.MoistureContentKind, Doc: "of the meter, 6 to 30 %"},
		{Name: "wood temperature", Kind: units.TemperatureKind, Doc: "at the pins, 0 to 40 °C"},
		{Name: "species factor", Kind: units.PercentKind, Doc: "a of the meter's table, 100 % for Douglas fir", Optional: true},
		{Name: "species offset", Kind: units.PercentKind, Doc: "b of the meter's table, 0 % for Douglas fir", Optional: true},
	},
	Each: correctedMoisture,
}

func correctedMoisture(c Case, f Fact) Point {
	species := wood.DouglasFir
	if q, ok := f.Values["species factor"]; ok {
		species.A = q.Base() / 100
	}
	if q, ok := f.Values["species offset"]; ok {
		species.B = q.Base()
	}
	mc, err := wood.MeterMoisture(f.Values["reading"].Percent(), f.Values["wood temperature"].Temperature(), species)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	q := units.Of(units.MoistureContentKind, float64(mc), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Value: q.String() + c.balance(q), Steps: []Step{
		{Name: "reading", Value: f.Values["reading"].String() + " at " + f.Values["wood temperature"].String(), Source: "reading"},
		{Name: "species", Value: fmt.Sprintf("a = %.3g, b = %.3g %%", species.A, species.B), Source: "the meter's maker"},
		{Name: "moisture", Formula: "((R + 0.567 − 0.0260·T + 0.000051·T²)/(0.881·1.0056^T) − b)/a", Value: q.String(), Source: "Pfaff and Garrahan 1986 (from memory)"},
		{Name: "sealed in at the set point", Value: q.String() + c.balance(q), Source: "Wood Handbook FPL-GTR-282, eq. 4-5"},
	}}
}

// SlabHumidity asks for the humidity inside a slab, hole by hole.
var SlabHumidity = &Check{
	Name:   "slab-humidity",
	Doc:    "relative humidity inside a slab, in a hole that is a test",
	Source: "ASTM F2170-19: 40 % of the depth, 24 h (from memory); limit where the floor's maker gives none: ASTM F710, 75 % RH (quoted)",
	Result: units.HumidityKind,
	Needs: []Need{
		{Name: "humidity", Kind: units.HumidityKind, Doc: "of the air at the bottom of the hole"},
		{Name: "hole depth", Kind: units.LengthKind, Example: "1.6 in", Doc: "40 % of a slab that dries from one side"},
		{Name: "slab thickness", Kind: units.LengthKind, Example: "4 in", Doc: "where the hole is"},
		{Name: "rest", Kind: units.DurationKind, Doc: "since the probe went in"},
		{Name: "drying sides", Kind: units.CountKind, Doc: "2 for a slab that dries from both", Optional: true},
	},
	Each: slabHumidity,
}

func slabHumidity(c Case, f Fact) Point {
	hole := slab.Hole{
		Humidity: f.Values["humidity"].RelativeHumidity(), Depth: f.Values["hole depth"].Length(),
		Thickness: f.Values["slab thickness"].Length(), Rest: f.Values["rest"].Duration(),
	}
	if sides, ok := f.Values["drying sides"]; ok {
		hole.TwoSides = sides.Count() == 2
	}
	edition := slab.Editions()[0]
	problem, err := hole.Problem(edition)
	switch {
	case err != nil:
		return undecided(f.Place, "%v", err)
	case problem != "":
		return undecided(f.Place, "%s", problem)
	}
	p := Point{Place: f.Place, Quantity: f.Values["humidity"]}
	if f.Instrument != nil {
		p.measured, p.Uncertainty = true, f.Instrument.Uncertainty
	}
	p.Steps = []Step{
		{Name: "hole", Value: f.Values["hole depth"].String() + " deep in " + f.Values["slab thickness"].String() + ", rested " + f.Values["rest"].String(), Source: edition.Name + " (from memory)"},
		{Name: "humidity", Value: f.Values["humidity"].String(), Source: "reading"},
	}
	return p
}

package wiring

import (
	"errors"
	"fmt"
	"slices"

	"proveout/checks/units"
)

// Run is a conductor as it lies in the wall.
type Run struct {
	Size string // "12 AWG", "2.5 mm²": its name picks the family of rules
	// Ambient is the air round it, −20 to 60 °C: that of the attic where it
	// passes through one.
	Ambient units.Temperature
	// Loaded counts the current-carrying conductors that run together without
	// space, or are buried together in insulation or foam: two for each two-wire
	// cable, 1 to 60.
	Loaded int
	// Column is the temperature column of its terminals, 60 or 75 °C: 60 for
	// cable in walls. Metric sizes have PVC insulation of 70 °C and no column.
	Column units.Temperature
	// Surrounded says that insulation or foam lies against it all round for more
	// than half a metre. Metric sizes only; the NEC has no such factor.
	Surrounded bool
}

// Ampacity is the current that a run may carry.
type Ampacity struct {
	Allowed   units.Current // after all corrections
	Table     units.Current // before them
	Corrected units.Current // before the limit of the terminals
	Steps     []Step
}

// ampacities of copper in A by the 60, 75 and 90 °C columns, not more than three
// conductors, 30 °C: NEC Table 310.16, older 310.15(B)(16) (12 AWG at 90 °C
// quoted, the others from memory).
var ampacities = map[string][3]float64{
	"14 AWG": {15, 20, 25}, "12 AWG": {20, 25, 30}, "10 AWG": {30, 35, 40}, "8 AWG": {40, 50, 55},
	"6 AWG": {55, 65, 75}, "4 AWG": {70, 85, 95}, "3 AWG": {85, 100, 115}, "2 AWG": {95, 115, 130},
}

// metricAmpacities of copper with PVC insulation in A, two loaded conductors, 30 °C:
// method A2 (multicore cable in an insulated wall) and C (clipped to a surface),
// IEC 60364-5-52:2009 Tables B.52.2 and B.52.4 (from memory).
var metricAmpacities = map[string][2]float64{
	"1.5 mm²": {14, 19.5}, "2.5 mm²": {18.5, 27}, "4 mm²": {25, 36}, "6 mm²": {32, 46}, "10 mm²": {43, 63}, "16 mm²": {57, 85},
}

// bundle is a factor for up to so many conductors or circuits.
type bundle struct {
	upTo   int
	factor float64
}

// NEC Table 310.15(C)(1), older 310.15(B)(3)(a): 7 to 9 conductors 70 % (quoted),
// the others from memory.
var conductorBundles = []bundle{{3, 1}, {6, 0.8}, {9, 0.7}, {20, 0.5}, {30, 0.45}, {40, 0.4}, {60, 0.35}}

// IEC 60364-5-52:2009 Table B.52.17, bunched, by circuits (from memory).
var circuitBundles = []bundle{
	{1, 1}, {2, 0.8}, {3, 0.7}, {4, 0.65}, {5, 0.6}, {6, 0.57}, {7, 0.54}, {8, 0.52}, {9, 0.5}, {12, 0.45}, {16, 0.41}, {20, 0.38}, {60, 0.35},
}

// ambient is a factor up to an air temperature in °C.
type ambient struct{ upTo, factor float64 }

// NEC Table 310.15(B)(1), 90 °C column, and IEC 60364-5-52 Table B.52.14, PVC (from
// memory). Air below 30 °C would allow more; that is not counted.
var (
	conductorAmbients = []ambient{{30, 1}, {35, 0.96}, {40, 0.91}, {45, 0.87}, {50, 0.82}, {55, 0.76}, {60, 0.71}}
	metricAmbients    = []ambient{{30, 1}, {35, 0.94}, {40, 0.87}, {45, 0.79}, {50, 0.71}, {55, 0.61}, {60, 0.5}}
)

// smallWire is the greatest overcurrent device of thin copper wire in A, NEC
// 240.4(D) (from memory). 240.4(G) lets the motor rules of 440.22 exceed it for a
// cooling unit; that is for the electrician to say.
var smallWire = map[string]units.Current{"14 AWG": 15, "12 AWG": 20, "10 AWG": 30}

// Ampacity returns what the run may carry by an edition. It is an error for a size
// the edition's tables do not have, and for values outside the ranges of Run.
//
// A licensed electrician decides: the tables hold for copper, for circuits of up to
// three conductors with a load on each, and for nothing else that is warm nearby.
func (r Run) Ampacity(e Edition) (Ampacity, error) {
	size, err := SizeNamed(r.Size)
	if err == nil {
		err = r.valid()
	}
	if err == nil && e.Metric != slices.ContainsFunc(metric, func(s Size) bool { return s.Name == size.Name }) {
		err = fmt.Errorf("%s is not a size of %s", size.Name, e.Name)
	}
	if err != nil {
		return Ampacity{}, fmt.Errorf("ampacity: %w", err)
	}
	if e.Metric {
		return r.metric(size.Name, e)
	}
	return r.american(size.Name, e)
}

func (r Run) american(name string, e Edition) (Ampacity, error) {
	row, ok := ampacities[name]
	column := map[units.Temperature]int{60: 0, 75: 1}
	at, known := column[r.Column]
	switch {
	case !ok:
		return Ampacity{}, fmt.Errorf("ampacity: %s is not in %s of %s", name, e.Ampacity, e.Name)
	case !known:
		return Ampacity{}, fmt.Errorf("ampacity: column %q; wanted is 60 °C or 75 °C, 60 for cable in walls", fmt.Sprintf("%g °C", r.Column))
	case r.Surrounded:
		return Ampacity{}, errors.New("ampacity: the NEC has no factor for a cable surrounded by insulation; count the conductors that lie together")
	}
	a := Ampacity{Table: units.Current(row[2])}
	bundling, ambient := factor(conductorBundles, r.Loaded), correction(conductorAmbients, r.Ambient)
	a.Corrected = units.Current(row[2] * bundling * ambient)
	a.Allowed = min(a.Corrected, units.Current(row[at]))
	a.Steps = append(r.steps(a, e, bundling, ambient, fmt.Sprintf("%s, 90 °C column", name)),
		Step{Name: "limit of the terminals", Value: fmt.Sprintf("%g A, %g °C column", row[at], r.Column), Source: e.source(e.Ampacity) + "; " + e.Cable},
		Step{Name: "ampacity", Formula: "the smaller of both", Value: fmt.Sprintf("%.1f A", a.Allowed), Source: e.source("")})
	return a, nil
}

func (r Run) metric(name string, e Edition) (Ampacity, error) {
	row, ok := metricAmpacities[name]
	if !ok {
		return Ampacity{}, fmt.Errorf("ampacity: %s is not in %s of %s", name, e.Ampacity, e.Name)
	}
	base, how := row[0], "method A2"
	if r.Surrounded {
		base, how = row[1]/2, "half of method C"
	}
	a := Ampacity{Table: units.Current(base)}
	bundling, ambient := factor(circuitBundles, (r.Loaded+1)/2), correction(metricAmbients, r.Ambient)
	a.Corrected = units.Current(base * bundling * ambient)
	a.Allowed = a.Corrected
	a.Steps = append(r.steps(a, e, bundling, ambient, name+", PVC, "+how),
		Step{Name: "ampacity", Value: fmt.Sprintf("%.1f A", a.Allowed), Source: e.source("")})
	return a, nil
}

func (r Run) steps(a Ampacity, e Edition, bundling, ambient float64, from string) []Step {
	return []Step{
		{Name: "from the table", Value: fmt.Sprintf("%g A, %s", a.Table, from), Source: e.source(e.Ampacity)},
		{Name: "conductors together", Value: fmt.Sprintf("%d, factor %g", r.Loaded, bundling), Source: e.source(e.Bundling)},
		{Name: "air", Value: fmt.Sprintf("%.1f °C (%.0f °F), factor %g", r.Ambient, float64(r.Ambient)*1.8+32, ambient), Source: e.source(e.Ambient)},
		{Name: "corrected", Formula: "table · factor · factor", Value: fmt.Sprintf("%.1f A", a.Corrected), Source: "arithmetic"},
	}
}

func (e Edition) source(clause string) string {
	if clause == "" {
		return e.Name + " (" + e.Mark + ")"
	}
	return e.Name + ", " + clause + " (" + e.Mark + ")"
}

func (r Run) valid() error {
	return errors.Join(
		units.Within("air temperature", float64(r.Ambient), -20, 60, "°C"),
		units.Within("conductors together", float64(r.Loaded), 1, 60, ""),
	)
}

func factor(list []bundle, n int) float64 {
	i := slices.IndexFunc(list, func(b bundle) bool { return n <= b.upTo })
	return list[i].factor
}

func correction(list []ambient, t units.Temperature) float64 {
	i := slices.IndexFunc(list, func(a ambient) bool { return float64(t) <= a.upTo*(1+slack) })
	return list[i].factor
}

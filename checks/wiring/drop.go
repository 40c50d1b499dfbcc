package wiring

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Step is one line of a calculation.
type Step = units.Step

// Circuit is a circuit with its load at the far end: two wires with direct or
// single-phase alternating current, or three with a balanced load.
type Circuit struct {
	ThreePhase bool
	// Supply is that between the two wires, or between two of the three.
	Supply  units.Voltage // at the panel, 1 to 1000 V
	Current units.Current // of the load, above 0 to 400 A
	Length  units.Length  // one way along the cable, above 0 to 1000 m
	Size    Size
}

// Drop is the voltage lost in a circuit.
type Drop struct {
	Volts units.Voltage
	Share units.Percent // of the supply voltage
	Load  units.Voltage // what is left
	Steps []Step
}

// factor is how often the length of a cable counts, with its name and source.
func (c Circuit) factor() (times float64, symbol, source string) {
	if c.ThreePhase {
		return math.Sqrt(3), "√3", "Ohm's law, balanced three-phase load"
	}
	return 2, "2", "Ohm's law, two conductors"
}

// Drop returns the voltage lost. It returns an error for values that are missing,
// not finite or outside the ranges above, and when the circuit would lose all of
// its voltage.
func (c Circuit) Drop() (Drop, error) {
	if err := errors.Join(c.valid(), units.Within("length", float64(c.Length), 0.01, 1000, "m")); err != nil {
		return Drop{}, fmt.Errorf("voltage drop: %w", err)
	}
	d := Drop{Volts: c.volts()}
	d.Share = units.Percent(100 * d.Volts / c.Supply)
	d.Load = c.Supply - d.Volts
	if d.Load <= 0 {
		return Drop{}, fmt.Errorf("voltage drop: %.1f V lost of %.1f V; the load cannot draw %g A over %s", d.Volts, c.Supply, c.Current, c.Size.Name)
	}
	d.Steps = c.steps(d)
	return d, nil
}

func (c Circuit) volts() units.Voltage {
	times, _, _ := c.factor()
	return units.Voltage(times * float64(c.Length) * float64(c.Size.PerMetre) * float64(c.Current))
}

func (c Circuit) steps(d Drop) []Step {
	r := float64(c.Size.PerMetre)
	_, times, formula := c.factor()
	return []Step{
		{Name: "conductor", Value: fmt.Sprintf("%s, %.4g Ω/km (%.4g Ω/kft)", c.Size.Name, 1000*r, 1000*foot*r), Source: c.Size.Source},
		{Name: "length, one way", Value: fmt.Sprintf("%.1f m (%.1f ft)", c.Length, float64(c.Length)/foot), Source: "drawing or tape"},
		{Name: "current", Value: fmt.Sprintf("%g A at %g V", c.Current, c.Supply), Source: "data plate"},
		{Name: "drop", Formula: times + " · length · resistance · current", Value: fmt.Sprintf("%.2f V", d.Volts), Source: formula},
		{Name: "share", Formula: "drop / supply voltage", Value: fmt.Sprintf("%.2f %%", d.Share), Source: formula},
		{Name: "voltage at the load", Formula: "supply − drop", Value: fmt.Sprintf("%.1f V", d.Load), Source: formula},
	}
}

// FirstSize returns the thinnest of the sizes, given thinnest first, whose drop
// is at most limit. It looks at the drop alone: the size may still be too thin
// for its breaker.
func (c Circuit) FirstSize(limit units.Percent, sizes []Size) (Size, Drop, error) {
	if err := c.allows(limit); err != nil {
		return Size{}, Drop{}, fmt.Errorf("first size: %w", err)
	}
	for _, s := range sizes {
		c.Size = s
		if err := c.valid(); err != nil {
			return Size{}, Drop{}, fmt.Errorf("first size: %w", err)
		}
		if share := 100 * float64(c.volts()/c.Supply); share <= float64(limit)*(1+slack) {
			d, err := c.Drop()
			return s, d, err
		}
	}
	return Size{}, Drop{}, fmt.Errorf("first size: none of the %d sizes keeps the drop at %g %% over %.1f m; shorten the run or raise the voltage", len(sizes), limit, c.Length)
}

// LongestRun returns the greatest one-way length at which the circuit's size
// keeps the drop at limit; the circuit's own length is not used.
func (c Circuit) LongestRun(limit units.Percent) (units.Length, error) {
	if err := errors.Join(c.valid(), c.allows(limit)); err != nil {
		return 0, fmt.Errorf("longest run: %w", err)
	}
	volts := float64(c.Supply) * float64(limit) / 100
	times, _, _ := c.factor()
	return units.Length(volts / (times * float64(c.Size.PerMetre) * float64(c.Current))), nil
}

// slack is the relative room that comparisons leave for float noise.
const slack = 1e-9

func (c Circuit) allows(limit units.Percent) error {
	return units.Within("limit", float64(limit), 0.01, 99, "%")
}

func (c Circuit) valid() error {
	return errors.Join(
		units.Within("supply", float64(c.Supply), 1, 1000, "V"),
		units.Within("current", float64(c.Current), 1e-6, 400, "A"),
		units.Within("conductor resistance", float64(c.Size.PerMetre), 1e-6, 1, "Ω/m"),
	)
}

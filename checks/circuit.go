package checks

import (
	"fmt"

	"proveout/checks/units"
	"proveout/checks/wiring"
)

// WiringEdition names, under values in job.yaml, the edition of the wiring rules in
// force at the job, such as "NEC 2020" (wiring.Editions).
const WiringEdition = "wiring edition"

// CircuitAmpacity asks what current a conductor may carry where it lies, to be
// compared with the minimum on the unit's plate.
var CircuitAmpacity = &Check{
	Name:    "circuit-ampacity",
	Doc:     "current a conductor may carry as it is installed",
	Source:  "NEC Table 310.16 with 310.15 and 334.80, or IEC 60364-5-52, by the size's family (12 AWG and 7 to 9 conductors quoted, the rest from memory); a licensed electrician decides",
	Result:  units.CurrentKind,
	Figures: []string{WiringEdition},
	Needs: []Need{
		{Name: "wire size", Kind: units.WireSizeKind, Doc: "of the conductor"},
		{Name: "conductors together", Kind: units.CountKind, Example: "2", Doc: "current-carrying, without space between cables or buried together: two for a two-wire cable"},
		{Name: "air temperature", Kind: units.TemperatureKind, Example: "120 °F", Doc: "hottest along the cable, such as the attic in summer"},
		{Name: "terminal column", Kind: units.TemperatureKind, Doc: "60 °C for cable in walls, 75 °C where cable and terminals are rated so; American sizes", Optional: true},
	},
	Each: circuitAmpacity,
}

func circuitAmpacity(c Case, f Fact) Point {
	size, err := wiring.SizeNamed(f.Values["wire size"].String())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	edition, err := c.Room.editionFor(size)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	run := wiring.Run{
		Size: size.Name, Loaded: f.Values["conductors together"].Count(),
		Ambient: f.Values["air temperature"].Temperature(), Column: 60,
	}
	if q, ok := f.Values["terminal column"]; ok {
		run.Column = q.Temperature()
	}
	a, err := run.Ampacity(edition)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	q := units.Of(units.CurrentKind, float64(a.Allowed), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Value: q.String() + ", " + size.Name, Steps: a.Steps}
}

// editionFor is the edition that job.yaml names; where it names none, the newest
// that has the size. It is an error for an edition that has not.
func (r *Room) editionFor(size wiring.Size) (wiring.Edition, error) {
	if name := r.Values[WiringEdition]; name != "" {
		e, err := wiring.EditionNamed(name)
		if err == nil && !e.Has(size) {
			err = fmt.Errorf("%s in job.yaml has no figures for %s", e.Name, size.Name)
		}
		return e, err
	}
	return wiring.EditionOf(size)
}

// extraLow is the nominal voltage up to which a circuit counts as fed by a safety
// transformer or driver (IEC 60364-4-41: 50 V AC; from memory).
const extraLow = 50

// CircuitInsulation asks for the insulation of every circuit, each by its nominal
// voltage.
var CircuitInsulation = &Check{
	Name:   "circuit-insulation",
	Doc:    "insulation resistance of a circuit against the least for its voltage",
	Source: "BS 7671:2018, 641.1 and Table 64 (quoted); the NEC sets no figure",
	Rule:   "at least 1 MΩ at 500 V, 0.5 MΩ at 250 V for circuits up to 50 V, by the test voltage used",
	Needs: []Need{
		{Name: "nominal voltage", Kind: units.VoltageKind, Doc: "of the circuit; up to 50 V counts as extra-low"},
		{Name: "test voltage", Kind: units.VoltageKind, Example: "500 V", Doc: "direct current, as the tester was set"},
		{Name: "resistance", Kind: units.ResistanceKind, Doc: "lowest of all pairs of conductors and of each to ground"},
	},
	Each: circuitInsulation,
}

func circuitInsulation(_ Case, f Fact) Point {
	in := wiring.Insulation{
		Nominal: f.Values["nominal voltage"].Voltage(), Test: f.Values["test voltage"].Voltage(),
		Reading: f.Values["resistance"].Resistance(),
	}
	in.ExtraLow = in.Nominal <= extraLow
	found, err := in.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	limit, err := wiring.InsulationLimitOf(in.Nominal, in.ExtraLow)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Value: f.Values["resistance"].String(), Outcome: found.Outcome, judged: true}
	p.Limit = fmt.Sprintf("at least %.4g MΩ at %g V", limit.Least/1e6, limit.Test)
	switch p.Outcome {
	case Fail:
		p.Reason = fmt.Sprintf("%s is not %s", p.Value, p.Limit)
	case Undecided:
		p.Reason = fmt.Sprintf("it was tested at %s; wanted are %g V", f.Values["test voltage"], limit.Test)
	}
	p.Steps = []Step{
		{Name: "circuit", Value: f.Values["nominal voltage"].String(), Source: "reading"},
		{Name: "reading", Value: p.Value + " at " + f.Values["test voltage"].String(), Source: "reading"},
		{Name: "limit", Value: p.Limit, Source: limit.Source},
	}
	return p
}

package wiring

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Nameplate is what a cooling unit's plate says of its circuit.
type Nameplate struct {
	MinimumAmpacity    units.Current // of the conductor, 0.5 to 200 A
	MaximumOvercurrent units.Current // of breaker or fuse, at least the former
}

// Dedicated is the circuit of one unit.
type Dedicated struct {
	Plate   Nameplate
	Run     Run
	Breaker units.Current // or fuse, 1 to 400 A
	Edition Edition
	// MotorRule says that an electrician takes a breaker above that of thin wire
	// under NEC 240.4(G).
	MotorRule bool
}

// Finding is one question about a circuit with its answer.
type Finding struct {
	Name    string
	Outcome units.Outcome
	Text    string
	Source  string
}

// Judge compares a circuit with the plate of its unit: the conductor carries at
// least the plate's minimum, the breaker lies between that and the plate's
// maximum, and, for thin American wire, is not larger than the wire's own.
//
// The plate's minimum has the 125 % of the largest motor in it (NEC 440.32, from
// memory). It is never guessed from a running current.
func (d Dedicated) Judge() ([]Finding, Ampacity, error) {
	if err := d.valid(); err != nil {
		return nil, Ampacity{}, fmt.Errorf("dedicated circuit: %w", err)
	}
	a, err := d.Run.Ampacity(d.Edition)
	if err != nil {
		return nil, a, fmt.Errorf("dedicated circuit: %w", err)
	}
	const plate = "nameplate rule of NEC 440 (quoted)"
	findings := []Finding{
		atLeast("conductor", a.Allowed, d.Plate.MinimumAmpacity, "of the plate", plate),
		atLeast("breaker", d.Breaker, d.Plate.MinimumAmpacity, "of the plate", plate),
		atMostCurrent("breaker", d.Breaker, d.Plate.MaximumOvercurrent, "of the plate", plate+"; NEC 440.22"),
	}
	size, err := SizeNamed(d.Run.Size)
	if limit, thin := smallWire[size.Name]; err == nil && thin && !d.MotorRule {
		findings = append(findings, atMostCurrent("breaker", d.Breaker, limit, "of "+size.Name, d.Edition.source(d.Edition.Small)))
	}
	return findings, a, nil
}

func (d Dedicated) valid() error {
	return errors.Join(
		units.Within("minimum circuit ampacity", float64(d.Plate.MinimumAmpacity), 0.5, 200, "A"),
		units.Within("maximum overcurrent", float64(d.Plate.MaximumOvercurrent), float64(d.Plate.MinimumAmpacity), 400, "A"),
		units.Within("breaker", float64(d.Breaker), 1, 400, "A"),
	)
}

func atLeast(name string, got, want units.Current, of, source string) Finding {
	f := Finding{Name: name, Outcome: units.Fail, Text: fmt.Sprintf("%.4g A, at least %.4g A %s", got, want, of), Source: source}
	if float64(got) >= float64(want)*(1-slack) {
		f.Outcome = units.Pass
	}
	return f
}

func atMostCurrent(name string, got, want units.Current, of, source string) Finding {
	f := Finding{Name: name, Outcome: units.Fail, Text: fmt.Sprintf("%.4g A, at most %.4g A %s", got, want, of), Source: source}
	if float64(got) <= float64(want)*(1+slack) {
		f.Outcome = units.Pass
	}
	return f
}

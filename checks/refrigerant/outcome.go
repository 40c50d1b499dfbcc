package refrigerant

import "proveout/checks/units"

// Outcome is the result of a test. The zero value is Undecided, which proves
// nothing.
type Outcome int

const (
	Undecided Outcome = iota
	Pass
	Fail
)

// String returns the word that is printed for the outcome.
func (o Outcome) String() string {
	switch o {
	case Pass:
		return "pass"
	case Fail:
		return "fail"
	}
	return "undecided"
}

// Step is one line of a calculation.
type Step = units.Step

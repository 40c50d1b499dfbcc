package refrigerant

import "proveout/checks/units"

// Outcome is the result of a test.
type Outcome = units.Outcome

// The three outcomes.
const (
	Undecided = units.Undecided
	Pass      = units.Pass
	Fail      = units.Fail
)

// Step is one line of a calculation.
type Step = units.Step

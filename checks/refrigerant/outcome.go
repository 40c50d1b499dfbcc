package refrigerant

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

// Step is one line of a calculation as a document prints it: the quantity, how
// it follows from the lines before, its value with unit, and where the formula
// or the number comes from.
type Step struct {
	Name, Formula, Value, Source string
}

package units

// Outcome is the answer to a question with a limit. The zero value is Undecided
// and proves nothing; as a check's verdict it keeps a hold shut.
type Outcome int

// The three outcomes.
const (
	Undecided Outcome = iota
	Pass
	Fail
)

func (o Outcome) String() string {
	switch o {
	case Pass:
		return "pass"
	case Fail:
		return "fail"
	}
	return "undecided"
}

// MarshalText writes the outcome as the word people see.
func (o Outcome) MarshalText() ([]byte, error) { return []byte(o.String()), nil }

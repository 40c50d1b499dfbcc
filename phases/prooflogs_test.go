package phases

import (
	"testing"

	"proveout/checks"
)

// A crew without a meter on the unit hands over without the analysis; only days near
// the design day are asked to prove it.
func TestProofByLogs(t *testing.T) {
	asking := defaultPlan(t).Questions()
	const choice = "commissioning.proof-by-logs"
	if !asking["commissioning.will-it-hold"].When.Holds(checks.Decisions{}) {
		t.Error("undecided, the check must stay on")
	}
	full := []string{"unit-log", "surroundings-log", "logger-health", "short-cycling", "measured-conductance"}
	for answer, asked := range map[string][2]bool{
		"plain log":                    {false, false},
		"full log analysis":            {true, false},
		"full analysis and design day": {true, true},
	} {
		d := checks.Decisions{choice: answer}
		for _, name := range full {
			if got := asking["commissioning."+name].When.Holds(d); got != asked[0] {
				t.Errorf("%q: %s is asked: %v, want %v", answer, name, got, asked[0])
			}
		}
		if got := asking["commissioning.will-it-hold"].When.Holds(d); got != asked[1] {
			t.Errorf("%q: will-it-hold is asked: %v, want %v", answer, got, asked[1])
		}
	}
}

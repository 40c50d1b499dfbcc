package checks

import (
	"time"

	"proveout/checks/units"
)

// lasting prints a length of time as people write it: 5 min, 24 h.
func lasting(d time.Duration) string {
	return units.Of(units.DurationKind, d.Seconds(), units.US).String()
}

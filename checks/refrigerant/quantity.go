package refrigerant

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

const (
	psi    = 6894.757 // Pa in 1 lbf/in², NIST SP 811
	micron = 0.133322 // Pa in 1 µm of mercury, NIST SP 811
)

// slack is the relative room that comparisons leave for float noise.
const slack = 1e-9

// atMost reports whether got is not above limit.
func atMost(got, limit float64) bool { return got <= limit+slack*math.Abs(limit) }

// within returns an error unless lo ≤ x ≤ hi, which no NaN is.
func within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%g %s", x, unit), lo, hi, unit)
}

// pressureText prints a pressure as both kinds of crew read it.
func pressureText(p units.Pressure) string {
	return fmt.Sprintf("%.2f kPa (%.2f psi)", float64(p)/1000, float64(p)/psi)
}

// vacuumText prints a pressure as a vacuum gauge shows it.
func vacuumText(p units.Pressure) string {
	return fmt.Sprintf("%.1f Pa (%.0f micron)", float64(p), float64(p)/micron)
}

// temperatureText prints a temperature in both scales.
func temperatureText(t units.Temperature) string {
	return fmt.Sprintf("%.1f °C (%.1f °F)", float64(t), float64(t)*9/5+32)
}

// durationText prints a duration in minutes below 2 h, in hours above.
func durationText(d time.Duration) string {
	if d < 2*time.Hour {
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

package cooling

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// HeatCapacity is in J/K.
type HeatCapacity float64

// Energy is in joules.
type Energy float64

// KilowattHours returns the energy in kWh.
func (e Energy) KilowattHours() float64 { return float64(e) / 3.6e6 }

// Step is one line of a calculation.
type Step = units.Step

const (
	gravity   = 9.80665  // m/s², standard gravity
	kelvin    = 273.15   // 0 °C in K
	day       = 86400    // s
	btuPerW   = 3.412142 // Btu/h in 1 W, NIST SP 811
	dryHeat   = 1006     // J/(kg·K), dry air, ASHRAE Fundamentals ch. 1
	vaporHeat = 1860     // J/(kg·K), water vapor, the same
	latent    = 2501e3   // J/kg, evaporation at 0 °C, the same
)

// slack is the relative room that comparisons leave for float noise.
const slack = 1e-9

// within returns an error unless lo ≤ x ≤ hi, which no NaN is.
func within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%g %s", x, unit), lo, hi, unit)
}

func powerText(q units.Power) string {
	return fmt.Sprintf("%.1f W (%.0f Btu/h)", q, float64(q)*btuPerW)
}

func temperatureText(t units.Temperature) string {
	return fmt.Sprintf("%.2f °C (%.1f °F)", t, float64(t)*9/5+32)
}

// durationText prints hours, or the word for a time that never comes.
func durationText(d time.Duration, ok bool) string {
	if !ok {
		return "never"
	}
	return fmt.Sprintf("%.2f h", d.Hours())
}

// seconds converts a time in s.
func seconds(s float64) time.Duration { return time.Duration(math.Round(s * 1e9)) }

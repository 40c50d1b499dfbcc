package proof

import (
	"fmt"
	"math"

	"proveout/checks/humidair"
)

// Correction returns the gain and offset that put a hygrometer right between two
// salt points, φ = gain·shown + offset, for logs.Series.Corrected:
//
//	φ = φ_lo + (shown − m_lo)·(φ_hi − φ_lo)/(m_hi − m_lo)
//
// ASTM E104 and OIML R 121 (from memory). Errors: points closer than 20 %, or a
// gain outside of 0.7 to 1.4, which is a broken sensor or a badly made solution.
func (p SaltPoints) Correction() (gain, offset float64, err error) {
	low, err := humidair.SaltHumidity(p.Low.Salt, p.Low.Temperature)
	if err != nil {
		return 0, 0, fmt.Errorf("low salt point: %w", err)
	}
	high, err := humidair.SaltHumidity(p.High.Salt, p.High.Temperature)
	if err != nil {
		return 0, 0, fmt.Errorf("high salt point: %w", err)
	}
	between, shown := float64(high-low), float64(p.High.Shown-p.Low.Shown)
	if !(math.Abs(between) >= 20) {
		return 0, 0, fmt.Errorf("salt points: %s and %s are %.0f %% apart; 20 %% at least, as with magnesium and sodium chloride", p.Low.Salt, p.High.Salt, math.Abs(between))
	}
	if gain = between / shown; !(gain >= 0.7 && gain <= 1.4) {
		return 0, 0, fmt.Errorf("salt points: shown %.1f and %.1f %% for %.1f and %.1f %%; the sensor is broken or a solution badly made", p.Low.Shown, p.High.Shown, low, high)
	}
	return gain, float64(low) - gain*float64(p.Low.Shown), nil
}

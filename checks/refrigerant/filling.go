package refrigerant

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// FillLimit returns the highest gauge pressure to fill to at one temperature of the
// line so that the pressure stays within the nameplate when the line warms to
// another. Nitrogen's departure from the ideal gas is on the safe side.
func FillLimit(nameplate units.Pressure, filled, hottest units.Temperature, barometer units.Pressure) (units.Pressure, error) {
	at := Reading{Gauge: nameplate, Line: filled, Barometer: barometer}
	end := Reading{Gauge: nameplate, Line: hottest, Barometer: barometer}
	if err := errors.Join(at.conditions("filling"), end.conditions("hottest")); err != nil {
		return 0, fmt.Errorf("fill limit: %w", err)
	}
	ratio := max(1, hottest.Kelvin()/filled.Kelvin())
	low, high := units.Pressure(0), nameplate
	for range 60 {
		middle := (low + high) / 2
		start := middle + barometer
		if hot := float64(start) * (1 + (ratio-1)*(1+isochoricExcess(start))); hot <= float64(nameplate+barometer) {
			low = middle
		} else {
			high = middle
		}
	}
	return low, nil
}

// OxygenLeft returns the oxygen in percent after nitrogen at the room's pressure has
// mixed into a closed room while as much air left: 20.9 %·e^(−V_N2/V). Below 19.5 %
// air is oxygen-deficient (29 CFR 1910.146).
func OxygenLeft(nitrogen, room units.Volume) (units.Percent, error) {
	err := errors.Join(within("nitrogen", float64(nitrogen), 0, 1000, "m³"), within("room", float64(room), 0.5, 1e5, "m³"))
	if err != nil {
		return 0, fmt.Errorf("oxygen: %w", err)
	}
	return units.Percent(20.9 * math.Exp(-float64(nitrogen/room))), nil
}

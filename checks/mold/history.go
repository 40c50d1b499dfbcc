package mold

import (
	"fmt"

	"proveout/checks/units"
)

// A History is what an hourly series does to a surface. Hours count from 0, the
// first of the series, and an hour that never comes is −1.
type History struct {
	Final       Index
	Highest     Index
	HighestHour int // the first hour that ends with Highest
	Microscopic int // the first hour that ends with an index of at least 1
	Visible     int // the first hour that ends with an index of at least 3
}

// Over returns the history of g through a series of hourly temperatures and
// relative humidities of the air at the surface; g itself is left as it was.
// Series of different or no length are errors, and so is any value out of range,
// with its hour.
func (g Growth) Over(temperatures []units.Temperature, humidities []units.RelativeHumidity) (History, error) {
	if len(temperatures) != len(humidities) || len(humidities) == 0 {
		return History{}, fmt.Errorf("%d temperatures and %d humidities: give one of each for every hour",
			len(temperatures), len(humidities))
	}
	if err := g.check(); err != nil {
		return History{}, err
	}
	h := History{Highest: -1, Microscopic: -1, Visible: -1}
	for i, t := range temperatures {
		rh := humidities[i]
		if err := checkAir(t, rh); err != nil {
			return History{}, fmt.Errorf("hour %d: %w", i, err)
		}
		g.hour(float64(t), min(float64(rh), 100))
		h.note(i, g.Index)
	}
	h.Final = g.Index
	return h, nil
}

func (h *History) note(hour int, M Index) {
	if M <= h.Highest {
		return
	}
	h.Highest, h.HighestHour = M, hour
	if h.Microscopic < 0 && M >= Microscopic {
		h.Microscopic = hour
	}
	if h.Visible < 0 && M >= Visible {
		h.Visible = hour
	}
}

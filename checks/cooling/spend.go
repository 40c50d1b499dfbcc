package cooling

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Stretch is some hours of a year in which a unit takes out a mean heat and gives it
// to air of one temperature.
type Stretch struct {
	Hours   float64
	Heat    units.Power
	Rejects units.Temperature
}

// Spend sums the electricity of stretches, which should make 8760 h, by the
// coefficient of performance at each: for a room whose demand does not follow the
// outdoor temperature alone, or whose condenser stands indoors.
func (e Efficiency) Spend(year []Stretch) (Year, error) {
	if err := e.valid(); err != nil {
		return Year{}, fmt.Errorf("year: %w", err)
	}
	var y Year
	for i, s := range year {
		err := errors.Join(within("hours", s.Hours, 0, 8784, "h"), within("heat", float64(s.Heat), 0, 1e6, "W"), airTemperature("condenser's air", s.Rejects))
		if err != nil {
			return Year{}, fmt.Errorf("year: entry %d: %w", i+1, err)
		}
		y.Hours += s.Hours
		y.Heat += Energy(float64(s.Heat) * s.Hours * 3600)
		y.Electricity += Energy(float64(s.Heat) * s.Hours * 3600 / e.At(s.Rejects))
	}
	if !(y.Hours > 0) {
		return Year{}, errors.New("year: no hours; give the heat of each month")
	}
	if y.Electricity > 0 {
		y.MeanCOP = float64(y.Heat / y.Electricity)
	}
	return y, nil
}

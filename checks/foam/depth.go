package foam

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Depths describes the readings of a face.
type Depths struct {
	Count        int
	Least, Most  units.Length
	Mean         units.Length
	Deviation    units.Length // standard, with n − 1; 0 for one reading
	LeastAt      int          // index of the least reading
	BelowDesign  int          // readings below the design
	ShareOfLeast float64      // least over design, 0 when there is no design
}

// Summary returns count, least, greatest, mean and standard deviation of readings
// in m, each 0 to 1 m; design is 0 where there is none. No reading, and one that is
// not finite, is an error.
func Summary(readings []units.Length, design units.Length) (Depths, error) {
	if len(readings) == 0 {
		return Depths{}, errors.New("foam depth: no reading")
	}
	d := Depths{Count: len(readings), Least: units.Length(math.Inf(1))}
	var sum float64
	for i, r := range readings {
		if err := units.Within("depth", float64(r), 0, 1, "m"); err != nil {
			return Depths{}, fmt.Errorf("foam depth: reading %d: %w", i+1, err)
		}
		sum += float64(r)
		d.Most = max(d.Most, r)
		if r < d.Least {
			d.Least, d.LeastAt = r, i
		}
		if float64(r) < float64(design)*(1-slack) {
			d.BelowDesign++
		}
	}
	mean := sum / float64(len(readings))
	d.Mean, d.Deviation = units.Length(mean), deviation(readings, mean)
	if design > 0 {
		d.ShareOfLeast = float64(d.Least / design)
	}
	return d, nil
}

func deviation(readings []units.Length, mean float64) units.Length {
	if len(readings) < 2 {
		return 0
	}
	var squares float64
	for _, r := range readings {
		squares += (float64(r) - mean) * (float64(r) - mean)
	}
	return units.Length(math.Sqrt(squares / float64(len(readings)-1)))
}

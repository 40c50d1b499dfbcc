package refrigerant

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Drain is one run of a condensate drain.
type Drain struct{ Fall, Run units.Length }

// Slope returns fall over run. IRC M1411.3 asks for 1/8 in in 12 in, 1 % (read).
func (d Drain) Slope() (units.Percent, error) {
	err := errors.Join(within("fall", float64(d.Fall), -1, 10, "m"), within("run", float64(d.Run), 0.05, 100, "m"))
	if err != nil {
		return 0, fmt.Errorf("drain: %w", err)
	}
	return units.Percent(100 * d.Fall / d.Run), nil
}

// Trap is the trap of a pan that stands in the suction of a fan: air drawn in through
// the drain holds the water in the pan back.
type Trap struct {
	// Suction is the pressure in the pan below that of the space, with a clean filter
	// and with a dirty one whatever is larger.
	Suction units.Pressure
}

// TrapDepth are the heights that the suction asks for.
type TrapDepth struct {
	Drop units.Length // from the pan's outlet down to the trap's outlet
	Seal units.Length // of water that stays in the trap when the fan stops
}

// spareSeal is what evaporates or is blown about: 25 mm, 1 in (common practice).
const spareSeal = 0.025

// Depth returns the least heights: below the pan the column of water that the suction
// holds up, and a spare; below the outlet half of that, since one leg falls by half
// of what stands between the two. The maker's drawing comes before it.
func (t Trap) Depth() (TrapDepth, error) {
	if err := within("suction", float64(t.Suction), 0, 2500, "Pa"); err != nil {
		return TrapDepth{}, fmt.Errorf("trap: %w", err)
	}
	const water = 999.7 // kg/m³ at 10 °C
	column := units.Length(float64(t.Suction) / (water * gravity))
	return TrapDepth{Drop: column + spareSeal, Seal: (column + spareSeal) / 2}, nil
}

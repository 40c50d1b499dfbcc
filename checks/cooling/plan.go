package cooling

import (
	"errors"
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// Contents is what a pull-down has to cool.
type Contents struct {
	Bottle Bottle
	Count  float64 // 1 and more; take 1 for an empty room
	// Film and Exposed are the surface coefficient, W/(m²·K), and the share of the
	// bottles' surface that sees moving air; see Bottle.TimeConstant.
	Film, Exposed float64
	// Light is the heat capacity of what follows the air: board, racks, the air
	// itself by AirHeat.
	Light HeatCapacity
}

// AirHeat returns the heat capacity of the air in a room.
func AirHeat(volume units.Volume, air airflow.State) HeatCapacity {
	return HeatCapacity(float64(volume) / float64(air.Volume) * (dryHeat + vaporHeat*float64(air.Ratio)))
}

// PullDown returns the pull-down of a room with this load from a uniform temperature,
// by a unit at an outdoor temperature. The load should be that of the closed room
// without bottles brought in: what is to be cooled is in Contents.
func (l Load) PullDown(c Contents, unit Capacity, outdoor, start units.Temperature) (PullDown, error) {
	coupling, err := c.Bottle.Coupling(c.Count, c.Film, c.Exposed)
	if err != nil {
		return PullDown{}, fmt.Errorf("pull-down: %w", err)
	}
	at, errAt := unit.At(l.Room, outdoor)
	above, errAbove := unit.At(l.Room+1, outdoor)
	if err := errors.Join(errAt, errAbove); err != nil {
		return PullDown{}, fmt.Errorf("pull-down: %w", err)
	}
	p := PullDown{
		Light: c.Light, Bottles: HeatCapacity(c.Count) * c.Bottle.HeatCapacity(), Coupling: coupling,
		Capacity: at, PerKelvin: units.Conductance(above - at),
		Set: l.Room, Air: start, Contents: start,
	}
	p.Gain, p.Source, p.Inside = l.Coupling()
	if err := p.valid(); err != nil {
		return PullDown{}, fmt.Errorf("pull-down: %w", err)
	}
	return p, nil
}

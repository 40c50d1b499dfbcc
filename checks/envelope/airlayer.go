package envelope

import (
	"fmt"

	"proveout/checks/units"
)

// airLayers is the table of unventilated air layers between surfaces of high
// emittance, m²·K/W by thickness and direction of heat (upward, horizontal,
// downward). ISO 6946:2007 table 2, from memory.
var airLayers = []struct {
	thickness  units.Length
	resistance [3]float64
}{
	{0.000, [3]float64{0.00, 0.00, 0.00}},
	{0.005, [3]float64{0.11, 0.11, 0.11}},
	{0.007, [3]float64{0.13, 0.13, 0.13}},
	{0.010, [3]float64{0.15, 0.15, 0.15}},
	{0.015, [3]float64{0.16, 0.17, 0.17}},
	{0.025, [3]float64{0.16, 0.18, 0.19}},
	{0.050, [3]float64{0.16, 0.18, 0.21}},
	{0.100, [3]float64{0.16, 0.18, 0.22}},
	{0.300, [3]float64{0.16, 0.18, 0.23}},
}

const airLayerSource = "ISO 6946:2007 table 2, high emittance (from memory)"

// AirLayerResistance returns the resistance of an unventilated air layer
// between surfaces of high emittance, 0 to 300 mm thick, interpolated linearly
// (ISO 6946:2007 table 2, from memory).
func AirLayerResistance(thickness units.Length, direction Direction) (units.ThermalResistance, error) {
	if direction < Upward || direction > Downward {
		return 0, fmt.Errorf("heat direction %d is unknown; write upward, horizontal or downward", int(direction))
	}
	last := airLayers[len(airLayers)-1]
	if !(thickness >= 0 && thickness <= last.thickness) {
		return 0, fmt.Errorf("air layer of %v m is outside 0 to 0.3 m; treat a larger space as a room", float64(thickness))
	}
	for i := 1; i < len(airLayers); i++ {
		low, high := airLayers[i-1], airLayers[i]
		if thickness <= high.thickness {
			share := float64((thickness - low.thickness) / (high.thickness - low.thickness))
			r := low.resistance[direction] + share*(high.resistance[direction]-low.resistance[direction])
			return units.ThermalResistance(r), nil
		}
	}
	return units.ThermalResistance(last.resistance[direction]), nil
}

package cooling

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Face is one bounding surface of the room.
type Face struct {
	Name          string
	Area          units.Area          // above 0 to 10,000 m²
	Transmittance units.Transmittance // surface films included, above 0 to 20 W/(m²·K)
	Permeance     units.Permeance     // of the whole face, 0 when diffusion is not counted
	Side          string              // what is on its other side: a key of Sides
	Sun           units.TemperatureDifference
}

// Transmission is the heat that comes through faces.
type Transmission struct {
	Gains       []units.Power     // of each face, in order
	Conductance units.Conductance // UA, all faces
	// Adjacent is the UA-weighted temperature of the other sides: UA times its
	// difference to the room is the total.
	Adjacent units.Temperature
	Total    units.Power
}

// Transmit returns the heat through faces whose other sides are at the
// temperatures others, one for each.
func Transmit(faces []Face, others []units.Temperature, room units.Temperature) (Transmission, error) {
	if len(faces) == 0 || len(faces) != len(others) {
		return Transmission{}, fmt.Errorf("transmission: %d faces and %d other sides; give one for each", len(faces), len(others))
	}
	var t Transmission
	weighted := 0.0
	for i, f := range faces {
		if err := errors.Join(f.valid(), airTemperature("other side", others[i]), airTemperature("room", room)); err != nil {
			return Transmission{}, fmt.Errorf("face %q: %w", f.Name, err)
		}
		t.Gains = append(t.Gains, f.Gain(others[i], room))
		t.Total += t.Gains[i]
		t.Conductance += f.Conductance()
		weighted += float64(f.Conductance()) * float64(others[i].Add(f.Sun))
	}
	t.Adjacent = units.Temperature(weighted / float64(t.Conductance))
	return t, nil
}

// Conductance returns U·A.
func (f Face) Conductance() units.Conductance {
	return units.Conductance(float64(f.Transmittance) * float64(f.Area))
}

// Gain returns U·A·(T_other + sun − T_room).
func (f Face) Gain(other, room units.Temperature) units.Power {
	return units.Power(float64(f.Conductance()) * float64(other.Add(f.Sun).Sub(room)))
}

func (f Face) valid() error {
	return errors.Join(
		within("area", float64(f.Area), 1e-4, 1e4, "m²"),
		within("transmittance", float64(f.Transmittance), 1e-3, 20, "W/(m²·K)"),
		within("permeance", float64(f.Permeance), 0, 1e-7, "kg/(s·m²·Pa)"),
		within("sun allowance", float64(f.Sun), 0, 40, "K"),
	)
}

func airTemperature(name string, t units.Temperature) error {
	return within(name, float64(t), -60, 90, "°C")
}

// Surface is the colour and direction of an outside face, for its sun allowance.
type Surface struct {
	Colour    string // dark, medium or light
	Direction string // east, south, west or roof; north has none
}

// SunAllowance returns what the sun adds to the outdoor temperature in the heat
// transmission of a face. ASHRAE Refrigeration ch. 24, table 3 (from memory; made
// for cold stores).
func SunAllowance(s Surface) (units.TemperatureDifference, error) {
	table := map[string][4]units.TemperatureDifference{
		"dark": {5, 3, 5, 11}, "medium": {4, 3, 4, 8}, "light": {3, 2, 3, 5},
	}
	row, ok := table[s.Colour]
	if !ok {
		return 0, fmt.Errorf("colour %q has no sun allowance; write dark, medium or light", s.Colour)
	}
	switch s.Direction {
	case "east":
		return row[0], nil
	case "south":
		return row[1], nil
	case "west":
		return row[2], nil
	case "roof":
		return row[3], nil
	case "north":
		return 0, nil
	}
	return 0, fmt.Errorf("direction %q has no sun allowance; write east, south, west, north or roof", s.Direction)
}

// SolAir returns the outdoor temperature that would give, without sun, the heat
// that a surface takes up under irradiance of sun W/m²:
//
//	T_o + (α/h_o)·I − ε·ΔR/h_o
//
// with α/h_o of 0.052 m²K/W for dark surfaces and 0.026 for light ones, and a
// last term of 4 K for horizontal ones. ASHRAE Fundamentals ch. 18 (from memory).
func SolAir(outdoor units.Temperature, sun float64, dark, horizontal bool) (units.Temperature, error) {
	if err := errors.Join(airTemperature("outdoors", outdoor), within("irradiance", sun, 0, 1500, "W/m²")); err != nil {
		return 0, fmt.Errorf("sol-air: %w", err)
	}
	gain := 0.026
	if dark {
		gain = 0.052
	}
	t := outdoor + units.Temperature(gain*sun)
	if horizontal {
		t -= 4
	}
	return t, nil
}

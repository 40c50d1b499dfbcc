package envelope

import (
	"fmt"

	"proveout/checks/units"
)

// FaceKind says how a bounding surface of the room lies.
type FaceKind string

// The kinds of face. Doors and glass stand upright like walls.
const (
	Wall    FaceKind = "wall"
	Ceiling FaceKind = "ceiling"
	Floor   FaceKind = "floor"
	Door    FaceKind = "door"
	Glass   FaceKind = "glass"
)

// OtherSide says what lies behind a face.
type OtherSide string

// The other sides a face can have.
const (
	House      OtherSide = "house"
	Outdoors   OtherSide = "outdoors"
	Attic      OtherSide = "attic"
	Garage     OtherSide = "garage"
	CrawlSpace OtherSide = "crawl space"
	Ground     OtherSide = "ground"
)

// Face is one bounding surface: how it lies and what is behind it.
type Face struct {
	Kind  FaceKind
	Other OtherSide
}

// Direction is that of the heat, not of the face.
type Direction int

// The three directions of heat that surface resistances are tabled for;
// Horizontal covers faces within 30° of upright.
const (
	Upward Direction = iota
	Horizontal
	Downward
)

func (d Direction) String() string {
	switch d {
	case Upward:
		return "upward"
	case Horizontal:
		return "horizontal"
	case Downward:
		return "downward"
	}
	return fmt.Sprintf("direction %d", int(d))
}

// Films are the surface resistances on the two sides of a face and the
// direction of heat they belong to, which air layers need too. To override one
// (a fan coil blowing on the wall lowers it; 0.04 to 0.13 m²·K/W is our own
// range, no published value was found) set the field and say so in Source.
// Valid from 0 to 0.5 m²·K/W.
type Films struct {
	OtherSide, Room units.ThermalResistance
	Direction       Direction
	Source          string
}

// FilmTable holds one source's surface resistances by direction of heat.
type FilmTable struct {
	Indoor  [3]units.ThermalResistance // Upward, Horizontal, Downward
	Outdoor units.ThermalResistance    // exposed to wind
	Source  string
}

// ISO6946 holds the conventional surface resistances of ISO 6946.
var ISO6946 = FilmTable{
	Indoor:  [3]units.ThermalResistance{0.10, 0.13, 0.17},
	Outdoor: 0.04,
	Source:  "ISO 6946:2017 table 7 (0.13 and 0.04 read in secondary sheets, table from memory)",
}

// ASHRAEStillAir holds the still-air films of surfaces of high emittance; the
// outdoor one is the winter value at 6.7 m/s.
var ASHRAEStillAir = FilmTable{
	Indoor: [3]units.ThermalResistance{
		0.61 * resistancePerIP, 0.68 * resistancePerIP, 0.92 * resistancePerIP,
	},
	Outdoor: 0.17 * resistancePerIP,
	Source:  "ASHRAE Fundamentals 2005 ch. 25 table 1 (read in a secondary source)",
}

// SurfaceResistances returns ISO 6946 films for a face between the two air
// temperatures. See FilmTable.Films.
func SurfaceResistances(face Face, other, room units.Temperature) (Films, error) {
	return ISO6946.Films(face, other, room)
}

// Films returns the films of a face for the heat that flows between the two air
// temperatures. Both sides count as indoor surfaces except outdoors (exposed to
// wind) and ground (no surface at all). Without a temperature difference no
// heat flows and the direction of the least resistance is returned.
func (t FilmTable) Films(face Face, other, room units.Temperature) (Films, error) {
	direction, err := HeatDirection(face.Kind, other, room)
	if err != nil {
		return Films{}, err
	}
	indoor := t.Indoor[direction]
	films := Films{OtherSide: indoor, Room: indoor, Direction: direction, Source: t.Source}
	switch face.Other {
	case House, Attic, Garage, CrawlSpace:
	case Outdoors:
		films.OtherSide = t.Outdoor
	case Ground:
		films.OtherSide = 0
	default:
		return Films{}, fmt.Errorf("other side %q is unknown; write house, outdoors, attic, garage, crawl space or ground", string(face.Other))
	}
	return films, nil
}

// HeatDirection returns the direction in which heat passes a face of the room:
// down through a ceiling under a warmer attic, up through a floor above a
// warmer basement, and the reverse when the other side is the colder one.
func HeatDirection(kind FaceKind, other, room units.Temperature) (Direction, error) {
	if err := plausible(other, room); err != nil {
		return 0, err
	}
	switch kind {
	case Wall, Door, Glass:
		return Horizontal, nil
	case Ceiling:
		if other > room {
			return Downward, nil
		}
		return Upward, nil
	case Floor:
		if other < room {
			return Downward, nil
		}
		return Upward, nil
	}
	return 0, fmt.Errorf("face kind %q is unknown; write wall, ceiling, floor, door or glass", string(kind))
}

// plausible keeps temperatures to what building surfaces and air can have;
// written so that NaN fails.
func plausible(temperatures ...units.Temperature) error {
	for _, t := range temperatures {
		if !(t >= -60 && t <= 100) {
			return fmt.Errorf("temperature %v °C is outside −60 to 100 °C", float64(t))
		}
	}
	return nil
}

func (f Films) check() error {
	for _, r := range []units.ThermalResistance{f.OtherSide, f.Room} {
		if !(r >= 0 && r <= 0.5) {
			return fmt.Errorf("surface resistance %v m²·K/W is outside 0 to 0.5; 0.13 is usual for a wall indoors", float64(r))
		}
	}
	if f.Direction < Upward || f.Direction > Downward {
		return fmt.Errorf("heat direction %d is unknown; write upward, horizontal or downward", int(f.Direction))
	}
	return nil
}

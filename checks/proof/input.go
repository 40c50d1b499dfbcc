package proof

import (
	"time"

	"proveout/checks/cooling"
	"proveout/checks/humidair"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// Place is where a logger is.
type Place string

// The places. OtherSide is beside a face of the room, and Logger.Side names it;
// Intake is the air that the condenser takes in; Unit is a meter of the unit's
// power, current or energy, or its on/off events; Door its open/closed events.
const (
	RoomLow     Place = "room low"
	RoomMiddle  Place = "room middle"
	RoomHigh    Place = "room high"
	BottleProbe Place = "bottle probe"
	SupplyAir   Place = "supply air"
	OtherSide   Place = "other side"
	Intake      Place = "condenser intake"
	Unit        Place = "unit"
	Door        Place = "door"
)

// Room reports whether a place is in the room's air.
func (p Place) Room() bool { return p == RoomLow || p == RoomMiddle || p == RoomHigh }

// Logger is one instrument with its columns.
type Logger struct {
	Name  string
	Place Place
	Side  string // of OtherSide: house, outdoors, attic, as in Room.Sides
	// Distance from the supply air's outlet; 0 is not known.
	Distance units.Length
	// Uncertainty (k = 2) of its temperature after correction; 0 counts as 0.5 K,
	// the acceptance of the logger check. Humidity the same; 0 counts as 3 %.
	Uncertainty         units.TemperatureDifference
	HumidityUncertainty units.RelativeHumidity
	// Salts are the two points at which its humidity was checked, if it was.
	Salts  *SaltPoints
	Series []logs.Series // corrected for offsets, but not for Salts
}

// SaltPoint is what a hygrometer showed above a saturated salt.
type SaltPoint struct {
	Salt        humidair.Salt
	Temperature units.Temperature
	Shown       units.RelativeHumidity
}

// SaltPoints are two of them.
type SaltPoints struct{ Low, High SaltPoint }

// Side is what lies beyond some faces, with the conductance they were designed
// for: Σ U·A, leaks included.
type Side struct {
	Name        string
	Conductance units.Conductance
	// Uncertainty is the relative standard uncertainty of that conductance against
	// the others'; 0 counts as 10 %.
	Uncertainty float64
}

// Room is what is known of the room.
type Room struct {
	Set          units.Temperature
	Temperatures logs.Band // °C
	Humidities   logs.Band // %
	Sides        []Side
	Light        cooling.HeatCapacity // air, racks, board
	Bottles      cooling.HeatCapacity // 0: empty
	// Inside is the heat set free in the room on average by lights and by a fan that
	// always runs; its
	// uncertainty (k = 2) 0 says that it is not known well enough to hold a line.
	Inside            units.Power
	InsideUncertainty units.Power
	// Condensate is the water expected from the drain on a day, kg; 0 not known.
	Condensate units.Mass
	House      string // which side is the house; "house" when empty
}

// CoolingUnit is what is known of the unit.
type CoolingUnit struct {
	// Capacity from the maker's data, net of a fan that runs with the compressor.
	// Without it the signature is one of duty: the margin is found, UA is not.
	Capacity cooling.Capacity
	// Uncertainty is the relative expanded uncertainty (k = 2) of Capacity; 0
	// counts as 10 %.
	Uncertainty float64
	// LeastIntake is the intake temperature below which the condenser's fan is
	// throttled, so that capacity gains no more; no effect when zero.
	LeastIntake units.Temperature
	// Running is its power (W) or current (A) while it cools, Standby while it does
	// not, in the unit of the log. They are found when the log shows both.
	Running, Standby float64
}

// DesignDay is the day that the room must hold.
type DesignDay struct {
	Sides  map[string]units.Temperature // daily means
	Intake units.Temperature
	// Latent is the heat of the water on that day; nil: as in the log.
	Latent *units.Power
}

// Water is the condensate weighed or counted over a time.
type Water struct {
	Span logs.TimeSpan
	Mass units.Mass
}

// Input is all that Analyse looks at. Spans that are zero are taken from the log.
type Input struct {
	Loggers []Logger
	Room    Room
	Unit    CoolingUnit
	Design  *DesignDay
	Water   []Water
	// On is when the unit was switched on in a warm room; zero: there is no
	// pull-down in the log.
	On time.Time
	// Steady is from when to when the room kept itself; a zero From is a day after
	// the bottles were proved down, or the start of a log without pull-down.
	Steady logs.TimeSpan
	Off    logs.TimeSpan   // the unit switched off to see the room warm up
	Except []logs.TimeSpan // visitors, restocking: not counted
	Plates []Plate
}

package diagnosis

import (
	"time"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Room is a cooled room as found, with everything that was read on the visit.
type Room struct {
	Name   string
	Set    units.Temperature
	Band   Band // of relative humidity; the zero Band is 50 to 70 %
	Volume units.Volume
	Height units.Length

	// Altitude of the place, for the air pressure of the standard atmosphere.
	Altitude units.Length

	Faces []Face
	Use   Use
	// Contents is what has to warm up and cool down; nil when it is not known. It
	// is needed to read a warm-up test only.
	Contents *cooling.Contents
	Unit     Unit
	Readings Readings

	// Design is the air around the room on the hottest design day.
	Design map[envelope.OtherSide]Air
	// Year is, for each other side, twelve monthly means; a side that is missing
	// counts with the air as read.
	Year map[envelope.OtherSide][]Air

	Planned *Plan
	Limits  *Limits      // nil for DefaultLimits
	Show    units.System // of the sentences; the zero System prints SI units
}

// Band is a range of relative humidity, ends included.
type Band struct{ Low, High units.RelativeHumidity }

// Air is air by its temperature and relative humidity.
type Air struct {
	Temperature units.Temperature
	Humidity    units.RelativeHumidity
}

// Face is one bounding surface, with what was read on it.
type Face struct {
	Name string
	Kind envelope.FaceKind
	Side envelope.OtherSide
	Area units.Area
	Sun  units.TemperatureDifference // on top of the outdoor temperature

	// Assembly is the construction as found. A transmittance, with indoor surface
	// films on both sides, stands in its place for doors, glass and faces that are
	// known by a number only. With neither the face counts as unknown.
	Assembly      envelope.Assembly
	Transmittance units.Transmittance

	// OtherSurface holds surface temperatures read on the other side.
	OtherSurface []Spot[units.Temperature]
	// Moisture holds moisture contents of the framing, with where in the bay.
	Moisture []Spot[units.Percent]
	Retarder RetarderFound
}

// Spot is a value at a named place.
type Spot[T any] struct {
	Place string
	Value T
}

// RetarderFound is what an inspection hole showed. The zero value says that nobody
// looked.
type RetarderFound int

// Where the vapor retarder was found.
const (
	RetarderNotSeen RetarderFound = iota
	NoRetarder
	RetarderOnOtherSide
	RetarderOnRoomSide
)

// Unit is the cooling unit by its data sheet and its place.
type Unit struct {
	Name string
	// Capacity is the maker's rating or table; nil when the plate says nothing.
	Capacity cooling.Capacity
	// CoilDifference is the room's temperature above the coil's at the rating; 0
	// takes the usual 8.5 K (common practice: 8 to 9 K for 60 % RH).
	CoilDifference units.TemperatureDifference
	Sheet          Sheet
	IntakeLimit    Reading[units.Temperature] // highest condenser intake allowed
	// RejectsTo is the space that its condenser stands in.
	RejectsTo envelope.OtherSide
}

// Sheet is the temperature split of the data sheet with its conditions.
type Sheet struct {
	Split   Reading[units.TemperatureDifference]
	Room    Air
	Outdoor units.Temperature
}

// Use is what goes on in the room in a day.
type Use struct {
	Doors      []cooling.Door // Side names an other side
	Restock    cooling.Restock
	Appliances []cooling.Appliance
	People     float64
	PeopleFor  float64    // hours a day
	Water      units.Mass // set free inside in a day: cleaning, humidifier
}

// Plan is the room as planned.
type Plan struct {
	Faces     []Face
	AirChange float64 // of the room in an hour, door shut
	// Unit is nil when the unit stays.
	Unit *Unit
	// Intake is the condenser's intake on the design day where the plan puts it.
	Intake Reading[units.Temperature]
}

// Readings is what was read, seen and heard on the visit. Each may be missing.
type Readings struct {
	Air   []AirSpot
	Sides map[envelope.OtherSide]SideAir

	ControlOffset Reading[units.TemperatureDifference] // shown less true
	// Split holds return less supply temperature, one value for each set.
	Split     []units.TemperatureDifference
	Airflow   Airflow
	Frost     Answer // on the coil
	Intake    Reading[units.Temperature]
	Hottest   Reading[units.Temperature] // hottest intake of the year
	Condenser Answer                     // clean and with free discharge
	Duty      Reading[units.Percent]
	Starts    Reading[float64]       // an hour, in the worst hour
	Run       Reading[time.Duration] // shortest usual run
	CutsOut   Answer                 // stops on a safety switch

	Condensate Reading[units.Mass] // of a day
	Gaps       []DoorGapStretch
	// Openings are old holes through a face. Searched says that they were looked
	// for.
	Openings []Opening
	Searched Answer
	FanTest  *airflow.Cracks
	FansOff  Reading[units.Pressure] // room less house, house fans off
	FansOn   Reading[units.Pressure]
	Log      *Log
	WarmUp   Reading[time.Duration] // time constant with the unit off

	WaterAtUnit Answer
	Drain       Drain
	Mold        []MoldSeen
	MoldSought  Answer // Yes also where none was found
	Sweating    Answer // water seen on the other side of a face
	BadInSummer Answer // good in winter, bad in summer
	WorseOnFans Answer // worse when dryer or hood runs
	PastWetting Answer // flood, burst pipe, failed unit, wet cartons, by date
	AfterRain   Answer // wetter after rain
}

// AirSpot is the air at one place of the room. One in the supply air is left out.
type AirSpot struct {
	Place       string
	Temperature Reading[units.Temperature]
	Humidity    Reading[units.RelativeHumidity]
	InSupply    bool
}

// SideAir is the air of a space around the room as read.
type SideAir struct {
	Temperature Reading[units.Temperature]
	Humidity    Reading[units.RelativeHumidity]
}

// Airflow is the air through the coil as judged on site. The zero value says that
// nobody looked.
type Airflow int

// What the airflow was.
const (
	AirflowNotSeen Airflow = iota
	AirflowNormal
	AirflowWeak
)

// DoorGapStretch is a stretch of the gap round a door: its length, the largest
// width found in it, and the height of its middle above the floor.
type DoorGapStretch struct {
	Stretch               string
	Length, Width, Height units.Length
}

// Opening is a hole through a face. Without a height it counts as square.
type Opening struct {
	Name   string
	Side   envelope.OtherSide
	Area   units.Area
	Height units.Length
}

// Drain is the result of a pour test.
type Drain struct {
	Empties   Answer // the pan empties and no water stands in it
	TrapHolds Answer // the trap keeps its water, no air comes through
}

// MoldSeen is a patch of mold. Room says that it is on the room's side of a face.
type MoldSeen struct {
	Place string
	Area  units.Area
	Room  bool
}

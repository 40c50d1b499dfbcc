package checks

import (
	"slices"
	"time"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Room is the job as its checks see it: the content of job.yaml.
type Room struct {
	Job       string
	Units     units.System
	YearBuilt int // 0: unknown
	GuardBand bool

	Length, Width, Height units.Quantity
	Altitude              units.Quantity
	SetPoint              units.Quantity
	LowHumidity           units.Quantity
	HighHumidity          units.Quantity
	PullDownLimit         units.Quantity
	PullDownLoad          string // "empty" or "loaded"
	Bottles               int

	// Zone is where the job is: logger files without an offset are read in it.
	Zone *time.Location

	Properties map[string]string // services, insulation, retarder, …
	Values     map[string]string // nominal voltage, data sheet figures, …, as written
	Spaces     []Space
	Months     []Month // twelve, outdoors, January first; nil when job.yaml gives none
	Faces      []Face
	Use        Use
	// AirChange is how often an hour air may leak through the room as planned,
	// its door shut.
	AirChange units.Quantity
	Costs     Costs
	// UnitAsFound and UnitAsPlanned are nil where job.yaml gives none.
	UnitAsFound, UnitAsPlanned *Unit
	// Materials is the generic library with the company's own products, which beat
	// it; nil is the generic library alone.
	Materials *envelope.Library
	Scheme    *Scheme
	// Penetrations are the places of the penetration list, current ones.
	Penetrations []string
}

// Space is the air on the other side of faces: house, attic, outdoors, in one
// season or all year.
type Space struct {
	Name        string
	Season      string // summer, winter, or "" for all year
	Temperature units.Quantity
	Humidity    units.Quantity
}

// Face is one bounding surface of the room.
type Face struct {
	Name      string
	Kind      string // wall, ceiling, floor, door, glass
	OtherSide string // house, outdoors, attic, garage, crawl space, ground
	Area      units.Quantity
	Bays      int
	AsFound   []Layer // from the other side inwards
	AsPlanned []Layer
	Design    map[string]units.Quantity // depth, resistance, installed resistance, permeance, transmittance
	// Transmittance as found stands in for layers on doors and glass. It and the
	// design's have indoor films on both sides.
	Transmittance units.Quantity
	// Sun is what the sun adds to the outdoor temperature of the face.
	Sun units.Quantity
}

// Month is the mean air outdoors of one month.
type Month struct {
	Name        string
	Temperature units.Quantity
	Humidity    units.Quantity
}

// Unit is a cooling unit by its data sheet and its place.
type Unit struct {
	Model       string
	Refrigerant string
	// Capacity holds at Room and Outdoor; with a Table they are not given.
	Capacity, Room, Outdoor units.Quantity
	Table                   []RatedCapacity
	// Difference is room less coil temperature at the rating.
	Difference units.Quantity
	// Split is return less supply air of the data sheet, at Room, Humidity and
	// Outdoor.
	Split, Humidity units.Quantity
	HighestIntake   units.Quantity // of the condenser
	Rejects         string         // the space its condenser stands in
}

// RatedCapacity is one line of a unit's capacity table.
type RatedCapacity struct {
	Room, Outdoor, Capacity units.Quantity
}

// Use is what goes on in the room.
type Use struct {
	Doors      []DoorUse
	Appliances []Appliance
	People     units.Quantity // a count
	PeopleStay units.Quantity // a day
	Restock    Restock
	Water      units.Quantity // mass per day set free in the room
}

// DoorUse says how a door is used in a day; Door is the name of its face.
type DoorUse struct {
	Door          string
	Width, Height units.Quantity
	Passages      units.Quantity // a day
	Each          units.Quantity // open time of one passage
	Standing      units.Quantity // open otherwise in a day
}

// Appliance gives off heat for some hours a day.
type Appliance struct {
	Name        string
	Power, Runs units.Quantity
	// Light marks lamps and their drivers: their power is measured on site.
	Light bool
}

// Restock is warm bottles brought in.
type Restock struct {
	Bottles, Temperature, Over units.Quantity
}

// Layer is one layer of a face.
type Layer struct {
	Material   string
	Thickness  units.Quantity
	Resistance units.Quantity
	Permeance  units.Quantity
	Framing    units.Quantity // share of the area that is framing, percent
	// FramingMaterial fills the framed share; "" means softwood.
	FramingMaterial string
	Insulation      bool // the layer whose depth is measured
	Retarder        bool
}

// zone is where the job is; days of a wait or a certificate are days there.
func (r *Room) zone() *time.Location {
	if r.Zone == nil {
		return time.UTC
	}
	return r.Zone
}

// Volume returns the room's volume in m³; ok is false when a side is unknown.
func (r *Room) Volume() (v units.Volume, ok bool) {
	if !r.Length.Known() || !r.Width.Known() || !r.Height.Known() {
		return 0, false
	}
	return units.Volume(r.Length.Base() * r.Width.Base() * r.Height.Base()), true
}

// Face returns the face of that name, or nil.
func (r *Room) Face(name string) *Face {
	i := slices.IndexFunc(r.Faces, func(f Face) bool { return f.Name == name })
	if i < 0 {
		return nil
	}
	return &r.Faces[i]
}

// Space returns the air beyond faces with this other side in a season, or nil.
// What is given for all year serves each season that has nothing of its own.
func (r *Room) Space(name, season string) *Space {
	for _, want := range []string{season, ""} {
		for i := range r.Spaces {
			if s := &r.Spaces[i]; s.Name == name && s.Season == want {
				return s
			}
		}
	}
	return nil
}

// FaceNames returns the names of all faces in the job's order.
func (r *Room) FaceNames() []string {
	names := make([]string, len(r.Faces))
	for i, f := range r.Faces {
		names[i] = f.Name
	}
	return names
}

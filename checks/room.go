package checks

import (
	"slices"
	"time"

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
	Faces      []Face
	Scheme     *Scheme
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
	Design    map[string]units.Quantity // depth, resistance, installed resistance, permeance
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

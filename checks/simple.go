package checks

import (
	"proveout/checks/racks"
	"proveout/checks/units"
)

// RackLoad asks what full racks put on the floor, averaged over the room.
var RackLoad = &Check{
	Name:   "rack-load",
	Doc:    "load of full racks averaged over the floor",
	Source: "weight of bottles and racks over the floor's area; limit: IRC Table R301.5 (from memory)",
	Result: units.AreaLoadKind,
	Needs: []Need{
		{Name: "bottles per metre", Kind: units.CountKind, Example: "110", Doc: "of rack, all rows"},
		{Name: "rack length", Kind: units.LengthKind, Example: "18 ft", Doc: "of all racks together"},
		{Name: "rack depth", Kind: units.LengthKind, Example: "13 in", Doc: "of the footprint"},
		{Name: "bottle mass", Kind: units.MassKind, Example: "1.3 kg", Doc: "one full bottle; 1.3 kg is common practice"},
		{Name: "rack mass", Kind: units.LineLoadKind, Example: "20 lb/ft", Doc: "of the empty rack, for each length"},
		{Name: "floor area", Kind: units.AreaKind, Doc: "of the room"},
	},
	Each: rackLoad,
}

func rackLoad(c Case, f Fact) Point {
	load, err := racksOf(f).Load()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.AreaLoadKind, float64(load.Average), c.Room.Units), Steps: load.Steps}
}

func racksOf(f Fact) racks.Racks {
	return racks.Racks{
		PerMetre: f.Values["bottles per metre"].Base(), Bottle: f.Values["bottle mass"].Mass(),
		Rack: units.Mass(f.Values["rack mass"].Base()), Depth: f.Values["rack depth"].Length(),
		Length: f.Values["rack length"].Length(), Floor: f.Values["floor area"].Area(),
	}
}

// AirChanges asks how often a fan changes the air of a space in an hour.
var AirChanges = &Check{
	Name:   "air-changes",
	Doc:    "air changes an hour, from fan flow and volume",
	Source: "flow / volume",
	Result: units.AirChangeKind,
	Needs: []Need{
		{Name: "airflow", Kind: units.AirflowKind, Doc: "measured at the fan"},
		{Name: "volume", Kind: units.VolumeKind, Doc: "of the space"},
	},
	Each: airChanges,
}

func airChanges(c Case, f Fact) Point {
	flow, volume := f.Values["airflow"], f.Values["volume"]
	if !(volume.Base() > 0) {
		return undecided(f.Place, "the volume %s is not above zero", volume)
	}
	q := units.Of(units.AirChangeKind, flow.Base()*3600/volume.Base(), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Steps: []Step{
		{Name: "flow", Value: flow.String(), Source: "reading"},
		{Name: "volume", Value: volume.String(), Source: "reading"},
		{Name: "air changes", Formula: "flow / volume", Value: q.String()},
	}}
}

// PhotosComplete asks for the photos of every face before it is covered.
var PhotosComplete = &Check{
	Name:    "photos-complete",
	Doc:     "photos of every face before it is covered",
	Source:  "common practice",
	Answers: []string{"complete", "not complete"},
	Each:    photosComplete,
}

func photosComplete(_ Case, f Fact) Point {
	p := Point{Place: f.Place, Value: f.Answer, judged: true, Limit: "complete, with the photos"}
	switch {
	case f.Answer != "complete":
		p.Outcome, p.Reason = Fail, "the photos are not complete"
	case f.Photos == 0:
		p.Reason = "there is no photo"
	default:
		p.Outcome = Pass
	}
	return p
}

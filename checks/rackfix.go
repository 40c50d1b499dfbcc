package checks

import (
	"proveout/checks/racks"
	"proveout/checks/units"
)

// RackLineLoad asks what full racks weigh on each metre, from the figures that
// rack-load was recorded with.
var RackLineLoad = &Check{
	Name:   "rack-line-load",
	Doc:    "mass of full racks on each metre of their length",
	Source: "bottles per metre times their mass, and the rack; no code gives a limit, an engineer does",
	Result: units.LineLoadKind,
	Needs:  RackLoad.Needs,
	Each:   rackLineLoad,
}

func rackLineLoad(c Case, f Fact) Point {
	load, err := racksOf(f).Load()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	return Point{Place: f.Place, Quantity: units.Of(units.LineLoadKind, float64(load.PerMetre), c.Room.Units), Steps: load.Steps}
}

// AnchorEdge asks how far inside its blocking an anchor sits, by the blocking map.
var AnchorEdge = &Check{
	Name:   "anchor-edge",
	Doc:    "distance of an anchor from the nearer edge of its blocking",
	Source: "blocking map of the framing; the distance wanted is the engineer's or the screw maker's",
	Result: units.LengthKind,
	Needs: []Need{
		{Name: "anchor height", Kind: units.LengthKind, Example: "82 in", Doc: "above the finished floor, of the one nearest to an edge"},
		{Name: "blocking bottom", Kind: units.LengthKind, Example: "78 in", Doc: "height of the blocking's lower edge, by the map"},
		{Name: "blocking top", Kind: units.LengthKind, Example: "84 in", Doc: "height of its upper edge"},
	},
	Each: anchorEdge,
}

func anchorEdge(c Case, f Fact) Point {
	b := racks.Blocking{Bottom: f.Values["blocking bottom"].Length(), Top: f.Values["blocking top"].Length()}
	edge, err := b.Edge(f.Values["anchor height"].Length())
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	q := units.Of(units.LengthKind, float64(edge), c.Room.Units)
	return Point{Place: f.Place, Quantity: q, Steps: []Step{
		{Name: "blocking", Value: f.Values["blocking bottom"].String() + " to " + f.Values["blocking top"].String(), Source: "blocking map"},
		{Name: "anchor", Value: f.Values["anchor height"].String(), Source: "reading"},
		{Name: "edge distance", Formula: "the smaller of anchor − bottom and top − anchor", Value: q.String(), Source: "arithmetic"},
	}}
}

var pullNeeds = []Need{
	{Name: "anchors", Kind: units.CountKind, Example: "12", Doc: "of this wall"},
	{Name: "in blocking", Kind: units.CountKind, Example: "12", Doc: "of them, by the blocking map"},
	{Name: "pulled", Kind: units.CountKind, Example: "2", Doc: "of them, to the test load"},
	{Name: "held", Kind: units.CountKind, Example: "2", Doc: "of those pulled"},
}

// AnchorPulls asks whether all anchors of a wall are in blocking, enough of them
// were pulled, and all those held.
var AnchorPulls = &Check{
	Name:   "anchor-pulls",
	Doc:    "anchors of a wall: in blocking, pulled, held",
	Source: "one in ten pulled, at least two to a wall: common practice; an engineer decides where the ground shakes: ASCE 7 chapter 13, FEMA E-74 (from memory)",
	Rule:   "all in blocking, one in ten and at least two pulled, all of those held",
	Needs:  pullNeeds,
	Each:   anchorPulls,
}

func anchorPulls(_ Case, f Fact) Point {
	count := func(name string) int { return f.Values[name].Count() }
	outcome, text, err := racks.Anchors{Set: count("anchors"), InBlocking: count("in blocking"), Pulled: count("pulled"), Held: count("held")}.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Outcome: outcome, Value: text, judged: true, Limit: "all in blocking, one in ten and two at least pulled, all held"}
	if outcome != Pass {
		p.Reason = text
	}
	for _, n := range pullNeeds {
		p.Steps = append(p.Steps, Step{Name: n.Name, Value: f.Values[n.Name].String(), Source: "reading"})
	}
	return p
}

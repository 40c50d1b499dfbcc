package checks

import (
	"fmt"
	"time"

	"proveout/checks/foam"
	"proveout/checks/units"
)

// FoamLifts asks whether the lifts of a face were thin enough, waited long enough,
// and make up the depth that was found.
var FoamLifts = &Check{
	Name:    "foam-lifts",
	Doc:     "number, thickness and wait of foam lifts, against each other and the product's report",
	Source:  "the product's report; without one 15 min between lifts: trade texts (quoted)",
	Rule:    "no lift above the product's, no wait below it, and together they make the depth",
	Figures: []string{DataSheet + "foam lift", DataSheet + "foam lift wait"},
	Needs: []Need{
		{Name: "lifts", Kind: units.CountKind, Example: "3", Doc: "sprayed on this face"},
		{Name: "thickest lift", Kind: units.LengthKind, Example: "1 1/2 in", Doc: "pinned between lifts"},
		{Name: "shortest wait", Kind: units.DurationKind, Doc: "between two lifts", Optional: true},
		{Name: "depth", Kind: units.LengthKind, Example: "4 in", Doc: "deepest reading of this face"},
	},
	Each: foamLifts,
}

func foamLifts(c Case, f Fact) Point {
	limit, err := c.Room.Value(DataSheet+"foam lift", units.LengthKind)
	if err != nil {
		return undecided(f.Place, "%v (it stands in the product's report)", err)
	}
	lifts := foam.Lifts{
		Number: f.Values["lifts"].Count(), Thickest: f.Values["thickest lift"].Length(), Depth: f.Values["depth"].Length(),
		Limit: limit.Length(), Wait: foam.DefaultWait,
	}
	source := "trade texts (quoted)"
	if q, err := c.Room.Value(DataSheet+"foam lift wait", units.DurationKind); err == nil {
		lifts.Wait, source = q.Duration(), "job.yaml"
	}
	if q, ok := f.Values["shortest wait"]; ok {
		lifts.Shortest = q.Duration()
	} else if lifts.Number > 1 {
		return undecided(f.Place, "missing: shortest wait between the lifts")
	}
	found, err := lifts.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Outcome: found.Outcome, Value: found.Text, judged: true, Limit: fmt.Sprintf("at most %s a lift, %s between", limit, lasting(lifts.Wait))}
	if found.Outcome != Pass {
		p.Reason = found.Text
	}
	p.Steps = []Step{
		{Name: "lifts", Value: fmt.Sprintf("%d, the thickest %s", lifts.Number, f.Values["thickest lift"]), Source: "reading"},
		{Name: "limit of a lift", Value: limit.String(), Source: "job.yaml, from the product's report"},
		{Name: "wait", Value: fmt.Sprintf("%s, wanted %s", lasting(lifts.Shortest.Round(time.Second)), lasting(lifts.Wait)), Source: source},
		{Name: "together", Formula: "lifts · thickest, against the depth", Value: fmt.Sprintf("%s at most, found %s", units.Of(units.LengthKind, float64(lifts.Number)*float64(lifts.Thickest), c.Room.Units), f.Values["depth"]), Source: "arithmetic"},
	}
	return p
}

// DepthSummary asks whether a face is thin as a whole, beside the question whether a
// point of it is: its mean is at least the design and no point below 90 % of it. It
// shows least, place, mean, spread and all readings. A face that passes here and
// fails at a point has a thin bay; one that fails here was sprayed too thin.
var DepthSummary = &Check{
	Name:   "depth-summary",
	Doc:    "depth of a face as a whole: mean, least with its place, spread, all readings",
	Source: "mean at least the design and no point below 90 % of it: common practice; code wants the installed thickness certified, IECC R303.1.1 (from memory)",
	Rule:   "mean at least the design, no point below 90 % of it",
	From:   "insulation.foam-depth",
	Whole:  depthSummary,
}

// leastShare is how far below the design a single point of a sound face may lie
// (common practice).
const leastShare = 0.9

func depthSummary(c Case) []Point {
	var points []Point
	for _, face := range c.Question.faces(c.Room, c.Face) {
		points = append(points, c.depths(face))
	}
	return points
}

func (c Case) depths(face *Face) Point {
	var readings []units.Length
	var places []string
	p := Point{Place: face.Name}
	for _, f := range c.Facts.On(c.source(), face.Name) {
		if f.Quantity.Kind() != units.LengthKind {
			return undecided(face.Name, "the reading at %s has no depth", f.Place)
		}
		readings, places = append(readings, f.Quantity.Length()), append(places, f.Place)
		p.Facts = append(p.Facts, f.ID)
		p.Steps = append(p.Steps, Step{Name: f.Place, Value: f.Quantity.String(), Source: "reading"})
	}
	if len(readings) == 0 {
		return undecided(face.Name, "no depth is read on the %s", face.Name)
	}
	design := face.Design["depth"]
	if !design.Known() {
		return undecided(face.Name, "job.yaml gives no design depth for the %s", face.Name)
	}
	d, err := foam.Summary(readings, design.Length())
	if err != nil {
		return undecided(face.Name, "%v", err)
	}
	c.describeDepths(&p, d, places[d.LeastAt])
	p.judged, p.Outcome, p.Limit = true, Pass, "mean at least "+design.String()+", no point below 90 % of it"
	if !(float64(d.Mean) >= float64(design.Length())*(1-units.Slack)) || !(d.ShareOfLeast >= leastShare*(1-units.Slack)) {
		p.Outcome, p.Reason = Fail, p.Value+"; wanted is a "+p.Limit
	}
	return p
}

// describeDepths says what the readings of a face are together.
func (c Case) describeDepths(p *Point, d foam.Depths, leastAt string) {
	print := func(l units.Length) string { return units.Of(units.LengthKind, float64(l), c.Room.Units).String() }
	p.Value = fmt.Sprintf("mean %s of %d, least %s (%s)", print(d.Mean), d.Count, print(d.Least), leastAt)
	p.Steps = append(p.Steps,
		Step{Name: "least and most", Value: print(d.Least) + ", " + print(d.Most), Source: "readings"},
		Step{Name: "mean and standard deviation", Formula: "n − 1", Value: print(d.Mean) + ", " + print(d.Deviation), Source: "readings"},
		Step{Name: "least over design", Value: fmt.Sprintf("%.0f %%", 100*d.ShareOfLeast), Source: "readings, job.yaml"},
		Step{Name: "below the design", Value: fmt.Sprintf("%d of %d", d.BelowDesign, d.Count), Source: "readings, job.yaml"})
}

var battNeeds = []Need{
	{Name: "voids", Kind: units.PercentKind, Doc: "of the face's area, through the whole depth"},
	{Name: "squeezed", Kind: units.PercentKind, Doc: "of the area, compressed or not filled"},
	{Name: "loss", Kind: units.PercentKind, Doc: "of the thickness at the worst of those places"},
}

// BattGrade asks how well batts are fitted.
var BattGrade = &Check{
	Name:   "batt-grade",
	Doc:    "grade of batts by voids and squeezed places",
	Source: foam.GradeSource,
	Rule:   "Grade I: no void, at most 2 % squeezed, less than 30 % of the thickness lost there",
	Needs:  battNeeds,
	Each:   battGrade,
}

func battGrade(_ Case, f Fact) Point {
	grade, err := foam.Batt{Voids: f.Values["voids"].Percent(), Squeezed: f.Values["squeezed"].Percent(), Loss: f.Values["loss"].Percent()}.Grade()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, Value: grade.String(), Limit: "Grade I", judged: true, Outcome: Pass}
	if grade != 1 {
		p.Outcome, p.Reason = Fail, grade.String()+"; wanted is Grade I"
	}
	for _, n := range battNeeds {
		p.Steps = append(p.Steps, Step{Name: n.Name, Value: f.Values[n.Name].String(), Source: "reading"})
	}
	p.Steps = append(p.Steps, Step{Name: "grade", Value: grade.String(), Source: foam.GradeSource})
	return p
}

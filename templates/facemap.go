package templates

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases"
	"proveout/templates/figure"
)

// mapped are the kinds of reading that a map shows where they lie.
var mapped = []units.Kind{units.LengthKind, units.MoistureContentKind, units.TemperatureKind}

// maps draws the readings of a hold that have several points on one face, the
// worst of each face marked. The gaps of a door stand round its leaf. face ""
// takes all faces.
func (d Dossier) maps(s *phases.HoldState, face string) []Figure {
	var all []Figure
	for _, v := range s.Verdicts {
		all = append(all, d.mapsOf(v, face)...)
	}
	return all
}

func (d Dossier) mapsOf(v checks.Verdict, face string) []Figure {
	q := d.Plan.Questions()[v.Check]
	if q.Kind != checks.Reading || !slices.Contains(mapped, q.Measures) {
		return nil
	}
	var all []Figure
	for i := range d.Room.Faces {
		f := &d.Room.Faces[i]
		if on := v.On(f.Name); len(on.Points) > 1 && (face == "" || face == f.Name) {
			name := fmt.Sprintf("map-%s-%s", fileWord(v.Check), strings.ToLower(faceCode(i)))
			all = append(all, newFigure(name, "", d.faceMap(q, f, on)))
		}
	}
	if door, ok := d.doorMap(q, v); ok && face == "" {
		all = append(all, newFigure("map-"+fileWord(v.Check), "", door))
	}
	return all
}

// builtChecks are the readings that stand for a face as it was closed in, moisture
// and depth, each by the first check that has any.
var builtChecks = [][]string{
	{"insulation.substrate-moisture", "insulation.floor-substrate-moisture", "framing.framing-moisture"},
	{"insulation.foam-depth", "insulation.fitted-depth", "insulation.floor-depth"},
}

// builtMaps are the maps of moisture and depth of one face behind its board.
func (d Dossier) builtMaps(face string) []Figure {
	var all []Figure
	for _, either := range builtChecks {
		for _, check := range either {
			if maps := d.mapsOfCheck(check, face); maps != nil {
				all = append(all, maps...)
				break
			}
		}
	}
	return all
}

// mapsOfCheck are the maps of one check as it stands now.
func (d Dossier) mapsOfCheck(check, face string) []Figure {
	v := d.verdict(check)
	if v == nil {
		return nil
	}
	return d.mapsOf(*v, face)
}

// fileWord is the name of a check in the name of a file.
func fileWord(check string) string { return strings.ReplaceAll(check, ".", "-") }

// faceMap sets the readings of one face on it. Bays lie side by side; what has no
// bay has no place either, and all are set in rows.
func (d Dossier) faceMap(q *checks.Question, f *checks.Face, v checks.Verdict) figure.FaceMap {
	m := figure.FaceMap{Title: q.Ask + ", " + f.Name, Limit: limitText(q, d.Room), View: "seen from the room"}
	m.Width, m.Height, m.WidthText, m.HeightText = d.extent(f)
	placed := true
	for _, p := range inPlaces(v.Points) {
		r := figure.MapReading{Reading: d.mapReading(p, v.Place), X: math.NaN(), Y: math.NaN()}
		r.Place = strings.TrimPrefix(strings.TrimPrefix(p.Place, f.Name), "/")
		if bay := bayOf(p.Place); bay > 0 && bay <= f.Bays {
			r.X, r.Y = m.Width*(float64(bay)-0.5)/float64(f.Bays), m.Height/2
		}
		placed = placed && !math.IsNaN(r.X)
		m.Readings = append(m.Readings, r)
	}
	if !placed {
		m.Notes = append(m.Notes, "The points are set in the order of their numbers, not where they lie on the face.")
		return m
	}
	m.Notes = append(m.Notes, "The bays are set side by side, counted from the left; height within a bay is not recorded.")
	return m
}

// inPlaces are points in the order of their places: bay 2 before bay 10.
func inPlaces(points []checks.Point) []checks.Point {
	return slices.SortedFunc(slices.Values(points), func(a, b checks.Point) int { return comparePlaces(a.Place, b.Place) })
}

// mapReading is a point as a map shows it.
func (d Dossier) mapReading(p checks.Point, worst string) figure.Reading {
	r := figure.Reading{Place: p.Place, Text: p.Value, Outcome: p.Outcome, Worst: p.Place == worst}
	if p.Quantity.Known() {
		r.Text = p.Quantity.String()
	}
	return r
}

// bayOf is the number of the bay that a place names; 0 where it names none.
func bayOf(place string) int {
	var bay int
	for part := range strings.SplitSeq(place, "/") {
		if _, err := fmt.Sscanf(part, "bay %d", &bay); err == nil {
			return bay
		}
	}
	return 0
}

// extent is the width and height of a face, in meters and as printed. job.yaml
// gives an area: a wall is as high as the room, a lid and a floor as long; a face
// that is neither is drawn square, without a size.
func (d Dossier) extent(f *checks.Face) (width, height float64, widthText, heightText string) {
	area, along := f.Area.Base(), units.Quantity{}
	switch f.Kind {
	case "wall":
		along = d.Room.Height
	case "ceiling", "floor":
		along = d.Room.Width
	}
	if !f.Area.Known() || area <= 0 {
		return 1, 1, "", ""
	}
	if !along.Known() || along.Base() <= 0 {
		return math.Sqrt(area), math.Sqrt(area), "", ""
	}
	width, height = area/along.Base(), along.Base()
	return width, height, d.computedValue(units.LengthKind, width), along.String()
}

// doorPlaces say where a gap at a door lies by the words of its place.
var doorPlaces = []struct {
	word string
	side figure.DoorSide
}{
	{"head ", figure.Head}, {"hinge side ", figure.HingeSide}, {"strike side ", figure.LatchSide},
	{"latch side ", figure.LatchSide}, {"bottom ", figure.Sill}, {"sill ", figure.Sill},
}

// doorEnds are how far along its side a place lies.
var doorEnds = map[string]float64{
	"low": 0.1, "middle": 0.5, "high": 0.9, "hinge end": 0.1, "strike end": 0.9, "latch end": 0.9,
}

// doorMap is the door with its gaps; false for readings that are not taken at the
// sides of a door.
func (d Dossier) doorMap(q *checks.Question, v checks.Verdict) (figure.Door, bool) {
	door := figure.Door{Title: q.Ask, Width: 32, Height: 80, Limit: limitText(q, d.Room), View: "seen from the room"}
	door.Notes = []string{"The hinges are drawn on the left. The leaf is not to scale."}
	for _, p := range v.Points {
		g := figure.DoorGap{Reading: d.mapReading(p, v.Place), At: math.NaN()}
		for _, at := range doorPlaces {
			if rest, ok := strings.CutPrefix(p.Place, at.word); ok {
				g.Side, g.At, g.Place = at.side, doorEnd(rest), rest
				break
			}
		}
		if math.IsNaN(g.At) {
			return figure.Door{}, false
		}
		door.Gaps = append(door.Gaps, g)
	}
	return door, len(door.Gaps) > 1
}

func doorEnd(words string) float64 {
	if at, ok := doorEnds[words]; ok {
		return at
	}
	return math.NaN()
}

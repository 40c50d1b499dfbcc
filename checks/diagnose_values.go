package checks

import (
	"fmt"
	"math"
	"strings"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// DoorGapStretch records one stretch of the gap round a door with what the diagnosis
// works out its flow from. It judges nothing but that the figures can be.
var DoorGapStretch = &Check{
	Name:   "door-gap-stretch",
	Doc:    "gap of one stretch round the door, with its length and height",
	Source: "recorded for the diagnosis; flow by the orifice law and the stack of the cold room",
	Rule:   "complete, with figures that can be",
	Needs: []Need{
		{Name: "gap", Kind: units.LengthKind, Example: "1/8 in", Doc: "the largest in this stretch"},
		{Name: "length", Kind: units.LengthKind, Example: "2 ft", Doc: "of the stretch"},
		{Name: "height", Kind: units.LengthKind, Example: "3 ft", Doc: "of its middle above the floor"},
	},
	Each: func(_ Case, f Fact) Point { return recorded(f, gapRanges) },
}

// WallOpening records an old opening through a face.
var WallOpening = &Check{
	Name:    "wall-opening",
	Doc:     "an old opening through a face, with its size and where it leads",
	Source:  "recorded for the diagnosis; flow by the orifice law and the opening's own stack",
	Answers: []string{"house", "outdoors", "attic", "garage", "crawl space", "ground"},
	Needs: []Need{
		{Name: "area", Kind: units.AreaKind, Example: "2 ft²", Doc: "of the opening"},
		{Name: "opening height", Kind: units.LengthKind, Example: "1 ft", Doc: "of the opening itself, from its lower to its upper edge"},
	},
	Each: func(_ Case, f Fact) Point { return recorded(f, openingRanges) },
}

// FanTest records a fan test of the room by two of its points.
var FanTest = &Check{
	Name:   "fan-test-points",
	Doc:    "two points of a fan test of the room, house as the reference space",
	Source: "recorded for the diagnosis; flow = C·Δp^n through both points",
	Rule:   "an exponent that leaks can have",
	Needs: []Need{
		{Name: "high pressure", Kind: units.PressureKind, Example: "50 Pa", Doc: "about 50 Pa"},
		{Name: "flow at high pressure", Kind: units.AirflowKind, Doc: "through the fan"},
		{Name: "low pressure", Kind: units.PressureKind, Example: "12 Pa", Doc: "about 10 to 15 Pa"},
		{Name: "flow at low pressure", Kind: units.AirflowKind, Example: "40 cfm", Doc: "through the fan"},
	},
	Each: func(_ Case, f Fact) Point {
		if _, why := fanTestOf(f); why != "" {
			return undecided(f.Place, "%s", why)
		}
		return recorded(f, nil)
	},
}

// valueRange is what a value of a record may be, in its base unit.
type valueRange struct {
	name      string
	low, high float64
}

var (
	gapRanges     = []valueRange{{"gap", 0, 0.1}, {"length", 0.01, 10}, {"height", 0, 4}}
	openingRanges = []valueRange{{"area", 1e-6, 1}, {"opening height", 0, 3}}
)

// outOfRange says which value of a record cannot be, or "".
func outOfRange(f Fact, ranges []valueRange) string {
	for _, r := range ranges {
		if q := f.Values[r.name]; !(q.Base() >= r.low && q.Base() <= r.high) {
			return fmt.Sprintf("%s %s is out of range; read or enter it again", r.name, q)
		}
	}
	return ""
}

// recorded passes a record whose values can be: it is complete, not right or wrong.
func recorded(f Fact, ranges []valueRange) Point {
	if why := outOfRange(f, ranges); why != "" {
		return undecided(f.Place, "%s", why)
	}
	var parts []string
	for _, r := range ranges {
		parts = append(parts, r.name+" "+f.Values[r.name].String())
	}
	if f.Answer != "" {
		parts = append([]string{"to the " + f.Answer}, parts...)
	}
	return Point{Place: f.Place, Value: strings.Join(parts, ", "), Outcome: Pass, judged: true}
}

// fanTestOf returns the leakage through two points of a fan test,
// n = ln(q1/q2)/ln(p1/p2), C = q1/p1^n, or says why it cannot be.
func fanTestOf(f Fact) (c airflow.Cracks, why string) {
	p1, p2 := f.Values["high pressure"].Base(), f.Values["low pressure"].Base()
	q1, q2 := f.Values["flow at high pressure"].Base(), f.Values["flow at low pressure"].Base()
	if !(p2 > 0 && p1 >= 1.5*p2 && q2 > 0 && q1 > q2) {
		return c, "the two points do not rise together, or lie too close; take them at about 50 and 15 Pa"
	}
	n := math.Log(q1/q2) / math.Log(p1/p2)
	if n < 0.5 || n > 1 {
		return c, fmt.Sprintf("the two points give an exponent of %.2f; it lies between 0.5 and 1", n)
	}
	return airflow.Cracks{Coefficient: q1 / math.Pow(p1, n), Exponent: n, Spread: true}, ""
}

func fanTest(v *visit) {
	for _, f := range v.values("fan-test", FanTest) {
		cracks, why := fanTestOf(f)
		if why != "" {
			v.reject(f, why)
			continue
		}
		cracks.Height = v.out.Height
		v.out.Readings.FanTest = &cracks
		v.assume("where the leaks of the fan test lie: evenly over the height was assumed")
	}
}

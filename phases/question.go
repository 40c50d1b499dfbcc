package phases

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases/strict"
)

// Marks say how well a source is known.
var Marks = []string{"read", "quoted", "from memory", "common practice", "computed"}

// kindKeys are the keys of which a check has exactly one, and the kind of
// question each makes.
var kindKeys = []struct {
	key  string
	kind checks.Kind
}{
	{"measure", checks.Reading}, {"answer", checks.Observation}, {"inspection", checks.Inspection},
	{"wait", checks.Wait}, {"choose", checks.Choice}, {"paper", checks.Paper}, {"compute", checks.Computed},
}

func readQuestion(phase string, m *strict.Map) *checks.Question {
	q := &checks.Question{
		Phase: phase, Name: readName(m, "check"), Ask: m.Text("ask"),
		From: m.OptionalText("from"), Uses: m.OptionalText("uses"),
		Before: m.OptionalText("before"), Hold: m.OptionalText("hold"),
		Instrument: m.OptionalText("instrument"),
		By:         m.OptionalTexts("by"),
		Series:     yes(m, "series"), RecordOnly: yes(m, "record only"),
		NotApplicable: yes(m, "not applicable"), Safety: yes(m, "safety"), Code: yes(m, "code"),
		When: readCondition(m), IfFails: m.OptionalText("fail"),
		Source: m.Text("source"), Mark: m.Text("mark"),
		LimitReason: m.OptionalText("reason"), Note: m.OptionalText("note"),
		Pos: m.Pos().String(),
	}
	if q.Mark != "" && !slices.Contains(Marks, q.Mark) {
		m.Fail("mark", "mark %q is not one of: %s", q.Mark, strings.Join(Marks, ", "))
	}
	readKind(q, m)
	readLimits(q, m)
	readSampling(q, m)
	readPhoto(q, m)
	checkComputed(q, m)
	if judge := m.OptionalText("judge"); judge == "mean" {
		q.Mean = true
	} else if judge != "" && judge != "worst" {
		m.Fail("judge", "judge is %q; write mean or worst", judge)
	}
	return q
}

// readName reads the name of a phase, hold or check. Names become parts of file
// names and of what people type.
func readName(m *strict.Map, key string) string {
	name := m.Text(key)
	for _, r := range name {
		if r != '-' && (r < 'a' || r > 'z') && (r < '0' || r > '9') {
			m.Fail(key, "%s %q: use lower-case letters, digits and hyphens", key, name)
			return name
		}
	}
	return name
}

// checkComputed reports what a computed check cannot do without.
func checkComputed(q *checks.Question, m *strict.Map) {
	check := checks.ByName(q.Compute)
	switch {
	case check == nil:
	case check.Result != "" && !q.Limits.IsSet():
		m.Fail("check", "check %q has no limit; add at least, at most, above or below", q.Name)
	case check.Spans && len(check.Needs) > 0 && q.Hold == "": // one without readings only counts days
		m.Fail("check", "check %q does not say how long the test must stand; add hold: 24 h", q.Name)
	case check.Decides != "" && check.From == "" && q.Before == "":
		m.Fail("check", "check %q does not say before which year; add before: \"1978\"", q.Name)
	}
	if _, err := strconv.Atoi(q.Before); q.Before != "" && err != nil {
		m.Fail("before", "before is %q; write a year", q.Before)
	}
	if _, err := units.Parse(units.DurationKind, q.Hold); q.Hold != "" && err != nil {
		m.Fail("hold", "%v", err)
	}
}

func yes(m *strict.Map, key string) bool {
	v, ok := m.OptionalBool(key)
	return ok && v
}

func readKind(q *checks.Question, m *strict.Map) {
	var keys []string
	for _, k := range kindKeys {
		if m.Has(k.key) {
			keys = append(keys, k.key)
			q.Kind = k.kind
		}
	}
	if len(keys) != 1 {
		m.Fail("check", "check %q needs exactly one of: measure, answer, inspection, wait, choose, paper, compute", q.Name)
		return
	}
	readKindValue(q, m)
}

func readKindValue(q *checks.Question, m *strict.Map) {
	switch q.Kind {
	case checks.Reading:
		q.Measures = units.Kind(m.Text("measure"))
		if !q.Measures.Known() {
			m.Fail("measure", "%q is not a kind of quantity%s", q.Measures, didYouMean(string(q.Measures), kindNames()))
		}
	case checks.Observation:
		q.Want = m.Text("answer")
		if q.Want != "yes" && q.Want != "no" {
			m.Fail("answer", "the wanted answer is %q; write \"yes\" or \"no\"", q.Want)
		}
	case checks.Inspection:
		q.Inspection = m.Text("inspection")
	case checks.Wait:
		q.Wait = m.Text("wait")
		if err := checks.CheckWait(q.Wait); err != nil {
			m.Fail("wait", "%v", err)
		}
	case checks.Choice:
		q.Options = m.Texts("choose")
	case checks.Paper:
		q.Paper = m.Text("paper")
	case checks.Computed:
		readCompute(q, m)
	}
}

func readCompute(q *checks.Question, m *strict.Map) {
	q.Compute = m.Text("compute")
	check := checks.ByName(q.Compute)
	if check == nil {
		m.Fail("compute", "there is no computed check %q%s", q.Compute, didYouMean(q.Compute, checkNames()))
		return
	}
	q.Measures = check.Result
}

func kindNames() []string {
	var names []string
	for _, k := range units.Kinds() {
		names = append(names, string(k))
	}
	return names
}

func checkNames() []string {
	names := make([]string, len(checks.All))
	for i, c := range checks.All {
		names[i] = c.Name
	}
	return names
}

func didYouMean(word string, known []string) string {
	near := strict.Nearest(word, known)
	if len(near) == 0 {
		return "; known are: " + strings.Join(known, ", ")
	}
	return "; did you mean " + strings.Join(near, " or ") + "?"
}

func readLimits(q *checks.Question, m *strict.Map) {
	q.Limits = checks.Limits{
		AtLeast: readBound(q, m, "at least"), AtMost: readBound(q, m, "at most"),
		Above: readBound(q, m, "above"), Below: readBound(q, m, "below"),
	}
	if q.Kind == checks.Reading && !q.RecordOnly && !q.Limits.IsSet() {
		m.Fail("check", "check %q has no limit; add at least, at most, above or below, or record only: yes", q.Name)
	}
	if q.RecordOnly && (q.Kind != checks.Reading && q.Kind != checks.Choice || q.Limits.IsSet()) {
		m.Fail("record only", "check %q is recorded only, so it is a choice or a reading without a limit; take one of them out", q.Name)
	}
}

func readBound(q *checks.Question, m *strict.Map, key string) checks.Bound {
	v, ok := m.OptionalValue(key)
	if !ok {
		return checks.Bound{}
	}
	if q.Measures == "" {
		v.Fail("check %q measures nothing that a limit could be compared with", q.Name)
		return checks.Bound{}
	}
	if v.Kind() == strict.MapKind {
		b := checks.Bound{ByFace: map[string]checks.Bound{}}
		for _, p := range v.Map().Pairs() {
			if !slices.Contains(FaceKinds, p.Key) {
				p.Value.Fail("%q is not a kind of face; write one of: %s", p.Key, strings.Join(FaceKinds, ", "))
			}
			b.ByFace[p.Key] = parseBound(q, p.Value)
		}
		return b
	}
	return parseBound(q, v)
}

func parseBound(q *checks.Question, v strict.Value) checks.Bound {
	b, err := checks.ParseBound(q.Measures, v.Text())
	if err != nil {
		v.Fail("%v", err)
		b.Text = v.Text() // there is a limit, though a wrong one
	}
	return b
}

// FaceKinds are the kinds of bounding surface.
var FaceKinds = []string{"wall", "ceiling", "floor", "door", "glass"}

// OtherSides are what can be beyond a face.
var OtherSides = []string{"house", "outdoors", "attic", "garage", "crawl space", "ground"}

// moreByFloor adds a point to "at least" for each further such area of floor.
const moreByFloor = "one more per floor area"

func readSampling(q *checks.Question, m *strict.Map) {
	s := &q.Sampling
	s.Faces = words(m, "faces", FaceKinds)
	s.OtherSides = words(m, "other side", OtherSides)
	p, ok := m.OptionalMap("points")
	if !ok {
		return
	}
	s.PerFace, s.PerBay, s.AtLeast = readCount(p, "per face"), readCount(p, "per bay"), readCount(p, "at least")
	s.Places = p.OptionalTexts("places")
	s.Each = p.OptionalText("each")
	if s.Each != "" && !slices.Contains(checks.EachOf, s.Each) {
		p.Fail("each", "each: %q is not one of: %s", s.Each, strings.Join(checks.EachOf, ", "))
	}
	if area := p.OptionalText("per area"); area != "" {
		s.PerArea = readArea(p, "per area", area)
	}
	if area := p.OptionalText(moreByFloor); area != "" {
		s.FloorArea = readArea(p, moreByFloor, area)
		if s.AtLeast == 0 {
			p.Fail(moreByFloor, "%s wants \"at least\" beside it: the points of the first %s", moreByFloor, area)
		}
	}
	ways := 0
	for _, is := range []bool{s.OnFaces(), s.AtLeast > 0, s.Places != nil, s.Each != ""} {
		if is {
			ways++
		}
	}
	if ways > 1 || ways > 0 && q.Decides() {
		m.Fail("points", "check %q counts its points in more than one way; keep one of: per face, bay and area; at least; places; each (none for a choice, unless it is recorded only)", q.Name)
	}
}

// readCount reads how many points are asked for.
func readCount(p *strict.Map, key string) int {
	n, ok := p.OptionalInt(key)
	if ok && (n < 1 || n > 1000) {
		p.Fail(key, "%s is %d; write how many points are wanted, 1 to 1000", key, n)
		return 0
	}
	return n
}

func readArea(p *strict.Map, key, text string) units.Quantity {
	a, err := units.Parse(units.AreaKind, text)
	if err == nil && !(a.Base() > 0) {
		err = fmt.Errorf("%q is no area", text)
	}
	if err != nil {
		p.Fail(key, "%v", err)
	}
	return a
}

func words(m *strict.Map, key string, known []string) []string {
	list := m.OptionalTexts(key)
	for _, w := range list {
		if !slices.Contains(known, w) {
			m.Fail(key, "%s: %q is not one of: %s", key, w, strings.Join(known, ", "))
		}
	}
	return list
}

func readPhoto(q *checks.Question, m *strict.Map) {
	switch photo := m.OptionalText("photo"); photo {
	case "":
	case "each point":
		q.PhotoEach = true
	case "one":
		q.PhotoOne = true
	default:
		m.Fail("photo", "photo is %q; write one or each point", photo)
	}
}

package phases

import (
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks"
	"proveout/checks/units"
)

// site is a gate over a plan of two faces, to be filled by a test.
type site struct {
	t    *testing.T
	plan *Plan
	e    Evidence
}

const sitePlan = `phase: insulation
title: Insulation
purpose: A layer.
holds:
  - hold: frame
    title: Frame
    signed by: [crew lead]
    checks:
      - {check: dry, ask: "Dry?", answer: "yes", source: s, mark: read}
      - {check: which, ask: Which, choose: [foam, batts], source: s, mark: read}
  - hold: before-board
    title: Before board
    after: [insulation.frame]
    release: face by face
    signed by: [crew lead, owner]
    checks:
      - {check: depth, ask: Depth, measure: length, at least: 5 in, points: {per face: 2}, faces: [wall, ceiling], source: s, mark: read}
      - {check: lift, ask: Lift, measure: length, at most: 2 in, safety: "yes", source: s, mark: read}
      - {check: holes, ask: "Sealed?", answer: "yes", points: {each: penetration}, source: s, mark: read}
      - {check: batt, ask: "Full?", answer: "yes", when: {insulation.which: batts}, source: s, mark: read}
  - hold: cover
    title: Cover
    after: [insulation.before-board]
    release: face by face
    signed by: [crew lead]
    checks:
      - {check: seen, ask: "Seen?", answer: "yes", points: {per face: 1}, faces: [wall, ceiling], source: s, mark: read}
`

func newSite(t *testing.T) *site {
	plan, err := ReadPlan(map[string][]byte{"05-insulation.yaml": []byte(sitePlan)})
	if err != nil {
		t.Fatal(err)
	}
	s := &site{t: t, plan: plan, e: Evidence{Room: cellar(t, map[string]string{}), Facts: checks.Facts{}, Now: noon}}
	s.answer("insulation.dry", "point 1", "yes")
	s.answer("insulation.which", "point 1", "foam")
	for _, place := range []string{"north wall/point 1", "north wall/point 2", "lid/point 1", "lid/point 2"} {
		s.read("insulation.depth", place, "6 in")
	}
	s.read("insulation.lift", "point 1", "2 in")
	s.answer("insulation.holes", "north wall/line set", "yes")
	return s
}

func (s *site) fact(id, place string) checks.Fact {
	return checks.Fact{ID: id + " at " + place, Check: id, Place: place, By: "Ana", Roles: []string{"crew lead"}, Measured: noon.Add(-time.Hour)}
}

// put makes a fact the current one at its place.
func (s *site) put(f checks.Fact) {
	s.e.Facts[f.Check] = append(slices.DeleteFunc(s.e.Facts[f.Check], func(o checks.Fact) bool { return o.Place == f.Place }), f)
}

func (s *site) answer(id, place, word string) {
	f := s.fact(id, place)
	f.Answer = word
	s.put(f)
}

func (s *site) read(id, place, text string) {
	f := s.fact(id, place)
	f.ID += " " + text
	f.Quantity = quantity(s.t, units.LengthKind, text)
	s.put(f)
}

func (s *site) sign(hold, role string, faces ...string) {
	s.e.Releases = append(s.e.Releases, Release{ID: hold + role + strings.Join(faces, "+"), Hold: hold, Role: role, Faces: faces, At: noon})
}

func (s *site) gate() *Gate { return NewGate(s.plan, s.e) }

func (s *site) want(hold string, state State) *HoldState {
	s.t.Helper()
	got := s.gate().State(s.plan.Hold(hold))
	if got.State != state {
		s.t.Errorf("%s is %s, want %s (blocked by %v, stale %v, open %v)", hold, got.State, state, got.BlockedBy, got.Stale, got.Open)
	}
	return got
}

func (s *site) wantFace(hold, face string, state State) {
	s.t.Helper()
	if got := s.gate().FaceState(s.plan.Hold(hold), face); got.State != state {
		s.t.Errorf("%s of the %s is %s, want %s (blocked by %v)", hold, face, got.State, state, got.BlockedBy)
	}
}

func TestTwoRoles(t *testing.T) {
	s := newSite(t)
	s.want("insulation.frame", Ready)
	s.want("insulation.before-board", Blocked)
	s.sign("insulation.frame", "owner") // not one of its roles
	s.want("insulation.frame", Ready)
	s.sign("insulation.frame", "crew lead")
	s.want("insulation.frame", Signed)
	if h := s.want("insulation.before-board", Ready); !slices.Equal(h.WantRoles, []string{"crew lead", "owner"}) {
		t.Errorf("roles wanted: %q", h.WantRoles)
	}
	s.sign("insulation.before-board", "owner")
	if h := s.want("insulation.before-board", Ready); !slices.Equal(h.WantRoles, []string{"crew lead"}) {
		t.Errorf("roles wanted: %q", h.WantRoles)
	}
	s.sign("insulation.before-board", "crew lead")
	s.want("insulation.before-board", Signed)
	s.want("insulation.cover", Open)
}

// One face released lets nothing through but that face.
func TestFaceByFace(t *testing.T) {
	s := newSite(t)
	s.sign("insulation.frame", "crew lead")
	s.sign("insulation.before-board", "crew lead", "north wall")
	s.wantFace("insulation.before-board", "north wall", Ready) // the owner is still wanted
	s.sign("insulation.before-board", "owner", "lid")
	s.wantFace("insulation.before-board", "north wall", Ready)
	s.sign("insulation.before-board", "owner", "north wall")
	s.wantFace("insulation.before-board", "north wall", Signed)
	s.wantFace("insulation.before-board", "lid", Ready)
	h := s.want("insulation.before-board", Ready)
	if !slices.Equal(h.Faces, []string{"north wall", "lid"}) || !slices.Equal(h.FacesDone, []string{"north wall"}) {
		t.Errorf("faces %q, done %q", h.Faces, h.FacesDone)
	}
	for _, face := range []string{"north wall", "lid"} {
		s.answer("insulation.seen", face, "yes")
	}
	s.wantFace("insulation.cover", "north wall", Ready)
	s.wantFace("insulation.cover", "lid", Blocked)
	s.want("insulation.cover", Blocked) // as a whole it needs all faces
	s.sign("insulation.before-board", "crew lead", "lid")
	s.want("insulation.before-board", Signed)
	s.want("insulation.cover", Ready)
	// A face that the hold does not cover is not released with the others.
	s.e.Releases = s.e.Releases[:1]
	s.sign("insulation.before-board", "crew lead", "floor")
	s.sign("insulation.before-board", "owner", "floor")
	s.wantFace("insulation.cover", "floor", Blocked)
	s.want("insulation.before-board", Ready)
}

// A late failing fact closes a signed hold and flags all that was built on it.
func TestLateFailure(t *testing.T) {
	s := newSite(t)
	s.answer("insulation.seen", "north wall", "yes")
	s.answer("insulation.seen", "lid", "yes")
	for _, h := range s.plan.Holds() {
		s.e.Releases = append(s.e.Releases, released(s.gate(), h)...)
	}
	s.want("insulation.cover", Signed)
	s.answer("insulation.dry", "point 1", "no")
	if h := s.want("insulation.frame", Stale); !slices.Contains(h.Stale, "insulation.dry no longer passes") {
		t.Errorf("stale: %q", h.Stale)
	}
	h := s.want("insulation.cover", Stale)
	if !slices.Contains(h.Stale, "insulation.before-board, which comes before it, is not released any more") {
		t.Errorf("stale: %q", h.Stale)
	}
	s.answer("insulation.dry", "point 1", "yes")
	s.want("insulation.cover", Signed)
	s.e.Releases[0].Stale = []string{"added since: a reading"}
	s.want("insulation.frame", Stale)
	s.want("insulation.before-board", Stale)
}

// What each of these facts would do alone: nothing that is wrong with one opens
// the hold.
func TestNothingOpensByMistake(t *testing.T) {
	for name, spoil := range map[string]func(*site){
		"a reading below the limit": func(s *site) { s.read("insulation.depth", "lid/point 2", "4 7/8 in") },
		"a reading taken back":      func(s *site) { s.e.Facts["insulation.depth"] = s.e.Facts["insulation.depth"][1:] },
		"a reading without value":   func(s *site) { s.e.Facts["insulation.depth"][0].Quantity = units.Quantity{} },
		"a reading of tomorrow":     func(s *site) { s.e.Facts["insulation.depth"][0].Measured = noon.AddDate(0, 0, 1) },
		"a reading on another face": func(s *site) { s.e.Facts["insulation.depth"][0].Place = "floor/point 1" },
		"a reading by nobody":       func(s *site) { s.e.Facts["insulation.depth"][0].By = "" },
		"two readings at a place":   func(s *site) { s.e.Facts["insulation.depth"][0].Place = "lid/point 2" },
		"another hole":              func(s *site) { s.e.Room.Penetrations = append(s.e.Room.Penetrations, "lid/duct") },
		"the hole answered elsewhere": func(s *site) {
			s.answer("insulation.holes", "lid/duct", "yes")
			s.e.Facts["insulation.holes"] = s.e.Facts["insulation.holes"][1:]
		},
		"no frame":                       func(s *site) { s.e.Releases = nil },
		"the frame's signature is stale": func(s *site) { s.e.Releases[0].Stale = []string{"changed"} },
		"a choice that asks for more":    func(s *site) { s.answer("insulation.which", "point 1", "batts") },
		"a choice taken back":            func(s *site) { delete(s.e.Facts, "insulation.which") },
		"a nonconformity": func(s *site) {
			s.e.Nonconformities = []Nonconformity{{Number: "NC-1", Hold: "insulation.before-board", Open: true}}
		},
	} {
		s := newSite(t)
		s.sign("insulation.frame", "crew lead")
		if h := s.gate().State(s.plan.Hold("insulation.before-board")); h.State != Ready {
			t.Fatalf("before %s: %s", name, h.State)
		}
		spoil(s)
		if h := s.gate().State(s.plan.Hold("insulation.before-board")); h.State == Ready || h.State == Signed {
			t.Errorf("%s: the hold is %s", name, h.State)
		}
		s.sign("insulation.before-board", "crew lead")
		s.sign("insulation.before-board", "owner")
		if h := s.gate().State(s.plan.Hold("insulation.before-board")); h.State == Ready || h.State == Signed {
			t.Errorf("%s, signed: the hold is %s", name, h.State)
		}
	}
}

// A concession accepts the readings it was decided on, at its place, for its
// time, and no safety check.
func TestConcession(t *testing.T) {
	failing := func() (*site, Nonconformity) {
		s := newSite(t)
		s.sign("insulation.frame", "crew lead")
		s.read("insulation.depth", "lid/point 2", "4 7/8 in")
		return s, Nonconformity{
			Number: "NC-1", Check: "insulation.depth", Hold: "insulation.before-board", Place: "lid/point 2", Concession: true,
			Accepts: s.gate().Failing("insulation.depth", "lid/point 2"),
		}
	}
	s, nc := failing()
	s.want("insulation.before-board", Open)
	s.e.Nonconformities = []Nonconformity{nc}
	h := s.want("insulation.before-board", Ready)
	for _, v := range h.Verdicts {
		if v.Check == "insulation.depth" && (v.Outcome != checks.Fail || v.Concedes != "NC-1") {
			t.Errorf("verdict %v, conceded by %q", v.Outcome, v.Concedes)
		}
	}
	for name, change := range map[string]func(*site, *Nonconformity){
		"not agreed yet":      func(_ *site, n *Nonconformity) { n.Concession, n.Open = false, true },
		"another check":       func(_ *site, n *Nonconformity) { n.Check = "insulation.lift" },
		"another place":       func(_ *site, n *Nonconformity) { n.Place = "lid/point 1" },
		"no place":            func(_ *site, n *Nonconformity) { n.Place = "" },
		"the whole face":      func(_ *site, n *Nonconformity) { n.Place = "lid" },
		"its time is over":    func(_ *site, n *Nonconformity) { n.Until = noon },
		"nothing was known":   func(_ *site, n *Nonconformity) { n.Accepts = nil },
		"a later reading":     func(s *site, _ *Nonconformity) { s.read("insulation.depth", "lid/point 2", "3 in") },
		"a second bad place":  func(s *site, _ *Nonconformity) { s.read("insulation.depth", "lid/point 1", "4 in") },
		"a place not read":    func(s *site, _ *Nonconformity) { s.e.Facts["insulation.depth"] = s.e.Facts["insulation.depth"][1:] },
		"an unusable reading": func(s *site, _ *Nonconformity) { s.e.Facts["insulation.depth"][0].Measured = time.Time{} },
	} {
		s, nc := failing()
		change(s, &nc)
		s.e.Nonconformities = []Nonconformity{nc}
		if h := s.gate().State(s.plan.Hold("insulation.before-board")); h.Settled() {
			t.Errorf("%s: the concession holds", name)
		}
	}
	s, nc = failing()
	nc.Until = noon.Add(time.Second)
	other := nc
	s.read("insulation.depth", "lid/point 1", "4 in")
	other.Number, other.Place, other.Accepts = "NC-2", "lid/point 1", s.gate().Failing("insulation.depth", "lid/point 1")
	s.e.Nonconformities = []Nonconformity{nc, other}
	if h := s.want("insulation.before-board", Ready); h.Verdicts[0].Concedes != "NC-2, NC-1" && h.Verdicts[0].Concedes != "NC-1, NC-2" {
		t.Errorf("two places are conceded by %q", h.Verdicts[0].Concedes)
	}
}

func TestSafetyIsNotConceded(t *testing.T) {
	s := newSite(t)
	s.sign("insulation.frame", "crew lead")
	s.read("insulation.lift", "point 1", "3 in")
	s.e.Nonconformities = []Nonconformity{{
		Number: "NC-1", Check: "insulation.lift", Hold: "insulation.before-board", Place: "point 1", Concession: true,
		Accepts: s.gate().Failing("insulation.lift", "point 1"),
	}}
	s.want("insulation.before-board", Open)
}

// A hold that nobody needs to sign is never released; one that does not apply
// does not hold anybody up.
func TestHoldWithoutSignatures(t *testing.T) {
	text := strings.Replace(sitePlan, "signed by: [crew lead]\n    checks:\n      - {check: dry", "signed by: [{role: crew lead, when: {permit: \"yes\"}}]\n    checks:\n      - {check: dry", 1)
	plan, err := ReadPlan(map[string][]byte{"05-insulation.yaml": []byte(text)})
	if err != nil {
		t.Fatal(err)
	}
	s := newSite(t)
	s.plan, s.e.Room.Properties = plan, map[string]string{"permit": "no"}
	s.want("insulation.frame", Ready)
	s.want("insulation.before-board", Blocked)
	plan.Hold("insulation.frame").When = checks.Condition{{Name: "permit", Values: []string{"yes"}}}
	s.want("insulation.frame", NotApplicable)
	// The choice that belongs to it decides nothing any more, so batts count.
	if h := s.want("insulation.before-board", Open); h.BlockedBy != nil {
		t.Errorf("blocked by %q", h.BlockedBy)
	}
	s.answer("insulation.batt", "point 1", "yes")
	s.want("insulation.before-board", Ready)
}

func TestWaitingHold(t *testing.T) {
	text := strings.Replace(sitePlan, `{check: dry, ask: "Dry?", answer: "yes"`, `{check: dry, ask: "Dry?", wait: 24 h, from: rain`, 1)
	plan, err := ReadPlan(map[string][]byte{"05-insulation.yaml": []byte(text)})
	if err != nil {
		t.Fatal(err)
	}
	s := newSite(t)
	s.plan = plan
	f := s.fact("insulation.dry", "point 1")
	f.Start = noon.Add(-23 * time.Hour)
	s.put(f)
	s.want("insulation.frame", Waiting)
	s.e.Now = noon.Add(time.Hour)
	s.want("insulation.frame", Ready)
}

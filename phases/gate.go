package phases

import (
	"slices"
	"strings"
	"time"

	"proveout/checks"
)

// State is where a hold point stands. It is computed each time and stored
// nowhere.
type State string

// The states of a hold.
const (
	NotApplicable State = "not applicable"
	Blocked       State = "blocked"  // a hold before it is not released
	Open          State = "open"     // checks are missing or failing
	Waiting       State = "waiting"  // only time is missing
	Conflict      State = "conflict" // one question has two answers
	Ready         State = "ready"    // everything passes; it wants signatures
	Signed        State = "signed"
	Stale         State = "stale" // signed, and what it rests on has changed
)

// Release is one signature on a hold, or on some of its faces. Withdrawn ones
// are left out by the caller.
type Release struct {
	ID    string
	Hold  string
	Faces []string // nil: the whole hold
	Role  string
	By    string
	At    time.Time
	// Stale says what changed since, one sentence each; set by the caller,
	// who has the files.
	Stale []string
}

// Nonconformity is a requirement that is not met, and what was decided.
type Nonconformity struct {
	Number string // NC-1
	Check  string // phase.check, "" when it is not about one
	Hold   string // phase.hold it keeps shut
	Place  string
	Open   bool
	// Concession says that it was accepted as it is, by all who must agree.
	Concession bool
	Limits     string   // of the concession
	Accepts    []string // the records that it accepts as they are
	Until      time.Time
}

// Evidence is what the gate judges a plan on.
type Evidence struct {
	Room            *checks.Room
	Facts           checks.Facts
	Releases        []Release
	Nonconformities []Nonconformity
	Now             time.Time
}

// HoldState is a hold as it stands.
type HoldState struct {
	Hold      *Hold
	State     State
	Face      string // when one face was asked about
	Verdicts  []checks.Verdict
	BlockedBy []string // holds that must be released first
	Open      []string // open nonconformities, by number
	Signed    []Release
	WantRoles []string // roles that have not signed yet
	Stale     []string // why a signature no longer stands
	Faces     []string // faces it covers, when released face by face
	FacesDone []string
}

// Settled reports whether every check lets the hold open and no nonconformity
// is open.
func (s *HoldState) Settled() bool {
	return len(s.Open) == 0 && !slices.ContainsFunc(s.Verdicts, func(v checks.Verdict) bool { return !v.Settled() })
}

// Gate evaluates the holds of a plan.
type Gate struct {
	Plan      *Plan
	Evidence  Evidence
	Decisions checks.Decisions
	questions map[string]*checks.Question
	states    map[string]*HoldState
	judged    map[string]checks.Verdict // once the decisions stand
}

// NewGate prepares the evaluation of a plan: it takes the decisions that other
// checks depend on.
func NewGate(plan *Plan, e Evidence) *Gate {
	g := &Gate{Plan: plan, Evidence: e, Decisions: checks.Decisions{}, questions: plan.Questions(), states: map[string]*HoldState{}}
	for name, value := range e.Room.Properties {
		g.Decisions[name] = value
	}
	g.decide(checks.Choice)
	g.decide(checks.Computed)
	g.forget()
	g.judged = map[string]checks.Verdict{}
	return g
}

// decide records the decisions that questions of a kind take. Choices come
// first: the computed ones look at them.
func (g *Gate) decide(kind checks.Kind) {
	for _, h := range g.Plan.Holds() {
		for _, q := range h.Checks {
			name := decision(q)
			if q.Kind != kind || name == "" {
				continue
			}
			if v := checks.Judge(g.judgeCase(q, "")); v.Outcome == checks.Pass {
				g.Decisions[name] = v.Decision
			}
		}
	}
}

// forget takes back the decisions of questions that are not asked in this job:
// what was answered to them before does not count any more.
func (g *Gate) forget() {
	for _, h := range g.Plan.Holds() {
		for _, q := range h.Checks {
			if name := decision(q); name != "" && !(h.When.Holds(g.Decisions) && g.Asked(q)) {
				delete(g.Decisions, name)
			}
		}
	}
}

// decision is the name of the decision that a question takes, "" for none.
func decision(q *checks.Question) string {
	if q.Decides() {
		return q.ID()
	}
	if check := checks.ByName(q.Compute); check != nil {
		return check.Decides
	}
	return ""
}

func (g *Gate) judgeCase(q *checks.Question, face string) checks.Case {
	return checks.Case{
		Question: q, Questions: g.questions, Room: g.Evidence.Room, Facts: g.Evidence.Facts,
		Decisions: g.Decisions, Face: face, Now: g.Evidence.Now, Judged: g.judged,
	}
}

// States evaluates all holds in reading order.
func (g *Gate) States() []*HoldState {
	var all []*HoldState
	for _, h := range g.Plan.Holds() {
		all = append(all, g.State(h))
	}
	return all
}

// State evaluates one hold, and those before it.
func (g *Gate) State(h *Hold) *HoldState {
	if s, done := g.states[h.ID()]; done {
		return s
	}
	s := g.evaluate(h, "")
	g.states[h.ID()] = s
	return s
}

// FaceState evaluates one face of a hold that is released face by face.
func (g *Gate) FaceState(h *Hold, face string) *HoldState { return g.evaluate(h, face) }

func (g *Gate) evaluate(h *Hold, face string) *HoldState {
	s := &HoldState{Hold: h, Face: face}
	if !h.When.Holds(g.Decisions) {
		s.State = NotApplicable
		return s
	}
	s.Verdicts = g.Verdicts(h, face)
	s.Open = g.openOn(h, face)
	for _, up := range g.Plan.Before(h, g.Decisions) {
		if !g.released(up, face) {
			s.BlockedBy = append(s.BlockedBy, up.ID())
		}
	}
	if h.FaceByFace {
		s.Faces = g.facesOf(h)
	}
	g.signatures(s)
	s.State = g.stateOf(s)
	return s
}

// Verdicts judges the checks of a hold that apply.
func (g *Gate) Verdicts(h *Hold, face string) []checks.Verdict {
	var all []checks.Verdict
	for _, q := range h.Checks {
		if !g.Asked(q) {
			continue
		}
		on := face
		if !q.Sampling.ByFace() {
			on = "" // not about faces: it counts for every face
		}
		if on != "" && !q.Applies(g.Evidence.Room, on) {
			continue
		}
		v := checks.Judge(g.judgeCase(q, on))
		g.concede(&v)
		all = append(all, v)
	}
	return all
}

// Asked reports whether a check applies to this job.
func (g *Gate) Asked(q *checks.Question) bool {
	return q.When.Holds(g.Decisions) && q.Applies(g.Evidence.Room, "")
}

// concede notes the concession that accepts every failing point of v.
func (g *Gate) concede(v *checks.Verdict) {
	if v.Outcome != checks.Fail || v.Safety {
		return
	}
	var numbers []string
	for _, p := range deciding(v) {
		if p.Outcome == checks.Pass {
			continue
		}
		number := g.concessionFor(v.Check, p)
		if number == "" || p.Outcome == checks.Undecided {
			return
		}
		if !slices.Contains(numbers, number) {
			numbers = append(numbers, number)
		}
	}
	if len(v.Missing) == 0 {
		v.Concedes = strings.Join(numbers, ", ")
	}
}

// deciding returns the points that a verdict rests on: all of them, or their
// mean.
func deciding(v *checks.Verdict) []checks.Point {
	if v.Place != checks.MeanPlace {
		return v.Points
	}
	return []checks.Point{{Place: v.Place, Outcome: v.Outcome, Facts: v.Facts}}
}

// Failing returns the records that a check fails by at a place.
func (g *Gate) Failing(check, place string) []string {
	q := g.questions[check]
	if q == nil || !g.Asked(q) {
		return nil
	}
	v := checks.Judge(g.judgeCase(q, ""))
	var facts []string
	for _, p := range deciding(&v) {
		if p.Place == place && p.Outcome == checks.Fail {
			facts = append(facts, p.Facts...)
		}
	}
	return facts
}

// concessionFor returns the concession that accepts this point as it is. It
// covers the place it was agreed for and the readings that were known then: a
// later, perhaps worse one needs another.
func (g *Gate) concessionFor(check string, p checks.Point) string {
	for _, n := range g.Evidence.Nonconformities {
		current := n.Until.IsZero() || g.Evidence.Now.Before(n.Until)
		if n.Concession && !n.Open && current && n.Check == check && n.Place == p.Place && n.accepts(p.Facts) {
			return n.Number
		}
	}
	return ""
}

func (n Nonconformity) accepts(facts []string) bool {
	return !slices.ContainsFunc(facts, func(id string) bool { return !slices.Contains(n.Accepts, id) })
}

func (g *Gate) openOn(h *Hold, face string) []string {
	var open []string
	for _, n := range g.Evidence.Nonconformities {
		if !n.Open || n.Hold != h.ID() {
			continue
		}
		if face == "" || n.Place == "" || checks.FaceOf(n.Place) == face {
			open = append(open, n.Number)
		}
	}
	return open
}

// facesOf returns the faces a hold covers.
func (g *Gate) facesOf(h *Hold) []string {
	var faces []string
	for _, f := range g.Evidence.Room.Faces {
		for _, q := range h.Checks {
			if g.Asked(q) && q.Sampling.OnFaces() && q.Applies(g.Evidence.Room, f.Name) {
				faces = append(faces, f.Name)
				break
			}
		}
	}
	return faces
}

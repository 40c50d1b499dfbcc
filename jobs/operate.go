package jobs

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
)

// Note adds a remark that answers no check.
func (j *Job) Note(ctx context.Context, e Entry, phase, text string, photos []*Incoming) (*Record, error) {
	var r *Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		ph, err := j.Phase(phase)
		if err != nil {
			return "", err
		}
		if r, err = j.newRecord(e, NoteRecord, ph.Name); err != nil {
			return "", err
		}
		r.Note = text
		for _, in := range photos {
			r.Photos = append(r.Photos, in.Evidence)
			if err := in.store(j, op); err != nil {
				return "", err
			}
		}
		return ph.Name + ": note", r.write(op)
	})
	return r, err
}

// Correct replaces a wrong answer by the right one, or takes it back when text
// is "". Both stay in the job.
func (j *Job) Correct(ctx context.Context, c *Company, e Entry, id string, a Answer, reason string) (*Record, error) {
	var r *Record
	e.mends = true
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		old, err := j.FindRecord(id)
		if err != nil {
			return "", err
		}
		if err := j.clockRight(e.Now); err != nil && !old.Entered.After(e.Now) {
			return "", err
		}
		if !j.Current(old) {
			return "", problem(ErrInput, "correct that one instead", "%s is already superseded by %s", shortID(old.ID), shortID(j.superseded[old.ID]))
		}
		if err := mayCorrect(old, e.By, reason); err != nil {
			return "", err
		}
		if r, err = j.correction(c, e, old, a); err != nil {
			return "", err
		}
		r.Supersedes, r.Reason = []string{old.ID}, reason
		for _, in := range slices.Concat(a.Photos, a.Files) {
			if err := in.store(j, op); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("%s: %s corrected", r.Phase, shortID(old.ID)), r.write(op)
	})
	return r, err
}

// mayCorrect says why a record is not corrected, or not by this person. To take
// a nonconformity back is to decide about it.
func mayCorrect(old *Record, by Person, reason string) error {
	switch {
	case strings.TrimSpace(reason) == "":
		return problem(ErrInput, "add: --reason \"why\"", "a correction says why")
	case old.Kind == AdoptionRecord || old.Kind == WithdrawalRecord || old.Kind == VoidRecord:
		return problem(ErrInput, "", "a record of kind %q is not corrected", old.Kind)
	case old.Kind == NonconformityRec && !by.Has("owner"):
		return problem(ErrShut, "let the owner take it back: --by OWNER", "%s is taken back by the owner; %s is %s", old.Nonconformity, by.Name, strings.Join(by.Roles, ", "))
	}
	return nil
}

// correction makes the record that replaces old; what was not typed again is
// taken over.
func (j *Job) correction(c *Company, e Entry, old *Record, a Answer) (*Record, error) {
	if a.empty() {
		return j.newRecord(e, VoidRecord, old.Phase)
	}
	if old.Kind != AnswerRecord {
		return nil, problem(ErrInput, "take it back without a new value, and enter it again", "only an answer can be replaced in one step, not a %s", old.Kind)
	}
	q := j.Plan.Questions()[old.CheckID()]
	if q == nil {
		return nil, problem(ErrInput, "take it back: leave the value out", "the plan does not ask %s any more", old.CheckID())
	}
	takeOver(&a, old)
	r, err := j.newRecord(e, AnswerRecord, old.Phase)
	if err != nil {
		return nil, err
	}
	r.Check, r.Note, r.Number, r.Party = old.Check, a.Note, a.Number, a.Party
	if len(a.Photos) == 0 {
		r.Photos = slices.Clone(old.Photos)
	}
	if len(a.Files) == 0 {
		r.Files = slices.Clone(old.Files)
	}
	if err := r.fill(j, c, q, a, e.Now); err != nil {
		return nil, inputError(q.ID()+": "+err.Error(), err)
	}
	if err := r.setPlace(j, q, a.Place, nil); err != nil {
		return nil, inputError(err.Error(), err)
	}
	if other := j.answered(q, r.Place); other != nil && other.ID != old.ID && !q.Series && q.Kind != checks.Inspection {
		return nil, problem(ErrInput, "correct that one: proveout correct "+shortID(other.ID), "%s at %s has another answer already: %s", q.ID(), r.Place, other.shown())
	}
	return r, nil
}

// empty reports whether nothing was typed: a correction then takes the answer
// back.
func (a Answer) empty() bool {
	return a.Text == "" && a.Place == "" && a.Number == "" && a.Instrument == "" && a.Note == "" && a.Party == "" &&
		len(a.Values)+len(a.Photos)+len(a.Files) == 0 && a.Start.IsZero() && a.End.IsZero() && a.Measured.IsZero()
}

func takeOver(a *Answer, old *Record) {
	if a.Text == "" {
		a.Text = old.Value + old.Answer
	}
	a.Values = merged(old.Values, a.Values)
	if a.Place == "" {
		a.Place = old.Place
	}
	if a.Instrument == "" {
		a.kept = old.Instrument
	}
	if a.Measured.IsZero() {
		a.Measured = old.Measured
	}
	if a.Number == "" {
		a.Number = old.Number
	}
	if a.Note == "" {
		a.Note = old.Note
	}
	if a.Party == "" {
		a.Party = old.Party
	}
	if a.Start.IsZero() {
		a.Start = old.Start
	}
	if a.End.IsZero() {
		a.End = old.End
	}
}

// merged are the old values with the new ones in their places.
func merged(old, fresh []NamedText) []NamedText {
	all := slices.Clone(old)
	for _, v := range fresh {
		i := slices.IndexFunc(all, func(o NamedText) bool { return o.Name == v.Name })
		if i < 0 {
			all = append(all, v)
		} else {
			all[i] = v
		}
	}
	return all
}

// Penetration is a hole through retarder or insulation.
type Penetration struct {
	Place, For, Owner, Seal string
}

// AddPenetration puts a hole on the penetration list. After the release of the
// hold that counts them it also raises a nonconformity, which is returned.
func (j *Job) AddPenetration(ctx context.Context, e Entry, p Penetration) (hole, raised *Record, err error) {
	err = j.change(ctx, e, func(op *store.Operation) (string, error) {
		hole, raised = nil, nil
		if j.Room.Face(checks.FaceOf(p.Place)) == nil {
			u := Unknown("face", checks.FaceOf(p.Place), j.Room.FaceNames(), "")
			return "", u
		}
		if slices.Contains(j.penetrationPlaces(), p.Place) {
			return "", problem(ErrInput, "tell them apart, for example: proveout penetration \""+p.Place+"/2\"", "the list has a penetration at %s already", p.Place)
		}
		h, q := j.penetrationHold(e.Now)
		if h == nil {
			return "", problem(ErrInput, "", "the plan counts no penetrations")
		}
		if hole, err = j.newRecord(e, PenetrationRecord, q.Phase); err != nil {
			return "", err
		}
		hole.Place, hole.For, hole.Owner, hole.Seal = p.Place, p.For, p.Owner, p.Seal
		if err := hole.write(op); err != nil {
			return "", err
		}
		message := "penetration at " + p.Place + ": " + p.For
		if !j.wasReleased(h) {
			return message, nil
		}
		raised, err = j.raise(e, h.ID(), Raise{
			Check: q.ID(), Place: p.Place,
			Requirement: "no new hole after the release of " + h.ID(),
			Found:       "hole for " + p.For + " at " + p.Place,
		})
		if err != nil {
			return "", err
		}
		return message + " (" + raised.Nonconformity + ")", raised.write(op)
	})
	return hole, raised, err
}

// penetrationHold returns the hold that counts the penetrations in this job.
func (j *Job) penetrationHold(now time.Time) (*phases.Hold, *checks.Question) {
	g := j.Gate(now)
	for _, h := range j.Plan.Holds() {
		if !h.When.Holds(g.Decisions) {
			continue
		}
		for _, q := range h.Checks {
			if q.Sampling.Each == "penetration" && q.When.Holds(g.Decisions) {
				return h, q
			}
		}
	}
	return nil, nil
}

func (j *Job) wasReleased(h *phases.Hold) bool {
	return slices.ContainsFunc(j.Signoffs, func(s *Signoff) bool { return s.Hold == h.ID() && j.Standing(s) })
}

// Raise is what is known when a nonconformity is raised.
type Raise struct {
	Hold        string // phase.hold; "" takes the check's
	Check       string // phase.check, "" when it is not about one
	Place       string
	Requirement string
	Found       string
	Photos      []*Incoming
}

// RaiseNonconformity records a requirement that is not met. It keeps its hold
// shut until it is dealt with.
func (j *Job) RaiseNonconformity(ctx context.Context, e Entry, n Raise) (*Record, error) {
	var r *Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		g := j.Gate(e.Now)
		h, err := j.nonconformityHold(g, &n)
		if err != nil {
			return "", err
		}
		if n.Check != "" {
			if err := j.checkPlaceOf(n); err != nil {
				return "", err
			}
			j.describeFromCheck(g, h, &n)
			if q := j.Plan.Questions()[n.Check]; n.Place == "" && q != nil {
				n.Place = j.onlyPlace(q, nil)
			}
		}
		if n.Found == "" || n.Requirement == "" {
			return "", problem(ErrInput, "add: --requirement \"what was asked\" --found \"what was found\"", "a nonconformity says what was required and what was found")
		}
		if r, err = j.raise(e, h.ID(), n); err != nil {
			return "", err
		}
		for _, in := range n.Photos {
			r.Photos = append(r.Photos, in.Evidence)
			if err := in.store(j, op); err != nil {
				return "", err
			}
		}
		return r.Nonconformity + " raised: " + firstLine(n.Found), r.write(op)
	})
	return r, err
}

// nonconformityHold returns the hold it keeps shut, and writes the name of its
// check in full.
func (j *Job) nonconformityHold(g *phases.Gate, n *Raise) (*phases.Hold, error) {
	if n.Check == "" {
		return j.Hold(g, n.Hold)
	}
	phase, check, _ := strings.Cut(n.Check, ".")
	ph, err := j.Phase(phase)
	if err != nil {
		return nil, err
	}
	if _, err := j.Question(ph, check); err != nil {
		return nil, err
	}
	n.Check = ph.Name + "." + check
	return j.Plan.HoldOf(n.Check), nil
}

// describeFromCheck takes requirement and finding from a failing check.
func (j *Job) describeFromCheck(g *phases.Gate, h *phases.Hold, n *Raise) {
	for _, v := range g.Verdicts(h, "") {
		if v.Check != n.Check || v.Outcome != checks.Fail {
			continue
		}
		if n.Place == "" {
			n.Place = v.Place
		}
		if n.Requirement == "" {
			n.Requirement = strings.TrimSuffix(v.Ask+": "+v.Limit, ": ") + " (" + v.Source + ")"
		}
		for _, p := range v.Points {
			if n.Found == "" && p.Place == n.Place {
				n.Found = p.Value
			}
		}
	}
}

// checkPlaceOf reports a place at which the check is not asked: a decision about
// it would be about nothing.
func (j *Job) checkPlaceOf(n Raise) error {
	q := j.Plan.Questions()[n.Check]
	if q == nil || n.Place == "" {
		return nil
	}
	known, err := q.CheckPlace(j.Room, n.Place)
	if err == nil {
		return nil
	}
	if known == nil {
		return problem(ErrInput, "", "%v", err)
	}
	near := Unknown("place", checks.FaceOf(n.Place), known, "").(*Problem)
	near.What = err.Error()
	return near
}

func (j *Job) raise(e Entry, hold string, n Raise) (*Record, error) {
	phase, _, _ := strings.Cut(hold, ".")
	if n.Check != "" {
		phase, _, _ = strings.Cut(n.Check, ".")
	}
	r, err := j.newRecord(e, NonconformityRec, phase)
	if err != nil {
		return nil, err
	}
	r.Nonconformity, r.Hold, r.Place = j.newNumber(), hold, n.Place
	r.Requirement, r.Found = n.Requirement, n.Found
	if n.Check != "" {
		_, r.Check, _ = strings.Cut(n.Check, ".")
		if q := j.Plan.Questions()[n.Check]; q != nil {
			r.Code = q.Code
		}
	}
	return r, nil
}

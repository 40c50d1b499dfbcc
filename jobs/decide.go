package jobs

import (
	"context"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
)

// Decision is what somebody decides about a nonconformity.
type Decision struct {
	Disposition string // rework, repair, concession
	Limits      string // of a concession: where, how much, for what use
	Until       time.Time
	Cause       string
	Action      string // against its coming again
	Reason      string
}

// Dispose records the decision about a nonconformity. A safety check cannot be
// conceded.
func (j *Job) Dispose(ctx context.Context, e Entry, number string, d Decision) (*Record, error) {
	return j.follow(ctx, e, number, DispositionRecord, func(n *Nonconformity, r *Record) error {
		role, ok := decider[d.Disposition]
		if !ok {
			return Unknown("disposition", d.Disposition, Dispositions, "")
		}
		if !e.By.Has(role) && !e.By.Has("owner") {
			return problem(ErrShut, "let that person decide: --by NAME", "a %s is decided by the %s; %s is %s", d.Disposition, role, e.By.Name, strings.Join(e.By.Roles, ", "))
		}
		if d.Disposition == Concession {
			if err := j.mayConcede(n, d); err != nil {
				return err
			}
			if r.Accepts = j.Gate(e.Now).Failing(n.CheckID(), n.Place); n.Check != "" && r.Accepts == nil {
				return problem(ErrInput, "record what is there first; a concession accepts what was measured", "%s does not fail at %q: there is nothing to accept yet", n.CheckID(), n.Place)
			}
		}
		if n.Disposition != nil {
			r.Supersedes = []string{n.Disposition.ID}
		}
		r.Disposition, r.Limits, r.Until = d.Disposition, d.Limits, d.Until
		r.Cause, r.Action, r.Reason = d.Cause, d.Action, d.Reason
		return nil
	})
}

func (j *Job) mayConcede(n *Nonconformity, d Decision) error {
	if n.Check != "" && j.safety(n.CheckID()) {
		return problem(ErrShut, "do the work again: proveout nonconformity decide "+n.Record.Nonconformity+" rework", "%s is a safety check: it cannot be accepted as it is", n.CheckID())
	}
	if d.Limits == "" {
		return problem(ErrInput, "add: --limits \"bay 3 of the north wall only\"", "a concession is limited: say where, how much or for what use")
	}
	return nil
}

// Agree records that somebody who must agree to a concession does.
func (j *Job) Agree(ctx context.Context, e Entry, number, note string) (*Record, error) {
	return j.follow(ctx, e, number, AgreementRecord, func(n *Nonconformity, r *Record) error {
		if n.Disposition == nil || n.Disposition.Disposition != Concession {
			return problem(ErrInput, "decide first: proveout nonconformity decide "+number+" concession", "%s is not a concession", number)
		}
		if !slices.ContainsFunc(n.MustAgree(), func(role string) bool { return agrees(role, e.By) }) {
			return problem(ErrShut, "it is still wanted from: "+strings.Join(n.MustAgree(), ", "), "the agreement of %s is not wanted", e.By.Name)
		}
		if n.Disposition.By == e.By.Name {
			return problem(ErrShut, "let somebody else agree: --by NAME", "%s has decided it and cannot agree to it as well", e.By.Name)
		}
		r.Note, r.Accepts = note, []string{n.Disposition.ID}
		return nil
	})
}

func agrees(wanted string, by Person) bool {
	return slices.ContainsFunc(strings.Split(wanted, " or "), by.Has)
}

// CloseNonconformity records that a rework or repair was done and looked at again. A
// rework closes only when its check passes.
func (j *Job) CloseNonconformity(ctx context.Context, e Entry, number, note string) (*Record, error) {
	return j.follow(ctx, e, number, ClosingRecord, func(n *Nonconformity, r *Record) error {
		switch {
		case n.Disposition == nil:
			return problem(ErrInput, "decide first: proveout nonconformity decide "+number+" rework", "nobody has decided about %s", number)
		case n.Disposition.Disposition == Concession:
			return problem(ErrInput, "it is still wanted from: "+strings.Join(n.MustAgree(), ", "), "a concession is settled by agreement, not closed")
		case !e.By.Has("crew lead") && !e.By.Has("owner"):
			return problem(ErrShut, "let one of them close it: --by NAME", "%s is neither crew lead nor owner", e.By.Name)
		}
		if v := j.failing(n, e.Now); v != nil {
			return problem(ErrShut, "read it again: "+strings.Join(v.Next, "; "), "%s does not pass yet: %s", v.Check, strings.Join(v.Reasons, "; "))
		}
		r.Note = note
		return nil
	})
}

// failing returns the verdict of the nonconformity's check at its place, if it
// does not pass.
func (j *Job) failing(n *Nonconformity, now time.Time) *checks.Verdict {
	if n.Check == "" {
		return nil
	}
	h := j.Plan.HoldOf(n.CheckID())
	if h == nil {
		return nil
	}
	for _, v := range j.Gate(now).Verdicts(h, "") {
		if v.Check != n.CheckID() || v.Outcome == checks.Pass {
			continue
		}
		for _, p := range v.Points {
			if p.Place == n.Place && p.Outcome == checks.Pass {
				return nil
			}
		}
		return &v
	}
	return nil
}

// follow writes a record that follows on a nonconformity.
func (j *Job) follow(ctx context.Context, e Entry, number, kind string, fill func(*Nonconformity, *Record) error) (*Record, error) {
	var r *Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		n, err := j.Nonconformity(strings.ToUpper(number))
		if err != nil {
			return "", err
		}
		if !n.Open() {
			return "", problem(ErrInput, "see: proveout nonconformity", "%s is %s already", number, n.Status())
		}
		if r, err = j.newRecord(e, kind, n.Phase); err != nil {
			return "", err
		}
		r.Nonconformity, r.Hold, r.Check, r.Place = n.Record.Nonconformity, n.Hold, n.Check, n.Place
		if err := fill(n, r); err != nil {
			return "", err
		}
		return r.Nonconformity + ": " + kind, r.write(op)
	})
	return r, err
}

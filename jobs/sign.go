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

// longSilence is how far the clock may run ahead of the newest entry before a
// sign-off asks whether it is right. Common practice: permits take up to eight
// weeks.
const longSilence = 60 * 24 * time.Hour

// MaySign says why a person may not release a hold, or some of its faces, or
// nil, and the role in which the person would. The gate's facts must be
// current.
func (j *Job) MaySign(g *phases.Gate, h *phases.Hold, faces []string, by Person, role string) (string, error) {
	reasons, err := j.shut(g, h, faces)
	if err != nil {
		return "", err
	}
	if role, err = roleToSign(g, h, by, role); err != nil {
		return "", err
	}
	return role, stays(h, reasons)
}

// MayRelease says why nobody may release a hold, or some of its faces, or nil.
func (j *Job) MayRelease(g *phases.Gate, h *phases.Hold, faces []string) error {
	reasons, err := j.shut(g, h, faces)
	if err != nil {
		return err
	}
	return stays(h, reasons)
}

func stays(h *phases.Hold, reasons []string) error {
	if reasons == nil {
		return nil
	}
	slices.Sort(reasons)
	return problem(ErrShut, "see what is missing and what to type: proveout check "+h.ID(), "%s stays shut:\n  %s", h.ID(), strings.Join(slices.Compact(reasons), "\n  "))
}

// shut returns the reasons that keep a hold, or some of its faces, shut. It is
// an error when the question makes no sense or the record is doubtful.
func (j *Job) shut(g *phases.Gate, h *phases.Hold, faces []string) ([]string, error) {
	if err := j.trusted(g.Evidence.Now); err != nil {
		return nil, err
	}
	if len(faces) > 0 && !h.FaceByFace {
		return nil, problem(ErrInput, "leave out --face", "%s is released as a whole", h.ID())
	}
	s := g.State(h)
	if s.State == phases.NotApplicable {
		return nil, problem(ErrInput, "see: proveout status", "%s does not apply to this job", h.ID())
	}
	if err := j.evidenceAsRecorded(j.RestsOn(g, h, faces)); err != nil {
		return nil, err
	}
	if len(faces) == 0 {
		return shutReasons(s), nil
	}
	var reasons []string
	for _, face := range faces {
		if !slices.Contains(s.Faces, face) {
			return nil, Unknown("face of this hold called", face, s.Faces, "")
		}
		reasons = append(reasons, shutReasons(g.FaceState(h, face))...)
	}
	return reasons, nil
}

// evidenceAsRecorded hashes the evidence of records: what is about to be bound
// by its hash must be the file that was recorded.
func (j *Job) evidenceAsRecorded(records []*Record) error {
	sums := map[string]string{}
	var wrong []string
	for _, r := range records {
		for _, e := range slices.Concat(r.Photos, r.Files) {
			if j.hash(e.Path, sums) != e.SHA256 {
				wrong = append(wrong, fmt.Sprintf("%s is not the file that record %s names", e.Path, shortID(r.ID)))
			}
		}
	}
	if wrong == nil {
		return nil
	}
	return problem(ErrIntegrity, "bring it back: git -C "+j.Dir+" checkout -- PATH; look with: proveout verify", "%s", strings.Join(wrong, "\n"))
}

// trusted reports what makes the job's record itself doubtful.
func (j *Job) trusted(now time.Time) error {
	if len(j.Edited) > 0 {
		return j.editsProblem()
	}
	if last := j.Last(); now.Sub(last) > longSilence {
		return problem(ErrDecide, "if the clock is right, write a note of today first: proveout record --note \"work goes on after the pause\" --by NAME\nif it is wrong, set it right",
			"the clock says %s; the newest entry is of %s, %d days before", moment(now, j.Zone), moment(last, j.Zone), int(now.Sub(last).Hours()/24))
	}
	if err := j.unharmed(nil); err != nil {
		return err
	}
	for _, s := range j.Signoffs {
		if len(s.broken) > 0 && j.Standing(s) {
			return problem(ErrIntegrity, "look with: proveout verify", "sign-off %s of %s rests on files that are not what was signed:\n  %s", shortID(s.ID), s.Hold, strings.Join(s.broken, "\n  "))
		}
	}
	if tampered, err := j.tampered(); err != nil || tampered != nil {
		if err != nil {
			return err
		}
		return problem(ErrIntegrity, "look with: proveout verify\nbring the files back from the history, for example: git -C "+j.Dir+" checkout COMMIT~1 -- PATH", "the history shows that facts were changed or removed:\n  %s", strings.Join(tampered, "\n  "))
	}
	return j.soundPlan()
}

// soundPlan reports adoptions that nobody may have made.
func (j *Job) soundPlan() error {
	bad, err := j.badAdoptions()
	if err != nil || bad == nil {
		return err
	}
	var texts []string
	for _, f := range bad {
		texts = append(texts, f.Text)
	}
	return problem(ErrIntegrity, "look with: proveout verify", "the plan in force was not adopted by the rules:\n  %s", strings.Join(texts, "\n  "))
}

func shutReasons(s *phases.HoldState) []string {
	var reasons []string
	for _, up := range s.BlockedBy {
		reasons = append(reasons, up+" must be released first")
	}
	for _, v := range s.Verdicts {
		if v.Settled() {
			continue
		}
		why := v.Outcome.String()
		if len(v.Reasons) > 0 {
			why += ": " + v.Reasons[0]
		}
		if v.Safety && v.Outcome.String() == "fail" {
			why += " (a safety check cannot be conceded)"
		}
		reasons = append(reasons, v.Check+" "+why)
	}
	for _, n := range s.Open {
		reasons = append(reasons, n+" is open")
	}
	return reasons
}

// roleToSign finds the role in which a person signs.
func roleToSign(g *phases.Gate, h *phases.Hold, by Person, role string) (string, error) {
	roles := h.Roles(g.Decisions)
	if role != "" && !slices.Contains(roles, role) {
		return "", problem(ErrInput, "it is signed by: "+strings.Join(roles, ", "), "nobody signs %s as %s", h.ID(), role)
	}
	wanted := g.State(h).WantRoles
	for _, r := range slices.Concat(wanted, roles) {
		if (role == "" || r == role) && by.Has(r) {
			return r, nil
		}
	}
	return "", problem(ErrShut, "let one of them sign: --by NAME", "%s may not sign %s: it is signed by %s, and %s is %s", by.Name, h.ID(), strings.Join(roles, ", "), by.Name, strings.Join(by.Roles, ", "))
}

// Draft is a sign-off as it would be written, to be shown before it is signed.
func (j *Job) Draft(g *phases.Gate, h *phases.Hold, faces []string, by Person, role string) (*Signoff, error) {
	basis, err := j.basis(h)
	if err != nil {
		return nil, err
	}
	s := &Signoff{
		Job: j.ID, Hold: h.ID(), Title: h.Title, Faces: faces, Role: role, By: by.Name, Licence: by.Licence,
		At: g.Evidence.Now.In(j.Zone).Truncate(time.Second), Basis: basis,
	}
	for _, v := range j.verdicts(g, h, faces) {
		c := CheckResult{
			Check: v.Check, Outcome: v.Outcome.String(), Value: v.Value, Limit: v.Limit, Margin: v.Margin,
			Place: v.Place, Concession: v.Concedes, Taken: v.Taken, Planned: v.Planned,
		}
		s.Checks = append(s.Checks, c)
		if v.Concedes != "" && !slices.Contains(s.Concessions, v.Concedes) {
			s.Concessions = append(s.Concessions, v.Concedes)
		}
	}
	s.SelfInspection = slices.ContainsFunc(j.RestsOn(g, h, faces), func(r *Record) bool { return r.By == by.Name })
	s.Statement = statement(s)
	return s, nil
}

func (j *Job) verdicts(g *phases.Gate, h *phases.Hold, faces []string) (all []checks.Verdict) {
	if len(faces) == 0 {
		return g.Verdicts(h, "")
	}
	for _, face := range faces {
		all = append(all, g.Verdicts(h, face)...)
	}
	return all
}

func statement(s *Signoff) string {
	what := fmt.Sprintf("hold point %s (%s) of job %s", s.Hold, s.Title, s.Job)
	if len(s.Faces) > 0 {
		what += ", only " + strings.Join(s.Faces, ", ")
	}
	text := fmt.Sprintf("I, %s, %s, release %s. I have seen the results listed here and the limits they were compared with.", s.By, s.Role, what)
	if s.Concessions != nil {
		text += " I know of the concessions " + strings.Join(s.Concessions, ", ") + "."
	}
	if s.SelfInspection {
		text += " I took some of these readings myself."
	}
	return text
}

// Sign releases a hold, or some of its faces; no faces are the whole hold. It judges again under the lock,
// so that nothing can change between what was shown and what is signed: shown
// is the draft the person saw, nil when nothing was shown.
func (j *Job) Sign(ctx context.Context, e Entry, hold string, faces []string, role string, shown *Signoff) (*Signoff, error) {
	var s *Signoff
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		g := j.Gate(e.Now)
		h, err := j.Hold(g, hold)
		if err != nil {
			return "", err
		}
		role, err := j.MaySign(g, h, faces, e.By, role)
		if err != nil {
			return "", err
		}
		if s, err = j.Draft(g, h, faces, e.By, role); err != nil {
			return "", err
		}
		if shown != nil && fmt.Sprint(shown.Checks) != fmt.Sprint(s.Checks) {
			return "", problem(ErrDecide, "look again and sign again", "the results changed while you were reading")
		}
		if s.ID, err = newID(e.Now, e.Random); err != nil {
			return "", err
		}
		j.bind(g, h, s)
		return s.message(), j.writeSignoff(op, s)
	})
	return s, err
}

func (s *Signoff) message() string {
	text := s.Hold + " released by the " + s.Role
	if len(s.Faces) > 0 {
		text += ": " + strings.Join(s.Faces, ", ")
	}
	return text
}

// bind lists what the sign-off rests on.
func (j *Job) bind(g *phases.Gate, h *phases.Hold, s *Signoff) {
	add := func(sum, path string) {
		if !slices.Contains(s.List, Listed{sum, path}) {
			s.List = append(s.List, Listed{sum, path})
		}
	}
	for _, path := range []string{JobFile, j.phasePath(h.Phase)} {
		add(j.planSums[path], path)
	}
	add(j.adopted().sum, j.adopted().Path())
	for _, r := range j.RestsOn(g, h, s.Faces) {
		add(r.sum, r.Path())
		for _, e := range slices.Concat(r.Photos, r.Files) {
			add(e.SHA256, e.Path)
		}
	}
	for _, o := range j.Upstream(g, h) {
		s.Upstream = append(s.Upstream, o.ID)
		add(o.sum, o.Path())
		add(o.Fingerprint, o.ListPath())
	}
	for _, o := range j.Signoffs {
		if o.Hold == s.Hold && o.Role == s.Role && slices.Equal(o.Faces, s.Faces) && j.Standing(o) {
			s.Replaces = append(s.Replaces, o.ID)
		}
	}
}

// Upstream returns the standing sign-offs of the holds right before h.
func (j *Job) Upstream(g *phases.Gate, h *phases.Hold) []*Signoff {
	before := g.Plan.Before(h, g.Decisions)
	var all []*Signoff
	for _, o := range j.Signoffs {
		upstream := slices.ContainsFunc(before, func(up *phases.Hold) bool { return up.ID() == o.Hold })
		if upstream && j.Standing(o) {
			all = append(all, o)
		}
	}
	return all
}

func (j *Job) writeSignoff(op *store.Operation, s *Signoff) error {
	text := s.encode()
	s.sum = sum(text)
	s.List = append([]Listed{{s.sum, s.Path()}}, s.List...)
	list := []byte(listText(s.List))
	s.Fingerprint = sum(list)
	if err := op.Create(s.Path(), text); err != nil {
		return err
	}
	return op.Create(s.ListPath(), list)
}

// Withdraw takes a hold's sign-offs back.
func (j *Job) Withdraw(ctx context.Context, e Entry, hold, reason string) ([]*Signoff, error) {
	var taken []*Signoff
	e.mends = true
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		h, err := j.Hold(j.Gate(e.Now), hold)
		if err != nil {
			return "", err
		}
		if strings.TrimSpace(reason) == "" {
			return "", problem(ErrInput, "add: --reason \"why\"", "a withdrawal says why")
		}
		ahead := slices.ContainsFunc(j.Signoffs, func(s *Signoff) bool { return s.Hold == h.ID() && s.At.After(e.Now) && j.Standing(s) })
		if err := j.clockRight(e.Now); err != nil && !ahead {
			return "", err
		}
		for _, s := range j.Signoffs {
			if s.Hold != h.ID() || !j.Standing(s) {
				continue
			}
			if !e.By.Has(s.Role) && !e.By.Has("owner") {
				return "", problem(ErrShut, "let that role or the owner withdraw it", "%s is neither %s nor owner", e.By.Name, s.Role)
			}
			r, err := j.newRecord(e, WithdrawalRecord, h.Phase.Name)
			if err != nil {
				return "", err
			}
			r.Signoff, r.Hold, r.Reason = s.ID, s.Hold, reason
			if err := r.write(op); err != nil {
				return "", err
			}
			taken = append(taken, s)
		}
		if taken == nil {
			return "", problem(ErrInput, "see: proveout status", "%s has no sign-off to withdraw", h.ID())
		}
		return h.ID() + " withdrawn", nil
	})
	return taken, err
}

package jobs

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
)

// Answer is what a person enters for one check at one place.
type Answer struct {
	Phase, Check string
	Place        string
	Text         string // the value or the answer, as typed
	Values       []NamedText
	Number       string
	Start, End   time.Time
	Instrument   string
	Measured     time.Time // zero: now
	Photos       []*Incoming
	Files        []*Incoming
	Note         string
	Party        string // of an inspection or paper: "building inspector R. Stone"
	Rework       string // what was done since; the answer replaces the former one
	By           Person // who answers; zero: the one who enters it

	// Where names the place in a sheet where a part of the answer is written:
	// check, place, value, instrument, by or measured; nil without a sheet.
	Where func(part string) string

	kept *Instrument // taken over with its certificate of that day
}

// partError is a problem of one part of an answer.
type partError struct {
	part string
	error
}

func (e *partError) Unwrap() error { return e.error }

func wrongPart(part string, err error) error {
	if err == nil {
		return nil
	}
	return &partError{part, err}
}

// located is the text of a problem, with the place in the sheet before it.
func (a Answer) located(err error) string {
	if a.Where == nil {
		return err.Error()
	}
	part := "value"
	var wrong *partError
	if errors.As(err, &wrong) {
		part = wrong.part
	}
	return a.Where(part) + ": " + err.Error()
}

// Record enters answers, all in one commit, and returns their records. Either
// all are entered or none.
func (j *Job) Record(ctx context.Context, c *Company, e Entry, answers ...Answer) ([]*Record, error) {
	var records []*Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		records = nil
		var problems []string
		gate := j.Gate(e.Now)
		for _, a := range answers {
			r, err := j.answer(c, e, gate, a, records)
			if err != nil && len(answers) == 1 {
				return "", inputError(a.located(err), err)
			}
			if err != nil {
				problems = append(problems, a.located(err))
				continue
			}
			records = append(records, r)
		}
		if problems != nil {
			return "", problem(ErrInput, "nothing was entered; correct these and enter all again", "%s", strings.Join(problems, "\n"))
		}
		return answersMessage(records), j.writeAnswers(op, records, answers)
	})
	return records, err
}

// inputError is an error of what was typed; an unknown name stays not found.
func inputError(text string, err error) error {
	kind := ErrInput
	if errors.Is(err, ErrNotFound) {
		kind = ErrNotFound
	}
	return problem(kind, "", "%s", text)
}

func (j *Job) writeAnswers(op *store.Operation, records []*Record, answers []Answer) error {
	for i, r := range records {
		for _, in := range slices.Concat(answers[i].Photos, answers[i].Files) {
			if err := in.store(j, op); err != nil {
				return err
			}
		}
		if err := r.write(op); err != nil {
			return err
		}
	}
	return nil
}

func answersMessage(records []*Record) string {
	if len(records) == 1 {
		r := records[0]
		text := r.CheckID() + ": " + r.shown()
		if r.Place != "" {
			text += " at " + r.Place
		}
		return text
	}
	return fmt.Sprintf("%s: %d answers", records[0].Phase, len(records))
}

// shown is the record's answer in one line.
func (r *Record) shown() string {
	switch {
	case r.Value != "":
		return r.Value
	case r.Answer != "":
		return strings.TrimSpace(r.Answer + " " + r.Number)
	case len(r.Values) > 0:
		var parts []string
		for _, v := range r.Values {
			parts = append(parts, v.Name+" "+v.Text)
		}
		return strings.Join(parts, ", ")
	case !r.Start.IsZero():
		return "started " + r.Start.Format("2006-01-02 15:04")
	case len(r.Files) > 0:
		return r.Files[0].Name
	}
	return "entered"
}

// Shown is the record's answer in one line, as it was written.
func (r *Record) Shown() string { return r.shown() }

// answer checks what was typed and makes its record. earlier are records of
// the same operation.
func (j *Job) answer(c *Company, e Entry, g *phases.Gate, a Answer, earlier []*Record) (*Record, error) {
	q, err := j.asked(g, a.Phase, a.Check)
	if err != nil {
		return nil, wrongPart("check", err)
	}
	if !q.WantsRecord(j.Room) {
		return nil, fmt.Errorf("%s: it is computed from other records and from job.yaml, and wants no record of its own", q.ID())
	}
	if a.By.Name != "" {
		e.By = a.By
	}
	r, err := j.newRecord(e, AnswerRecord, q.Phase)
	if err != nil {
		return nil, err
	}
	r.Check, r.Note, r.Number, r.Party = q.Name, a.Note, a.Number, a.Party
	if err := r.fill(j, c, q, a, e.Now); err != nil {
		return nil, fmt.Errorf("%s: %w", q.ID(), err)
	}
	if err := r.setPlace(j, q, a.Place, earlier); err != nil {
		return nil, wrongPart("place", err)
	}
	if err := j.replace(r, q, a.Rework, earlier); err != nil {
		return nil, wrongPart("place", err)
	}
	j.takeIn(r)
	return r, nil
}

// asked finds a check of the plan that is asked in this job.
func (j *Job) asked(g *phases.Gate, phase, check string) (*checks.Question, error) {
	ph, err := j.Phase(phase)
	if err != nil {
		return nil, err
	}
	q, err := j.Question(ph, check)
	if err != nil {
		return nil, err
	}
	if h := j.Plan.HoldOf(q.ID()); !g.Asked(q) || !h.When.Holds(g.Decisions) {
		return nil, fmt.Errorf("%s is not asked in this job\nits conditions do not hold; see: proveout check %s", q.ID(), ph.Name)
	}
	return q, nil
}

// setPlace checks the place, or finds the only one it can be.
func (r *Record) setPlace(j *Job, q *checks.Question, place string, earlier []*Record) error {
	if place == "" {
		place = j.onlyPlace(q, earlier)
	}
	if place == "" {
		expected := q.Expected(j.Room, "")
		if len(expected) == 0 {
			return fmt.Errorf("%s: the job has no %s yet; put it on the list first", q.ID(), q.Sampling.Each)
		}
		return fmt.Errorf("%s: say where: --at %q\nplaces: %s", q.ID(), expected[0], strings.Join(expected, ", "))
	}
	r.Place = place
	known, err := q.CheckPlace(j.Room, place)
	if err == nil || known == nil {
		return err
	}
	unknown := Unknown("place", checks.FaceOf(place), known, "").(*Problem)
	unknown.What = err.Error()
	return unknown
}

// onlyPlace is the next free place of a check that is not about faces or named
// places, or the one place it has.
func (j *Job) onlyPlace(q *checks.Question, earlier []*Record) string {
	s := q.Sampling
	if s.OnFaces() || s.Places != nil || s.Each != "" {
		if expected := q.Expected(j.Room, ""); len(expected) == 1 {
			return expected[0]
		}
		return ""
	}
	if s.AtLeast <= 1 {
		return "point 1"
	}
	used := map[string]bool{}
	for _, o := range slices.Concat(j.Records, earlier) {
		if o.Kind == AnswerRecord && o.CheckID() == q.ID() && j.Current(o) {
			used[o.Place] = true
		}
	}
	for n := 1; ; n++ {
		if place := fmt.Sprintf("point %d", n); !used[place] {
			return place
		}
	}
}

// replace handles a place that already has an answer.
func (j *Job) replace(r *Record, q *checks.Question, rework string, earlier []*Record) error {
	for _, o := range earlier {
		if o.CheckID() == r.CheckID() && o.Place == r.Place && !q.Series {
			return fmt.Errorf("%s at %s is answered twice", q.ID(), r.Place)
		}
	}
	if q.Series || q.Kind == checks.Inspection {
		return nil
	}
	for _, o := range j.Records {
		if o.Kind != AnswerRecord || o.CheckID() != r.CheckID() || o.Place != r.Place || !j.Current(o) {
			continue
		}
		if rework == "" {
			return fmt.Errorf("%s at %s has an answer already: %s (%s)\nif the work was done again: --rework \"what was done\"\nif it was a mistake:        proveout correct %s \"the right answer\" --reason \"why\"",
				q.ID(), r.Place, o.shown(), o.Entered.Format("2 Jan 15:04"), shortID(o.ID))
		}
		r.Supersedes, r.Reason = append(r.Supersedes, o.ID), "rework: "+rework
	}
	return nil
}

// shortID is the end of an id that people type.
func shortID(id string) string { return id[strings.LastIndex(id, "-")+1:] }

// ShortID is the end of the record's id that people type.
func (r *Record) ShortID() string { return shortID(r.ID) }

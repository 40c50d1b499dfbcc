package jobs

import (
	"context"
	"fmt"
	"slices"

	"proveout/checks"
	"proveout/jobs/store"
)

// mostFiles bounds the files of one record, so that its own file stays far
// below what a record may be.
const mostFiles = 400

// Attach adds photos or documents to a check at a place. An answer that is
// there is superseded by the same answer with the files: it keeps who gave it
// and when it was measured. A check that asks for a document or a logger file
// is answered by it. Otherwise the files wait in a note, and the first answer
// at that place takes them in. It returns the record that holds the files.
func (j *Job) Attach(ctx context.Context, c *Company, e Entry, a Answer) (*Record, error) {
	var r *Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		q, err := j.asked(j.Gate(e.Now), a.Phase, a.Check)
		if err != nil {
			return "", err
		}
		if q.Kind == checks.Paper {
			a.Files, a.Photos = slices.Concat(a.Files, a.Photos), nil
		}
		if r, err = j.attachment(c, e, q, a); err != nil {
			return "", inputError(err.Error(), err)
		}
		if n := len(r.Photos) + len(r.Files); n > mostFiles {
			return "", problem(ErrInput, "attach them in several parts, each at its own place", "%d files are too many for one record; it takes %d", n, mostFiles)
		}
		return attachMessage(r, a), j.writeAnswers(op, []*Record{r}, []Answer{a})
	})
	return r, err
}

func attachMessage(r *Record, a Answer) string {
	what := "1 file"
	if n := len(a.Photos) + len(a.Files); n != 1 {
		what = fmt.Sprintf("%d files", n)
	}
	return fmt.Sprintf("%s: %s attached at %s", r.CheckID(), what, r.Place)
}

// attachment makes the record that holds the files.
func (j *Job) attachment(c *Company, e Entry, q *checks.Question, a Answer) (*Record, error) {
	if a.Place == "" && !q.PhotoEach {
		a.Place = j.lastPlace(q)
	}
	at := &Record{Check: q.Name}
	if err := at.setPlace(j, q, a.Place, nil); err != nil {
		return nil, err
	}
	if old := j.answered(q, at.Place); old != nil {
		if err := a.loggersWith(c, old.Instrument); err != nil {
			return nil, err
		}
		return j.withFiles(e, old, a)
	}
	if check := checks.ByName(q.Compute); q.Kind == checks.Paper || check != nil && check.Log {
		return j.answer(c, e, j.Gate(e.Now), a, nil)
	}
	r, err := j.newRecord(e, NoteRecord, q.Phase)
	if err != nil {
		return nil, err
	}
	r.Check, r.Place, r.Note = q.Name, at.Place, a.Note
	if err := a.loggersWith(c, nil); err != nil {
		return nil, err
	}
	for _, in := range a.Photos {
		r.Photos = append(r.Photos, in.Evidence)
	}
	for _, in := range a.Files {
		r.Files = append(r.Files, in.Evidence)
	}
	return r, nil
}

// loggersWith notes with logger files the instrument that they come from, unless
// it is the one of the answer they go to.
func (a Answer) loggersWith(c *Company, of *Instrument) error {
	if a.Instrument == "" {
		return nil
	}
	i, err := c.Instrument(a.Instrument)
	if err != nil || of != nil && *of == i {
		return err
	}
	for _, in := range a.Files {
		if in.Logger != nil {
			in.Logger.Instrument = &i
		}
	}
	return nil
}

// lastPlace is the place of the newest answer to a check, "" before the first.
// Where one photo is wanted for all places, or a document, files go there.
func (j *Job) lastPlace(q *checks.Question) string {
	place := ""
	for _, o := range j.Records {
		if o.Kind == AnswerRecord && o.CheckID() == q.ID() && j.Current(o) {
			place = o.Place
		}
	}
	return place
}

// answered returns the current answer at a place, the last one measured where
// there are several, or nil.
func (j *Job) answered(q *checks.Question, place string) *Record {
	var last *Record
	for _, o := range j.Records {
		if o.Kind != AnswerRecord || o.CheckID() != q.ID() || o.Place != place || !j.Current(o) {
			continue
		}
		if last == nil || !o.Measured.Before(last.Measured) {
			last = o
		}
	}
	return last
}

// withFiles is an answer once more with files added to it.
func (j *Job) withFiles(e Entry, old *Record, a Answer) (*Record, error) {
	fresh, err := j.newRecord(e, AnswerRecord, old.Phase)
	if err != nil {
		return nil, err
	}
	r := *old
	r.ID, r.Entered, r.path, r.sum = fresh.ID, fresh.Entered, "", ""
	r.Supersedes, r.Reason = []string{old.ID}, "files added by "+e.By.Name
	r.Photos, r.Files = slices.Clone(old.Photos), slices.Clone(old.Files)
	for _, in := range a.Photos {
		r.Photos = append(r.Photos, in.Evidence)
	}
	for _, in := range a.Files {
		r.Files = append(r.Files, in.Evidence)
	}
	if a.Note != "" {
		r.Note = a.Note
	}
	return &r, nil
}

// takeIn moves files that waited for this answer into it.
func (j *Job) takeIn(r *Record) {
	for _, o := range j.Records {
		if o.Kind != NoteRecord || o.Check == "" || o.CheckID() != r.CheckID() || o.Place != r.Place || !j.Current(o) {
			continue
		}
		r.Photos, r.Files = append(r.Photos, o.Photos...), append(r.Files, o.Files...)
		r.Supersedes = append(r.Supersedes, o.ID)
		if r.Note == "" {
			r.Note = o.Note
		}
		if r.Reason == "" {
			r.Reason = "takes in the files attached before"
		}
	}
}

// Attached reports whether a current record of a check holds this file.
func (j *Job) Attached(phase, check, place string, in *Incoming) bool {
	for _, r := range j.Records {
		if r.Phase != phase || r.Check != check || place != "" && r.Place != place || !j.Current(r) {
			continue
		}
		if slices.ContainsFunc(slices.Concat(r.Photos, r.Files), in.same) {
			return true
		}
	}
	return false
}

// Same reports whether two files are the same picture or document.
func (in *Incoming) Same(other *Incoming) bool { return in.same(other.Evidence) }

// same compares the files as they came, and what is kept of them: two files
// of one picture may differ in what a phone writes beside it.
func (in *Incoming) same(e Evidence) bool {
	return in.came() == e.came() || in.SHA256 == e.SHA256
}

// came is the hash of the file as it came.
func (e Evidence) came() string {
	if e.Original != "" {
		return e.Original
	}
	return e.SHA256
}

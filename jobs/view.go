package jobs

import (
	"os"
	"slices"
	"strings"
	"time"

	"proveout/jobs/photo"
	"proveout/jobs/store"
	"proveout/phases"
)

// View is a job at its newest commit. Documents are computed from it alone,
// and its time is the time of all that is judged, so the same commit gives the
// same documents.
type View struct {
	*Job
	Commit string    // hash of the commit
	At     time.Time // of the commit, in the job's zone
	Gate   *phases.Gate
}

// View returns the job at its newest commit. It is an error when plan, records,
// evidence or sign-offs in the folder differ from that commit.
func (j *Job) View() (*View, error) {
	if len(j.Edited) > 0 {
		return nil, j.editsProblem()
	}
	if err := j.unharmed(nil); err != nil {
		return nil, err
	}
	if err := j.inHistory(); err != nil {
		return nil, err
	}
	head, err := j.repo.Head()
	if err != nil {
		return nil, err
	}
	at := head.When.In(j.Zone)
	return &View{Job: j, Commit: head.Hash, At: at, Gate: j.Gate(at)}, nil
}

// inHistory reports facts that are saved but not committed yet.
func (j *Job) inHistory() error {
	changes, err := j.repo.Changes()
	if err != nil {
		return err
	}
	var saved []string
	for _, c := range changes {
		top, _, _ := strings.Cut(c.Path, "/")
		if slices.Contains(factFolders, top) && c.Kind == store.Added {
			saved = append(saved, c.Path)
		}
	}
	if saved == nil {
		return nil
	}
	return problem(ErrDecide, "the next entry takes them in, for example: proveout record --note \"the rest of the day\" --by NAME",
		"documents are computed from the history, and these files are saved but not in it yet:\n%s", strings.Join(saved, "\n"))
}

// HoldRecords returns the records that a hold rests on, or some of its faces,
// also those that were superseded since.
func (v *View) HoldRecords(h *phases.Hold, faces []string) []*Record {
	return v.RestsOn(v.Gate, h, faces)
}

// Record returns the record with this id, or nil.
func (v *View) Record(id string) *Record { return v.byID[id] }

// Releases returns the standing sign-offs of a hold, the oldest first.
func (v *View) Releases(hold string) []*Signoff {
	var all []*Signoff
	for _, s := range v.Signoffs {
		if s.Hold == hold && v.Standing(s) {
			all = append(all, s)
		}
	}
	slices.SortStableFunc(all, func(a, b *Signoff) int { return a.At.Compare(b.At) })
	return all
}

// Photo returns a photo of the job as a JPEG for a document: upright, its
// longest side at most so many pixels, without the location or other notes of a
// camera. The file in the job stays as it is.
func (v *View) Photo(file string, longest int) ([]byte, error) {
	root, err := os.OpenRoot(v.Dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	data, err := root.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return photo.Shrink(data, longest)
}

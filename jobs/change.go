package jobs

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"proveout/jobs/store"
)

// Entry says who does something, when, and where random names come from.
type Entry struct {
	By     Person
	Now    time.Time
	Random io.Reader
	// Say receives what an operation has to tell beside its result, such as a
	// lock that a dead process left; nil hears nothing.
	Say func(note string)
	// mends is set within this package for an entry that may be the one to take
	// back what a wrong clock has dated in the future.
	mends bool
}

// lockWait is how long an operation waits for another one to finish.
const lockWait = 10 * time.Second

// change runs one operation: lock, read the job again, write, one commit.
// do returns the commit's message.
func (j *Job) change(ctx context.Context, e Entry, do func(op *store.Operation) (string, error)) error {
	return j.changeEdited(ctx, e, false, do)
}

// changeEdited is change, also while plan or job file hold edits that are not
// adopted.
func (j *Job) changeEdited(ctx context.Context, e Entry, edited bool, do func(op *store.Operation) (string, error)) (err error) {
	op, err := j.repo.Lock(ctx, lockWait)
	if err != nil {
		return err
	}
	if e.Say != nil {
		for _, note := range op.Notes() {
			e.Say(note)
		}
	}
	defer func() { err = errors.Join(err, op.Close()) }()
	if err := j.reload(); err != nil {
		return err
	}
	if err := j.mayWrite(e, edited, op); err != nil {
		return err
	}
	message, err := do(op)
	if err != nil {
		return err
	}
	if _, err := op.Commit(message, store.Author{Name: e.By.Name}, e.Now); err != nil {
		return err
	}
	return j.reload()
}

// reload reads the job's folder again.
func (j *Job) reload() error {
	fresh := &Job{Dir: j.Dir, repo: j.repo, memory: j.memory}
	if err := fresh.load(); err != nil {
		return err
	}
	*j = *fresh
	return nil
}

func (j *Job) mayWrite(e Entry, edited bool, op *store.Operation) error {
	if len(j.Edited) > 0 && !edited {
		return j.editsProblem()
	}
	if !e.mends {
		if err := j.clockRight(e.Now); err != nil {
			return err
		}
	}
	return j.unharmed(op)
}

// clockRight reports a clock that runs behind the newest entry.
func (j *Job) clockRight(now time.Time) error {
	if last := j.Last(); now.Before(last) {
		return problem(ErrDecide, "set the clock right; if the newest entry is the wrong one, take it back: proveout correct ID --reason \"the clock was wrong\", or proveout withdraw",
			"the clock says %s, but the newest entry in %s is of %s", moment(now, j.Zone), j.ID, moment(last, j.Zone))
	}
	return nil
}

func (j *Job) editsProblem() error {
	return problem(ErrDecide, "see the difference:    proveout adopt\nkeep it:               proveout adopt --reason \"why\" --by NAME\nput the files back:    proveout adopt --put-back",
		"edited by hand and not adopted: %s", strings.Join(j.Edited, ", "))
}

// unharmed reports records, evidence and sign-offs that differ from the
// history. With op given, files that an interrupted operation left are taken
// into this commit.
func (j *Job) unharmed(op *store.Operation) error {
	changes, err := j.repo.Changes()
	if err != nil {
		return err
	}
	var harmed []string
	for _, c := range changes {
		top, _, _ := strings.Cut(c.Path, "/")
		if op != nil && len(j.Edited) == 0 && j.planSums[c.Path] != "" {
			op.Add(c.Path) // put back after somebody committed another text
		}
		if !slices.Contains(factFolders, top) {
			continue
		}
		if isSignature(c.Path) && c.Kind != store.Added {
			continue // somebody's own file: renewed or taken away
		}
		if c.Kind == store.Added {
			if op != nil {
				op.Add(c.Path)
			}
			continue
		}
		harmed = append(harmed, fmt.Sprintf("%s was %s", c.Path, c.Kind))
	}
	if harmed == nil {
		return nil
	}
	return problem(ErrIntegrity, "bring the file back: git -C "+j.Dir+" checkout -- PATH; look with: proveout verify",
		"facts are never changed or removed:\n%s", strings.Join(harmed, "\n"))
}

// moment prints a time in the job's zone.
func moment(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("Mon 2 January 2006 15:04")
}

// newRecord begins a record of this entry.
func (j *Job) newRecord(e Entry, kind, phase string) (*Record, error) {
	id, err := newID(e.Now, e.Random)
	if err != nil {
		return nil, err
	}
	now := e.Now.In(j.Zone).Truncate(time.Second)
	return &Record{
		Kind: kind, ID: id, Job: j.ID, Phase: phase, By: e.By.Name, Roles: e.By.Roles, Licence: e.By.Licence,
		Measured: now, Entered: now,
	}, nil
}

// write creates the record's file.
func (r *Record) write(op *store.Operation) error { return op.Create(r.Path(), r.Encode()) }

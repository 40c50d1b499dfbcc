package store

import (
	"context"
	"errors"
	"fmt"
	"hash/fnv"
	"io/fs"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

const (
	ownFolder  = "proveout" // inside .git
	tempFolder = ownFolder + "/tmp"
	indexLock  = "index.lock"
	lockNote   = "lock-" // begins the name of the note that index.lock is made from
	dirtyNote  = "dirty" // a dead operation was found and its files are not all removed
	lockPoll   = 15 * time.Millisecond
)

// Operation is one locked read-change-write on a job. Everything read between
// Lock and Close stays true until Close. It is for one goroutine.
type Operation struct {
	repo    *Repo
	flock   *flock.Flock
	note    string          // what index.lock is made from
	locked  bool            // index.lock is ours
	changed map[string]bool // paths for the next commit
	failed  bool            // something may be left for the next operation to remove
	notes   []string
	temps   int
}

// Lock starts an operation. It waits at most wait, and not beyond ctx, for
// another operation or another git program to end; then the error is ErrBusy
// and says who holds the job. It also refuses to start while HEAD is detached
// or a merge is unfinished.
func (r *Repo) Lock(ctx context.Context, wait time.Duration) (*Operation, error) {
	if r.host == "" || r.pid <= 0 {
		return nil, errors.New("a host and a process id are needed to lock a job")
	}
	o := &Operation{repo: r, changed: map[string]bool{}}
	if err := r.makeOwnFolder(); err != nil {
		return nil, onDisk(err)
	}
	ctx, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	if err := o.lockProcess(ctx); err != nil {
		return nil, onDisk(err)
	}
	if err := o.begin(ctx); err != nil {
		return nil, onDisk(errors.Join(err, o.Close()))
	}
	return o, nil
}

// begin runs inside the advisory lock.
func (o *Operation) begin(ctx context.Context) error {
	dirty, err := o.findDead()
	if err != nil {
		return err
	}
	if err := o.lockIndex(ctx); err != nil {
		return err
	}
	if dirty {
		if err := o.removeLeftOvers(); err != nil {
			return err
		}
	}
	return o.repo.checkWritable()
}

// lockProcess takes the advisory lock, which the system frees when its holder
// dies.
func (o *Operation) lockProcess(ctx context.Context) error {
	name := filepath.Join(o.repo.dir, ".git", ownFolder, "lock")
	o.flock = flock.New(name, flock.SetFlag(lockFlags), flock.SetPermissions(0o644))
	for {
		locked, err := o.flock.TryLock()
		if locked {
			return nil
		}
		if err == nil {
			err = o.repo.pause(ctx)
		}
		if err != nil {
			o.flock = nil
			return err
		}
	}
}

// lockIndex takes git's lock. What exists now is not a dead process of this
// machine, see findDead.
func (o *Operation) lockIndex(ctx context.Context) error {
	git := o.repo.git
	err := fs.ErrExist
	for errors.Is(err, fs.ErrExist) { // a dead process with our number may have left one
		o.note = o.temp(lockNote + hostMark(o.repo.host) + "-")
		err = makeNote(git, o.note, fmt.Sprintf("%s %d\n", o.repo.host, o.repo.pid))
	}
	for err == nil {
		o.note, err = claim(git, o.note, indexLock)
		if err == nil {
			o.locked = true
			return nil
		}
		if errors.Is(err, fs.ErrExist) {
			err = o.repo.pause(ctx)
		}
	}
	return err
}

// pause waits before another try; when the time is up it says who is in the way.
func (r *Repo) pause(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return r.busy(ctx)
	case <-time.After(lockPoll):
		return nil
	}
}

// makeNote writes a note unflushed: after a power cut its name is what counts.
func makeNote(git Folder, name, content string) error {
	f, err := newFile(git, name, 0o644, text([]byte(content)))
	if err != nil {
		return err
	}
	return f.Close()
}

// hostMark keeps apart the notes of machines that share a disk.
func hostMark(host string) string {
	h := fnv.New32a()
	h.Write([]byte(host))
	return fmt.Sprintf("%08x", h.Sum32())
}

// Close ends the operation and frees the job. It is safe to call twice.
func (o *Operation) Close() error {
	var errs []error
	if o.locked && o.failed {
		errs = append(errs, o.markDirty())
	}
	if o.locked {
		errs = append(errs, o.repo.git.Remove(indexLock))
		o.locked = false
	}
	if o.note != "" {
		if err := o.repo.git.Remove(o.note); !errors.Is(err, fs.ErrNotExist) {
			errs = append(errs, err)
		}
		o.note = ""
	}
	if o.flock != nil {
		errs = append(errs, o.flock.Unlock())
		o.flock = nil
	}
	return onDisk(errors.Join(errs...))
}

// Notes says what the operation found and put right when it started, for the
// person to read.
func (o *Operation) Notes() []string { return o.notes }

func (o *Operation) say(format string, args ...any) {
	o.notes = append(o.notes, fmt.Sprintf(format, args...))
}

// temp is a new name in the temporary folder of .git.
func (o *Operation) temp(kind string) string {
	o.temps++
	return fmt.Sprintf("%s/%s%d-%d", tempFolder, kind, o.repo.pid, o.temps)
}

// busy says who holds the job, from git's lock, or that the wait was broken off.
func (r *Repo) busy(ctx context.Context) error {
	if errors.Is(ctx.Err(), context.Canceled) {
		return ctx.Err()
	}
	info, err := r.git.Lstat(indexLock)
	if err != nil {
		return fmt.Errorf("%w by another process; type the command again when it is done", ErrBusy)
	}
	since := info.ModTime().Format("2006-01-02 15:04:05 -0700")
	host, pid, ok := r.holder()
	switch {
	case !ok:
		return fmt.Errorf("%w by git or another git program since %s; wait for it, then type the command again; if none is running, remove %s", ErrBusy, since, r.lockPath())
	case host != r.host:
		return fmt.Errorf("%w by process %d on %s since %s; wait for it, then type the command again; if that machine has stopped, remove %s", ErrBusy, pid, host, since, r.lockPath())
	}
	return fmt.Errorf("%w by process %d on %s since %s; wait for it, then type the command again", ErrBusy, pid, host, since)
}

func (r *Repo) lockPath() string { return filepath.Join(r.dir, ".git", indexLock) }

// holder reads git's lock; ok is false when it is not this program's.
func (r *Repo) holder() (host string, pid int, ok bool) {
	line, err := r.gitLine(indexLock)
	host, digits, found := strings.Cut(line, " ")
	pid, bad := strconv.Atoi(digits)
	return host, pid, err == nil && found && bad == nil && pid > 0
}

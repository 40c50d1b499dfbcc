package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"syscall"
)

// Kinds of failure that a caller branches on with errors.Is. An error may be of
// two kinds: a commit that failed on a full disk is ErrNotInHistory and
// ErrNoSpace.
var (
	// ErrBusy means somebody else is writing in the job; the text says who.
	ErrBusy = errors.New("the job is in use")
	// ErrNotInHistory means the files are safely on disk and the commit is not.
	ErrNotInHistory = errors.New("saved, not yet in history")
	// ErrCorrupt means the history does not hold what its hashes promise.
	ErrCorrupt = errors.New("the history is damaged")
	// ErrNoSpace means the disk, a quota or a size limit is full.
	ErrNoSpace = errors.New("no space left on the disk")
	// ErrReadOnly means the disk or the permissions do not allow it.
	ErrReadOnly = errors.New("reading or writing is not permitted")
	// ErrDisk means any other failure of the disk or the operating system.
	ErrDisk = errors.New("the disk or the system failed")
	// ErrNotJob means the folder is not one this package can keep a job in.
	ErrNotJob = errors.New("not a job folder")
	// ErrUnfinished means the job was begun and never got its first commit.
	ErrUnfinished = errors.New("the job was begun and not finished")
	// ErrPath means a file name or a kind of file that a job may not hold.
	ErrPath = errors.New("path refused")
	// ErrNoChange means there is nothing to commit: history holds it already.
	ErrNoChange = errors.New("nothing to commit")
)

// onDisk adds to an error of a file operation its kind, so that a caller can
// tell a full disk from a write-protected one. Errors that say only that a file
// is there or is not there, and errors that have a kind, pass unchanged.
func onDisk(err error) error {
	if err == nil || hasKind(err) {
		return err
	}
	if kind := diskKind(err); kind != nil {
		return fmt.Errorf("%w: %w", kind, err)
	}
	return err
}

func hasKind(err error) bool {
	for _, kind := range []error{ErrBusy, ErrCorrupt, ErrNoSpace, ErrReadOnly, ErrDisk, ErrNotJob, ErrUnfinished, ErrPath, ErrNoChange} {
		if errors.Is(err, kind) {
			return true
		}
	}
	return false
}

func diskKind(err error) error {
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrExist):
		return nil
	case isNoSpace(err):
		return ErrNoSpace
	case errors.Is(err, fs.ErrPermission), isReadOnly(err):
		return ErrReadOnly
	case leadsOut(err):
		return ErrPath
	}
	var errno syscall.Errno
	if errors.As(err, &errno) || errors.Is(err, io.ErrShortWrite) {
		return ErrDisk
	}
	return nil
}

// leadsOut reports whether os.Root refused a symbolic link that leads out of the
// folder; the error has no name to compare with.
func leadsOut(err error) bool {
	var bad *fs.PathError
	return errors.As(err, &bad) && bad.Err.Error() == "path escapes from parent"
}

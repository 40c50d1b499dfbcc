package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"strings"
	"syscall"

	"proveout/jobs"
	"proveout/jobs/store"
	"proveout/phases/strict"
)

// The exit codes, the same for every command.
const (
	exitDone      = 0 // done, or open
	exitBug       = 1 // a fault of ours
	exitInput     = 2 // usage, or a file that cannot be used
	exitShut      = 3 // a hold is shut or a check failed
	exitNotFound  = 4
	exitDecide    = 5 // a person must decide: a conflict, an edit to adopt
	exitIntegrity = 6 // facts were changed
	exitBusy      = 7 // another operation is going on
	exitDisk      = 8 // disk or permission
)

// kinds maps an error to its exit code, the first that matches.
var kinds = []struct {
	err  error
	code int
}{
	{jobs.ErrIntegrity, exitIntegrity},
	{store.ErrCorrupt, exitIntegrity},
	{store.ErrBusy, exitBusy},
	{store.ErrNoSpace, exitDisk},
	{store.ErrReadOnly, exitDisk},
	{store.ErrDisk, exitDisk},
	{store.ErrNotInHistory, exitDisk},
	{jobs.ErrDecide, exitDecide},
	{jobs.ErrShut, exitShut},
	{jobs.ErrNotFound, exitNotFound},
	{store.ErrNotJob, exitNotFound},
	{jobs.ErrInput, exitInput},
	{store.ErrPath, exitInput},
	{store.ErrUnfinished, exitInput},
	{errUsage, exitInput},
	{errAborted, exitInput},
	{context.Canceled, exitInput},
	{fs.ErrPermission, exitDisk},
	{syscall.ENOSPC, exitDisk},
	{os.ErrNotExist, exitNotFound},
}

// errUsage is a command line that cannot be understood.
var errUsage = errors.New("usage")

// errAborted is a question that was not answered; nothing was written.
var errAborted = errors.New("nothing was written: the question was not answered")

func exitCode(err error) int {
	if err == nil {
		return exitDone
	}
	if files := (strict.Errors)(nil); errors.As(err, &files) {
		return exitInput
	}
	for _, k := range kinds {
		if errors.Is(err, k.err) {
			return k.code
		}
	}
	return exitBug
}

// errorText is the error as it is printed: each line, and a bug marked as one.
func errorText(err error) string {
	text := strings.TrimSuffix(err.Error(), "\n"+errUsage.Error())
	if exitCode(err) == exitBug {
		text += "\nthis looks like a fault in proveout; nothing was signed; please tell its makers what you typed"
	}
	return text
}

// usageError is a mistake in the command line, with what to type instead.
type usageError struct{ text string }

func (e *usageError) Error() string { return e.text }
func (e *usageError) Unwrap() error { return errUsage }

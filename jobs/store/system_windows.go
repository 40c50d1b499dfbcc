package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
	"time"
)

// Numbers of winerror.h that package syscall does not name.
const (
	errorWriteProtect     syscall.Errno = 19
	errorSharingViolation syscall.Errno = 32
	errorHandleDiskFull   syscall.Errno = 39
	errorDiskFull         syscall.Errno = 112
)

// objectMode leaves out the read-only attribute, which would keep a left-over
// temporary file from being removed.
const objectMode fs.FileMode = 0o644

const readFlags = os.O_RDONLY

const lockFlags = os.O_CREATE | os.O_RDWR

// syncName does nothing: Windows has no flush of a folder, and a closed file
// was flushed when it was written.
func syncName(*os.Root, string) error { return nil }

// retrySharing tries again for a second while a virus scanner or an indexer
// holds the file open.
func retrySharing(do func() error) error {
	err := do()
	for wait := 10 * time.Millisecond; err != nil && wait < time.Second; wait *= 2 {
		if !errors.Is(err, errorSharingViolation) && !errors.Is(err, syscall.ERROR_ACCESS_DENIED) {
			return err
		}
		time.Sleep(wait)
		err = do()
	}
	return err
}

func isNoSpace(err error) bool {
	return errors.Is(err, errorDiskFull) || errors.Is(err, errorHandleDiskFull)
}

func isReadOnly(err error) bool {
	return errors.Is(err, errorWriteProtect) || errors.Is(err, errorSharingViolation)
}

//go:build linux || darwin

package store

import (
	"errors"
	"io/fs"
	"os"
	"syscall"
)

// objectMode is the mode of objects and packs: never changed once made.
const objectMode fs.FileMode = 0o444

// readFlags open a plain file without the four system calls that package os
// makes to find out that it cannot be polled. They change nothing else for it.
const readFlags = os.O_RDONLY | syscall.O_NONBLOCK

// lockFlags open the lock file; a symbolic link in its place is refused.
const lockFlags = os.O_CREATE | os.O_RDWR | syscall.O_NOFOLLOW

// syncName flushes a folder or a file. Some network disks cannot flush a
// folder and say EINVAL or ENOTSUP; nothing more can be done there.
func syncName(root *os.Root, name string) error {
	f, err := root.Open(name)
	if err != nil {
		return err
	}
	err = f.Sync()
	if errors.Is(err, syscall.EINVAL) || errors.Is(err, syscall.ENOTSUP) {
		err = nil
	}
	return errors.Join(err, f.Close())
}

// retrySharing is for Windows, where another program may hold a file shut.
func retrySharing(do func() error) error { return do() }

func isNoSpace(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || errors.Is(err, syscall.EFBIG)
}

func isReadOnly(err error) bool { return errors.Is(err, syscall.EROFS) }

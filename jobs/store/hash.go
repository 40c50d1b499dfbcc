package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"syscall"

	"github.com/go-git/go-git/v5/plumbing"
)

// hashWork is hashFile for a path of the work folder.
func (r *Repo) hashWork(name string) (fileHash, error) {
	if err := checkFolders(r.work, path.Dir(name)); err != nil {
		return fileHash{}, err
	}
	return hashFile(r.work, name)
}

// hashFile reads a plain file and returns git's hash of it, and the stamp that
// held before and after.
func hashFile(dir Folder, name string) (fileHash, error) {
	return readStable(dir, name, func(f io.Reader, size int64) (plumbing.Hash, error) {
		hasher := plumbing.NewHasher(plumbing.BlobObject, size)
		n, err := io.Copy(hasher, f)
		if err == nil && n != size {
			err = errChanging(name)
		}
		return hasher.Sum(), err
	})
}

// readStable lets read have a plain file and makes sure it did not change
// meanwhile.
func readStable(dir Folder, name string, read func(f io.Reader, size int64) (plumbing.Hash, error)) (fileHash, error) {
	f, before, err := openPlain(dir, name)
	if err != nil {
		return fileHash{}, err
	}
	defer f.Close()
	h, err := read(f, before.Size())
	if err != nil {
		return fileHash{}, err
	}
	after, err := dir.Lstat(name)
	if err != nil {
		return fileHash{}, err
	}
	result := fileHash{newStamp(after), h}
	if result.stamp != newStamp(before) {
		return fileHash{}, errChanging(name)
	}
	return result, nil
}

func errChanging(name string) error {
	return fmt.Errorf("%w: %q changed while it was read; type the command again", ErrBusy, name)
}

// missing reports whether there is no file of that name, also where a part of
// its path is now a file.
func missing(err error) bool {
	return errors.Is(err, fs.ErrNotExist) || errors.Is(err, syscall.ENOTDIR)
}

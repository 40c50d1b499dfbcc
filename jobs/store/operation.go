package store

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strings"
)

// Write puts a file in place, new or replacing one, and marks it for the next
// Commit. When it returns nil the file is on the disk to stay; after an error
// the old file is there, unchanged.
func (o *Operation) Write(name string, data []byte) error {
	temp, err := o.prepare(name, text(data))
	if err == nil {
		err = o.replace(temp, name)
	}
	return o.done(name, err)
}

// Create is Write for a file that must not exist; if it does, the error is
// fs.ErrExist and the file is left alone.
func (o *Operation) Create(name string, data []byte) error {
	temp, err := o.prepare(name, text(data))
	if err == nil {
		err = o.place(temp, name)
	}
	return o.done(name, err)
}

// CopyIn is Create from a stream. It returns the SHA-256 of what it wrote, in
// hexadecimal, and its length. If the same content is there already, that is
// success: an earlier try got so far.
func (o *Operation) CopyIn(name string, from io.Reader) (sha256 string, n int64, err error) {
	if err := CheckPath(name); err != nil {
		return "", 0, err
	}
	_, sha256, n, err = o.CopyInAs(path.Dir(name), func(string) string { return path.Base(name) }, from)
	return sha256, n, err
}

// CopyInAs is CopyIn for a file directly in dir whose name there depends on its
// SHA-256.
func (o *Operation) CopyInAs(dir string, named func(sha256 string) string, from io.Reader) (name, sum string, n int64, err error) {
	hash := sha256.New()
	temp, err := o.prepare(path.Join(dir, "file"), func(w io.Writer) error {
		var err error
		n, err = io.Copy(io.MultiWriter(w, hash), from)
		return err
	})
	if err != nil {
		return "", "", 0, o.done(dir, err)
	}
	sum = hex.EncodeToString(hash.Sum(nil))
	own := named(sum)
	name = path.Join(dir, own)
	err = o.checkTarget(name)
	if strings.Contains(own, "/") {
		err = refused(own, "it names a folder")
	}
	if err != nil {
		return "", "", 0, o.done(name, errors.Join(err, o.repo.work.Remove(temp)))
	}
	err = o.place(temp, name)
	if errors.Is(err, fs.ErrExist) && o.holds(name, sum) {
		err = o.repo.work.Sync(path.Dir(name))
	}
	return name, sum, n, o.done(name, err)
}

// Add marks a file for the next Commit that this operation did not write: one
// that a person edited, added or deleted, or that an earlier operation saved
// without getting to its commit.
func (o *Operation) Add(name string) { o.changed[name] = true }

// done marks a file for the commit and gives an error its kind.
func (o *Operation) done(name string, err error) error {
	if err != nil {
		o.failed = true
		return fmt.Errorf("%s: %w", name, onDisk(err))
	}
	o.changed[name] = true
	return nil
}

// prepare checks the path and writes a flushed temporary file beside it.
func (o *Operation) prepare(name string, write func(io.Writer) error) (temp string, err error) {
	if !o.locked {
		return "", errors.New("the operation has ended")
	}
	if err := o.checkTarget(name); err != nil {
		return "", err
	}
	if err := makeFolders(o.repo.work, path.Dir(name), 0o755); err != nil {
		return "", err
	}
	o.temps++
	temp = path.Join(path.Dir(name), fmt.Sprintf("%s%d-%d%s", tempPrefix, o.repo.pid, o.temps, tempSuffix))
	return temp, durableFile(o.repo.work, temp, 0o644, write)
}

// checkTarget refuses a bad name, and a name that something other than a plain
// file has.
func (o *Operation) checkTarget(name string) error {
	if err := CheckPath(name); err != nil {
		return err
	}
	err := checkFolders(o.repo.work, path.Dir(name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	info, err := o.repo.work.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil && !info.Mode().IsRegular() {
		err = notPlain(name, info.Mode(), "a plain file")
	}
	return err
}

// replace gives the temporary file its name and flushes the folder.
func (o *Operation) replace(temp, name string) error {
	if err := o.repo.work.Rename(temp, name); err != nil {
		return errors.Join(err, o.repo.work.Remove(temp))
	}
	return o.repo.work.Sync(path.Dir(name))
}

// place is replace for a name that must be new. A file that could not be
// flushed is taken back, so that a second try does not find it.
func (o *Operation) place(temp, name string) error {
	if err := o.renameNew(temp, name); err != nil {
		return errors.Join(err, o.repo.work.Remove(temp))
	}
	if err := o.repo.work.Sync(path.Dir(name)); err != nil {
		return errors.Join(err, o.repo.work.Remove(name))
	}
	return nil
}

// renameNew renames without replacing: a second name, then the first removed.
// Where the disk has no hard links it looks first, which the lock makes enough
// among operations.
func (o *Operation) renameNew(from, to string) error {
	work := o.repo.work
	err := work.Link(from, to)
	if err == nil {
		if err := work.Remove(from); err != nil {
			return errors.Join(err, work.Remove(to))
		}
		return nil
	}
	if errors.Is(err, fs.ErrExist) {
		return err
	}
	if _, look := work.Lstat(to); !errors.Is(look, fs.ErrNotExist) {
		return errors.Join(fs.ErrExist, look)
	}
	return work.Rename(from, to)
}

// holds reports whether a file has this SHA-256.
func (o *Operation) holds(name, sum string) bool {
	f, _, err := openPlain(o.repo.work, name)
	if err != nil {
		return false
	}
	defer f.Close()
	hash := sha256.New()
	_, err = io.Copy(hash, f)
	return err == nil && hex.EncodeToString(hash.Sum(nil)) == sum
}

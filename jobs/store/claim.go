package store

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"strings"
)

// Notes in the temporary folder. A note is what a lock file is made from, and
// its presence beside a lock is how the next operation knows a lock that a dead
// process of this program left, even if the lock's content was lost.
const (
	branchNote = "branch"
	copied     = ".copied" // ends the name of a note whose lock is a copy, not a link
)

// claim makes target, which must not exist, from note in one step, with a hard
// link. Disks without hard links get a copy; the note is renamed first, so that
// a copy that a kill cut off is known. The note's name from then on is returned.
func claim(dir Folder, note, target string) (string, error) {
	err := dir.Link(note, target)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return note, err
	}
	if !strings.HasSuffix(note, copied) {
		if err := dir.Rename(note, note+copied); err != nil {
			return note, err
		}
		note += copied
	}
	data, err := readAll(dir, note, maxRef)
	if err != nil {
		return note, err
	}
	return note, durableFile(dir, target, 0o644, text(data))
}

// claimed reports whether target was made by claim from a note, given by the
// name it has now.
func claimed(dir Folder, note, target string) bool {
	if sameFile(dir, note, target) {
		return true
	}
	if !strings.HasSuffix(note, copied) {
		return false
	}
	whole, err := readAll(dir, note, maxRef)
	if err != nil {
		return false
	}
	part, err := readAll(dir, target, maxRef)
	return err == nil && bytes.HasPrefix(whole, part)
}

func sameFile(dir Folder, a, b string) bool {
	x, err := dir.Lstat(a)
	if err != nil {
		return false
	}
	y, err := dir.Lstat(b)
	return err == nil && os.SameFile(x, y)
}

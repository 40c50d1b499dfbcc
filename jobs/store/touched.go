package store

import (
	"bytes"
	"fmt"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/object"
)

// Touched calls fn for each file below dirs (without any: everywhere) that a
// commit modified or deleted compared with any of its parents; files added are
// left out. Newest commit first. A merge counts against each parent, so that a
// file which only one side had and the merge dropped is found. A rename is a
// deletion. Mode changes alone are nothing. An error of fn ends it.
//
// Entries are compared by hash and equal folders are not opened, so that a
// commit costs what it changed.
func (r *Repo) Touched(dirs []string, fn func(c Commit, path string, kind ChangeKind) error) error {
	w := &treeWalk{repo: r, dirs: dirs}
	return r.log(func(c *object.Commit) error {
		seen := map[string]bool{}
		for _, h := range c.ParentHashes {
			parent, err := r.readCommit(h)
			if err != nil {
				return onDisk(err)
			}
			err = w.compare(parent.TreeHash, c.TreeHash, "", func(name string, kind ChangeKind) error {
				if seen[name] {
					return nil
				}
				seen[name] = true
				return fn(newCommit(c), name, kind)
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
}

// treeWalk compares trees. It keeps the bytes of the trees read last, since a
// commit's trees are the next one's parents' trees.
type treeWalk struct {
	repo        *Repo
	dirs        []string
	recent, old map[plumbing.Hash][]byte
}

const treesKept = 128

func (w *treeWalk) read(h plumbing.Hash) ([]byte, error) {
	if h.IsZero() {
		return nil, nil
	}
	data, ok := w.recent[h]
	if !ok {
		data, ok = w.old[h]
	}
	if !ok {
		var err error
		if data, err = w.repo.content(h, plumbing.TreeObject); err != nil {
			return nil, onDisk(err)
		}
	}
	if len(w.recent) >= treesKept || w.recent == nil {
		w.recent, w.old = map[plumbing.Hash][]byte{}, w.recent
	}
	w.recent[h] = data
	return data, nil
}

// compare reports what of before is not in after, below prefix, which ends in
// "/" or is empty. Both are in git's order of entries.
func (w *treeWalk) compare(before, after plumbing.Hash, prefix string, found func(string, ChangeKind) error) error {
	a, err := w.read(before)
	if err != nil {
		return err
	}
	b, err := w.read(after)
	if err != nil {
		return err
	}
	var next treeEntry // of b
	for len(a) > 0 {
		var e treeEntry
		if e, a, err = nextEntry(a); err != nil {
			return fmt.Errorf("%w: tree %s: %w", ErrCorrupt, before, err)
		}
		for len(b) > 0 && (next.name == nil || compareEntries(next, e) < 0) {
			if next, b, err = nextEntry(b); err != nil {
				return fmt.Errorf("%w: tree %s: %w", ErrCorrupt, after, err)
			}
		}
		if next.name != nil && sameEntry(e, next) {
			continue
		}
		var match treeEntry
		if bytes.Equal(next.name, e.name) {
			match = next
		}
		if err := w.entry(e, match, prefix+string(e.name), found); err != nil {
			return err
		}
	}
	return nil
}

// sameEntry ignores the difference between a file and a program.
func sameEntry(a, b treeEntry) bool {
	return bytes.Equal(a.name, b.name) && bytes.Equal(a.hash, b.hash) &&
		(bytes.Equal(a.mode, b.mode) || a.isFile() && b.isFile())
}

// entry reports one name whose entry is not the same; after has no name if
// there is none.
func (w *treeWalk) entry(before, after treeEntry, name string, found func(string, ChangeKind) error) error {
	if before.isFolder() {
		if !leadsToAny(name, w.dirs) {
			return nil
		}
		below := plumbing.ZeroHash
		if after.isFolder() {
			below = after.object()
		}
		return w.compare(before.object(), below, name+"/", found)
	}
	if !withinAny(name, w.dirs) {
		return nil
	}
	if after.name == nil || after.isFolder() {
		return found(name, Deleted)
	}
	return found(name, Modified)
}

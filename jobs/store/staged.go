package store

import (
	"errors"
	"io"
	"io/fs"
	"maps"
	"path"
	"slices"

	"github.com/go-git/go-git/v5/plumbing"
)

// staged is what the next commit does to each path: set its content, or, with
// the zero hash, remove it.
type staged map[string]fileHash

// nextIndex is the index after a commit: the entries there are, those of files
// that have become doubtful looked at again, and the staged paths.
func (r *Repo) nextIndex(at head, files staged) ([]byte, error) {
	old, ok, err := r.readIndex()
	if err == nil && (!ok || r.rebuild) {
		old, err = r.rebuildIndex(at, old)
	}
	if err != nil {
		return nil, err
	}
	names := slices.Sorted(maps.Keys(files))
	next := &index{entries: make([]indexEntry, 0, len(old.entries)+len(names))}
	for _, e := range old.entries {
		for len(names) > 0 && names[0] < string(e.name) {
			next.add(names[0], files[names[0]])
			names = names[1:]
		}
		if len(names) > 0 && names[0] == string(e.name) {
			continue // set when the next name is reached
		}
		if !replaced(files, e.name) {
			next.entries = append(next.entries, r.refresh(old, e))
		}
	}
	for _, name := range names {
		next.add(name, files[name])
	}
	return next.encode(), nil
}

func (x *index) add(name string, f fileHash) {
	if !f.hash.IsZero() {
		x.entries = append(x.entries, newIndexEntry(name, f.hash, f.stamp))
	}
}

// replaced reports whether a folder of name is now a file.
func replaced(files staged, name []byte) bool {
	for dir, f := range files {
		if len(name) > len(dir) && name[len(dir)] == '/' && string(name[:len(dir)]) == dir && !f.hash.IsZero() {
			return true
		}
	}
	return false
}

// rebuildIndex makes the index that belongs to the head commit: with the
// entries of old that are still right, and for the others without stamps, so
// that git and this package read the files' content.
func (r *Repo) rebuildIndex(at head, old *index) (*index, error) {
	files, err := r.headFiles(at, "")
	if err != nil {
		return nil, err
	}
	x := &index{mtime: old.mtime, mtimeNs: old.mtimeNs}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		e, ok := old.find(name)
		if !ok || e.hash() != files[name] {
			e = newIndexEntry(name, files[name], stamp{})
		}
		x.entries = append(x.entries, e)
	}
	return x, nil
}

// refresh returns an entry as it goes into the new index. The new one is
// younger, so that a stamp which the old one did not prove anything by would
// seem to: such a file is read again. A file that has changed keeps its entry
// with size zero, which git too takes as "look at the content".
//
// git as it is usually built compares whole seconds. An entry of the old index's
// second is therefore doubtful for it, and is looked at here; so is a file that was
// put in its place in that second, which would be read at each look otherwise.
func (r *Repo) refresh(old *index, e indexEntry) indexEntry {
	s := e.stamp()
	if old.mtime == 0 {
		return e
	}
	seen, ok := r.fresh[string(e.name)]
	switch moved := ok && seen.hash == e.hash(); {
	case moved && seen.stamp.mtime < old.mtime:
		return e.withStamp(seen.stamp)
	case !moved && (s.mtime < old.mtime || old.trusts(s) && r.still(s, string(e.name))):
		return e
	}
	f, err := r.hashWork(string(e.name))
	if err == nil && f.hash == e.hash() {
		return e.withStamp(f.stamp)
	}
	s.size = 0
	return e.withStamp(s)
}

// still reports whether the system says of a work file what it said before.
func (r *Repo) still(s stamp, name string) bool {
	info, err := r.work.Lstat(name)
	return err == nil && s.same(newStamp(info))
}

func (e indexEntry) withStamp(s stamp) indexEntry {
	mode := slices.Clone(e.raw[24:28])
	raw := slices.Clone(e.raw)
	s.encode(raw)
	copy(raw[24:], mode)
	return indexEntry{raw, raw[entryHead : entryHead+len(e.name)]}
}

// stage writes the content of each path of the work folder as an object.
func (w *objectWriter) stage(at head, names []string) (staged, error) {
	files := staged{}
	for _, name := range names {
		f, err := w.stageOne(name)
		gone := missing(err) || displaced(w.repo.work, name)
		bad := CheckPath(name)
		if gone || bad != nil {
			_, look := w.repo.fileHashAt(at, name)
			switch {
			case look == nil && gone:
				f, err = fileHash{}, nil
			case look == nil: // somebody's file in history: a bad name may be kept, not begun
			case !errors.Is(look, fs.ErrNotExist):
				return nil, look
			case gone:
				continue // neither in the folder nor in history
			default:
				return nil, bad
			}
		}
		if err != nil {
			return nil, err
		}
		files[name] = f
	}
	return files, nil
}

func (w *objectWriter) stageOne(name string) (fileHash, error) {
	if err := checkFolders(w.repo.work, path.Dir(name)); err != nil {
		return fileHash{}, err
	}
	return readStable(w.repo.work, name, func(f io.Reader, size int64) (plumbing.Hash, error) {
		return w.add(plumbing.BlobObject, size, f)
	})
}

// displaced reports whether a folder has taken the place of a file, or a file
// that of a folder on the way to it.
func displaced(dir Folder, name string) bool {
	info, err := dir.Lstat(name)
	if err == nil && info.IsDir() {
		return true
	}
	for name = path.Dir(name); name != "."; name = path.Dir(name) {
		if info, err := dir.Lstat(name); err == nil && info.Mode().IsRegular() {
			return true
		}
	}
	return false
}

// edits are the staged paths for editTree.
func (files staged) edits() edits {
	changed := edits{}
	for name, f := range files {
		changed[name] = f.hash
	}
	return changed
}

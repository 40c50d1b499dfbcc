package store

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// Modes of tree entries, as git writes them.
const (
	modeFile    = "100644"
	modeProgram = "100755"
	modeGroup   = "100664" // written by very old gits
	modeFolder  = "40000"
	modeLink    = "120000"
	modeModule  = "160000"
)

// treeEntry is one name in a tree. Its byte slices point into the tree.
type treeEntry struct {
	mode, name, hash []byte
}

func (e treeEntry) isFolder() bool { return string(e.mode) == modeFolder }
func (e treeEntry) isFile() bool {
	m := string(e.mode)
	return m == modeFile || m == modeProgram || m == modeGroup
}

func (e treeEntry) object() plumbing.Hash { return plumbing.Hash(e.hash) }

// nextEntry cuts the first entry off a tree's bytes.
func nextEntry(tree []byte) (e treeEntry, rest []byte, err error) {
	space := bytes.IndexByte(tree, ' ')
	zero := bytes.IndexByte(tree, 0)
	if space < 1 || zero < space+2 || len(tree) < zero+1+len(plumbing.ZeroHash) {
		return e, nil, errors.New("a tree entry is cut off")
	}
	end := zero + 1 + len(plumbing.ZeroHash)
	return treeEntry{tree[:space], tree[space+1 : zero], tree[zero+1 : end]}, tree[end:], nil
}

// parseTree splits a tree into entries and checks what git promises of them:
// known modes, plain names, strictly sorted.
func parseTree(tree []byte) ([]treeEntry, error) {
	list := make([]treeEntry, 0, len(tree)/40)
	for len(tree) > 0 {
		e, rest, err := nextEntry(tree)
		if err != nil {
			return nil, err
		}
		if err := checkEntry(e); err != nil {
			return nil, err
		}
		if len(list) > 0 && compareEntries(list[len(list)-1], e) >= 0 {
			return nil, fmt.Errorf("tree entry %q is out of order", e.name)
		}
		list, tree = append(list, e), rest
	}
	return list, nil
}

func checkEntry(e treeEntry) error {
	switch string(e.mode) {
	case modeFile, modeProgram, modeGroup, modeFolder, modeLink, modeModule:
	default:
		return fmt.Errorf("tree entry %q has the unknown mode %q", e.name, e.mode)
	}
	name := string(e.name)
	if name == "." || name == ".." || strings.EqualFold(name, ".git") || strings.ContainsAny(name, "/\\") {
		return fmt.Errorf("tree entry %q is no file name", name)
	}
	return nil
}

// compareEntries is git's order: a folder's name sorts as if it ended in "/".
func compareEntries(a, b treeEntry) int {
	n := min(len(a.name), len(b.name))
	if c := bytes.Compare(a.name[:n], b.name[:n]); c != 0 {
		return c
	}
	if len(a.name) == len(b.name) {
		return 0 // a file and a folder of one name cannot both be there
	}
	return int(a.after(n)) - int(b.after(n))
}

func (e treeEntry) after(n int) byte {
	switch {
	case n < len(e.name):
		return e.name[n]
	case e.isFolder():
		return '/'
	}
	return 0
}

func encodeTree(list []treeEntry) []byte {
	var out []byte
	for _, e := range list {
		out = append(append(append(out, e.mode...), ' '), e.name...)
		out = append(append(out, 0), e.hash...)
	}
	return out
}

// edits are the files of one folder to set or, with the zero hash, to remove,
// by path relative to it.
type edits map[string]plumbing.Hash

// editTree writes the tree that base becomes, and the folders below it that
// change, and returns the new hash: zero when nothing is left in it. The zero
// base is the empty tree.
func (w *objectWriter) editTree(base plumbing.Hash, changed edits) (plumbing.Hash, error) {
	list, err := w.repo.tree(base)
	if err != nil {
		return base, err
	}
	for name, below := range byFirstName(changed) {
		at := slices.IndexFunc(list, func(e treeEntry) bool { return string(e.name) == name })
		var old treeEntry
		if at >= 0 {
			old = list[at]
			list = slices.Delete(list, at, at+1)
		}
		entry, err := w.editEntry(name, old, below)
		if err != nil {
			return base, err
		}
		if entry.hash != nil {
			to, _ := slices.BinarySearchFunc(list, entry, compareEntries)
			list = slices.Insert(list, to, entry)
		}
	}
	if len(list) == 0 {
		return plumbing.ZeroHash, nil
	}
	return w.addBytes(plumbing.TreeObject, encodeTree(list))
}

// editEntry makes the new entry of one name; one without a hash means none.
func (w *objectWriter) editEntry(name string, old treeEntry, changed edits) (treeEntry, error) {
	mode := modeFile
	h, isFile := changed[""]
	if !isFile || (h.IsZero() && len(changed) > 1) { // a folder, or a file that became one
		delete(changed, "")
		base := plumbing.ZeroHash
		if old.isFolder() {
			base = old.object()
		}
		var err error
		if h, err = w.editTree(base, changed); err != nil {
			return treeEntry{}, err
		}
		mode = modeFolder
	}
	if h.IsZero() {
		return treeEntry{}, nil
	}
	return treeEntry{[]byte(mode), []byte(name), h[:]}, nil
}

// byFirstName groups edits by the first part of their path; the part itself is
// the path "".
func byFirstName(changed edits) map[string]edits {
	groups := map[string]edits{}
	for p, h := range changed {
		name, below, _ := strings.Cut(p, "/")
		if groups[name] == nil {
			groups[name] = edits{}
		}
		groups[name][below] = h
	}
	return groups
}

// tree reads and parses a tree; the zero hash is the empty one.
func (r *Repo) tree(h plumbing.Hash) ([]treeEntry, error) {
	if h.IsZero() {
		return nil, nil
	}
	data, err := r.content(h, plumbing.TreeObject)
	if err != nil {
		return nil, err
	}
	list, err := parseTree(data)
	if err != nil {
		return nil, fmt.Errorf("%w: tree %s: %w", ErrCorrupt, h, err)
	}
	return list, nil
}

package store

import (
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// HeadFiles is what the head commit holds in dir and below: the path of each
// file and git's hash of its content. "" is the whole job.
func (r *Repo) HeadFiles(dir string) (map[string]string, error) {
	at, err := r.readHead()
	if err != nil {
		return nil, onDisk(err)
	}
	return hexFiles(r.headFiles(at, dir))
}

// FilesAt is HeadFiles for another commit.
func (r *Repo) FilesAt(commit, dir string) (map[string]string, error) {
	h, err := parseCommit(commit)
	if err != nil {
		return nil, err
	}
	return hexFiles(r.headFiles(head{commit: h}, dir))
}

func hexFiles(files map[string]plumbing.Hash, err error) (map[string]string, error) {
	if err != nil {
		return nil, onDisk(err)
	}
	hex := make(map[string]string, len(files))
	for name, h := range files {
		hex[name] = h.String()
	}
	return hex, nil
}

func parseCommit(text string) (plumbing.Hash, error) {
	if !plumbing.IsHash(text) {
		return plumbing.ZeroHash, fmt.Errorf("%q is not the full hash of a commit; see git log", text)
	}
	return plumbing.NewHash(text), nil
}

// FileAt is the content of a file as of a commit; fs.ErrNotExist when the
// commit has no such file. The content is re-hashed: an object that does not
// hold what its name says is ErrCorrupt.
func (r *Repo) FileAt(commit, name string) ([]byte, error) {
	h, err := parseCommit(commit)
	if err != nil {
		return nil, err
	}
	blob, err := r.fileHashAt(head{commit: h}, name)
	if err != nil {
		return nil, onDisk(err)
	}
	data, err := r.content(blob, plumbing.BlobObject)
	return data, onDisk(err)
}

// fileHashAt finds a file in a commit.
func (r *Repo) fileHashAt(at head, name string) (plumbing.Hash, error) {
	e, err := r.entryAt(at, name)
	if err != nil {
		return plumbing.ZeroHash, err
	}
	if !e.isFile() {
		return plumbing.ZeroHash, notInCommit(at, name)
	}
	return e.object(), nil
}

func notInCommit(at head, name string) error {
	return &fs.PathError{Op: "read from commit " + at.commit.String(), Path: name, Err: fs.ErrNotExist}
}

// entryAt finds a file or folder in a commit.
func (r *Repo) entryAt(at head, name string) (treeEntry, error) {
	if at.commit.IsZero() {
		return treeEntry{}, notInCommit(at, name)
	}
	c, err := r.readCommit(at.commit)
	if err != nil {
		return treeEntry{}, err
	}
	e := treeEntry{mode: []byte(modeFolder), hash: c.TreeHash[:]}
	for part := range strings.SplitSeq(name, "/") {
		if !e.isFolder() {
			return e, notInCommit(at, name)
		}
		list, err := r.tree(e.object())
		if err != nil {
			return e, err
		}
		if e, err = pick(list, part); err != nil {
			return e, notInCommit(at, name)
		}
	}
	return e, nil
}

func pick(list []treeEntry, name string) (treeEntry, error) {
	for _, e := range list {
		if string(e.name) == name {
			return e, nil
		}
	}
	return treeEntry{}, fs.ErrNotExist
}

// headFiles lists the files of a commit below dir.
func (r *Repo) headFiles(at head, dir string) (map[string]plumbing.Hash, error) {
	files := map[string]plumbing.Hash{}
	if at.commit.IsZero() {
		return files, nil
	}
	c, err := r.readCommit(at.commit)
	if err != nil {
		return nil, err
	}
	top := c.TreeHash
	if dir = path.Clean(dir); dir != "." {
		e, err := r.entryAt(at, dir)
		if errors.Is(err, fs.ErrNotExist) {
			return files, nil
		}
		if err != nil {
			return nil, err
		}
		if !e.isFolder() {
			return files, r.addFile(files, dir, e)
		}
		top = e.object()
	}
	return files, r.addFiles(files, dir, top)
}

func (r *Repo) addFiles(files map[string]plumbing.Hash, dir string, tree plumbing.Hash) error {
	list, err := r.tree(tree)
	if err != nil {
		return err
	}
	for _, e := range list {
		name := path.Join(dir, string(e.name))
		if e.isFolder() {
			err = r.addFiles(files, name, e.object())
		} else {
			err = r.addFile(files, name, e)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (r *Repo) addFile(files map[string]plumbing.Hash, name string, e treeEntry) error {
	if !e.isFile() {
		return fmt.Errorf("%w: %q: it is a symbolic link or a submodule in the history; a job holds plain files only; remove it with git rm and commit", ErrPath, name)
	}
	files[name] = e.object()
	return nil
}

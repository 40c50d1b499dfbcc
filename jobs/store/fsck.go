package store

import (
	"errors"
	"fmt"
	"io/fs"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/object"
	"github.com/go-git/go-git/v5/storage/filesystem"
	"github.com/go-git/go-git/v5/storage/filesystem/dotgit"
)

// maxProblems bounds what Fsck lists.
const maxProblems = 20

// Fsck reads every object that HEAD, a branch or a tag leads to, re-hashes it,
// and checks that commits and trees are well formed. It reports all damage it
// finds, as ErrCorrupt, up to a limit, and replacement refs, with which git
// shows another history than the recorded one.
func (r *Repo) Fsck() error {
	starts, err := r.allRefs()
	if err != nil {
		return onDisk(err)
	}
	check := &fsck{repo: r, seen: map[plumbing.Hash]bool{}}
	if list, err := r.git.ReadDir("refs/replace"); err == nil && len(list) > 0 {
		check.problem(fmt.Errorf("%w: .git/refs/replace makes git show other objects than the recorded ones; remove it: git replace -d", ErrCorrupt))
	} else if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return onDisk(err)
	}
	for _, h := range starts {
		check.push(h, 0)
	}
	for len(check.waiting) > 0 && len(check.problems) < maxProblems {
		next := check.waiting[len(check.waiting)-1]
		check.waiting = check.waiting[:len(check.waiting)-1]
		if err := check.object(next); err != nil {
			return err
		}
	}
	return errors.Join(check.problems...)
}

// allRefs are the hashes of HEAD, branches and tags.
func (r *Repo) allRefs() ([]plumbing.Hash, error) {
	at, err := r.readHead()
	if err != nil {
		return nil, err
	}
	list := []plumbing.Hash{at.commit}
	storage := filesystem.NewStorage(&gitFiles{folder: r.git}, nil)
	refs, err := storage.IterReferences()
	if errors.Is(err, dotgit.ErrEmptyRefFile) {
		return nil, fmt.Errorf("%w: a file in .git/refs is empty; see git fsck", ErrCorrupt)
	}
	if err != nil {
		return nil, err
	}
	defer refs.Close()
	err = refs.ForEach(func(ref *plumbing.Reference) error {
		if ref.Type() == plumbing.HashReference {
			list = append(list, ref.Hash())
		}
		return nil
	})
	return list, err
}

// fsck walks objects; each is checked once.
type fsck struct {
	repo     *Repo
	seen     map[plumbing.Hash]bool
	waiting  []expected
	problems []error
}

// expected is an object and the kind it must be; zero is any.
type expected struct {
	hash plumbing.Hash
	kind plumbing.ObjectType
}

func (f *fsck) push(h plumbing.Hash, kind plumbing.ObjectType) {
	if !h.IsZero() && !f.seen[h] {
		f.seen[h] = true
		f.waiting = append(f.waiting, expected{h, kind})
	}
}

func (f *fsck) problem(err error) { f.problems = append(f.problems, err) }

// object checks one object. The error is of the disk; damage is a problem.
func (f *fsck) object(want expected) error {
	kind, data, err := f.repo.object(want.hash)
	if err == nil && want.kind != 0 && kind != want.kind {
		err = fmt.Errorf("%w: %s is a %s where a %s belongs", ErrCorrupt, want.hash, kind, want.kind)
	}
	if err == nil {
		err = f.links(want.hash, kind, data)
	}
	if errors.Is(err, ErrCorrupt) {
		f.problem(err)
		return nil
	}
	return onDisk(err)
}

// links follows what an object names.
func (f *fsck) links(h plumbing.Hash, kind plumbing.ObjectType, data []byte) error {
	switch kind {
	case plumbing.CommitObject:
		c, err := f.repo.readCommit(h)
		if err != nil {
			return err
		}
		f.push(c.TreeHash, plumbing.TreeObject)
		for _, p := range c.ParentHashes {
			f.push(p, plumbing.CommitObject)
		}
	case plumbing.TreeObject:
		return f.treeLinks(h, data)
	case plumbing.TagObject:
		return f.tagLink(h, data)
	}
	return nil
}

func (f *fsck) treeLinks(h plumbing.Hash, data []byte) error {
	list, err := parseTree(data)
	if err != nil {
		return fmt.Errorf("%w: tree %s: %w", ErrCorrupt, h, err)
	}
	for _, e := range list {
		switch {
		case e.isFolder():
			f.push(e.object(), plumbing.TreeObject)
		case string(e.mode) != modeModule:
			f.push(e.object(), plumbing.BlobObject)
		}
	}
	return nil
}

func (f *fsck) tagLink(h plumbing.Hash, data []byte) error {
	var obj plumbing.MemoryObject
	obj.SetType(plumbing.TagObject)
	if _, err := obj.Write(data); err != nil {
		return err
	}
	tag := &object.Tag{}
	if err := tag.Decode(&obj); err != nil {
		return fmt.Errorf("%w: tag %s: %w", ErrCorrupt, h, err)
	}
	f.push(tag.Target, tag.TargetType)
	return nil
}

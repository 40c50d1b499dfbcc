package store

import (
	"cmp"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/go-git/go-git/v5/plumbing"
)

// ChangeKind says what happened to a file.
type ChangeKind int

// The kinds of change.
const (
	Added ChangeKind = iota + 1
	Modified
	Deleted
)

func (k ChangeKind) String() string {
	switch k {
	case Added:
		return "added"
	case Modified:
		return "modified"
	case Deleted:
		return "deleted"
	}
	return "unknown"
}

// Change is a file whose content in the work folder is not the head commit's.
type Change struct {
	Path string
	Kind ChangeKind
}

// Changes compares the work folder with the head commit, in dirs or, without
// any, everywhere; the result is in order of path. What git's index says is
// staged plays no part. A file is not read if the index proves by the file's
// times, size and place on the disk that it is the head commit's; see
// [Repo.ChangesByContent]. Files whose name begins with a dot and that the head
// commit does not hold, such as an editor's, are left out. A symbolic link or a
// device is an error.
func (r *Repo) Changes(dirs ...string) ([]Change, error) {
	x, _, err := r.readIndex()
	if err != nil {
		return nil, onDisk(err)
	}
	return r.changes(x, dirs)
}

// ChangesByContent is Changes that reads every file.
func (r *Repo) ChangesByContent(dirs ...string) ([]Change, error) {
	return r.changes(&index{}, dirs)
}

func (r *Repo) changes(x *index, dirs []string) ([]Change, error) {
	at, err := r.readHead()
	if err != nil {
		return nil, onDisk(err)
	}
	if len(dirs) == 0 {
		dirs = []string{"."}
	}
	c := &comparison{repo: r, index: x, seen: map[string]bool{}}
	for _, dir := range dirs {
		if err := c.compare(at, path.Clean(dir)); err != nil {
			return nil, onDisk(err)
		}
	}
	slices.SortFunc(c.found, func(a, b Change) int { return cmp.Compare(a.Path, b.Path) })
	return slices.Compact(c.found), nil
}

// comparison is one run of Changes.
type comparison struct {
	repo  *Repo
	index *index
	head  map[string]plumbing.Hash
	seen  map[string]bool
	found []Change
}

func (c *comparison) compare(at head, dir string) (err error) {
	if c.head, err = c.repo.headFiles(at, dir); err != nil {
		return err
	}
	info, err := c.repo.work.Lstat(dir)
	switch {
	case missing(err):
	case err != nil:
		return err
	case info.Mode().IsRegular():
		err = c.file(dir, info)
	default:
		err = c.repo.walk(dir, c.file)
	}
	if err != nil && !missing(err) {
		return err
	}
	return c.unseen()
}

// file compares one file of the work folder.
func (c *comparison) file(name string, info fs.FileInfo) error {
	c.seen[name] = true
	want, inHead := c.head[name]
	if !inHead {
		c.found = append(c.found, Change{name, Added})
		return nil
	}
	entry, indexed := c.index.find(name)
	now := newStamp(info)
	if indexed && entry.hash() == want && entry.stamp().same(now) && c.index.trusts(now) {
		return nil
	}
	got, err := c.repo.hashWork(name)
	if err != nil {
		return err
	}
	if got.hash != want {
		c.found = append(c.found, Change{name, Modified})
		return nil
	}
	if indexed && entry.hash() == want {
		c.repo.fresh[name] = got
	}
	return nil
}

// unseen looks at the files of the head commit that the walk did not meet: they
// are gone, or have a name that the walk leaves out.
func (c *comparison) unseen() error {
	for name := range c.head {
		if c.seen[name] {
			continue
		}
		c.seen[name] = true
		info, err := c.repo.work.Lstat(name)
		if err == nil && info.Mode().IsRegular() && strings.Contains("/"+name, "/.") {
			err = c.file(name, info)
		} else if err == nil || missing(err) {
			c.found = append(c.found, Change{name, Deleted})
			err = nil
		}
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}

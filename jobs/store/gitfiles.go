package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"github.com/go-git/go-billy/v5"
	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/cache"
	"github.com/go-git/go-git/v5/storage/filesystem"
	"github.com/go-git/go-git/v5/storage/filesystem/dotgit"
)

// packCache bounds the memory for objects that deltas of a pack are based on.
const packCache = 16 * cache.MiByte

// packedObject reads an object from the packs. git may replace packs at any
// time, so a failure counts only if it is still there after listing them again.
func (r *Repo) packedObject(h plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	if r.packs != nil {
		if kind, data, err := readPacked(r.packs, h); err == nil {
			return kind, data, nil
		}
		if err := r.packsFS.closeAll(); err != nil {
			return 0, nil, err
		}
	}
	r.openPacks()
	kind, data, err := readPacked(r.packs, h)
	if errors.Is(err, fs.ErrNotExist) { // removed between listing and opening
		r.openPacks()
		kind, data, err = readPacked(r.packs, h)
	}
	if errors.Is(err, plumbing.ErrObjectNotFound) {
		return 0, nil, fmt.Errorf("%w: object %s is missing; restore it from another clone of the job", ErrCorrupt, h)
	}
	if err != nil {
		return kind, nil, damaged(h, err)
	}
	return kind, data, nil
}

func (r *Repo) openPacks() {
	r.packsFS = &gitFiles{folder: r.git}
	dir := dotgit.New(r.packsFS)
	r.packs = filesystem.NewObjectStorageWithOptions(dir, cache.NewObjectLRU(packCache), filesystem.Options{KeepDescriptors: true})
}

// readPacked keeps a damaged pack, on which go-git may panic, from taking the
// program down.
func readPacked(packs *filesystem.ObjectStorage, h plumbing.Hash) (kind plumbing.ObjectType, data []byte, err error) {
	defer func() {
		if broken := recover(); broken != nil {
			err = fmt.Errorf("a pack is damaged: %v", broken)
		}
	}()
	obj, err := packs.EncodedObject(plumbing.AnyObject, h)
	if err != nil {
		return 0, nil, err
	}
	content, err := obj.Reader()
	if err != nil {
		return obj.Type(), nil, err
	}
	defer content.Close()
	data, err = io.ReadAll(io.LimitReader(content, maxObject))
	return obj.Type(), data, err
}

// gitFiles shows the git folder to go-git, for reading only.
type gitFiles struct {
	folder Folder
	opened []File
}

var errNoWriting = fmt.Errorf("store: go-git is given no way to write: %w", billy.ErrReadOnly)

func (g *gitFiles) closeAll() error {
	var errs []error
	for _, f := range g.opened {
		if err := f.Close(); !errors.Is(err, fs.ErrClosed) {
			errs = append(errs, err)
		}
	}
	g.opened = nil
	return errors.Join(errs...)
}

func (g *gitFiles) Open(name string) (billy.File, error) {
	f, err := openToRead(g.folder, name)
	if err != nil {
		return nil, err
	}
	if path.Ext(name) == ".pack" { // go-git keeps these open and has no way to close them from here
		g.opened = append(g.opened, f)
	}
	return gitFile{f, name}, nil
}

func (g *gitFiles) OpenFile(name string, flag int, _ fs.FileMode) (billy.File, error) {
	if flag != os.O_RDONLY {
		return nil, errNoWriting
	}
	return g.Open(name)
}

func (g *gitFiles) ReadDir(name string) ([]fs.FileInfo, error) {
	entries, err := g.folder.ReadDir(name)
	if err != nil {
		return nil, err
	}
	list := make([]fs.FileInfo, 0, len(entries))
	for _, e := range entries {
		if halfPack(entries, e.Name()) {
			continue
		}
		info, err := g.folder.Lstat(path.Join(name, e.Name()))
		if errors.Is(err, fs.ErrNotExist) {
			continue // removed since it was listed
		}
		if err != nil {
			return nil, err
		}
		list = append(list, info)
	}
	return list, nil
}

// halfPack reports whether name is a pack whose index is not there: git, which
// makes the index last, is at work, or was killed. go-git would fail on it.
func halfPack(entries []fs.DirEntry, name string) bool {
	stem, isPack := strings.CutSuffix(name, ".pack")
	return isPack && !slices.ContainsFunc(entries, func(e fs.DirEntry) bool { return e.Name() == stem+".idx" })
}

func (g *gitFiles) Stat(name string) (fs.FileInfo, error)  { return g.folder.Lstat(name) }
func (g *gitFiles) Lstat(name string) (fs.FileInfo, error) { return g.folder.Lstat(name) }
func (g *gitFiles) Join(elem ...string) string             { return path.Join(elem...) }
func (g *gitFiles) Root() string                           { return "" }
func (g *gitFiles) Capabilities() billy.Capability {
	return billy.ReadCapability | billy.SeekCapability
}
func (g *gitFiles) Create(string) (billy.File, error)           { return nil, errNoWriting }
func (g *gitFiles) TempFile(string, string) (billy.File, error) { return nil, errNoWriting }
func (g *gitFiles) Rename(string, string) error                 { return errNoWriting }
func (g *gitFiles) Remove(string) error                         { return errNoWriting }
func (g *gitFiles) MkdirAll(string, fs.FileMode) error          { return errNoWriting }
func (g *gitFiles) Symlink(string, string) error                { return errNoWriting }
func (g *gitFiles) Readlink(string) (string, error)             { return "", billy.ErrNotSupported }
func (g *gitFiles) Chroot(string) (billy.Filesystem, error)     { return nil, billy.ErrNotSupported }

type gitFile struct {
	File
	name string
}

func (f gitFile) Name() string            { return f.name }
func (gitFile) Write([]byte) (int, error) { return 0, errNoWriting }
func (gitFile) Truncate(int64) error      { return errNoWriting }
func (gitFile) Lock() error               { return nil }
func (gitFile) Unlock() error             { return nil }

package store

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"path"

	"github.com/go-git/go-git/v5/plumbing"
	"github.com/go-git/go-git/v5/plumbing/format/idxfile"
	"github.com/go-git/go-git/v5/plumbing/format/packfile"
	"github.com/go-git/go-git/v5/plumbing/storer"
)

// Bounds of a pack. Larger objects are photos and logger files, which hardly
// shrink and would have to be held in memory; they stay loose.
const (
	packedSize  = 256 << 10 // of an object on the disk
	packWindow  = 10        // objects tried as a delta's base; git's own default
	packObjects = 20_000    // in one pack; the rest waits for the next call
)

// Loose estimates how many objects are not in a pack, from one of git's 256
// folders as git itself does. A few thousand are worth a Pack.
func (r *Repo) Loose() (int, error) {
	list, err := r.git.ReadDir("objects/17")
	if missing(err) {
		return 0, nil
	}
	return len(list) * 256, onDisk(err)
}

// Pack puts loose objects into a new pack and then removes them. It locks the
// job and does not wait for the lock. Killed at any point it leaves every
// object in at least one place: pack and index are flushed and read back, each
// object re-hashed, before the first loose one is removed. Packs that are there
// stay; git gc may merge them at any time.
func (r *Repo) Pack() error {
	o, err := r.Lock(context.Background(), 0)
	if err != nil {
		return err
	}
	err = onDisk(o.pack())
	o.failed = err != nil
	return errors.Join(err, o.Close())
}

func (o *Operation) pack() error {
	loose, err := o.repo.smallObjects()
	if err != nil || len(loose) == 0 {
		return err
	}
	if err := o.writePack(loose); err != nil {
		return err
	}
	o.repo.openPacks()
	for _, h := range loose {
		if err := o.repo.git.Remove(objectPath(h)); err != nil && !missing(err) {
			return err
		}
	}
	return nil
}

// smallObjects lists loose objects that are worth packing.
func (r *Repo) smallObjects() ([]plumbing.Hash, error) {
	folders, err := r.git.ReadDir("objects")
	if err != nil {
		return nil, err
	}
	var list []plumbing.Hash
	for _, f := range folders {
		if len(f.Name()) != 2 || !f.IsDir() {
			continue
		}
		files, err := r.git.ReadDir("objects/" + f.Name())
		if err != nil {
			return nil, err
		}
		for _, file := range files {
			h := f.Name() + file.Name()
			if !plumbing.IsHash(h) || len(list) == packObjects {
				continue
			}
			info, err := r.git.Lstat(path.Join("objects", f.Name(), file.Name()))
			if err != nil {
				return nil, err
			}
			if info.Size() <= packedSize {
				list = append(list, plumbing.NewHash(h))
			}
		}
	}
	return list, nil
}

// writePack makes a pack and its index. The index gets its name first: go-git
// stumbles over a pack without one, git passes over an index without a pack.
func (o *Operation) writePack(list []plumbing.Hash) error {
	git := o.repo.git
	packTemp, indexTemp := o.temp("pack-"), o.temp("pack-index-")
	var sum plumbing.Hash
	err := durableFile(git, packTemp, objectMode, buffered(func(w io.Writer) (err error) {
		sum, err = packfile.NewEncoder(w, objectReader{o.repo}, false).Encode(list, packWindow)
		return err
	}))
	if err != nil {
		return err
	}
	index, err := o.repo.indexPack(packTemp, list)
	if err != nil {
		return errors.Join(err, git.Remove(packTemp))
	}
	err = durableFile(git, indexTemp, objectMode, buffered(func(w io.Writer) error {
		_, err := idxfile.NewEncoder(w).Encode(index)
		return err
	}))
	if err != nil {
		return errors.Join(err, git.Remove(packTemp))
	}
	name := "objects/pack/pack-" + sum.String()
	if err := makeFolders(git, "objects/pack", 0o755); err != nil {
		return err
	}
	err = git.Rename(indexTemp, name+".idx")
	if err == nil {
		err = git.Sync("objects/pack")
	}
	if err != nil {
		return err
	}
	if err := git.Rename(packTemp, name+".pack"); err != nil {
		return err
	}
	return git.Sync("objects/pack")
}

func buffered(write func(io.Writer) error) func(io.Writer) error {
	return func(w io.Writer) error {
		buffer := bufio.NewWriterSize(w, 64<<10)
		return errors.Join(write(buffer), buffer.Flush())
	}
}

// indexPack reads a new pack back, makes its index, and re-hashes every object
// that is to be in it.
func (r *Repo) indexPack(name string, list []plumbing.Hash) (*idxfile.MemoryIndex, error) {
	f, err := openToRead(r.git, name)
	if err != nil {
		return nil, err
	}
	var writer idxfile.Writer
	parser, err := packfile.NewParser(packfile.NewScanner(f), &writer)
	if err == nil {
		_, err = parser.Parse()
	}
	if err != nil {
		return nil, errors.Join(fmt.Errorf("reading the new pack back: %w", err), f.Close())
	}
	index, err := writer.Index()
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	pack := packfile.NewPackfile(index, &gitFiles{folder: r.git}, gitFile{f, name}, 0)
	defer pack.Close()
	for _, h := range list {
		if err := checkPacked(pack, h); err != nil {
			return nil, err
		}
	}
	return index, nil
}

func checkPacked(pack *packfile.Packfile, h plumbing.Hash) error {
	obj, err := pack.Get(h)
	if err != nil {
		return fmt.Errorf("reading %s back from the new pack: %w", h, err)
	}
	r, err := obj.Reader()
	if err != nil {
		return err
	}
	defer r.Close()
	data, err := io.ReadAll(r)
	if err == nil && plumbing.ComputeHash(obj.Type(), data) != h {
		err = fmt.Errorf("%w: the new pack does not hold %s; the loose objects are untouched", ErrCorrupt, h)
	}
	return err
}

// objectReader shows the repository's objects, re-hashed, to go-git's encoder
// of packs.
type objectReader struct{ repo *Repo }

func (r objectReader) EncodedObject(_ plumbing.ObjectType, h plumbing.Hash) (plumbing.EncodedObject, error) {
	kind, data, err := r.repo.object(h)
	if err != nil {
		return nil, err
	}
	obj := &plumbing.MemoryObject{}
	obj.SetType(kind)
	_, err = obj.Write(data)
	return obj, err
}

func (r objectReader) NewEncodedObject() plumbing.EncodedObject { return &plumbing.MemoryObject{} }

func (r objectReader) SetEncodedObject(plumbing.EncodedObject) (plumbing.Hash, error) {
	return plumbing.ZeroHash, errNoWriting
}

func (r objectReader) IterEncodedObjects(plumbing.ObjectType) (storer.EncodedObjectIter, error) {
	return nil, errNoWriting
}

func (r objectReader) HasEncodedObject(h plumbing.Hash) error {
	_, _, err := r.repo.object(h)
	return err
}

func (r objectReader) EncodedObjectSize(h plumbing.Hash) (int64, error) {
	_, data, err := r.repo.object(h)
	return int64(len(data)), err
}

func (r objectReader) AddAlternate(string) error { return errNoWriting }

package store

import (
	"bufio"
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"strconv"

	"github.com/go-git/go-git/v5/plumbing"
)

// maxObject bounds one object in memory: far above any logger file, far below
// what a forged header could claim.
const maxObject = 1 << 30

func objectPath(h plumbing.Hash) string {
	hex := h.String()
	return "objects/" + hex[:2] + "/" + hex[2:]
}

// object reads an object, loose or packed, and re-hashes it.
func (r *Repo) object(h plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	kind, data, err := r.looseObject(h)
	if errors.Is(err, fs.ErrNotExist) {
		kind, data, err = r.packedObject(h)
	}
	if err != nil {
		return kind, nil, err
	}
	if plumbing.ComputeHash(kind, data) != h {
		return kind, nil, fmt.Errorf("%w: %s %s holds something else than its name says; restore it from another clone of the job", ErrCorrupt, kind, h)
	}
	return kind, data, nil
}

// content is object for a known kind.
func (r *Repo) content(h plumbing.Hash, kind plumbing.ObjectType) ([]byte, error) {
	got, data, err := r.object(h)
	if err == nil && got != kind {
		err = fmt.Errorf("%w: %s is a %s where a %s belongs", ErrCorrupt, h, got, kind)
	}
	return data, err
}

// looseObject reads objects/xx/…; the error is fs.ErrNotExist when there is none.
func (r *Repo) looseObject(h plumbing.Hash) (plumbing.ObjectType, []byte, error) {
	f, err := openToRead(r.git, objectPath(h))
	if err != nil {
		return 0, nil, err
	}
	defer f.Close()
	kind, data, err := r.inflate(f)
	if err != nil {
		return kind, nil, damaged(h, err)
	}
	return kind, data, nil
}

// damaged tells a disk that fails from content that is wrong.
func damaged(h plumbing.Hash, err error) error {
	if err = onDisk(err); hasKind(err) {
		return err
	}
	return fmt.Errorf("%w: object %s cannot be read: %w; restore it from another clone of the job", ErrCorrupt, h, err)
}

// inflate decodes a loose object: zlib of "kind size\0content".
func (r *Repo) inflate(f io.Reader) (plumbing.ObjectType, []byte, error) {
	if err := r.resetInflater(f); err != nil {
		return 0, nil, err
	}
	var head [32]byte
	n, err := io.ReadFull(r.inflater, head[:])
	if err != nil && err != io.ErrUnexpectedEOF {
		return 0, nil, err
	}
	end := bytes.IndexByte(head[:n], 0)
	kind, size, err := parseHeader(head[:max(end, 0)])
	if err != nil {
		return 0, nil, err
	}
	data := bytes.NewBuffer(make([]byte, 0, min(size, 1<<20)+bytes.MinRead))
	data.Write(head[end+1 : n])
	if _, err := io.Copy(data, io.LimitReader(r.inflater, size+1-int64(data.Len()))); err != nil {
		return 0, nil, err
	}
	if int64(data.Len()) != size {
		return 0, nil, fmt.Errorf("its size is not the %d bytes it says", size)
	}
	return kind, data.Bytes(), nil
}

func (r *Repo) resetInflater(f io.Reader) error {
	if r.inflater != nil {
		return r.inflater.(zlib.Resetter).Reset(f, nil)
	}
	z, err := zlib.NewReader(f)
	if err == nil {
		r.inflater = z
	}
	return err
}

func parseHeader(head []byte) (plumbing.ObjectType, int64, error) {
	name, digits, _ := bytes.Cut(head, []byte(" "))
	kind, err := plumbing.ParseObjectType(string(name))
	if err != nil {
		return 0, 0, fmt.Errorf("unknown kind %q", name)
	}
	size, err := strconv.ParseInt(string(digits), 10, 64)
	if err != nil || size < 0 || size > maxObject {
		return 0, 0, fmt.Errorf("bad size %q", digits)
	}
	return kind, size, nil
}

// An objectWriter adds objects to a batch.
type objectWriter struct {
	repo  *Repo
	batch *batch
	zlib  *zlib.Writer
	own   map[plumbing.Hash]bool // written by this batch
}

func (r *Repo) newObjectWriter(b *batch) *objectWriter {
	if r.deflater == nil {
		r.buffer = bufio.NewWriterSize(nil, 32<<10)
		r.deflater, _ = zlib.NewWriterLevel(nil, zlib.BestSpeed) // git's own level for loose objects; the level is valid
	}
	return &objectWriter{repo: r, batch: b, zlib: r.deflater, own: map[plumbing.Hash]bool{}}
}

// add writes an object of size bytes from content.
func (w *objectWriter) add(kind plumbing.ObjectType, size int64, content io.Reader) (plumbing.Hash, error) {
	hasher := plumbing.NewHasher(kind, size)
	_, err := w.batch.write(objectMode, func(file io.Writer) error {
		out := w.repo.buffer
		out.Reset(file)
		w.zlib.Reset(out)
		fmt.Fprintf(w.zlib, "%s %d\x00", kind, size)
		n, err := io.Copy(io.MultiWriter(w.zlib, hasher), content)
		if err == nil && n != size {
			err = fmt.Errorf("%w: a file changed while it was read; type the command again", ErrBusy)
		}
		return errors.Join(err, w.zlib.Close(), out.Flush())
	})
	if err != nil {
		return plumbing.ZeroHash, err
	}
	return w.place(hasher.Sum())
}

// place gives the object written last its name. One that is there already is
// checked and flushed instead: a killed process may have left it unflushed.
func (w *objectWriter) place(h plumbing.Hash) (plumbing.Hash, error) {
	name := objectPath(h)
	_, err := w.repo.git.Lstat(name)
	switch {
	case w.own[h]:
		return h, w.batch.drop()
	case errors.Is(err, fs.ErrNotExist):
		w.own[h] = true
		w.batch.name(name)
		return h, nil
	case err != nil:
		return h, err
	}
	if _, _, err := w.repo.object(h); err != nil {
		return h, err
	}
	for _, old := range []string{name, path.Dir(name)} { // git may have packed it by now
		if _, known := w.batch.flush[old]; !known {
			w.batch.flush[old] = false
		}
	}
	return h, w.batch.drop()
}

func (w *objectWriter) addBytes(kind plumbing.ObjectType, data []byte) (plumbing.Hash, error) {
	return w.add(kind, int64(len(data)), bytes.NewReader(data))
}

package store

import (
	"errors"
	"io"
	"io/fs"
	"path"
)

// A batch is a set of new files of the git folder that become durable together:
// all written, all flushed, all renamed, then their folders flushed. Flushing
// side by side lets the disk's journal serve several at once.
type batch struct {
	dir     Folder
	temp    func() string
	waiting []waitingFile
	flush   map[string]bool // folders and files to flush after the renames; true: they must be there
	open    int             // files not yet flushed and closed
}

// maxOpen bounds the files a batch holds open; some systems allow 256 in all.
const maxOpen = 64

type waitingFile struct {
	file        File
	temp, final string // final is "" for a file that its owner renames
}

func newBatch(dir Folder, temp func() string) *batch {
	return &batch{dir: dir, temp: temp, flush: map[string]bool{}}
}

// write puts a file in the batch under a temporary name, which is returned.
func (b *batch) write(perm fs.FileMode, write func(io.Writer) error) (string, error) {
	if b.open >= maxOpen {
		if err := b.sync(); err != nil {
			return "", err
		}
	}
	temp := b.temp()
	f, err := newFile(b.dir, temp, perm, write)
	if err != nil {
		return "", err
	}
	b.open++
	b.waiting = append(b.waiting, waitingFile{file: f, temp: temp})
	return temp, nil
}

// name sets the final name of the file written last.
func (b *batch) name(final string) {
	b.waiting[len(b.waiting)-1].final = final
}

// drop takes the file written last out again.
func (b *batch) drop() error {
	last := b.waiting[len(b.waiting)-1]
	b.waiting = b.waiting[:len(b.waiting)-1]
	b.open--
	return errors.Join(last.file.Close(), b.dir.Remove(last.temp))
}

// sync flushes and closes the files that are still open.
func (b *batch) sync() error {
	b.open = 0
	return together(len(b.waiting), func(i int) error {
		w := &b.waiting[i]
		if w.file == nil {
			return nil
		}
		err := errors.Join(w.file.Sync(), w.file.Close())
		w.file = nil
		return err
	})
}

// publish flushes all files, gives those their names that have one, and
// flushes the folders.
func (b *batch) publish() error {
	if err := b.sync(); err != nil {
		return err
	}
	for i := range b.waiting {
		w := &b.waiting[i]
		if w.final == "" {
			continue
		}
		if err := b.rename(w.temp, w.final); err != nil {
			return err
		}
		w.temp = ""
	}
	return syncAll(b.dir, b.flush)
}

// rename makes the folder if it is missing: for the first object with these two
// digits, or because a git that packs objects has just removed it, empty.
func (b *batch) rename(temp, final string) error {
	folder := path.Dir(final)
	b.flush[folder] = true
	err := b.dir.Rename(temp, final)
	for tries := 0; errors.Is(err, fs.ErrNotExist) && tries < 20; tries++ {
		if err = b.dir.Mkdir(folder, 0o755); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
		b.flush[path.Dir(folder)] = true
		err = b.dir.Rename(temp, final)
	}
	return err
}

// discard removes what has no name yet. It is safe after publish.
func (b *batch) discard() {
	for _, w := range b.waiting {
		if w.file != nil {
			w.file.Close()
		}
		if w.temp != "" {
			b.dir.Remove(w.temp) // a failure leaves a file that the next operation removes
		}
	}
	b.waiting = nil
}

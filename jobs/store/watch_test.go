package store

import (
	"io/fs"
	"os"
	"path"
	"sync"
)

// watch is the real file system with a look at every operation before it is
// made. What look returns as an error is the operation's; a write then still
// writes half.
type watch struct {
	look func(c call) error
	mu   sync.Mutex
}

// call is a file operation. Names are relative to the folder opened first.
type call struct{ op, name string }

func (w *watch) see(op, name string) error {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.look(call{op, name})
}

func (w *watch) OpenFolder(dir string) (Folder, error) {
	if err := w.see("open", "."); err != nil {
		return nil, err
	}
	f, err := osFilesystem{}.OpenFolder(dir)
	return watchedFolder{f, w, "."}, err
}

type watchedFolder struct {
	Folder
	watch *watch
	at    string
}

func (f watchedFolder) see(op, name string) error { return f.watch.see(op, path.Join(f.at, name)) }

func (f watchedFolder) OpenFile(name string, flag int, perm fs.FileMode) (File, error) {
	op := "open"
	if flag&os.O_CREATE != 0 {
		op = "create"
	}
	if err := f.see(op, name); err != nil {
		return nil, err
	}
	file, err := f.Folder.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return watchedFile{file, f.watch, path.Join(f.at, name)}, nil
}

func (f watchedFolder) OpenFolder(name string) (Folder, error) {
	if err := f.see("open", name); err != nil {
		return nil, err
	}
	below, err := f.Folder.OpenFolder(name)
	if err != nil {
		return nil, err
	}
	return watchedFolder{below, f.watch, path.Join(f.at, name)}, nil
}

func (f watchedFolder) Lstat(name string) (fs.FileInfo, error) {
	if err := f.see("lstat", name); err != nil {
		return nil, err
	}
	return f.Folder.Lstat(name)
}

func (f watchedFolder) ReadDir(name string) ([]fs.DirEntry, error) {
	if err := f.see("list", name); err != nil {
		return nil, err
	}
	return f.Folder.ReadDir(name)
}

func (f watchedFolder) Mkdir(name string, perm fs.FileMode) error {
	if err := f.see("mkdir", name); err != nil {
		return err
	}
	return f.Folder.Mkdir(name, perm)
}

func (f watchedFolder) Rename(from, to string) error {
	if err := f.see("rename", to); err != nil {
		return err
	}
	return f.Folder.Rename(from, to)
}

func (f watchedFolder) Link(from, to string) error {
	if err := f.see("link", to); err != nil {
		return err
	}
	return f.Folder.Link(from, to)
}

func (f watchedFolder) Remove(name string) error {
	if err := f.see("remove", name); err != nil {
		return err
	}
	return f.Folder.Remove(name)
}

func (f watchedFolder) Sync(name string) error {
	if err := f.see("sync", name); err != nil {
		return err
	}
	return f.Folder.Sync(name)
}

type watchedFile struct {
	File
	watch *watch
	name  string
}

func (f watchedFile) Read(b []byte) (int, error) {
	if err := f.watch.see("read", f.name); err != nil {
		return 0, err
	}
	return f.File.Read(b)
}

func (f watchedFile) Write(b []byte) (int, error) {
	if err := f.watch.see("write", f.name); err != nil {
		n, _ := f.File.Write(b[:len(b)/2])
		return n, err
	}
	return f.File.Write(b)
}

func (f watchedFile) Sync() error {
	if err := f.watch.see("fsync", f.name); err != nil {
		return err
	}
	return f.File.Sync()
}

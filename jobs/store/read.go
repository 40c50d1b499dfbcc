package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"syscall"
)

// Read returns the content of a plain file of the work folder, at most limit
// bytes. A missing file is fs.ErrNotExist; a longer one, a symbolic link and a
// device are refused.
func (r *Repo) Read(name string, limit int64) ([]byte, error) {
	if err := CheckPath(name); err != nil {
		return nil, err
	}
	if err := checkFolders(r.work, path.Dir(name)); err != nil {
		return nil, onDisk(err)
	}
	data, err := readPlain(r.work, name, limit)
	return data, onDisk(err)
}

// Each reads the plain files directly in dir, in order of name, and calls fn
// with the path and the content of each; it is faster than Read one by one. A
// file longer than limit, a symbolic link or a device gives fn that error; the
// error that fn returns ends Each. A missing dir has no files. Names that begin
// with a dot and folders are left out.
func (r *Repo) Each(dir string, limit int64, fn func(name string, data []byte, err error) error) error {
	folder, err := r.openFolder(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return onDisk(err)
	}
	defer folder.Close()
	entries, err := folder.ReadDir(".")
	if err != nil {
		return onDisk(err)
	}
	for _, e := range entries {
		if e.IsDir() || hidden(e.Name()) {
			continue
		}
		data, err := readPlain(folder, e.Name(), limit)
		if err := fn(path.Join(dir, e.Name()), data, onDisk(err)); err != nil {
			return err
		}
	}
	return nil
}

// openFolder opens a folder of the work folder, no part of it a link.
func (r *Repo) openFolder(dir string) (Folder, error) {
	dir = path.Clean(dir)
	if dir != "." {
		if err := CheckPath(dir); err != nil {
			return nil, err
		}
	}
	if err := checkFolders(r.work, dir); err != nil {
		return nil, err
	}
	return r.work.OpenFolder(dir)
}

// readPlain reads a plain file. It looks before it opens, since opening a pipe
// would wait for ever, and again after, since the file may have been replaced.
func readPlain(dir Folder, name string, limit int64) ([]byte, error) {
	f, info, err := openPlain(dir, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info.Size() > limit {
		return nil, fmt.Errorf("%w: %q: it has %d bytes, more than the %d allowed here", ErrPath, name, info.Size(), limit)
	}
	data := make([]byte, info.Size()+1) // one byte more shows the end in one read
	n := 0
	for n < len(data)-1 || n == 0 {
		more, err := f.Read(data[n:])
		n += more
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
	}
	if int64(n) != info.Size() {
		return nil, errChanging(name)
	}
	return data[:n], nil
}

// openToRead opens a file that is a plain one. Another program may hold a lease
// on it, for which only a waiting open asks it to let go.
func openToRead(dir Folder, name string) (File, error) {
	f, err := dir.OpenFile(name, readFlags, 0)
	if errors.Is(err, syscall.EAGAIN) {
		return dir.OpenFile(name, os.O_RDONLY, 0)
	}
	return f, err
}

func openPlain(dir Folder, name string) (File, fs.FileInfo, error) {
	info, err := dir.Lstat(name)
	if err != nil {
		return nil, nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, nil, notPlain(name, info.Mode(), "a plain file")
	}
	f, err := openToRead(dir, name)
	if err != nil {
		return nil, nil, err
	}
	opened, err := f.Stat()
	if err == nil && !os.SameFile(info, opened) {
		err = fmt.Errorf("%w: %q: it was replaced while it was opened; type the command again", ErrBusy, name)
	}
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	return f, opened, nil
}

// Walk calls fn for each plain file in dir and below, in order of path. Names
// that begin with a dot, except git's own attribute files, are left out; no
// other file of a job has such a name. A symbolic link or a device is an error.
func (r *Repo) Walk(dir string, fn func(name string, size int64) error) error {
	err := r.walk(path.Clean(dir), func(name string, info fs.FileInfo) error { return fn(name, info.Size()) })
	return onDisk(err)
}

func (r *Repo) walk(dir string, fn func(string, fs.FileInfo) error) error {
	folder, err := r.openFolder(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	defer folder.Close()
	return walkFolder(folder, dir, fn)
}

func walkFolder(folder Folder, dir string, fn func(string, fs.FileInfo) error) error {
	entries, err := folder.ReadDir(".")
	if err != nil {
		return err
	}
	for _, e := range entries {
		name := path.Join(dir, e.Name())
		if hidden(e.Name()) && !otherNames[name] {
			continue
		}
		if err := walkEntry(folder, e, name, fn); err != nil {
			return err
		}
	}
	return nil
}

func walkEntry(folder Folder, e fs.DirEntry, name string, fn func(string, fs.FileInfo) error) error {
	if !e.IsDir() {
		info, err := folder.Lstat(e.Name())
		if err == nil && !info.Mode().IsRegular() {
			err = notPlain(name, info.Mode(), "a plain file")
		}
		if err != nil {
			return err
		}
		return fn(name, info)
	}
	below, err := folder.OpenFolder(e.Name())
	if err != nil {
		return err
	}
	defer below.Close()
	return walkFolder(below, name, fn)
}

func hidden(name string) bool { return name[0] == '.' }

// List is Walk as a list of paths.
func (r *Repo) List(dir string) ([]string, error) {
	var list []string
	err := r.Walk(dir, func(name string, _ int64) error {
		list = append(list, name)
		return nil
	})
	return list, err
}

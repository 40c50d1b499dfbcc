package store

import (
	"cmp"
	"io"
	"io/fs"
	"os"
	"slices"
)

// Filesystem opens folders. The real one is [os.Root]; tests put one in front
// of it that records operations or makes the n-th of them fail.
type Filesystem interface {
	OpenFolder(dir string) (Folder, error)
}

// Folder is an open folder and all file operations this package makes. Names
// are relative, with slashes, and cannot leave the folder through ".." or a
// symbolic link. Methods may be called from several goroutines at once.
type Folder interface {
	OpenFile(name string, flag int, perm fs.FileMode) (File, error)
	OpenFolder(name string) (Folder, error)
	Lstat(name string) (fs.FileInfo, error)
	// ReadDir lists a folder, sorted by name.
	ReadDir(name string) ([]fs.DirEntry, error)
	Mkdir(name string, perm fs.FileMode) error
	// Rename moves a file, replacing one that is there.
	Rename(from, to string) error
	// Link gives a file a second name, which must not exist.
	Link(from, to string) error
	Remove(name string) error
	// Sync flushes a folder (its names) or a closed file to the disk. On
	// Windows, which flushes names with the file, it does nothing.
	Sync(name string) error
	Close() error
}

// File is an open file.
type File interface {
	io.Reader
	io.ReaderAt
	io.Writer
	io.Seeker
	io.Closer
	Stat() (fs.FileInfo, error)
	Sync() error
}

type osFilesystem struct{}

func (osFilesystem) OpenFolder(dir string) (Folder, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	return osFolder{root}, nil
}

type osFolder struct{ root *os.Root }

func (f osFolder) OpenFile(name string, flag int, perm fs.FileMode) (File, error) {
	file, err := f.root.OpenFile(name, flag, perm)
	if err != nil {
		return nil, err
	}
	return file, nil
}

func (f osFolder) OpenFolder(name string) (Folder, error) {
	root, err := f.root.OpenRoot(name)
	if err != nil {
		return nil, err
	}
	return osFolder{root}, nil
}

func (f osFolder) ReadDir(name string) ([]fs.DirEntry, error) {
	dir, err := f.root.Open(name)
	if err != nil {
		return nil, err
	}
	defer dir.Close()
	entries, err := dir.ReadDir(-1)
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
	return entries, err
}

func (f osFolder) Rename(from, to string) error {
	return retrySharing(func() error { return f.root.Rename(from, to) })
}

func (f osFolder) Remove(name string) error {
	return retrySharing(func() error { return f.root.Remove(name) })
}

func (f osFolder) Lstat(name string) (fs.FileInfo, error)    { return f.root.Lstat(name) }
func (f osFolder) Mkdir(name string, perm fs.FileMode) error { return f.root.Mkdir(name, perm) }
func (f osFolder) Link(from, to string) error                { return f.root.Link(from, to) }
func (f osFolder) Sync(name string) error                    { return syncName(f.root, name) }
func (f osFolder) Close() error                              { return f.root.Close() }

package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"slices"
	"sync"
)

// newFile makes a file that must not exist and lets write fill it. The file is
// returned open and not flushed; after an error nothing is left.
func newFile(dir Folder, name string, perm fs.FileMode, write func(io.Writer) error) (File, error) {
	f, err := dir.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm)
	if err != nil {
		return nil, err
	}
	if err := write(f); err != nil {
		return nil, errors.Join(err, f.Close(), dir.Remove(name))
	}
	return f, nil
}

// durableFile is newFile, then flushed and closed.
func durableFile(dir Folder, name string, perm fs.FileMode, write func(io.Writer) error) error {
	f, err := newFile(dir, name, perm, write)
	if err != nil {
		return err
	}
	if err := errors.Join(f.Sync(), f.Close()); err != nil {
		return errors.Join(err, dir.Remove(name))
	}
	return nil
}

// text writes data; for newFile.
func text(data []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}
}

// makeFolders makes the folders of name that are missing and flushes each
// parent. A part that is a symbolic link or a file is refused.
func makeFolders(dir Folder, name string, perm fs.FileMode) error {
	return eachPart(name, func(part string) error {
		info, err := dir.Lstat(part)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			if err := dir.Mkdir(part, perm); err != nil && !errors.Is(err, fs.ErrExist) {
				return err
			}
			return dir.Sync(path.Dir(part))
		case err == nil && !info.IsDir():
			return notPlain(part, info.Mode(), "a folder")
		}
		return err
	})
}

// checkFolders refuses name when a part of it is not a real folder.
func checkFolders(dir Folder, name string) error {
	return eachPart(name, func(part string) error {
		info, err := dir.Lstat(part)
		if err == nil && !info.IsDir() {
			return notPlain(part, info.Mode(), "a folder")
		}
		return err
	})
}

// eachPart calls fn with "a", "a/b", "a/b/c" for "a/b/c", with nothing for ".".
func eachPart(name string, fn func(string) error) error {
	if name == "." || name == "" {
		return nil
	}
	for i, c := range name {
		if c == '/' {
			if err := fn(name[:i]); err != nil {
				return err
			}
		}
	}
	return fn(name)
}

// notPlain refuses what is neither a plain file nor a folder.
func notPlain(name string, mode fs.FileMode, wanted string) error {
	kind := "a plain file"
	switch {
	case mode&fs.ModeSymlink != 0:
		kind = "a symbolic link"
	case mode.IsDir():
		kind = "a folder"
	case !mode.IsRegular():
		kind = "a device or a pipe"
	}
	return fmt.Errorf("%w: %q: it is %s where the job has %s; move it out of the job", ErrPath, name, kind, wanted)
}

// syncAll flushes folders and files side by side. Those with the value false may
// be missing.
func syncAll(dir Folder, names map[string]bool) error {
	list := slices.Collect(maps.Keys(names))
	return together(len(list), func(i int) error {
		err := dir.Sync(list[i])
		if !names[list[i]] && errors.Is(err, fs.ErrNotExist) {
			return nil
		}
		return err
	})
}

// together runs do for 0 to n-1, at most eight at a time, and joins the errors.
func together(n int, do func(int) error) error {
	errs := make([]error, n)
	slots := make(chan struct{}, 8)
	var wait sync.WaitGroup
	for i := range n {
		slots <- struct{}{}
		wait.Go(func() {
			errs[i] = do(i)
			<-slots
		})
	}
	wait.Wait()
	return errors.Join(errs...)
}

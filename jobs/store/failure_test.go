package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// failAt makes the n-th file operation fail, and no other.
func failAt(n int, errno syscall.Errno) (*watch, *int) {
	seen := 0
	return &watch{look: func(c call) error {
		if seen++; seen == n {
			return &fs.PathError{Op: c.op, Path: c.name, Err: errno}
		}
		return nil
	}}, &seen
}

// TestEachOperationFails makes the first, the second, the third … file operation
// of a whole save fail until one save meets no failure. After each the job is
// whole, what was acknowledged is there, and a second try succeeds.
func TestEachOperationFails(t *testing.T) {
	r := newJob(t)
	dir := r.Dir()
	for n := 1; ; n++ {
		if n > 2000 {
			t.Fatal("no save without a failure")
		}
		errno := []syscall.Errno{syscall.ENOSPC, syscall.EIO, syscall.EROFS}[n%3]
		w, seen := failAt(n, errno)
		name := fmt.Sprintf("records/%02d/%04d.yaml", n%12, n)
		saved, err := saveWith(dir, w, name, fmt.Sprintf("value: %d\n...\n", n))
		if err == nil && *seen < n {
			break
		}
		checkFailure(t, n, err)
		if t.Failed() {
			t.Fatalf("operation %d failing with %v", n, errno)
		}
		afterFailure(t, dir, n, name, saved)
	}
	sound(t, dir)
}

// saveWith is one operation; saved says that the write was acknowledged.
func saveWith(dir string, w *watch, name, content string) (saved bool, err error) {
	opts := options()
	opts.FS = w
	r, err := Open(dir, opts)
	if err != nil {
		return false, err
	}
	defer r.Close()
	o, err := r.Lock(t0(), 0)
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, o.Close()) }()
	if err := o.Create(name, []byte(content)); err != nil {
		return false, err
	}
	_, err = o.Commit("record "+name, crew, morning)
	return true, err
}

func checkFailure(t *testing.T, n int, err error) {
	t.Helper()
	if err == nil {
		return // an operation whose failure does no harm
	}
	if !errors.Is(err, ErrNoSpace) && !errors.Is(err, ErrDisk) && !errors.Is(err, ErrReadOnly) {
		t.Errorf("operation %d: the error has no kind: %v", n, err)
	}
}

func afterFailure(t *testing.T, dir string, n int, name string, saved bool) {
	t.Helper()
	r, err := Open(dir, options())
	if err != nil {
		t.Fatalf("after failure %d: %v", n, err)
	}
	defer r.Close()
	want := fmt.Sprintf("value: %d\n...\n", n)
	if data, err := r.Read(name, 100); saved && (err != nil || string(data) != want) {
		t.Fatalf("after failure %d the acknowledged file holds %q, %v", n, data, err)
	}
	_, err = trySave(r, "second try", map[string]string{name: want})
	if err != nil && !errors.Is(err, ErrNoChange) {
		t.Fatalf("after failure %d, second try: %v", n, err)
	}
	if n%10 == 0 {
		sound(t, dir)
	}
	head, err := r.Head()
	if err != nil {
		t.Fatal(err)
	}
	if data, err := r.FileAt(head.Hash, name); err != nil || string(data) != want {
		t.Fatalf("after failure %d history holds %q, %v", n, data, err)
	}
}

// TestEachOperationOfCreateFails: a second Create finishes what a failed one
// began.
func TestEachOperationOfCreateFails(t *testing.T) {
	for n := 1; ; n++ {
		dir := filepath.Join(t.TempDir(), "job")
		w, seen := failAt(n, syscall.EIO)
		opts := options()
		opts.FS = w
		r, err := Create(dir, opts)
		if err == nil {
			r.Close()
			if *seen < n {
				return
			}
		}
		checkFailure(t, n, err)
		if r, err := Open(dir, options()); err == nil {
			r.Close()
			t.Fatalf("failure %d: Open accepts a half-made job", n)
		} else if !errors.Is(err, ErrUnfinished) && !errors.Is(err, ErrNotJob) && !errors.Is(err, fs.ErrNotExist) {
			t.Fatalf("failure %d: %v", n, err)
		}
		newJobAt(t, dir, options())
		if n%10 == 0 {
			sound(t, dir)
		}
	}
}

// TestEachOperationOfPackFails: no object is ever lost.
func TestEachOperationOfPackFails(t *testing.T) {
	r := newJob(t)
	save(t, r, "record", map[string]string{"a.yaml": "1"})
	save(t, r, "record", map[string]string{"a.yaml": "2"})
	for n := 1; ; n++ {
		dir := t.TempDir()
		if err := os.CopyFS(dir, os.DirFS(r.Dir())); err != nil {
			t.Fatal(err)
		}
		w, seen := failAt(n, syscall.ENOSPC)
		opts := options()
		opts.FS = w
		packing, err := Open(dir, opts)
		if err == nil {
			err = errors.Join(packing.Pack(), packing.Close())
		}
		if err == nil && *seen < n {
			break
		}
		checkFailure(t, n, err)
		again := reopen(t, dir)
		if err := again.Fsck(); err != nil {
			t.Fatalf("failure %d: %v", n, err)
		}
		if err := again.Pack(); err != nil {
			t.Fatalf("failure %d, second try: %v", n, err)
		}
		if err := again.Fsck(); err != nil {
			t.Fatalf("failure %d, second try: %v", n, err)
		}
		if n%20 == 0 {
			sound(t, dir)
		}
	}
}

// TestNoHardLinks: on a disk without them, a save works, and the locks that a
// dead process left are known.
func TestNoHardLinks(t *testing.T) {
	opts := options()
	opts.FS = &watch{look: func(c call) error {
		if c.op == "link" {
			return &fs.PathError{Op: "link", Path: c.name, Err: syscall.EPERM}
		}
		return nil
	}}
	r := newJobAt(t, filepath.Join(t.TempDir(), "job"), opts)
	save(t, r, "one", map[string]string{"job.yaml": "1\n"})
	sound(t, r.Dir())

	// The branch lock as it is when a copy is cut off by a kill.
	write(t, r.Dir(), ".git/proveout/tmp/branch.copied", "0123456789abcdef\n")
	write(t, r.Dir(), ".git/refs/heads/main.lock", "01234")
	write(t, r.Dir(), ".git/proveout/tmp/"+lockNote+hostMark("crew-laptop")+"-99-1.copied", "crew-laptop 99\n")
	write(t, r.Dir(), ".git/index.lock", "crew")
	save(t, r, "two", map[string]string{"job.yaml": "2\n"})
	sound(t, r.Dir())

	o := lock(t, r)
	defer o.Close()
	wantError(t, o.Create("job.yaml", nil), fs.ErrExist, "job.yaml")
	if err := o.Create("crew.yaml", []byte("a\n")); err != nil {
		t.Error(err)
	}
}

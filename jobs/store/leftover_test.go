package store

import (
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// Two failures in a row, of the rename and of the removal of the temporary file,
// leave a file behind; the next operation removes it.
func TestLeftOverOfAFailure(t *testing.T) {
	r := newJob(t)
	opts := options()
	opts.FS = &watch{look: func(c call) error {
		if c.op == "rename" && c.name == "job.yaml" || c.op == "remove" && isTemp(c.name) {
			return &fs.PathError{Op: c.op, Path: c.name, Err: syscall.EIO}
		}
		return nil
	}}
	w, err := Open(r.Dir(), opts)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	_, err = trySave(w, "job", map[string]string{"job.yaml": "a\n"})
	wantError(t, err, ErrDisk, "job.yaml")
	temps := func() []string {
		list, err := filepath.Glob(filepath.Join(r.Dir(), tempPattern))
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	if len(temps()) != 1 {
		t.Errorf("left over: %v, want one file, or this is no test", temps())
	}
	sound(t, r.Dir())
	save(t, r, "job", map[string]string{"job.yaml": "a\n"})
	if len(temps()) != 0 {
		t.Errorf("left over: %v", temps())
	}
	if list, _ := os.ReadDir(filepath.Join(r.Dir(), ".git/proveout/tmp")); len(list) != 0 {
		t.Errorf("notes left over: %v", list)
	}
}

// What a killed operation put into the index and never committed is taken out
// of it by the next commit, also if its file is gone.
func TestIndexOfAKilledOperation(t *testing.T) {
	r := newJob(t)
	write(t, r.Dir(), "records/05/a.yaml", "a\n")
	git(t, r.Dir(), "add", "records/05/a.yaml")
	if err := os.Remove(filepath.Join(r.Dir(), "records/05/a.yaml")); err != nil {
		t.Fatal(err)
	}
	write(t, r.Dir(), ".git/index.lock", "crew-laptop 4711\n")
	closeOp(t, lock(t, reopen(t, r.Dir()))) // an operation between that commits nothing
	save(t, r, "job", map[string]string{"job.yaml": "a\n"})
	sound(t, r.Dir())
}

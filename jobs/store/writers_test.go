//go:build linux || darwin

package store

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestTwoWriters: two processes save 100 records each into one job, together
// with a third that commits with plain git, and none of the commits is lost.
func TestTwoWriters(t *testing.T) {
	r := newJob(t)
	var running []*exec.Cmd
	for _, name := range []string{"a", "b"} {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), "STORE_CHILD=write100", "STORE_DIR="+r.Dir(), "STORE_NEXT="+name)
		cmd.Stderr = os.Stderr
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	plain := 0
	for i := range 20 {
		name := fmt.Sprintf("plain/%d.txt", i)
		write(t, r.Dir(), name, name)
		if _, err := tryGit(r.Dir(), "add", name); err != nil {
			continue // locked, as it should be
		}
		if _, err := tryGit(r.Dir(), "commit", "-q", "-m", "plain "+name); err == nil {
			plain++
		}
	}
	for _, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Error(err)
		}
	}
	var ours, theirs int
	err := r.Log(func(c Commit) error {
		if strings.HasPrefix(c.Message, "record ") {
			ours++
		}
		if strings.HasPrefix(c.Message, "plain ") {
			theirs++
		}
		return nil
	})
	if err != nil || ours != 200 || theirs != plain {
		t.Errorf("%d commits of two writers, want 200; %d of plain git, want %d; %v", ours, theirs, plain, err)
	}
	files, err := r.HeadFiles("records")
	if err != nil || len(files) != 200 {
		t.Errorf("%d records, want 200; %v", len(files), err)
	}
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
}

func childWrite100(dir, who string) error {
	r, err := Open(dir, options())
	if err != nil {
		return err
	}
	defer r.Close()
	for i := range 100 {
		name := fmt.Sprintf("records/05/%s-%d.yaml", who, i)
		if err := saveWaiting(r, name); err != nil {
			return err
		}
	}
	return nil
}

func saveWaiting(r *Repo, name string) (err error) {
	o, err := r.Lock(t0(), time.Minute)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, o.Close()) }()
	if err := o.Create(name, []byte(name)); err != nil {
		return err
	}
	_, err = o.Commit("record "+name, crew, morning)
	return err
}

// A writer inside one process keeps others of it out too.
func TestLockWithinOneProcess(t *testing.T) {
	r := newJob(t)
	other := reopen(t, r.Dir())
	o := lock(t, r)
	_, err := other.Lock(t0(), 30*time.Millisecond)
	wantError(t, err, ErrBusy, fmt.Sprintf("process %d on crew-laptop", os.Getpid()))
	closeOp(t, o)
	closeOp(t, lock(t, other))
}

func TestOperationAfterClose(t *testing.T) {
	r := newJob(t)
	o := lock(t, r)
	closeOp(t, o)
	closeOp(t, o)
	if err := o.Write("job.yaml", nil); err == nil {
		t.Error("Write after Close")
	}
	if _, _, err := o.CopyIn("job.yaml", io.LimitReader(nil, 0)); err == nil {
		t.Error("CopyIn after Close")
	}
	_, err := o.Commit("late", crew, morning)
	wantError(t, err, ErrNotInHistory, "ended")
	if _, err := os.Stat(filepath.Join(r.Dir(), "job.yaml")); err == nil {
		t.Error("a file was written")
	}
}

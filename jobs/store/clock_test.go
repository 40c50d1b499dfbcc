package store

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// sameTick makes the index say of a file what the system says of it now, with
// the hash of what it was, and the index as old as the file: as after an edit in
// the tick of the commit, on a disk whose clock ticks slowly.
func sameTick(t *testing.T, r *Repo, name string) {
	t.Helper()
	x, _, err := r.readIndex()
	if err != nil {
		t.Fatal(err)
	}
	info, err := r.work.Lstat(name)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range x.entries {
		if string(e.name) == name {
			x.entries[i] = e.withStamp(newStamp(info))
		}
	}
	write(t, r.Dir(), ".git/index", string(x.encode()))
	indexTime(t, r, info.ModTime())
}

// TestGitComparesSeconds: an edit in the second of the commit, which this
// package sees by the nanoseconds, is seen by plain git after a later commit.
func TestGitComparesSeconds(t *testing.T) {
	const name = "records/05/a.yaml"
	r := newJob(t)
	save(t, r, "record", map[string]string{name: "value: 1\n"})
	write(t, r.Dir(), name, "value: 2\n")
	sameTick(t, r, name)
	x, _, err := r.readIndex()
	if err != nil {
		t.Fatal(err)
	}
	info, err := r.work.Lstat(name)
	if err != nil {
		t.Fatal(err)
	}
	for i, e := range x.entries {
		if string(e.name) == name {
			s := e.stamp()
			s.mtimeNs ^= 1
			x.entries[i] = e.withStamp(s)
		}
	}
	write(t, r.Dir(), ".git/index", string(x.encode()))
	indexTime(t, r, info.ModTime().Add(2))
	save(t, r, "other", map[string]string{"job.yaml": "a\n"})
	indexTime(t, r, time.Now().Add(time.Hour))
	if out := git(t, r.Dir(), "status", "--porcelain"); out != " M "+name+"\n" {
		t.Errorf("git status: %q", out)
	}
}

func indexTime(t *testing.T, r *Repo, when time.Time) {
	t.Helper()
	if err := os.Chtimes(filepath.Join(r.Dir(), ".git/index"), when, when); err != nil {
		t.Fatal(err)
	}
}

func TestChangesOnASlowClock(t *testing.T) {
	const name = "records/05/a.yaml"
	want := []Change{{name, Modified}}
	r := newJob(t)
	save(t, r, "record", map[string]string{name: "value: 1\n"})
	write(t, r.Dir(), name, "value: 2\n")
	sameTick(t, r, name)
	if got, err := r.Changes(); err != nil || !slices.Equal(got, want) {
		t.Errorf("in the same tick: %v, %v, want %v", got, err, want)
	}
	// The next commit writes a younger index, which must not make it believed.
	save(t, r, "other", map[string]string{"job.yaml": "a\n"})
	indexTime(t, r, time.Now().Add(time.Hour))
	if got, err := r.Changes(); err != nil || !slices.Equal(got, want) {
		t.Errorf("after another commit: %v, %v, want %v", got, err, want)
	}
	if out := git(t, r.Dir(), "status", "--porcelain"); out != " M "+name+"\n" {
		t.Errorf("git status: %q", out)
	}
	// An unchanged file of the same tick is believed after the next commit.
	write(t, r.Dir(), name, "value: 1\n")
	sameTick(t, r, name)
	save(t, r, "other", map[string]string{"job.yaml": "b\n"})
	indexTime(t, r, time.Now().Add(time.Hour))
	sound(t, r.Dir())
	x, _, err := r.readIndex()
	if err != nil {
		t.Fatal(err)
	}
	if e, ok := x.find(name); !ok || e.stamp().size != 9 {
		t.Errorf("the entry's size is %d", e.stamp().size)
	}
}

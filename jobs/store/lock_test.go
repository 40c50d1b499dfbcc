package store

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// left puts files into .git as another process might have left them.
func left(t *testing.T, r *Repo, files ...string) {
	t.Helper()
	for i := 0; i < len(files); i += 2 {
		write(t, r.Dir(), files[i], files[i+1])
	}
}

func TestLockOfADeadProcess(t *testing.T) {
	r := newJob(t)
	left(t, r, ".git/index.lock", "crew-laptop 4711\n", "records/05/.proveout-4711-1.tmp", "to", ".git/proveout/tmp/4711-2", "half an object")
	o := lock(t, r)
	defer o.Close()
	notes := strings.Join(o.Notes(), "\n")
	for _, want := range []string{"process 4711", "records/05/.proveout-4711-1.tmp"} {
		if !strings.Contains(notes, want) {
			t.Errorf("Notes() = %q, want %q in it", notes, want)
		}
	}
	for _, name := range []string{"records/05/.proveout-4711-1.tmp", ".git/proveout/tmp/4711-2"} {
		if _, err := os.Stat(filepath.Join(r.Dir(), name)); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is still there", name)
		}
	}
	closeOp(t, o)
	if o := lock(t, r); len(o.Notes()) != 0 {
		t.Errorf("said twice: %q", o.Notes())
	} else {
		closeOp(t, o)
	}
}

// A power cut may leave a lock without its text; the note beside it tells whose
// it was.
func TestLockThatLostItsText(t *testing.T) {
	r := newJob(t)
	note := ".git/proveout/tmp/" + lockNote + hostMark("crew-laptop") + "-4711-1"
	left(t, r, note, "")
	if err := os.Link(filepath.Join(r.Dir(), note), filepath.Join(r.Dir(), ".git/index.lock")); err != nil {
		t.Fatal(err)
	}
	closeOp(t, lock(t, r))
}

func TestLockOfAnotherMachine(t *testing.T) {
	r := newJob(t)
	left(t, r, ".git/index.lock", "office-pc 4711\n", ".git/proveout/tmp/4711-2", "an object being written")
	_, err := r.Lock(t0(), 20*time.Millisecond)
	wantError(t, err, ErrBusy, "process 4711 on office-pc")
	wantError(t, err, ErrBusy, "remove "+filepath.Join(r.Dir(), ".git", "index.lock"))
	for _, name := range []string{".git/index.lock", ".git/proveout/tmp/4711-2"} {
		if _, err := os.Stat(filepath.Join(r.Dir(), name)); err != nil {
			t.Errorf("%s was removed", name)
		}
	}
}

// Locks of git, which are empty or hold an index, are waited for and never
// removed.
func TestLockOfPlainGit(t *testing.T) {
	r := newJob(t)
	for _, content := range []string{"", "DIRC\x00\x00\x00\x02\x00\x00\x00\x00"} {
		left(t, r, ".git/index.lock", content)
		_, err := r.Lock(t0(), 20*time.Millisecond)
		wantError(t, err, ErrBusy, "git or another git program")
		lockFile := filepath.Join(r.Dir(), ".git/index.lock")
		time.AfterFunc(50*time.Millisecond, func() { os.Remove(lockFile) })
		o, err := r.Lock(t0(), 10*time.Second)
		if err != nil {
			t.Fatal(err)
		}
		closeOp(t, o)
	}
}

func TestPlainGitKeepsOut(t *testing.T) {
	r := newJob(t)
	o := lock(t, r)
	write(t, r.Dir(), "notes.txt", "by hand\n")
	if out, err := tryGit(r.Dir(), "add", "notes.txt"); err == nil {
		t.Errorf("git add worked while the job was locked: %s", out)
	}
	closeOp(t, o)
	git(t, r.Dir(), "add", "notes.txt")
}

// A branch lock of another git program stops the commit, and the files stay.
func TestBranchLockOfPlainGit(t *testing.T) {
	r := newJob(t)
	left(t, r, ".git/refs/heads/main.lock", "")
	_, err := trySave(r, "record", map[string]string{"job.yaml": "a\n"})
	wantError(t, err, ErrNotInHistory, "another git program is moving the branch")
	wantError(t, err, ErrBusy, ".git/refs/heads/main.lock")
	if _, err := os.Stat(filepath.Join(r.Dir(), ".git/refs/heads/main.lock")); err != nil {
		t.Error("the lock was removed")
	}
	if err := os.Remove(filepath.Join(r.Dir(), ".git/refs/heads/main.lock")); err != nil {
		t.Fatal(err)
	}
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
}

// The branch moves between the reading of the head and the writing of the
// commit: only possible past the locks, and then the commit is not lost over.
func TestBranchMovedMeanwhile(t *testing.T) {
	r := newJob(t)
	opts := options()
	opts.FS = &watch{look: func(c call) error {
		if c.op == "link" && c.name == ".git/refs/heads/main.lock" {
			git(t, r.Dir(), "update-ref", "refs/heads/main", git(t, r.Dir(), "commit-tree", "-p", "HEAD", "-m", "by hand", "HEAD^{tree}")[:40])
		}
		return nil
	}}
	w, err := Open(r.Dir(), opts)
	if err != nil {
		t.Fatal(err)
	}
	defer w.Close()
	_, err = trySave(w, "record", map[string]string{"job.yaml": "a\n"})
	wantError(t, err, ErrNotInHistory, "was moved by another program")
	if head, _ := r.Head(); head.Message != "by hand\n" {
		t.Errorf("head is %q", head.Message)
	}
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
	if got := git(t, r.Dir(), "rev-list", "--count", "HEAD"); got != "3\n" {
		t.Errorf("commits: %s", got)
	}
}

func TestLockRefusesUnfinishedGitWork(t *testing.T) {
	r := newJob(t)
	save(t, r, "one", map[string]string{"job.yaml": "a\n"})
	left(t, r, ".git/MERGE_HEAD", git(t, r.Dir(), "rev-parse", "HEAD"))
	_, err := r.Lock(t0(), 0)
	wantError(t, err, ErrBusy, "MERGE_HEAD")
	if err := os.Remove(filepath.Join(r.Dir(), ".git/MERGE_HEAD")); err != nil {
		t.Fatal(err)
	}
	git(t, r.Dir(), "checkout", "-q", "--detach")
	_, err = r.Lock(t0(), 0)
	wantError(t, err, ErrNotJob, "git switch main")
	if _, err := r.Head(); err != nil {
		t.Errorf("reading with a detached HEAD: %v", err)
	}
	git(t, r.Dir(), "checkout", "-q", "main")
	closeOp(t, lock(t, r))
}

func TestLockIsBrokenOff(t *testing.T) {
	r := newJob(t)
	left(t, r, ".git/index.lock", "")
	ctx, cancel := context.WithCancel(t0())
	time.AfterFunc(20*time.Millisecond, cancel)
	_, err := r.Lock(ctx, time.Minute)
	wantError(t, err, context.Canceled, "")
	if err := os.Remove(filepath.Join(r.Dir(), ".git/index.lock")); err != nil {
		t.Fatal(err)
	}
	closeOp(t, lock(t, r))
}

func TestLockNeedsToSayWho(t *testing.T) {
	r := newJob(t)
	anonymous, err := Open(r.Dir(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer anonymous.Close()
	if _, err := anonymous.Lock(t0(), 0); err == nil {
		t.Error("locked without a host")
	}
	if _, err := anonymous.Head(); err != nil {
		t.Error(err)
	}
}

// A machine's name with spaces is still known as this one.
func TestLockOfAMachineWithSpaces(t *testing.T) {
	opts := Options{Host: "Ada's crew laptop", PID: 1}
	r := newJobAt(t, filepath.Join(t.TempDir(), "job"), opts)
	o := lock(t, r)
	if err := o.flock.Unlock(); err != nil { // as if it had died
		t.Fatal(err)
	}
	again, err := Open(r.Dir(), opts)
	if err != nil {
		t.Fatal(err)
	}
	defer again.Close()
	closeOp(t, lock(t, again))
}

// The temporary folder is missing in a clone, and git status there stays clean
// with a left-over in the work folder.
func TestLockInAClone(t *testing.T) {
	r := newJob(t)
	clone := filepath.Join(t.TempDir(), "clone")
	git(t, t.TempDir(), "clone", "-q", r.Dir(), clone)
	c := reopen(t, clone)
	save(t, c, "record", map[string]string{"job.yaml": "a\n"})
	write(t, clone, "records/.proveout-1-1.tmp", "torn")
	sound(t, clone)
	if got := git(t, clone, "rev-list", "--count", "HEAD"); got != "2\n" {
		t.Errorf("commits: %s", got)
	}
}

func ExampleRepo_Lock() {
	dir, _ := os.MkdirTemp("", "")
	defer os.RemoveAll(dir)
	r, err := Create(filepath.Join(dir, "birch-stair"), Options{Host: "crew-laptop", PID: 4711})
	if err != nil {
		fmt.Println(err)
		return
	}
	defer r.Close()
	op, err := r.Lock(context.Background(), time.Second)
	if err != nil {
		fmt.Println(err)
		return
	}
	defer op.Close()
	if err := op.Create("records/05-insulation/a1.yaml", []byte("value: 5.5 in\n...\n")); err != nil {
		fmt.Println(err)
		return
	}
	when := time.Date(2025, 3, 4, 8, 0, 0, 0, time.UTC)
	hash, err := op.Commit("record foam depth", Author{Name: "Ada Lead", Email: "ada@example.org"}, when)
	fmt.Println(hash, err)
	// Output: d8f618bb756123ad0b7124369781331a5f29751d <nil>
}

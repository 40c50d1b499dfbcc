package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var (
	crew    = Author{"Ada Lead", "ada@example.org"}
	morning = time.Date(2025, 3, 4, 8, 0, 0, 0, time.FixedZone("", -5*3600))
)

func options() Options { return Options{Host: "crew-laptop", PID: os.Getpid()} }

// newJob is a job with one commit, in a folder of its own.
func newJob(t testing.TB) *Repo {
	t.Helper()
	return newJobAt(t, filepath.Join(t.TempDir(), "birch-stair"), options())
}

func newJobAt(t testing.TB, dir string, o Options) *Repo {
	t.Helper()
	r, err := Create(dir, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	save(t, r, "begin", map[string]string{".gitattributes": "* -text\n", "FORMAT.md": "How to read this.\n"})
	return r
}

// t0 is a context without an end.
func t0() context.Context { return context.Background() }

func lock(t testing.TB, r *Repo) *Operation {
	t.Helper()
	o, err := r.Lock(context.Background(), 0)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func closeOp(t testing.TB, o *Operation) {
	t.Helper()
	if err := o.Close(); err != nil {
		t.Fatal(err)
	}
}

// save is one whole operation.
func save(t testing.TB, r *Repo, message string, files map[string]string) string {
	t.Helper()
	h, err := trySave(r, message, files)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func trySave(r *Repo, message string, files map[string]string) (h string, err error) {
	o, err := r.Lock(context.Background(), 10*time.Second)
	if err != nil {
		return "", err
	}
	defer func() { err = errors.Join(err, o.Close()) }()
	for name, content := range files {
		if err := o.Write(name, []byte(content)); err != nil {
			return "", err
		}
	}
	return o.Commit(message, crew, morning)
}

// commitAll commits whatever differs from the head commit, as the next
// operation of the program does after a failure.
func commitAll(r *Repo) error {
	o, err := r.Lock(context.Background(), 10*time.Second)
	if err != nil {
		return err
	}
	changes, err := r.Changes()
	for _, c := range changes {
		o.Add(c.Path)
	}
	if err == nil && len(changes) > 0 {
		_, err = o.Commit("what was saved before", crew, morning)
	}
	return errors.Join(err, o.Close())
}

// git runs the git program, which only tests do.
func git(t testing.TB, dir string, args ...string) string {
	t.Helper()
	out, err := tryGit(dir, args...)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func tryGit(dir string, args ...string) (string, error) {
	cmd := exec.Command("git", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GIT_CONFIG_GLOBAL="+os.DevNull, "GIT_CONFIG_NOSYSTEM=1", "LC_ALL=C",
		"GIT_AUTHOR_NAME=Plain Git", "GIT_AUTHOR_EMAIL=git@example.org",
		"GIT_COMMITTER_NAME=Plain Git", "GIT_COMMITTER_EMAIL=git@example.org")
	out, err := cmd.CombinedOutput()
	if err != nil {
		err = fmt.Errorf("git %s: %w\n%s", strings.Join(args, " "), err, out)
	}
	return string(out), err
}

// sound checks with plain git that history is whole and nothing is uncommitted.
func sound(t testing.TB, dir string) {
	t.Helper()
	if out := git(t, dir, "fsck", "--strict", "--no-dangling"); out != "" {
		t.Fatalf("git fsck: %s", out)
	}
	if out := git(t, dir, "status", "--porcelain"); out != "" {
		t.Fatalf("git status:\n%s", out)
	}
}

func write(t testing.TB, dir, name, content string) {
	t.Helper()
	file := filepath.Join(dir, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte(content), 0o644); err != nil {
		t.Fatal(err)
	}
}

func reopen(t testing.TB, dir string) *Repo {
	t.Helper()
	r, err := Open(dir, options())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { r.Close() })
	return r
}

func wantError(t testing.TB, err, kind error, text string) {
	t.Helper()
	if !errors.Is(err, kind) || err == nil || !strings.Contains(err.Error(), text) {
		t.Errorf("error %v, want %v with %q", err, kind, text)
	}
}

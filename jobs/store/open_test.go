package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestOpenRefuses lists folders that are no job, or a job whose history or files
// are not where they seem, and what is said.
func TestOpenRefuses(t *testing.T) {
	for _, tt := range []struct {
		name string
		make func(t *testing.T, dir string)
		kind error
		want string
	}{
		{"no such folder", func(t *testing.T, dir string) { os.RemoveAll(dir) }, fs.ErrNotExist, "no such file"},
		{"a file", func(t *testing.T, dir string) { os.RemoveAll(dir); os.WriteFile(dir, nil, 0o644) }, ErrNotJob, "not a directory"},
		{"no history", func(t *testing.T, dir string) { os.RemoveAll(filepath.Join(dir, ".git")) }, ErrNotJob, "proveout new"},
		{"bare", func(t *testing.T, dir string) { bare(t, dir) }, ErrNotJob, "bare repository"},
		{"bare by configuration", setting("core.bare", "true"), ErrNotJob, "bare repository"},
		{"files elsewhere", setting("core.worktree", "/"), ErrNotJob, "git config --unset core.worktree"},
		{"linked", func(t *testing.T, dir string) { linked(t, dir) }, ErrNotJob, "linked work tree"},
		{"shallow", file(".git/shallow", "0123456789012345678901234567890123456789\n"), ErrNotJob, "git fetch --unshallow"},
		{"objects elsewhere", file(".git/objects/info/alternates", "/tmp\n"), ErrNotJob, "alternates"},
		{"submodule", file(".gitmodules", "[submodule \"x\"]\n"), ErrNotJob, "submodules"},
		{"sparse", file(".git/info/sparse-checkout", "/*\n"), ErrNotJob, "git sparse-checkout disable"},
		{"grafted", file(".git/info/grafts", ""), ErrNotJob, "grafted"},
		{"other hash", file(".git/config", "[core]\nrepositoryformatversion = 1\n[extensions]\nobjectformat = sha256\n"), ErrNotJob, "objectformat = sha256"},
		{"partial clone", file(".git/config", "[core]\nrepositoryformatversion = 1\n[extensions]\npartialclone = origin\n"), ErrNotJob, "partialclone"},
		{"broken configuration", file(".git/config", "[core\n"), ErrNotJob, "config"},
		{"no objects", func(t *testing.T, dir string) { os.RemoveAll(filepath.Join(dir, ".git/objects")) }, ErrNotJob, ".git/objects"},
		{"no HEAD", func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, ".git/HEAD")) }, ErrCorrupt, ".git/HEAD is missing"},
		{"empty HEAD", file(".git/HEAD", ""), ErrCorrupt, ".git/HEAD"},
		{"HEAD leads out", file(".git/HEAD", "ref: refs/heads/../../../x\n"), ErrNotJob, "git branch -m main"},
		{"empty branch", file(".git/refs/heads/main", ""), ErrCorrupt, "refs/heads/main"},
		{"torn branch", file(".git/refs/heads/main", "0123456"), ErrCorrupt, "0123456"},
		{"no commit", func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, ".git/refs/heads/main")) }, ErrUnfinished, "proveout new"},
		{"half made", func(t *testing.T, dir string) {
			os.Rename(filepath.Join(dir, ".git"), filepath.Join(dir, halfMade))
		}, ErrUnfinished, "proveout new"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			r := newJob(t)
			tt.make(t, r.Dir())
			opened, err := Open(r.Dir(), options())
			if err == nil {
				opened.Close()
			}
			wantError(t, err, tt.kind, tt.want)
		})
	}
}

func file(name, content string) func(*testing.T, string) {
	return func(t *testing.T, dir string) { write(t, dir, name, content) }
}

func setting(key, value string) func(*testing.T, string) {
	return func(t *testing.T, dir string) { git(t, dir, "config", key, value) }
}

func bare(t *testing.T, dir string) {
	other := t.TempDir()
	git(t, other, "clone", "-q", "--bare", dir, "bare")
	if err := errors.Join(os.RemoveAll(dir), os.Rename(filepath.Join(other, "bare"), dir)); err != nil {
		t.Fatal(err)
	}
}

func linked(t *testing.T, dir string) {
	main := filepath.Join(t.TempDir(), "main")
	if err := os.Rename(dir, main); err != nil {
		t.Fatal(err)
	}
	git(t, main, "worktree", "add", "-q", dir)
}

func TestOpenAllows(t *testing.T) {
	r := newJob(t)
	git(t, r.Dir(), "config", "core.repositoryformatversion", "1")
	git(t, r.Dir(), "config", "extensions.objectformat", "sha1")
	reopen(t, r.Dir())
	link := filepath.Join(t.TempDir(), "link")
	if err := os.Symlink(r.Dir(), link); err != nil {
		t.Fatal(err)
	}
	reopen(t, link)
}

func TestCreateRefuses(t *testing.T) {
	above := t.TempDir()
	write(t, above, "file", "")
	write(t, above, "full/notes.txt", "")
	git(t, above, "init", "-q", "theirs")
	newJobAt(t, filepath.Join(above, "job"), options())
	for name, want := range map[string]string{
		"file": "its folder", "full": "already holds files", "theirs": "already has a history", "job": "already has a history",
	} {
		r, err := Create(filepath.Join(above, name), options())
		if err == nil {
			r.Close()
		}
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Create(%s) = %v, want %q", name, err, want)
		}
	}
	_, err := Create(filepath.Join(above, "no/such/folder"), options())
	wantError(t, err, fs.ErrNotExist, "no")
	if err := os.Mkdir(filepath.Join(above, "empty"), 0o755); err != nil {
		t.Fatal(err)
	}
	newJobAt(t, filepath.Join(above, "empty"), options())
	sound(t, filepath.Join(above, "empty"))
}

// A Create that was cut off before the first commit is continued by the next,
// and the files that are there are offered for the commit.
func TestCreateContinues(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "job")
	first, err := Create(dir, options())
	if err != nil {
		t.Fatal(err)
	}
	o := lock(t, first)
	if err := o.Write("job.yaml", []byte("a\n")); err != nil {
		t.Fatal(err)
	}
	closeOp(t, o)
	if err := first.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = Open(dir, options())
	wantError(t, err, ErrUnfinished, dir)

	second, err := Create(dir, options())
	if err != nil {
		t.Fatal(err)
	}
	defer second.Close()
	if changes, err := second.Changes(); err != nil || len(changes) != 1 || changes[0].Path != "job.yaml" {
		t.Errorf("Changes() = %v, %v", changes, err)
	}
	third, err := Create(dir, options())
	if err != nil {
		t.Fatal(err)
	}
	defer third.Close()
	if err := commitAll(second); err != nil {
		t.Fatal(err)
	}
	sound(t, dir)
	_, err = third.Lock(t0(), 0)
	wantError(t, err, ErrNotJob, "finished this job first")
}

package store

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestCheckPath(t *testing.T) {
	for _, good := range []string{
		"job.yaml", "records/05-insulation/0h7k2m-foam-depth.yaml", "signoffs/05-insulation.before-board-0h7k.sha256",
		".gitattributes", ".gitignore", "FORMAT.md", "evidence/photos/0a1b2c3d-north_wall.jpg", "a", "company", "console.txt",
		strings.Repeat("a", 100),
	} {
		if err := CheckPath(good); err != nil {
			t.Errorf("CheckPath(%q) = %v", good, err)
		}
	}
	for _, bad := range []string{
		"", ".", "..", "/", "/etc/passwd", "../x", "a/../b", "a/./b", "a//b", "a/", "./a",
		`a\b`, `C:\x`, "c:x", "a:b", "a b", "A.yaml", "Über.yaml", "a\x00b", "a\nb", "a\x1b[2J", "a*", "a?", "a|b", "a\"b", "~", "%2e%2e",
		".git", ".git/config", ".GIT/config", "git~1", "a/.git/hooks/x", ".gitmodules", ".hidden", "a/.gitattributes", "a/FORMAT.md", "-rf",
		"con", "con.yaml", "records/nul", "aux.tar.gz", "com1.yaml", "lpt9", "a.", "a/b.", "prn.",
		strings.Repeat("a", 101), strings.Repeat("a/", 91) + "a", "a\u202eb", ".proveout-1-1.tmp",
	} {
		if err := CheckPath(bad); !errors.Is(err, ErrPath) {
			t.Errorf("CheckPath(%q) = %v, want ErrPath", bad, err)
		}
	}
}

// A bad name is refused by everything that takes one, and nothing is written.
func TestBadNamesAreRefused(t *testing.T) {
	r := newJob(t)
	o := lock(t, r)
	defer o.Close()
	for _, bad := range []string{"../outside.yaml", ".git/config", ".git/hooks/pre-commit", "/tmp/outside.yaml", "con.yaml", "A.yaml"} {
		wantError(t, o.Write(bad, []byte("x")), ErrPath, bad)
		wantError(t, o.Create(bad, []byte("x")), ErrPath, bad)
		_, _, err := o.CopyIn(bad, strings.NewReader("x"))
		wantError(t, err, ErrPath, bad)
		_, err = r.Read(bad, 100)
		wantError(t, err, ErrPath, bad)
		err = r.Each(bad, 100, nil)
		wantError(t, err, ErrPath, bad)
		_, _, _, err = o.CopyInAs("evidence", func(string) string { return "../" + bad }, strings.NewReader("x"))
		wantError(t, err, ErrPath, bad[1:])
	}
	if _, err := os.Stat(filepath.Join(r.Dir(), "../outside.yaml")); !errors.Is(err, fs.ErrNotExist) {
		t.Error("a file was written outside")
	}
	for _, bad := range []string{".git/config", "../birch-stair/job.yaml", "A.yaml"} {
		write(t, r.Dir(), "A.yaml", "by hand\n")
		o.Add(bad)
		_, err := o.Commit("add", crew, morning)
		wantError(t, err, ErrNotInHistory, bad)
		wantError(t, err, ErrPath, bad)
		delete(o.changed, bad)
	}
}

// TestAttacks puts something other than a plain file or folder where the job
// has one, and wants it refused, nothing written through it, and nothing
// outside read.
func TestAttacks(t *testing.T) {
	outside := filepath.Join(t.TempDir(), "outside")
	write(t, outside, "secret.yaml", "secret\n")
	for _, tt := range attacks(outside) {
		t.Run(tt.name, func(t *testing.T) {
			r := newJob(t)
			save(t, r, "record", map[string]string{"records/05/a.yaml": "a\n", "job.yaml": "a\n"})
			tt.do(t, r.Dir())
			if data, err := r.Read("records/05/a.yaml", 100); !errors.Is(err, ErrPath) {
				t.Errorf("Read = %q, %v, want ErrPath", data, err)
			}
			err := r.Walk("records", func(string, int64) error { return nil })
			wantError(t, err, ErrPath, "records")
			_, err = r.Changes()
			wantError(t, err, ErrPath, "records")
			eachErr := r.Each("records/05", 100, func(_ string, _ []byte, err error) error { return err })
			wantError(t, eachErr, ErrPath, "")
			o := lock(t, r)
			defer o.Close()
			wantError(t, o.Write("records/05/a.yaml", []byte("mine\n")), ErrPath, "records/05/a.yaml")
			wantError(t, o.Create("records/05/a.yaml", []byte("mine\n")), ErrPath, "records/05/a.yaml")
			o.Add("records/05/a.yaml")
			_, err = o.Commit("attack", crew, morning)
			wantError(t, err, ErrPath, "records")
			if list, _ := os.ReadDir(outside); len(list) != 1 {
				t.Errorf("written outside: %v", list)
			}
			if data, _ := os.ReadFile(filepath.Join(outside, "secret.yaml")); string(data) != "secret\n" {
				t.Errorf("changed outside: %q", data)
			}
		})
	}
}

// attack is something done to a job from outside.
type attack struct {
	name string
	do   func(t *testing.T, job string)
}

// linkAttacks are those that every system allows.
func linkAttacks(outside string) []attack {
	swap := func(name, target string) func(t *testing.T, job string) {
		return func(t *testing.T, job string) {
			t.Helper()
			if err := os.RemoveAll(filepath.Join(job, name)); err != nil {
				t.Fatal(err)
			}
			if err := os.Symlink(target, filepath.Join(job, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	return []attack{
		{"file leads out", swap("records/05/a.yaml", filepath.Join(outside, "secret.yaml"))},
		{"file leads to another file of the job", swap("records/05/a.yaml", "../../job.yaml")},
		{"file leads nowhere", swap("records/05/a.yaml", "gone.yaml")},
		{"folder leads out", swap("records/05", outside)},
		{"folder leads into the job", swap("records/05", "..")},
		{"folder leads into .git", swap("records/05", "../.git")},
		{"upper folder leads out", swap("records", outside)},
	}
}

func TestGitFolderMustBeReal(t *testing.T) {
	victim := newJob(t)
	for name, target := range map[string]string{
		".git":         filepath.Join(victim.Dir(), ".git"),
		".git/objects": filepath.Join(victim.Dir(), ".git/objects"),
		".git/refs":    filepath.Join(victim.Dir(), ".git/refs"),
	} {
		r := newJob(t)
		if err := os.RemoveAll(filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(target, filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
		_, err := Open(r.Dir(), options())
		wantError(t, err, ErrNotJob, "")
	}
	r := newJob(t)
	for _, name := range []string{".git/proveout", ".git/proveout/tmp"} {
		if err := os.Rename(filepath.Join(r.Dir(), name), filepath.Join(r.Dir(), name)+".old"); err != nil {
			t.Fatal(err)
		}
		if err := os.Symlink(t.TempDir(), filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
		_, err := r.Lock(t0(), 0)
		wantError(t, err, ErrPath, "symbolic link")
		if err := os.Remove(filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
		if err := os.Rename(filepath.Join(r.Dir(), name)+".old", filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
	}
}

func FuzzCheckPath(f *testing.F) {
	f.Add("records/05/a.yaml")
	f.Add("../.git/config")
	f.Fuzz(func(t *testing.T, name string) {
		if CheckPath(name) == nil && (!filepath.IsLocal(name) || !fs.ValidPath(name) || strings.Contains(strings.ToLower(name), ".git/")) {
			t.Errorf("CheckPath allows %q", name)
		}
	})
}

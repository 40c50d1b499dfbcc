package store

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestPlainGitReadsEveryStep runs git fsck, status, log and clone after each
// kind of operation.
func TestPlainGitReadsEveryStep(t *testing.T) {
	r := newJob(t)
	steps := []func(o *Operation) error{
		func(o *Operation) error { return o.Write("job.yaml", []byte("a\n")) },
		func(o *Operation) error { return o.Write("job.yaml", []byte("b\n")) },
		func(o *Operation) error { return o.Create("records/05/a.yaml", nil) },
		func(o *Operation) error {
			_, _, err := o.CopyIn("evidence/photos/0a-wall.jpg", strings.NewReader("\xff\xd8\r\n\x00"))
			return err
		},
		func(o *Operation) error {
			o.Add("job.yaml")
			return os.Remove(filepath.Join(r.Dir(), "job.yaml"))
		},
		func(o *Operation) error {
			o.Add("records/05/a.yaml")
			return os.RemoveAll(filepath.Join(r.Dir(), "records"))
		},
	}
	for i, step := range steps {
		o := lock(t, r)
		if err := step(o); err != nil {
			t.Fatalf("step %d: %v", i, err)
		}
		if _, err := o.Commit(fmt.Sprintf("step %d", i), crew, morning); err != nil {
			t.Fatalf("step %d: %v", i, err)
		}
		closeOp(t, o)
		sound(t, r.Dir())
		if got := git(t, r.Dir(), "log", "-1", "--format=%s"); got != fmt.Sprintf("step %d\n", i) {
			t.Errorf("step %d: git log says %q", i, got)
		}
		clone := filepath.Join(t.TempDir(), "clone")
		git(t, t.TempDir(), "clone", "-q", "--no-local", r.Dir(), clone)
		sound(t, clone)
		sameAsGit(t, r)
		sameFolders(t, r, reopen(t, clone))
	}
	if err := r.Pack(); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
	sameAsGit(t, r)
}

// sameAsGit compares HeadFiles and the index with what git lists.
func sameAsGit(t *testing.T, r *Repo) {
	t.Helper()
	files, err := r.HeadFiles("")
	if err != nil {
		t.Fatal(err)
	}
	var want strings.Builder
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&want, "100644 %s 0\t%s\n", files[name], name)
	}
	if got := git(t, r.Dir(), "ls-files", "--stage"); got != want.String() {
		t.Errorf("git ls-files:\n%swant\n%s", got, want.String())
	}
	if got, want := git(t, r.Dir(), "ls-tree", "-r", "HEAD"), strings.ReplaceAll(strings.ReplaceAll(want.String(), " 0\t", "\t"), "100644 ", "100644 blob "); got != want {
		t.Errorf("git ls-tree:\n%swant\n%s", got, want)
	}
}

func sameFolders(t *testing.T, a, b *Repo) {
	t.Helper()
	x, err := a.List(".")
	if err != nil {
		t.Fatal(err)
	}
	y, err := b.List(".")
	if err != nil || !slices.Equal(x, y) {
		t.Errorf("files %v, in the clone %v, %v", x, y, err)
	}
}

// gitWork are things a person does to a job with plain git.
func gitWork() []attack {
	do := func(args ...string) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) { git(t, dir, args...) }
	}
	return []attack{

		{"gc", do("gc", "-q", "--prune=now")},
		{"repack", do("repack", "-a", "-d", "-q")},
		{"pack-refs", do("pack-refs", "--all", "--prune")},
		{"branch renamed", do("branch", "-m", "site/main-2")},
		{"branch renamed and packed", func(t *testing.T, dir string) {
			git(t, dir, "branch", "-m", "site/main-2")
			git(t, dir, "pack-refs", "--all", "--prune")
		}},
		{"commit by hand", func(t *testing.T, dir string) {
			write(t, dir, "notes.txt", "by hand\n")
			git(t, dir, "add", "-A")
			git(t, dir, "commit", "-q", "-m", "by hand")
		}},
		{"merge by hand", func(t *testing.T, dir string) {
			git(t, dir, "checkout", "-q", "-b", "side", "HEAD~1")
			write(t, dir, "side.txt", "side\n")
			git(t, dir, "add", "-A")
			git(t, dir, "commit", "-q", "-m", "side")
			git(t, dir, "checkout", "-q", "main")
			git(t, dir, "merge", "-q", "--no-edit", "side")
		}},
		{"amend", do("commit", "-q", "--amend", "-m", "better words")},
		{"tag", do("tag", "-a", "-m", "handed over", "handover")},
		{"index version 4", do("update-index", "--index-version", "4")},
		{"index without checksum", func(t *testing.T, dir string) {
			git(t, dir, "config", "index.skipHash", "true")
			git(t, dir, "update-index", "--force-write-index")
		}},
		{"index with extensions", func(t *testing.T, dir string) {
			git(t, dir, "update-index", "--untracked-cache", "--force-write-index")
			git(t, dir, "status")
		}},
		{"index removed", func(t *testing.T, dir string) { os.Remove(filepath.Join(dir, ".git/index")) }},
		{"index torn", func(t *testing.T, dir string) { os.Truncate(filepath.Join(dir, ".git/index"), 100) }},
		{"split index", do("update-index", "--split-index")},
		{"staged by hand", func(t *testing.T, dir string) {
			write(t, dir, "notes.txt", "by hand\n")
			git(t, dir, "add", "notes.txt")
		}},
		{"intent to add", func(t *testing.T, dir string) {
			write(t, dir, "notes.txt", "by hand\n")
			git(t, dir, "add", "-N", "notes.txt")
		}},
		{"executable", func(t *testing.T, dir string) {
			git(t, dir, "update-index", "--chmod=+x", "job.yaml")
			git(t, dir, "commit", "-q", "-m", "mode")
		}},
		{"commit-graph", do("commit-graph", "write", "--reachable")},
		{"multi-pack-index", func(t *testing.T, dir string) {
			git(t, dir, "repack", "-a", "-d", "-q")
			git(t, dir, "multi-pack-index", "write")
		}},
		{"message in another encoding", func(t *testing.T, dir string) {
			git(t, dir, "-c", "i18n.commitEncoding=ISO-8859-1", "commit", "-q", "--allow-empty", "-m", "gr\xfc\xdfe")
		}},
	}
}

// TestTouchedByPlainGit: after each of them the job opens, reads and saves.
func TestTouchedByPlainGit(t *testing.T) {
	for _, tt := range gitWork() {
		t.Run(tt.name, func(t *testing.T) {
			r := newJob(t)
			save(t, r, "one", map[string]string{"job.yaml": "a\n", "records/05/a.yaml": "a\n"})
			save(t, r, "two", map[string]string{"job.yaml": "b\n"})
			tt.do(t, r.Dir())
			// Once with the job that was open before, once opened after.
			for i, r := range []*Repo{r, reopen(t, r.Dir())} {
				if changes, err := r.Changes(); err != nil || len(changes) > 1 {
					t.Errorf("Changes() = %v, %v", changes, err)
				}
				if err := r.Fsck(); err != nil {
					t.Error(err)
				}
				if err := r.Log(func(Commit) error { return nil }); err != nil {
					t.Error(err)
				}
				save(t, r, "record", map[string]string{fmt.Sprintf("records/05/b%d.yaml", i): "b\n"})
			}
			if err := commitAll(r); err != nil {
				t.Fatal(err)
			}
			sound(t, r.Dir())
		})
	}
}

// TestGitGarbageCollectionMeanwhile reads and saves while plain git packs the
// job again and again.
func TestGitGarbageCollectionMeanwhile(t *testing.T) {
	r := newJob(t)
	first := save(t, r, "first", map[string]string{"records/05/a.yaml": "0"})
	var failed error
	done := make(chan struct{})
	go func() {
		defer close(done)
		for range 15 {
			if _, err := tryGit(r.Dir(), "repack", "-a", "-d", "-q"); err != nil {
				failed = err
			}
		}
	}()
	for i := 1; ; i++ {
		h := save(t, r, "record", map[string]string{"records/05/a.yaml": fmt.Sprint(i)})
		if data, err := r.FileAt(h, "records/05/a.yaml"); err != nil || string(data) != fmt.Sprint(i) {
			t.Fatalf("newest: %q, %v", data, err)
		}
		if data, err := r.FileAt(first, "records/05/a.yaml"); err != nil || string(data) != "0" {
			t.Fatalf("oldest: %q, %v", data, err)
		}
		n := 0
		if err := r.Log(func(Commit) error { n++; return nil }); err != nil || n != i+2 {
			t.Fatalf("Log: %d commits, want %d, %v", n, i+2, err)
		}
		select {
		case <-done:
			if failed != nil {
				t.Error(failed)
			}
			sound(t, r.Dir())
			return
		default:
		}
	}
}

// A pack without an index is what git leaves when it is killed.
func TestHalfAPack(t *testing.T) {
	r := newJob(t)
	head := save(t, r, "record", map[string]string{"job.yaml": "a\n"})
	git(t, r.Dir(), "repack", "-a", "-d", "-q")
	write(t, r.Dir(), ".git/objects/pack/pack-"+head+".pack", "PACK")
	if data, err := reopen(t, r.Dir()).FileAt(head, "job.yaml"); err != nil || string(data) != "a\n" {
		t.Errorf("%q, %v", data, err)
	}
	if err := reopen(t, r.Dir()).Fsck(); err != nil {
		t.Error(err)
	}
}

// A symbolic link or a submodule in the history is refused, with its name.
func TestHistoryWithLinks(t *testing.T) {
	r := newJob(t)
	if err := os.Symlink("job.yaml", filepath.Join(r.Dir(), "link.yaml")); err != nil {
		t.Fatal(err)
	}
	git(t, r.Dir(), "add", "link.yaml")
	git(t, r.Dir(), "commit", "-q", "-m", "link")
	_, err := r.HeadFiles("")
	wantError(t, err, ErrPath, "link.yaml")
	if err := r.Fsck(); err != nil {
		t.Error(err)
	}
	git(t, r.Dir(), "rm", "-q", "link.yaml")
	git(t, r.Dir(), "update-index", "--add", "--cacheinfo", "160000,"+strings.TrimSpace(git(t, r.Dir(), "rev-parse", "HEAD"))+",sub")
	git(t, r.Dir(), "commit", "-q", "-m", "submodule")
	_, err = r.HeadFiles("")
	wantError(t, err, ErrPath, `"sub"`)
	if err := r.Fsck(); err != nil {
		t.Error(err)
	}
}

func TestReplacedObjectsAreReported(t *testing.T) {
	r := newJob(t)
	save(t, r, "one", map[string]string{"job.yaml": "a\n"})
	git(t, r.Dir(), "replace", "HEAD", "HEAD~1")
	if head, err := r.Head(); err != nil || head.Message != "one\n" {
		t.Errorf("Head() = %+v, %v", head, err)
	}
	wantError(t, r.Fsck(), ErrCorrupt, "git replace -d")
	if err := errors.Join(r.Fsck()); err == nil {
		t.Error("Fsck is silent")
	}
}

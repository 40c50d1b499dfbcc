package store

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

func TestChangesInFolders(t *testing.T) {
	r := newJob(t)
	save(t, r, "one", map[string]string{"phases/05.yaml": "a\n", "records/05/a.yaml": "a\n", "job.yaml": "a\n"})
	for _, name := range []string{"phases/05.yaml", "records/05/a.yaml", "job.yaml", "records/05/b.yaml", "phases.yaml"} {
		write(t, r.Dir(), name, "b\n")
	}
	for _, tt := range []struct {
		dirs []string
		want []Change
	}{
		{[]string{"phases"}, []Change{{"phases/05.yaml", Modified}}},
		{[]string{"phases", "job.yaml"}, []Change{{"job.yaml", Modified}, {"phases/05.yaml", Modified}}},
		{[]string{"records", "records/05"}, []Change{{"records/05/a.yaml", Modified}, {"records/05/b.yaml", Added}}},
		{[]string{"none"}, nil},
		{nil, []Change{{"job.yaml", Modified}, {"phases.yaml", Added}, {"phases/05.yaml", Modified}, {"records/05/a.yaml", Modified}, {"records/05/b.yaml", Added}}},
	} {
		got, err := r.Changes(tt.dirs...)
		if err != nil || !slices.Equal(got, tt.want) {
			t.Errorf("Changes(%q) = %v, %v, want %v", tt.dirs, got, err, tt.want)
		}
		got, err = r.ChangesByContent(tt.dirs...)
		if err != nil || !slices.Equal(got, tt.want) {
			t.Errorf("ChangesByContent(%q) = %v, %v, want %v", tt.dirs, got, err, tt.want)
		}
	}
}

// Files of editors and systems are no changes.
func TestChangesLeavesOutHiddenFiles(t *testing.T) {
	r := newJob(t)
	for _, name := range []string{".DS_Store", "phases/.05.yaml.swp", ".editor/workspace.xml", "records/.proveout-1-1.tmp"} {
		write(t, r.Dir(), name, "x")
	}
	if err := os.Symlink("ada@laptop.4711", filepath.Join(r.Dir(), "phases/.#05.yaml")); err != nil {
		t.Fatal(err)
	}
	if got, err := r.Changes(); err != nil || len(got) != 0 {
		t.Errorf("Changes() = %v, %v", got, err)
	}
	// Unless somebody committed them with plain git.
	git(t, r.Dir(), "add", "-f", ".editor/workspace.xml")
	git(t, r.Dir(), "commit", "-q", "-m", "by hand")
	if got, err := r.Changes(); err != nil || len(got) != 0 {
		t.Errorf("Changes() = %v, %v", got, err)
	}
	write(t, r.Dir(), ".editor/workspace.xml", "y")
	write(t, r.Dir(), ".gitattributes", "*.yaml text\n")
	want := []Change{{".editor/workspace.xml", Modified}, {".gitattributes", Modified}}
	if got, err := r.Changes(); err != nil || !slices.Equal(got, want) {
		t.Errorf("Changes() = %v, %v, want %v", got, err, want)
	}
}

// An edit is found that keeps the length, is made in the same tick of the clock
// as the commit, or puts the old time back.
func TestChangesFindsQuietEdits(t *testing.T) {
	r := newJob(t)
	file := filepath.Join(r.Dir(), "records/05/a.yaml")
	quiet := func(i int, backdate bool) {
		t.Helper()
		save(t, r, "record", map[string]string{"records/05/a.yaml": fmt.Sprintf("value: %04d\n", i)})
		before, err := os.Stat(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(fmt.Sprintf("value: %04d\n", i+5000)), 0o644); err != nil {
			t.Fatal(err)
		}
		if backdate {
			if err := os.Chtimes(file, before.ModTime(), before.ModTime()); err != nil {
				t.Fatal(err)
			}
		}
		got, err := r.Changes()
		if want := []Change{{"records/05/a.yaml", Modified}}; err != nil || !slices.Equal(got, want) {
			t.Fatalf("edit %d: Changes() = %v, %v, want %v", i, got, err, want)
		}
	}
	for i := range 50 {
		quiet(i, false)
	}
	for i := range 10 {
		quiet(100+i, true)
	}
	time.Sleep(20 * time.Millisecond) // another tick, so that the index would be trusted
	quiet(200, true)
}

// An edit made in the tick of one commit is still found after the next commit
// of another file has made the index younger.
func TestChangesFindsEditsAfterTheNextCommit(t *testing.T) {
	r := newJob(t)
	for i := range 50 {
		name := fmt.Sprintf("records/05/%d.yaml", i)
		save(t, r, "record", map[string]string{name: "value: 1\n"})
		write(t, r.Dir(), name, "value: 2\n")
		time.Sleep(time.Duration(i%10) * time.Millisecond)
		save(t, r, "other", map[string]string{"job.yaml": fmt.Sprint(i)})
		time.Sleep(10 * time.Millisecond)
		if got, err := r.Changes(name); err != nil || len(got) != 1 {
			t.Fatalf("%d: Changes() = %v, %v", i, got, err)
		}
		if out := git(t, r.Dir(), "status", "--porcelain", name); out == "" {
			t.Fatalf("%d: git status does not see the edit", i)
		}
	}
}

// Unchanged files are not read, so that a look at a large job is fast.
func TestChangesReadsNoMoreThanItMust(t *testing.T) {
	r := newJob(t)
	files := map[string]string{}
	for i := range 20 {
		files[fmt.Sprintf("records/05/%d.yaml", i)] = fmt.Sprint(i)
	}
	save(t, r, "records", files)
	time.Sleep(20 * time.Millisecond)
	save(t, r, "job", map[string]string{"job.yaml": "a\n"}) // an index that is younger than the records
	read := func() int {
		n := 0
		opts := options()
		opts.FS = &watch{look: func(c call) error {
			if c.op == "open" && filepath.Dir(c.name) == "records/05" {
				n++
			}
			return nil
		}}
		w, err := Open(r.Dir(), opts)
		if err != nil {
			t.Fatal(err)
		}
		defer w.Close()
		if got, err := w.Changes(); err != nil || len(got) != 0 {
			t.Fatalf("Changes() = %v, %v", got, err)
		}
		return n
	}
	if n := read(); n != 0 {
		t.Errorf("%d files read", n)
	}
	// A copy has other places on the disk: read once, and not again after the
	// next commit.
	for name, content := range files {
		if err := os.Remove(filepath.Join(r.Dir(), name)); err != nil {
			t.Fatal(err)
		}
		write(t, r.Dir(), name, content)
	}
	if n := read(); n != 20 {
		t.Errorf("%d files read, want 20", n)
	}
	time.Sleep(20 * time.Millisecond)
	save(t, r, "later", map[string]string{"job.yaml": "b\n"})
	time.Sleep(20 * time.Millisecond)
	if _, err := r.Changes(); err != nil {
		t.Fatal(err)
	}
	save(t, r, "later", map[string]string{"job.yaml": "c\n"})
	if n := read(); n != 0 {
		t.Errorf("%d files read after a commit", n)
	}
}

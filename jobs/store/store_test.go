package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
)

func TestOneOperationIsOneCommit(t *testing.T) {
	r := newJob(t)
	first, _ := r.FirstCommit()
	o := lock(t, r)
	for name, content := range map[string]string{
		"records/05-insulation/a1.yaml": "value: 5.5 in\n...\n",
		"records/05-insulation/a2.yaml": "value: 6 in\n...\n",
		"job.yaml":                      "title: Birch stair\n...\n",
	} {
		if err := o.Write(name, []byte(content)); err != nil {
			t.Fatal(err)
		}
	}
	h, err := o.Commit("record foam depth\n\nnorth wall", crew, morning)
	if err != nil {
		t.Fatal(err)
	}
	closeOp(t, o)

	c, err := r.Head()
	if err != nil {
		t.Fatal(err)
	}
	if c.Hash != h || c.Message != "record foam depth\n\nnorth wall\n" || c.Author != crew || !c.When.Equal(morning) || !slices.Equal(c.Parents, []string{first}) {
		t.Errorf("Head() = %+v", c)
	}
	want := "2\n"
	if got := git(t, r.Dir(), "rev-list", "--count", "HEAD"); got != want {
		t.Errorf("commits %q, want %q", got, want)
	}
	log := git(t, r.Dir(), "log", "-1", "--format=%an|%ae|%aI|%cn|%B")
	if !strings.HasPrefix(log, "Ada Lead|ada@example.org|2025-03-04T08:00:00-05:00|Ada Lead|record foam depth\n\nnorth wall") {
		t.Errorf("git log: %s", log)
	}
	sound(t, r.Dir())
	if data, err := r.Read("job.yaml", 1000); err != nil || string(data) != "title: Birch stair\n...\n" {
		t.Errorf("Read = %q, %v", data, err)
	}
	info, err := os.Stat(filepath.Join(r.Dir(), "job.yaml"))
	if err != nil || info.Mode().Perm()&0o600 != 0o600 || info.Mode().Perm()&0o111 != 0 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
}

func TestCommitTakesOnlyItsPaths(t *testing.T) {
	r := newJob(t)
	save(t, r, "plan", map[string]string{"phases/05.yaml": "a\n", "job.yaml": "a\n", "crew.yaml": "a\n"})
	write(t, r.Dir(), "phases/05.yaml", "edited by hand\n")
	write(t, r.Dir(), "notes.txt", "by hand\n")
	if err := os.Remove(filepath.Join(r.Dir(), "crew.yaml")); err != nil {
		t.Fatal(err)
	}
	save(t, r, "record", map[string]string{"records/05/a.yaml": "1\n"})
	want := []Change{{"crew.yaml", Deleted}, {"notes.txt", Added}, {"phases/05.yaml", Modified}}
	got, err := r.Changes()
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("Changes() = %v, %v, want %v", got, err, want)
	}
	if status := git(t, r.Dir(), "status", "--porcelain"); status != " D crew.yaml\n M phases/05.yaml\n?? notes.txt\n" {
		t.Errorf("git status:\n%s", status)
	}
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
	if files, err := r.HeadFiles(""); err != nil || files["crew.yaml"] != "" || files["notes.txt"] == "" {
		t.Errorf("HeadFiles() = %v, %v", files, err)
	}
	if got, err := r.Changes(); err != nil || len(got) != 0 {
		t.Errorf("Changes() = %v, %v", got, err)
	}
}

func TestNothingToCommit(t *testing.T) {
	r := newJob(t)
	files := map[string]string{"job.yaml": "a\n"}
	save(t, r, "one", files)
	before, _ := r.Head()
	if _, err := trySave(r, "two", files); !errors.Is(err, ErrNoChange) || errors.Is(err, ErrNotInHistory) {
		t.Errorf("Commit = %v, want ErrNoChange", err)
	}
	if after, _ := r.Head(); after.Hash != before.Hash {
		t.Error("there is a new commit")
	}
	sound(t, r.Dir())
}

func TestCreateFileMustBeNew(t *testing.T) {
	r := newJob(t)
	o := lock(t, r)
	defer o.Close()
	if err := o.Create("records/a.yaml", []byte("first\n")); err != nil {
		t.Fatal(err)
	}
	wantError(t, o.Create("records/a.yaml", []byte("second\n")), fs.ErrExist, "records/a.yaml")
	if data, _ := r.Read("records/a.yaml", 100); string(data) != "first\n" {
		t.Errorf("content %q", data)
	}
	if list, _ := os.ReadDir(filepath.Join(r.Dir(), "records")); len(list) != 1 {
		t.Errorf("left over: %v", list)
	}
}

func TestCopyIn(t *testing.T) {
	r := newJob(t)
	o := lock(t, r)
	defer o.Close()
	photo := strings.Repeat("pixel", 100_000)
	name, got, n, err := o.CopyInAs("evidence/photos", func(sum string) string { return sum[:8] + "-wall.jpg" }, strings.NewReader(photo))
	if err != nil || n != int64(len(photo)) {
		t.Fatal(n, err)
	}
	if name != "evidence/photos/"+got[:8]+"-wall.jpg" {
		t.Errorf("name %s", name)
	}
	// The example of FIPS 180-4's SHA-256 with the message "abc", read.
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if sum, _, err := o.CopyIn("evidence/abc.txt", strings.NewReader("abc")); err != nil || sum != abc {
		t.Errorf("SHA-256 of abc = %s, %v, want %s", sum, err, abc)
	}
	again, n, err := o.CopyIn(name, strings.NewReader(photo))
	if err != nil || again != got || n != int64(len(photo)) {
		t.Errorf("the same once more: %v", err)
	}
	_, _, err = o.CopyIn(name, strings.NewReader("another"))
	wantError(t, err, fs.ErrExist, name)
	if _, err := o.Commit("photo", crew, morning); err != nil {
		t.Fatal(err)
	}
	closeOp(t, o)
	sound(t, r.Dir())
	list, err := r.List(".")
	if want := []string{".gitattributes", "FORMAT.md", "evidence/abc.txt", name}; err != nil || !slices.Equal(list, want) {
		t.Errorf("List = %v, %v, want %v", list, err, want)
	}
}

func TestCommitRefusesWhatGitCannotKeep(t *testing.T) {
	r := newJob(t)
	for _, tt := range []struct {
		message string
		who     Author
		when    time.Time
		want    string
	}{
		{"", crew, morning, "message"},
		{"a\x00b", crew, morning, "message"},
		{"a", Author{}, morning, "name"},
		{"a", Author{"Ada <x>", ""}, morning, "cannot keep"},
		{"a", Author{"Ada\nparent 0", ""}, morning, "cannot keep"},
		{"a", crew, time.Time{}, "1970"},
	} {
		o := lock(t, r)
		if err := o.Write("job.yaml", []byte(fmt.Sprint(tt))); err != nil {
			t.Fatal(err)
		}
		_, err := o.Commit(tt.message, tt.who, tt.when)
		wantError(t, err, ErrNotInHistory, tt.want)
		closeOp(t, o)
	}
	if got, _ := r.Changes(); !slices.Equal(got, []Change{{"job.yaml", Added}}) {
		t.Errorf("Changes() = %v", got)
	}
}

func TestReadRefusesLongFiles(t *testing.T) {
	r := newJob(t)
	save(t, r, "one", map[string]string{"job.yaml": strings.Repeat("x", 1000)})
	if _, err := r.Read("job.yaml", 1000); err != nil {
		t.Error(err)
	}
	_, err := r.Read("job.yaml", 999)
	wantError(t, err, ErrPath, "more than the 999 allowed")
	_, err = r.Read("gone.yaml", 999)
	wantError(t, err, fs.ErrNotExist, "gone.yaml")
}

func TestEach(t *testing.T) {
	r := newJob(t)
	save(t, r, "one", map[string]string{"records/05/b.yaml": "b", "records/05/a.yaml": "a", "records/05/long.yaml": "12345678901"})
	write(t, r.Dir(), "records/05/.proveout-1-1.tmp", "torn")
	var got []string
	err := r.Each("records/05", 10, func(name string, data []byte, err error) error {
		got = append(got, fmt.Sprintf("%s %s %t", name, data, err == nil))
		return nil
	})
	want := []string{"records/05/a.yaml a true", "records/05/b.yaml b true", "records/05/long.yaml  false"}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("Each: %q, %v, want %q", got, err, want)
	}
	if err := r.Each("records/06", 10, nil); err != nil {
		t.Errorf("Each of no folder: %v", err)
	}
}

func TestAFileBecomesAFolderAndBack(t *testing.T) {
	r := newJob(t)
	save(t, r, "file", map[string]string{"papers": "file\n"})
	if err := os.Remove(filepath.Join(r.Dir(), "papers")); err != nil {
		t.Fatal(err)
	}
	write(t, r.Dir(), "papers/one.txt", "1\n")
	write(t, r.Dir(), "papers/two.txt", "2\n")
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
	if err := os.RemoveAll(filepath.Join(r.Dir(), "papers")); err != nil {
		t.Fatal(err)
	}
	write(t, r.Dir(), "papers", "file again\n")
	if err := commitAll(r); err != nil {
		t.Fatal(err)
	}
	sound(t, r.Dir())
}

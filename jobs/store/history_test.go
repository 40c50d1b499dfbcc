package store

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// fastImport fills a job with a random history through git's own importer:
// files added, changed, deleted, renamed, made into folders and back, branches
// and merges, also merges that drop what one side had.
func fastImport(t *testing.T, dir string, commits int, random *rand.Rand) {
	t.Helper()
	var in strings.Builder
	names := []string{"records/05/a", "records/05/b", "records/05", "records/07/c/d", "records/07/c", "signoffs/05", "evidence/p", "job", "phases/05", "records-x"}
	head := strings.TrimSpace(git(t, dir, "rev-parse", "HEAD"))
	for i := 1; i <= commits; i++ {
		fmt.Fprintf(&in, "commit refs/heads/main\nmark :%d\ncommitter T <t@example.org> %d +0000\ndata 3\nc%02d\n", i, 1_800_000_000+i*60, i%100)
		parent := head
		if i > 1 {
			parent = fmt.Sprintf(":%d", i-1-random.IntN(min(i-1, 3)))
		}
		fmt.Fprintf(&in, "from %s\n", parent)
		for range random.IntN(3) {
			if i > 4 {
				fmt.Fprintf(&in, "merge :%d\n", 1+random.IntN(i-1))
			}
		}
		for range 1 + random.IntN(4) {
			name := names[random.IntN(len(names))]
			if random.IntN(4) == 0 {
				fmt.Fprintf(&in, "D %s\n", name)
			} else {
				mode := []string{"100644", "100755", "120000"}[max(0, random.IntN(12)-9)]
				fmt.Fprintf(&in, "M %s inline %s\ndata 1\n%d\n", mode, name, random.IntN(5))
			}
		}
		in.WriteString("\n")
	}
	cmd := exec.Command("git", "fast-import", "--quiet", "--force")
	cmd.Dir = dir
	cmd.Stdin = strings.NewReader(in.String())
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("git fast-import: %v\n%s", err, out)
	}
}

// TestHistoryAsGitTellsIt compares Log and Touched with git log on random
// histories.
func TestHistoryAsGitTellsIt(t *testing.T) {
	for seed := range uint64(4) {
		r := newJob(t)
		fastImport(t, r.Dir(), 100, rand.New(rand.NewPCG(seed, 1)))
		if seed%2 == 1 {
			git(t, r.Dir(), "gc", "-q")
		}
		r = reopen(t, r.Dir())
		var log []string
		if err := r.Log(func(c Commit) error { log = append(log, c.Hash); return nil }); err != nil {
			t.Fatal(err)
		}
		if want := strings.Fields(git(t, r.Dir(), "log", "--format=%H")); !slices.Equal(log, want) {
			t.Errorf("seed %d: Log differs from git log: %d and %d commits", seed, len(log), len(want))
		}
		for _, dirs := range [][]string{nil, {"records"}, {"records/05", "signoffs"}, {"records/07/c/d"}} {
			compareTouched(t, r, dirs)
		}
		line := strings.Fields(git(t, r.Dir(), "rev-list", "--first-parent", "HEAD"))
		if first, err := r.FirstCommit(); err != nil || first != line[len(line)-1] {
			t.Errorf("FirstCommit() = %s, %v, want %s", first, err, line[len(line)-1])
		}
		if err := r.Fsck(); err != nil {
			t.Error(err)
		}
	}
}

func compareTouched(t *testing.T, r *Repo, dirs []string) {
	t.Helper()
	got := map[string]bool{}
	err := r.Touched(dirs, func(c Commit, name string, kind ChangeKind) error {
		if kind != Modified && kind != Deleted {
			t.Errorf("kind %v", kind)
		}
		got[c.Hash+" "+name] = true
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	args := append([]string{"log", "-m", "--raw", "--no-abbrev", "--no-renames", "--diff-filter=MDT", "--format=commit %H", "--"}, dirs...)
	want := map[string]bool{}
	commit := ""
	for line := range strings.Lines(git(t, r.Dir(), args...)) {
		fields := strings.Fields(line)
		switch {
		case len(fields) >= 2 && fields[0] == "commit":
			commit = fields[1]
		case len(fields) == 6 && !(fields[2] == fields[3] && fields[4] == "M"): // a change of mode alone is no change
			want[commit+" "+fields[5]] = true
		}
	}
	if !maps.Equal(got, want) {
		t.Errorf("dirs %q: %d changes, git log has %d", dirs, len(got), len(want))
		for k := range want {
			if !got[k] {
				t.Errorf("missed %s", k)
			}
		}
		for k := range got {
			if !want[k] {
				t.Errorf("invented %s", k)
			}
		}
	}
	if len(want) < 10 {
		t.Errorf("only %d changes to compare", len(want))
	}
}

func TestTouchedStops(t *testing.T) {
	r := newJob(t)
	for i := range 3 {
		save(t, r, "record", map[string]string{"records/05/a.yaml": fmt.Sprint(i)})
	}
	stop := errors.New("enough")
	n := 0
	err := r.Touched([]string{"records"}, func(Commit, string, ChangeKind) error { n++; return stop })
	if err != stop || n != 1 {
		t.Errorf("Touched = %v after %d", err, n)
	}
	if err := r.Log(func(Commit) error { return stop }); err != stop {
		t.Errorf("Log = %v", err)
	}
}

func TestFileAt(t *testing.T) {
	r := newJob(t)
	one := save(t, r, "one", map[string]string{"records/05/a.yaml": "1\n"})
	two := save(t, r, "two", map[string]string{"records/05/a.yaml": "2\n"})
	for commit, want := range map[string]string{one: "1\n", two: "2\n"} {
		if data, err := r.FileAt(commit, "records/05/a.yaml"); err != nil || string(data) != want {
			t.Errorf("FileAt(%s) = %q, %v", commit, data, err)
		}
	}
	for _, name := range []string{"records/05/b.yaml", "records/05", "records/05/a.yaml/x", "none/a.yaml", ""} {
		_, err := r.FileAt(two, name)
		wantError(t, err, fs.ErrNotExist, name)
	}
	if _, err := r.FileAt("HEAD", "job.yaml"); err == nil {
		t.Error("FileAt(HEAD) works")
	}
	_, err := r.FileAt(strings.Repeat("1", 40), "job.yaml")
	wantError(t, err, ErrCorrupt, strings.Repeat("1", 40))
	if files, err := r.FilesAt(one, "records"); err != nil || len(files) != 1 {
		t.Errorf("FilesAt = %v, %v", files, err)
	}
	if files, err := r.HeadFiles("none"); err != nil || len(files) != 0 {
		t.Errorf("HeadFiles(none) = %v, %v", files, err)
	}
	if files, err := r.HeadFiles("records/05/a.yaml"); err != nil || len(files) != 1 {
		t.Errorf("HeadFiles of a file = %v, %v", files, err)
	}
}

// TestPack packs, reads from the pack, saves on, packs again.
func TestPack(t *testing.T) {
	r := newJob(t)
	var commits []string
	for round := range 3 {
		for i := range 10 {
			commits = append(commits, save(t, r, "record", map[string]string{"records/05/a.yaml": fmt.Sprint(round, i)}))
		}
		var big strings.Builder
		for big.Len() < 1<<20 {
			fmt.Fprint(&big, rand.Uint64())
		}
		save(t, r, "logger", map[string]string{fmt.Sprintf("evidence/logs/%d.csv", round): big.String()})
		if err := r.Pack(); err != nil {
			t.Fatal(err)
		}
		if err := r.Pack(); err != nil { // nothing to do
			t.Fatal(err)
		}
		sound(t, r.Dir())
		for _, r := range []*Repo{r, reopen(t, r.Dir())} {
			for i, c := range commits {
				if data, err := r.FileAt(c, "records/05/a.yaml"); err != nil || string(data) != fmt.Sprint(i/10, i%10) {
					t.Errorf("FileAt = %q, %v", data, err)
				}
			}
			if err := r.Fsck(); err != nil {
				t.Error(err)
			}
		}
	}
	packs, _ := filepath.Glob(filepath.Join(r.Dir(), ".git/objects/pack/*.pack"))
	if len(packs) != 3 {
		t.Errorf("%d packs", len(packs))
	}
	left, _ := filepath.Glob(filepath.Join(r.Dir(), ".git/objects/??/*"))
	if len(left) != 3 {
		t.Errorf("%d loose objects, want the three logger files", len(left))
	}
	if list, _ := os.ReadDir(filepath.Join(r.Dir(), ".git/proveout/tmp")); len(list) != 0 {
		t.Errorf("left over: %v", list)
	}
	git(t, r.Dir(), "gc", "-q", "--prune=now")
	if _, err := r.FileAt(commits[0], "records/05/a.yaml"); err != nil {
		t.Errorf("after git gc: %v", err)
	}
	sound(t, r.Dir())
}

func TestLoose(t *testing.T) {
	r := newJob(t)
	if n, err := r.Loose(); err != nil || n < 0 || n > 2000 {
		t.Errorf("Loose() = %d, %v", n, err)
	}
	for i := range 10 {
		write(t, r.Dir(), fmt.Sprintf(".git/objects/17/%038d", i), "")
	}
	if n, err := r.Loose(); err != nil || n < 2560 {
		t.Errorf("Loose() = %d, %v", n, err)
	}
}

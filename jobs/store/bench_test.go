package store

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A record as a crew makes it.
const benchRecord = `id: %08d
check: foam-depth
value: 5 1/2 in
at: north wall/bay 3
with: dg-2
by: ada
taken: 2025-03-04T08:00:00-05:00
...
`

// jobOf has n commits of one record each, spread over eleven phases, loose.
func jobOf(b *testing.B, n int) *Repo {
	r := newJob(b)
	for i := range n {
		saveRecord(b, r, i)
	}
	return r
}

func saveRecord(b *testing.B, r *Repo, i int) {
	o, err := r.Lock(t0(), time.Second)
	if err != nil {
		b.Fatal(err)
	}
	name := recordName(i)
	if err := o.Create(name, fmt.Appendf(nil, benchRecord, i)); err != nil {
		b.Fatal(err)
	}
	if _, err := o.Commit("record "+name, crew, morning.Add(time.Duration(i)*time.Minute)); err != nil {
		b.Fatal(err)
	}
	if err := o.Close(); err != nil {
		b.Fatal(err)
	}
}

func recordName(i int) string { return fmt.Sprintf("records/%02d-phase/%08d.yaml", i%11, i) }

// BenchmarkCommit saves one record: lock, file, flush, commit, flush, unlock. A
// long history costs nothing by itself; many files do, since git's index and the
// folder's tree, which name each, are written again by every commit.
func BenchmarkCommit(b *testing.B) {
	for _, n := range []int{50, 5000} {
		b.Run(fmt.Sprintf("at %d", n), func(b *testing.B) {
			r := jobOf(b, n)
			for i := n; b.Loop(); i++ {
				saveRecord(b, r, i)
			}
		})
	}
	b.Run("at 5000 of 50 files", func(b *testing.B) {
		r := newJob(b)
		i := 0
		for range 5000 {
			i++
			save(b, r, "record", map[string]string{recordName(i % 50): fmt.Sprintf(benchRecord, i)})
		}
		for b.Loop() {
			i++
			save(b, r, "record", map[string]string{recordName(i % 50): fmt.Sprintf(benchRecord, i)})
		}
	})
	b.Run("at 5000 packed", func(b *testing.B) {
		r := jobOf(b, 5000)
		if err := r.Pack(); err != nil {
			b.Fatal(err)
		}
		for i := 5000; b.Loop(); i++ {
			saveRecord(b, r, i)
		}
	})
}

// BenchmarkGit is the same with the git program: git add and git commit of one
// file, in the same jobs.
func BenchmarkGit(b *testing.B) {
	for _, n := range []int{50, 5000} {
		b.Run(fmt.Sprintf("at %d", n), func(b *testing.B) {
			r := jobOf(b, n)
			git(b, r.Dir(), "config", "gc.auto", "0")
			for i := n; b.Loop(); i++ {
				name := recordName(i)
				if err := os.WriteFile(filepath.Join(r.Dir(), name), fmt.Appendf(nil, benchRecord, i), 0o644); err != nil {
					b.Fatal(err)
				}
				git(b, r.Dir(), "add", name)
				git(b, r.Dir(), "commit", "-q", "-m", "record "+name)
			}
		})
	}
}

// BenchmarkWrite is a file made safe, without a commit.
func BenchmarkWrite(b *testing.B) {
	r := newJob(b)
	o := lock(b, r)
	defer o.Close()
	for i := 0; b.Loop(); i++ {
		if err := o.Create(recordName(i), fmt.Appendf(nil, benchRecord, i)); err != nil {
			b.Fatal(err)
		}
	}
}

// jobOf300 is what an owner's review meets: one commit of 300 records.
func jobOf300(b *testing.B) *Repo {
	r := newJob(b)
	files := map[string]string{}
	for i := range 300 {
		files[recordName(i)] = fmt.Sprintf(benchRecord, i)
	}
	save(b, r, "records", files)
	time.Sleep(20 * time.Millisecond)
	save(b, r, "job", map[string]string{"job.yaml": "a\n"})
	return r
}

// BenchmarkReview opens a job of 300 records, looks for changes, and reads the
// records.
func BenchmarkReview(b *testing.B) {
	dir := jobOf300(b).Dir()
	b.Run("open and changes", func(b *testing.B) {
		for b.Loop() {
			r, err := Open(dir, Options{})
			if err != nil {
				b.Fatal(err)
			}
			if c, err := r.Changes(); err != nil || len(c) > 0 {
				b.Fatal(c, err)
			}
			r.Close()
		}
	})
	b.Run("read", func(b *testing.B) {
		r := reopen(b, dir)
		for b.Loop() {
			n := 0
			for phase := range 11 {
				err := r.Each(fmt.Sprintf("records/%02d-phase", phase), 1<<18, func(_ string, _ []byte, err error) error { n++; return err })
				if err != nil {
					b.Fatal(err)
				}
			}
			if n != 300 {
				b.Fatal(n)
			}
		}
	})
}

// BenchmarkHistory reads 5,000 commits.
func BenchmarkHistory(b *testing.B) {
	r := jobOf(b, 5000)
	for _, state := range []string{"loose", "packed"} {
		if state == "packed" {
			if err := r.Pack(); err != nil {
				b.Fatal(err)
			}
		}
		b.Run("Log "+state, func(b *testing.B) {
			for b.Loop() {
				if err := r.Log(func(Commit) error { return nil }); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("Touched "+state, func(b *testing.B) {
			for b.Loop() {
				err := r.Touched([]string{"records", "evidence", "signoffs"}, func(_ Commit, name string, _ ChangeKind) error {
					return fmt.Errorf("%s was touched", name)
				})
				if err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("git log "+state, func(b *testing.B) {
			for b.Loop() {
				out := git(b, r.Dir(), "log", "--no-renames", "--diff-filter=MD", "--name-status", "--format=", "--", "records", "evidence", "signoffs")
				if strings.TrimSpace(out) != "" {
					b.Fatal(out)
				}
			}
		})
	}
}

// BenchmarkPack packs a job of 1,000 commits.
func BenchmarkPack(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		r := jobOf(b, 1000)
		b.StartTimer()
		if err := r.Pack(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkIndex reads, changes and writes an index of 5,000 files.
func BenchmarkIndex(b *testing.B) {
	x := &index{}
	for i := range 5000 {
		x.entries = append(x.entries, newIndexEntry(fmt.Sprintf("records/05-phase/%08d.yaml", i), [20]byte{1}, stamp{}))
	}
	data := x.encode()
	for b.Loop() {
		x, err := parseIndex(data)
		if err != nil {
			b.Fatal(err)
		}
		x.encode()
	}
}

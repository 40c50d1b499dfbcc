package jobs

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases/strict"
)

// reviewJobs is how many jobs the review's benchmark has; the figure asked for
// is that of 1000.
var reviewJobs = flag.Int("review.jobs", 20, "jobs in BenchmarkReview")

// records is how many records each of these jobs has.
const records = 300

// filled is a job with the whole plan and so many records.
func (f *fixture) filled(id string) *Job {
	f.t.Helper()
	j := f.wholePlan(id)
	everybody := Person{Name: "Ana Ruiz", Roles: []string{"crew lead"}}
	for _, h := range j.Plan.Holds() {
		for _, q := range h.Checks {
			everybody.Roles = append(everybody.Roles, q.By...)
			if q.Instrument != "" {
				f.c.Instruments = append(f.c.Instruments, Instrument{ID: strings.ReplaceAll(q.Instrument, " ", "-"), Kind: q.Instrument, Calibrated: start, Due: start.AddDate(1, 0, 0)})
			}
		}
	}
	e := f.entry("Ana")
	e.By = everybody
	picture := f.photo("all.jpg", 7)
	g := j.Gate(e.Now)
	var answers []Answer
	for round := 0; len(answers) < records-1; round++ {
		for _, h := range j.Plan.Holds() {
			for _, q := range h.Checks {
				if check := checks.ByName(q.Compute); !g.Asked(q) || round > 0 && !q.Series || check != nil && (check.Whole != nil || q.Uses != "" || check.Log) {
					continue
				}
				for _, place := range q.Expected(j.Room, "") {
					if a := f.example(q, place, picture, round); len(answers) < records-1 {
						answers = append(answers, a)
					}
				}
			}
		}
	}
	if _, err := j.Record(context.Background(), f.c, e, answers...); err != nil {
		f.t.Fatal(err)
	}
	return j
}

// example is an answer to a check as a crew enters it.
func (f *fixture) example(q *checks.Question, place string, picture *Incoming, round int) Answer {
	a := Answer{
		Phase: q.Phase, Check: q.Name, Place: place, Photos: []*Incoming{picture}, Instrument: strings.ReplaceAll(q.Instrument, " ", "-"),
		Start: start.Add(-time.Hour), End: start, Measured: start.Add(time.Duration(round) * time.Second), Note: "written down on site",
	}
	switch q.Kind {
	case checks.Reading:
		a.Text = exampleOf(q.Measures)
	case checks.Observation:
		a.Text = q.Want
	case checks.Inspection:
		a.Text, a.Number = "pass", "B-1"
	case checks.Choice:
		a.Text = q.Options[0]
	case checks.Computed:
		check := checks.ByName(q.Compute)
		a.Text = check.FirstAnswer()
		for _, n := range check.Needs {
			a.Values = append(a.Values, NamedText{n.Name, exampleOf(n.Kind)})
		}
	}
	return a
}

func exampleOf(k units.Kind) string {
	text, _, _ := strings.Cut(k.Example(), " or ")
	return text
}

// BenchmarkReview measures the owner's review of jobs with eleven plans and 300
// records each, and beside it the mere reading and strict parsing of the same
// files on as many cores. go test -bench Review -review.jobs 1000
func BenchmarkReview(b *testing.B) {
	f := &fixture{t: b, now: start}
	f.start()
	j := f.filled("oak-hall")
	if err := j.repo.Pack(); err != nil {
		b.Fatal(err)
	}
	dirs := []string{j.Dir}
	for i := range *reviewJobs - 1 {
		dir := f.c.JobDir(fmt.Sprintf("oak-%04d", i))
		if err := os.CopyFS(dir, os.DirFS(j.Dir)); err != nil {
			b.Fatal(err)
		}
		dirs = append(dirs, dir)
	}
	b.Run("review", func(b *testing.B) {
		for b.Loop() {
			all, err := f.c.Review(f.now)
			if err != nil || len(all) != *reviewJobs+1 || all[0].Problem != "" || all[len(all)-1].Holds == 0 {
				b.Fatalf("%d jobs, %v, %+v", len(all), err, all[0])
			}
		}
		b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N*(*reviewJobs)), "ms/job")
	})
	b.Run("read and parse", func(b *testing.B) {
		for b.Loop() {
			parseAll(b, dirs)
		}
		b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N*(*reviewJobs)), "ms/job")
	})
}

// parseAll reads and parses every YAML file of the jobs on all cores.
func parseAll(b *testing.B, dirs []string) {
	next := make(chan string)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for dir := range next {
				if err := parseJob(dir); err != nil {
					b.Error(err)
				}
			}
		})
	}
	for _, dir := range dirs {
		next <- dir
	}
	close(next)
	wg.Wait()
}

func parseJob(dir string) error {
	var files []string
	for _, pattern := range []string{JobFile, "phases/*.yaml", "records/*/*.yaml", "signoffs/*.yaml"} {
		found, err := filepath.Glob(filepath.Join(dir, pattern))
		if err != nil {
			return err
		}
		files = append(files, found...)
	}
	if len(files) < records {
		return fmt.Errorf("%s has only %d files", dir, len(files))
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		if _, err := strict.Read(file, data, strict.Options{}); err != nil {
			return err
		}
	}
	return nil
}

// BenchmarkRecord measures one record from answer to commit, all flushed to
// disk, and beside it git add and git commit of the same file.
func BenchmarkRecord(b *testing.B) {
	b.Run("record", func(b *testing.B) {
		f := &fixture{t: b, now: start}
		f.start()
		f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 in"})
		for b.Loop() {
			f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 in", Rework: "again"})
		}
	})
	b.Run("record beside 300", func(b *testing.B) {
		f := &fixture{t: b, now: start}
		f.start()
		f.j = f.filled("oak-hall")
		for b.Loop() {
			f.record("Ana", Answer{Phase: "demo", Check: "waste", Text: "3", Photos: nil, Rework: "again"})
		}
	})
	b.Run("git", func(b *testing.B) {
		f := &fixture{t: b, now: start}
		f.start()
		r := f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 in"})
		data := r.Encode()
		for n := 0; b.Loop(); n++ {
			path := fmt.Sprintf("records/insulation/20260504-160000-%06d.yaml", n)
			if err := os.WriteFile(filepath.Join(f.j.Dir, path), slices.Concat([]byte(fmt.Sprintf("# %d\n", n)), data), 0o644); err != nil {
				b.Fatal(err)
			}
			f.quiet("add", path)
			f.quiet("commit", "-qm", "a record", "--", path)
		}
	})
}

// quiet runs git without reading its output.
func (f *fixture) quiet(args ...string) {
	f.t.Helper()
	cmd := exec.Command("git", append([]string{"-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "gc.auto=0"}, args...)...)
	cmd.Dir = f.j.Dir
	if err := cmd.Run(); err != nil {
		f.t.Fatalf("git %v: %v", args, err)
	}
}

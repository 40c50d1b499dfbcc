package jobs

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
)

var start = time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC)

// fixture is an invented company with one job of a two-phase plan.
type fixture struct {
	t   testing.TB
	c   *Company
	j   *Job
	now time.Time
	rnd *rand.ChaCha8

	// more are phase files besides those of the small plan; text, if not nil,
	// changes its job file.
	more map[string]string
	text func(string) string
}

const small = "../testdata/jobs/small/"

func newFixture(t *testing.T) *fixture {
	t.Helper()
	f := &fixture{t: t, now: start}
	f.start()
	return f
}

// start makes the company and its job.
func (f *fixture) start() {
	f.t.Helper()
	dir := f.t.TempDir()
	f.rnd = rand.NewChaCha8([32]byte{1})
	f.copy(small+"company.yaml", filepath.Join(dir, CompanyFile))
	c, err := OpenCompany(dir)
	if err != nil {
		f.t.Fatal(err)
	}
	f.c = c
	f.j = f.create("birch-stair")
}

func (f *fixture) copy(from, to string) {
	f.t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o644)
	}
	if err != nil {
		f.t.Fatal(err)
	}
}

func (f *fixture) entry(name string) Entry {
	p, err := f.c.Person(name)
	if err != nil {
		f.t.Fatal(err)
	}
	f.now = f.now.Add(time.Minute)
	return Entry{By: p, Now: f.now, Random: f.rnd}
}

var process = Process{Host: "test", PID: os.Getpid()}

// create starts a job with the small plan.
func (f *fixture) create(id string) *Job {
	f.t.Helper()
	yaml, err := os.ReadFile(small + "job.yaml")
	if err != nil {
		f.t.Fatal(err)
	}
	text := []byte(strings.Replace(string(yaml), "birch-stair", id, 1))
	if f.text != nil {
		text = []byte(f.text(string(text)))
	}
	d, err := ReadDescription(JobFile, text)
	if err != nil {
		f.t.Fatal(err)
	}
	files := map[string][]byte{}
	for _, name := range []string{"03-framing.yaml", "05-insulation.yaml"} {
		if files[name], err = os.ReadFile(small + "phases/" + name); err != nil {
			f.t.Fatal(err)
		}
	}
	for name, content := range f.more {
		files[name] = []byte(content)
	}
	if err := os.MkdirAll(filepath.Join(f.c.Dir, "jobs"), 0o755); err != nil {
		f.t.Fatal(err)
	}
	repo, err := store.Create(f.c.JobDir(id), process.options())
	if err != nil {
		f.t.Fatal(err)
	}
	j := &Job{Dir: f.c.JobDir(id), repo: repo, Description: d}
	if err := errors.Join(j.firstCommit(context.Background(), f.entry("Ana"), files, text, nil), repo.Close()); err != nil {
		f.t.Fatal(err)
	}
	return f.open(id)
}

func (f *fixture) open(id string) *Job {
	f.t.Helper()
	j, err := Open(f.c.JobDir(id), process)
	if err != nil {
		f.t.Fatal(err)
	}
	f.t.Cleanup(func() { j.Close() })
	return j
}

func (f *fixture) record(by string, a Answer) *Record {
	f.t.Helper()
	r, err := f.j.Record(context.Background(), f.c, f.entry(by), a)
	if err != nil {
		f.t.Fatal(err)
	}
	return r[0]
}

// depths records a depth for every bay and a lift.
func (f *fixture) depths(text string) {
	for _, place := range []string{"north wall/bay 1", "north wall/bay 2", "east wall/bay 1"} {
		f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: place, Text: text, Instrument: "DG-2"})
	}
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 in"})
}

func (f *fixture) sign(by, hold, role string, faces ...string) (*Signoff, error) {
	return f.j.Sign(context.Background(), f.entry(by), hold, faces, role, nil)
}

func (f *fixture) mustSign(by, hold, role string, faces ...string) *Signoff {
	f.t.Helper()
	s, err := f.sign(by, hold, role, faces...)
	if err != nil {
		f.t.Fatal(err)
	}
	return s
}

func (f *fixture) state(hold string) *phases.HoldState {
	f.t.Helper()
	return f.j.Gate(f.now).State(f.j.Plan.Hold(hold))
}

func (f *fixture) wantState(hold string, want phases.State) {
	f.t.Helper()
	s := f.state(hold)
	if s.State != want {
		f.t.Errorf("%s is %s, want %s (blocked by %v, stale %v)", hold, s.State, want, s.BlockedBy, s.Stale)
		for _, v := range s.Verdicts {
			f.t.Logf("%s %s %s %v", v.Check, v.Outcome, v.Value, v.Reasons)
		}
	}
}

// wantError asks for an error of a kind that says something.
func (f *fixture) wantError(err, kind error, says string) {
	f.t.Helper()
	if !errors.Is(err, kind) || !strings.Contains(err.Error(), says) {
		f.t.Errorf("error = %v, want %v that says %q", err, kind, says)
	}
}

func TestWholeJob(t *testing.T) {
	f := newFixture(t)
	f.wantState("framing.frame", phases.Open)
	f.wantState("insulation.before-board", phases.Blocked)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	f.wantState("framing.frame", phases.Ready)
	f.mustSign("Ana", "framing.frame", "")
	f.wantState("framing.frame", phases.Signed)
	f.depths("5 1/4 in")
	f.wantState("insulation.before-board", phases.Ready)
	f.mustSign("Ana", "insulation.before-board", "")
	f.wantState("insulation.before-board", phases.Ready)
	f.mustSign("Ben", "insulation.before-board", "owner")
	f.wantState("insulation.before-board", phases.Signed)
	v, err := f.j.Verify()
	if err != nil || !v.Sound() {
		t.Errorf("Verify = %+v, %v", v, err)
	}
}

func TestFailingReadingShutsTheHold(t *testing.T) {
	f := newFixture(t)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	f.mustSign("Ana", "framing.frame", "")
	f.depths("5 in")
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 2", Text: "4 7/8 in", Instrument: "DG-2", Rework: "trimmed"})
	_, err := f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "4 7/8 in is not at least 5 in")
	s := f.state("insulation.before-board")
	for _, v := range s.Verdicts {
		if v.Check == "insulation.foam-depth" && (v.Outcome != checks.Fail || v.Place != "north wall/bay 2" || v.Planned != 3 || v.Passed != 2) {
			t.Errorf("verdict = %+v", v)
		}
	}
}

// Verify checks an open job.
func (j *Job) Verify() (*Verification, error) { return j.verify(nil) }

// SignoffOf returns the newest standing sign-off of a hold, or nil.
func (j *Job) SignoffOf(hold string) *Signoff {
	var newest *Signoff
	for _, s := range j.Signoffs {
		if s.Hold == hold && j.Standing(s) && (newest == nil || s.At.After(newest.At)) {
			newest = s
		}
	}
	return newest
}

// What an operation finds and clears away is said to the person.
func TestLockOfADeadProcessIsSaid(t *testing.T) {
	f := newFixture(t)
	if err := os.WriteFile(filepath.Join(f.j.Dir, ".git", "index.lock"), []byte("test 4999999\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var said []string
	e := f.entry("Ana")
	e.Say = func(note string) { said = append(said, note) }
	if _, err := f.j.Record(context.Background(), f.c, e, Answer{Phase: "framing", Check: "nails", Text: "yes"}); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(strings.Join(said, "\n"), "4999999") {
		t.Errorf("said %q, want the dead process named", said)
	}
}

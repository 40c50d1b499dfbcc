package jobs

import (
	"context"
	"slices"
	"strings"
	"testing"

	"proveout/phases"
)

func TestWhoMaySign(t *testing.T) {
	f := almost(t)
	for _, tt := range []struct{ by, role, says string }{
		{"Cy", "", "Cy Tran may not sign insulation.before-board: it is signed by crew lead, owner, and Cy Tran is electrician"},
		{"Cy", "owner", "may not sign"},
		{"Ana", "owner", "may not sign"},
		{"homeowner", "", "may not sign"},
	} {
		_, err := f.sign(tt.by, "insulation.before-board", tt.role)
		f.wantError(err, ErrShut, tt.says)
	}
	_, err := f.sign("Ana", "insulation.before-board", "electrician")
	f.wantError(err, ErrInput, "electrician")
	_, err = f.sign("Ana", "insulation.before-bord", "")
	f.wantError(err, ErrNotFound, `did you mean insulation.before-board?`)
	_, err = f.sign("Ana", "framing", "", "north wall")
	f.wantError(err, ErrInput, "is released as a whole")
	_, err = f.sign("Ana", "insulation", "", "south wall")
	f.wantError(err, ErrNotFound, "south wall")
	if s := f.mustSign("Ana", "insulation", ""); s.Role != "crew lead" || !s.SelfInspection || !strings.Contains(s.Statement, "I took some of these readings myself") {
		t.Errorf("sign-off %+v", s)
	}
	if s := f.mustSign("Ben", "insulation", ""); s.Role != "owner" || s.SelfInspection || s.Licence != "B-2210" {
		t.Errorf("sign-off %+v", s)
	}
}

// What keeps a hold shut is said, check by check, and nothing is written.
func TestShutHold(t *testing.T) {
	f := newFixture(t)
	_, err := f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "framing.frame must be released first")
	f.wantError(err, ErrShut, "insulation.foam-depth undecided: still to answer: north wall/bay 1, north wall/bay 2, east wall/bay 1")
	f.depths("5 in")
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "framing.frame must be released first")
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	f.mustSign("Ana", "framing.frame", "")
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 1/4 in", Rework: "cut out"})
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "2 1/4 in is not at most 2 in (a safety check cannot be conceded)")
	if got := f.git("ls-files", "signoffs"); strings.Contains(got, "insulation") {
		t.Errorf("signed: %s", got)
	}
}

// No faces are the whole hold, also as an empty list.
func TestNoFacesAreTheWhole(t *testing.T) {
	f := almost(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "1 in", Instrument: "DG-2", Rework: "sanded"})
	_, err := f.j.Sign(context.Background(), f.entry("Ana"), "insulation.before-board", []string{}, "", nil)
	f.wantError(err, ErrShut, "1 in is not at least 5 in")
}

func TestFacesAreReleasedAlone(t *testing.T) {
	f := almost(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "1 in", Instrument: "DG-2", Rework: "sanded"})
	_, err := f.sign("Ana", "insulation.before-board", "", "north wall")
	f.wantError(err, ErrShut, "1 in is not at least 5 in")
	f.mustSign("Ana", "insulation.before-board", "", "east wall")
	f.mustSign("Ben", "insulation.before-board", "owner", "east wall")
	if s := f.state("insulation.before-board"); s.State != phases.Open || !slices.Equal(s.FacesDone, []string{"east wall"}) {
		t.Errorf("state %s, done %q", s.State, s.FacesDone)
	}
	// A reading on the other face leaves this one standing; one on it does not.
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "6 in", Instrument: "DG-2", Rework: "sprayed again"})
	if s := f.state("insulation.before-board"); len(s.Stale) > 0 {
		t.Errorf("stale: %q", s.Stale)
	}
	f.mustSign("Ana", "insulation.before-board", "", "north wall")
	f.mustSign("Ben", "insulation.before-board", "owner", "north wall")
	f.wantState("insulation.before-board", phases.Signed)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "east wall/point 2", Text: "6 in", Instrument: "DG-2"})
	s := f.state("insulation.before-board")
	if s.State != phases.Stale || !slices.ContainsFunc(s.Stale, func(text string) bool {
		return strings.Contains(text, "added since: insulation.foam-depth at east wall/point 2")
	}) {
		t.Errorf("%s: %q", s.State, s.Stale)
	}
	f.mustSign("Ana", "insulation.before-board", "", "east wall")
	f.wantState("insulation.before-board", phases.Stale) // the owner's is still the old one
	f.mustSign("Ben", "insulation.before-board", "owner", "east wall")
	f.wantState("insulation.before-board", phases.Signed)
}

// A sign-off is stale when what it rests on has grown or changed, and only then.
func TestStale(t *testing.T) {
	adopt := func(f *fixture, file, from, to string) {
		f.t.Helper()
		f.edit(f.file(file), from, to)
		if _, err := f.j.Adopt(context.Background(), f.entry("Ben"), "as built"); err != nil {
			f.t.Fatal(err)
		}
	}
	for _, tt := range []struct {
		name  string
		do    func(f *fixture)
		stale string // of framing.frame, "" when it stands
	}{
		{"nothing", func(*fixture) {}, ""},
		{"a reading of a later hold", func(f *fixture) {
			f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "1 in", Rework: "again"})
		}, ""},
		{"a note", func(f *fixture) {
			if _, err := f.j.Note(context.Background(), f.entry("Ana"), "framing", "rain", nil); err != nil {
				f.t.Fatal(err)
			}
		}, ""},
		{"the answer again", func(f *fixture) {
			f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes", Rework: "one more plate"})
		}, "added since: framing.nails"},
		{"the answer turned round", func(f *fixture) {
			f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "no", Rework: "one is missing"})
		}, "framing.nails no longer passes"},
		{"the answer taken back", func(f *fixture) {
			if _, err := f.j.Correct(context.Background(), f.c, f.entry("Ana"), f.first("framing").ID, Answer{}, "wrong room"); err != nil {
				f.t.Fatal(err)
			}
		}, "framing.nails no longer passes"},
		{"a nonconformity", func(f *fixture) {
			f.raise(Raise{Hold: "framing.frame", Requirement: "straight", Found: "bent"})
		}, "NC-1 is open"},
		{"the title of the job", func(f *fixture) { adopt(f, JobFile, "Room under the stair", "Room below the stair") }, ""},
		{"a serial number", func(f *fixture) {
			adopt(f, JobFile, "faces:\n", "equipment:\n  - {item: cooling unit, serial: X-1}\nfaces:\n")
		}, ""},
		{"a data-sheet figure that another hold uses", func(f *fixture) {
			adopt(f, JobFile, "faces:\n", "values:\n  data sheet foam lift: 2 in\nfaces:\n")
		}, ""},
		{"the plan of another phase", func(f *fixture) { adopt(f, "phases/05-*.yaml", "Top up and read again.", "Fill it.") }, ""},
		{"a remark in its own plan", func(f *fixture) { adopt(f, "phases/03-*.yaml", "phase: framing", "# a remark\nphase: framing") }, ""},
		{"another sentence of its phase", func(f *fixture) { adopt(f, "phases/03-*.yaml", "purpose: A dry frame.", "purpose: A frame.") }, ""},
		{"a design depth", func(f *fixture) { adopt(f, JobFile, "depth: 5 in", "depth: 5 1/4 in") }, "plan or job file have changed what this hold asks for"},
		{"a face's other side", func(f *fixture) { adopt(f, JobFile, "other side: house", "other side: garage") }, "have changed what this hold asks for"},
		{"what it asks", func(f *fixture) { adopt(f, "phases/03-*.yaml", "title: Frame", "title: The frame") }, "have changed what this hold asks for"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newFixture(t)
			f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
			f.mustSign("Ana", "framing.frame", "")
			f.depths("5 1/4 in")
			tt.do(f)
			if err := f.reopen(); err != nil {
				t.Fatal(err)
			}
			s := f.state("framing.frame")
			if tt.stale == "" {
				f.wantState("framing.frame", phases.Signed)
				return
			}
			if s.State != phases.Stale || !slices.ContainsFunc(s.Stale, func(text string) bool { return strings.Contains(text, tt.stale) }) {
				t.Errorf("%s: %q, want stale that says %q", s.State, s.Stale, tt.stale)
			}
			if b := f.state("insulation.before-board"); !slices.Contains(b.BlockedBy, "framing.frame") {
				t.Errorf("what comes after is not blocked: %q", b.BlockedBy)
			}
		})
	}
}

// first returns the first answer of a phase.
func (f *fixture) first(phase string) *Record {
	f.t.Helper()
	for _, r := range f.j.Records {
		if r.Phase == phase && r.Kind == AnswerRecord {
			return r
		}
	}
	f.t.Fatalf("no answer in %s", phase)
	return nil
}

func (f *fixture) raise(n Raise) *Record {
	f.t.Helper()
	r, err := f.j.RaiseNonconformity(context.Background(), f.entry("Ana"), n)
	if err != nil {
		f.t.Fatal(err)
	}
	return r
}

func TestWithdraw(t *testing.T) {
	f := almost(t)
	ctx := context.Background()
	f.mustSign("Ana", "insulation.before-board", "")
	f.mustSign("Ben", "insulation.before-board", "owner")
	_, err := f.j.Withdraw(ctx, f.entry("Cy"), "insulation.before-board", "I found a void")
	f.wantError(err, ErrShut, "Cy Tran is neither")
	_, err = f.j.Withdraw(ctx, f.entry("Ben"), "insulation.before-board", "  ")
	f.wantError(err, ErrInput, "a withdrawal says why")
	taken, err := f.j.Withdraw(ctx, f.entry("Ben"), "insulation.before-board", "a void was found")
	if err != nil || len(taken) != 2 {
		t.Fatalf("%d withdrawn, %v", len(taken), err)
	}
	f.wantState("insulation.before-board", phases.Ready)
	_, err = f.j.Withdraw(ctx, f.entry("Ben"), "insulation.before-board", "again")
	f.wantError(err, ErrInput, "no sign-off to withdraw")
	f.mustSign("Ana", "insulation.before-board", "")
	f.mustSign("Ben", "insulation.before-board", "owner")
	f.wantState("insulation.before-board", phases.Signed)
	// Upstream withdrawn: what was built on it does not stand any more.
	if _, err := f.j.Withdraw(ctx, f.entry("Ana"), "framing.frame", "wrong photo"); err != nil {
		t.Fatal(err)
	}
	f.wantState("framing.frame", phases.Ready)
	f.wantState("insulation.before-board", phases.Stale)
	if v, err := f.j.Verify(); err != nil || !v.Sound() {
		t.Errorf("Verify = %+v, %v", v, err)
	}
}

// Signed again, the newer sign-off replaces the older one of the same person's
// role and faces, and no other.
func TestSignAgain(t *testing.T) {
	f := almost(t)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes", Rework: "one more"})
	f.wantState("framing.frame", phases.Stale)
	s := f.mustSign("Ana", "framing.frame", "")
	f.wantState("framing.frame", phases.Signed)
	if len(s.Replaces) != 1 || len(f.j.Signoffs) != 2 {
		t.Errorf("replaces %q of %d", s.Replaces, len(f.j.Signoffs))
	}
	standing := 0
	for _, o := range f.j.Signoffs {
		if f.j.Standing(o) {
			standing++
		}
	}
	if standing != 1 || f.j.SignoffOf("framing.frame").ID != s.ID {
		t.Errorf("%d stand", standing)
	}
}

// The list of a sign-off names everything it rests on: statement, plan, job
// file, adoption, records also superseded ones, evidence, and what came before.
func TestListIsComplete(t *testing.T) {
	f := almost(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "1 in", Rework: "again"})
	s := f.mustSign("Ana", "insulation.before-board", "")
	want := []string{s.Path(), JobFile, "phases/05-insulation.yaml", f.j.adopted().Path(), f.j.SignoffOf("framing.frame").Path(), f.j.SignoffOf("framing.frame").ListPath()}
	for _, r := range f.j.Records {
		if r.Phase == "insulation" {
			want = append(want, r.Path())
		}
	}
	var got []string
	for _, l := range s.List {
		got = append(got, l.Path)
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("list %q\nwant %q", got, want)
	}
	frame := f.j.SignoffOf("framing.frame")
	if !slices.ContainsFunc(frame.List, func(l Listed) bool { return strings.HasPrefix(l.Path, "evidence/photos/") }) {
		t.Errorf("the photo is not listed: %v", frame.List)
	}
	if len(s.Fingerprint) != 64 || len(s.ShortFingerprint()) != 39 || s.Fingerprint != sum([]byte(listText(s.List))) {
		t.Errorf("fingerprint %q, %q", s.Fingerprint, s.ShortFingerprint())
	}
}

// Results that changed while somebody was reading are not signed.
func TestShownIsSigned(t *testing.T) {
	f := almost(t)
	g := f.j.Gate(f.now)
	h := f.j.Plan.Hold("insulation.before-board")
	ana, err := f.c.Person("Ana")
	if err != nil {
		t.Fatal(err)
	}
	shown, err := f.j.Draft(g, h, nil, ana, "crew lead")
	if err != nil {
		t.Fatal(err)
	}
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "1 in", Rework: "again"})
	_, err = f.j.Sign(context.Background(), f.entry("Ana"), h.ID(), nil, "", shown)
	f.wantError(err, ErrDecide, "the results changed while you were reading")
}

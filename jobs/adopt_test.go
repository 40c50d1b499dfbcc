package jobs

import (
	"context"
	"os"
	"strings"
	"testing"

	"proveout/phases"
)

// adoptAfter edits a file of the small job and adopts it.
func (f *fixture) adoptAfter(by, reason, file, from, to string) error {
	f.t.Helper()
	f.edit(f.file(file), from, to)
	if err := f.reopen(); err != nil {
		return err
	}
	_, err := f.j.Adopt(context.Background(), f.entry(by), reason)
	return err
}

func TestAdopt(t *testing.T) {
	const plan, refused, owner = "phases/05-*.yaml", "it has a reading already", "Ana Ruiz is not the owner"
	read := func(f *fixture) { f.depths("5 1/4 in") }
	nothing := func(*fixture) {}
	for _, tt := range []struct {
		name     string
		before   func(*fixture)
		by       string
		file     string
		from, to string
		kind     error // nil when it is adopted
		says     string
	}{
		{"tightened by the crew lead", read, "Ana", plan, "at most: 2 in", "at most: 1 1/2 in", nil, ""},
		{"a safety limit loosened", nothing, "Ben", plan, "at most: 2 in", "at most: 3 in", ErrShut, "insulation.lift: loosened (at most): from \"at most 2 in\" to \"at most 3 in\"\n  a safety limit may only be tightened"},
		{"a safety mark taken off", nothing, "Ben", plan, "safety: \"yes\"\n        ", "", ErrShut, "a safety limit may only be tightened"},
		{"a safety check taken out", nothing, "Ben", plan, "- check: lift", "- check: thickness", ErrShut, "insulation.lift: the check is taken out"},
		{"loosened before the first reading", nothing, "Ben", plan, "at least: design depth", "at least: 4 in", nil, ""},
		{"by the crew lead", nothing, "Ana", plan, "at least: design depth", "at least: 4 in", ErrShut, owner},
		{"by the electrician", nothing, "Cy", plan, "Top up and read again.", "Fill it.", ErrShut, "Cy Tran is neither crew lead nor owner"},
		{"loosened after it", read, "Ben", plan, "at least: design depth", "at least: 4 in", ErrShut, refused},
		{"loosened after one that was taken back", func(f *fixture) {
			read(f)
			for _, r := range f.j.Records {
				if r.Check == "foam-depth" {
					if _, err := f.j.Correct(context.Background(), f.c, f.entry("Ana"), r.ID, Answer{}, "wrong wall"); err != nil {
						f.t.Fatal(err)
					}
				}
			}
		}, "Ben", plan, "at least: design depth", "at least: 4 in", ErrShut, refused},
		{"what it is computed from was read", read, "Ben", plan, "at least: design resistance", "at least: R-5", ErrShut, refused},
		{"the computed check taken out", read, "Ben", plan, "- check: effective-resistance", "- check: other-resistance", ErrShut, refused},
		{"fewer points after a reading", read, "Ben", plan, "points: {per bay: 1}", "points: {per face: 1}", ErrShut, refused},
		{"the design depth in the job file", read, "Ben", JobFile, "depth: 5 in", "depth: 4 in", ErrShut, "insulation.foam-depth: loosened for the north wall: from at least 5 in to at least 4 in"},
		{"the design depth before a reading", nothing, "Ben", JobFile, "depth: 5 in", "depth: 4 in", nil, ""},
		{"a deeper design", read, "Ana", JobFile, "depth: 5 in", "depth: 5 1/8 in", nil, ""},
		{"a bay fewer after a reading", read, "Ben", JobFile, "bays: 2", "bays: 1", ErrShut, "insulation.foam-depth: it is asked at fewer points: north wall (1, not 2)"},
		{"layers that let it pass", func(f *fixture) { f.depths("4 in") }, "Ben", JobFile, "framing: 25 %", "framing: 1 %", nil, ""}, // one wall of two still fails
		{"one role for another", nothing, "Ana", plan, "signed by: [crew lead, owner]", "signed by: [crew lead]", ErrShut, owner},
		{"no reason", nothing, "Ben", plan, "Top up and read again.", "Fill it.", ErrInput, "an adoption says why"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := newFixture(t)
			tt.before(f)
			reason := "as agreed"
			if tt.name == "no reason" {
				reason = " \n"
			}
			err := f.adoptAfter(tt.by, reason, tt.file, tt.from, tt.to)
			if tt.kind == nil {
				if err != nil {
					t.Fatal(err)
				}
				if v, err := f.j.Verify(); err != nil || !v.Sound() || len(f.j.Edited) > 0 {
					t.Errorf("Verify = %+v, %v, edited %q", v, err, f.j.Edited)
				}
				return
			}
			f.wantError(err, tt.kind, tt.says)
			if status := f.git("status", "--porcelain"); !strings.Contains(status, " M ") {
				t.Errorf("the edit is gone or committed: %q", status)
			}
		})
	}
}

// Layers or a band that turn a failing check into a pass are a loosening, in
// whatever file.
func TestAdoptTurnsNoFailure(t *testing.T) {
	f := newFixture(t)
	f.depths("5 in")
	err := f.adoptAfter("Ben", "thicker than planned", JobFile, "resistance: R-18", "resistance: R-30")
	if err != nil {
		t.Fatal(err) // tightened: now the north wall fails
	}
	f.edit(f.file(JobFile), "framing: 25 %", "framing: 1 %")
	_, err = f.j.Adopt(context.Background(), f.entry("Ben"), "less wood than planned")
	f.wantError(err, ErrShut, "insulation.effective-resistance: it fails, and with the edit it would not")
}

// Nothing else happens while an edit is neither adopted nor put back.
func TestEditsComeFirst(t *testing.T) {
	f := almost(t)
	f.edit(f.file("phases/05-*.yaml"), "Top up and read again.", "Fill it.")
	ctx := context.Background()
	answer := Answer{Phase: "insulation", Check: "lift", Text: "1 in", Rework: "again"}
	_, err := f.j.Record(ctx, f.c, f.entry("Ana"), answer)
	f.wantError(err, ErrDecide, "edited by hand and not adopted: phases/05-insulation.yaml")
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrDecide, "edited by hand")
	_, err = f.j.View()
	f.wantError(err, ErrDecide, "edited by hand")
	if edits, err := f.j.Edits(); err != nil || len(edits) != 1 || !strings.Contains(edits[0].New, "Fill it.") || !strings.Contains(edits[0].Old, "Top up") {
		t.Errorf("edits %+v, %v", edits, err)
	}
	if back, err := f.j.PutBack(ctx); err != nil || len(back) != 1 {
		t.Errorf("put back %q, %v", back, err)
	}
	if _, err := f.j.Record(ctx, f.c, f.entry("Ana"), answer); err != nil {
		t.Error(err)
	}
	_, err = f.j.Adopt(ctx, f.entry("Ben"), "nothing")
	f.wantError(err, ErrInput, "there is nothing to adopt")
}

// A plan that cannot be read is neither adopted nor lost.
func TestUnreadablePlan(t *testing.T) {
	f := almost(t)
	f.edit(f.file("phases/05-*.yaml"), "at most: 2 in", "at most: 2")
	f.wantError(f.reopen(), ErrInput, `05-insulation.yaml:23:18: lift: "2" has no unit`)
	j, unreadable, err := OpenEdited(f.c.JobDir("birch-stair"), process)
	if err != nil || unreadable == nil {
		t.Fatal(err, unreadable)
	}
	f.j = j
	t.Cleanup(func() { j.Close() })
	_, err = j.Adopt(context.Background(), f.entry("Ben"), "fine with me")
	f.wantError(err, ErrInput, "has no unit")
	if _, err := j.PutBack(context.Background()); err != nil {
		t.Fatal(err)
	}
	if err := f.reopen(); err != nil {
		t.Fatal(err)
	}
	f.wantState("insulation.before-board", phases.Ready)
}

// A broken record is no way round the rule that a limit is fixed once it was
// measured against.
func TestAdoptOverABrokenRecord(t *testing.T) {
	f := newFixture(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "4 in", Instrument: "DG-2"})
	f.edit(f.file("records/insulation/*.yaml"), "...\n", "")
	f.edit(f.file("phases/05-*.yaml"), "at least: design depth", "at least: 3 in")
	_, err := f.j.Adopt(context.Background(), f.entry("Ben"), "as built")
	f.wantError(err, ErrIntegrity, "cut off")
	_, err = f.j.Record(context.Background(), f.c, f.entry("Ana"), Answer{Phase: "framing", Check: "nails", Text: "yes"})
	f.wantError(err, ErrIntegrity, "cut off")
}

// A phase file that is taken away, or one too many.
func TestPhaseFilesComeAndGo(t *testing.T) {
	f := newFixture(t)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	path := f.file("phases/03-*.yaml")
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	f.remove(path)
	f.wantError(f.reopen(), ErrInput, `comes after "framing.frame", which no phase has`)
	if err := os.WriteFile(path, data, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(strings.Replace(path, "03-framing", "04-more", 1), []byte(strings.Replace(string(data), "phase: framing", "phase: more", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	if f.j, err = Open(f.c.JobDir("birch-stair"), process); err != nil {
		t.Fatal(err)
	}
	if len(f.j.Edited) != 1 || f.j.Edited[0] != "phases/04-more.yaml" {
		t.Errorf("edited %q", f.j.Edited)
	}
	if _, err := f.j.Adopt(context.Background(), f.entry("Ana"), "one phase more"); err != nil {
		t.Fatal(err)
	}
	f.wantState("more.frame", phases.Open)
	f.t.Cleanup(func() { f.j.Close() })
}

package jobs

import (
	"context"
	"errors"
	"testing"
	"time"

	"proveout/phases"
)

// A clock a year ahead, and one that runs behind.
func TestClocks(t *testing.T) {
	f := almost(t)
	right := f.now
	f.now = right.AddDate(1, 0, 0)
	_, err := f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrDecide, "the clock says")
	f.now = right.Add(-time.Hour)
	_, err = f.j.Record(context.Background(), f.c, f.entry("Ana"), Answer{Phase: "insulation", Check: "lift", Text: "1 in", Rework: "again"})
	f.wantError(err, ErrDecide, "the newest entry in birch-stair is of")
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrDecide, "the newest entry")
	f.now = right
	f.mustSign("Ana", "insulation.before-board", "")
}

// What was entered with a clock that ran ahead can be taken back once it is
// right again, and only that.
func TestTakeBackTheFuture(t *testing.T) {
	f := almost(t)
	ctx, right := context.Background(), f.now
	old := f.j.Records[len(f.j.Records)-1]
	f.now = right.AddDate(1, 0, 0)
	note, err := f.j.Note(ctx, f.entry("Ana"), "insulation", "work goes on", nil)
	if err != nil {
		t.Fatal(err)
	}
	f.mustSign("Ana", "insulation.before-board", "")
	f.now = right
	_, err = f.j.Note(ctx, f.entry("Ana"), "insulation", "today", nil)
	f.wantError(err, ErrDecide, "take it back")
	_, err = f.j.Correct(ctx, f.c, f.entry("Ana"), old.ID, Answer{}, "not this one")
	f.wantError(err, ErrDecide, "the clock says")
	_, err = f.j.Withdraw(ctx, f.entry("Ana"), "framing.frame", "not this one")
	f.wantError(err, ErrDecide, "the clock says")
	if _, err := f.j.Withdraw(ctx, f.entry("Ana"), "insulation.before-board", "the clock was wrong"); err != nil {
		t.Fatal(err)
	}
	if _, err := f.j.Correct(ctx, f.c, f.entry("Ana"), note.ID, Answer{}, "the clock was wrong"); err != nil {
		t.Fatal(err)
	}
	if _, err := f.j.Note(ctx, f.entry("Ana"), "insulation", "today", nil); err != nil {
		t.Fatal(err)
	}
	f.mustSign("Ana", "insulation.before-board", "")
	if v, err := f.j.Verify(); err != nil || !v.Sound() {
		t.Errorf("Verify = %+v, %v", v, err)
	}
}

// Two operations of one job: the second sees what the first wrote.
func TestTwoProcesses(t *testing.T) {
	f := almost(t)
	other := f.open("birch-stair")
	f.mustSign("Ana", "insulation.before-board", "")
	if _, err := other.Sign(context.Background(), f.entry("Ben"), "insulation.before-board", nil, "owner", nil); err != nil {
		t.Fatal(err)
	}
	if err := f.reopen(); err != nil {
		t.Fatal(err)
	}
	f.wantState("insulation.before-board", phases.Signed)
	_, err := other.Record(context.Background(), f.c, f.entry("Cy"), Answer{Phase: "insulation", Check: "nothing"})
	if !errors.Is(err, ErrNotFound) {
		t.Errorf("error = %v, want not found", err)
	}
}

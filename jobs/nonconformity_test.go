package jobs

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/phases"
)

func (f *fixture) decide(by, number string, d Decision) error {
	_, err := f.j.Dispose(context.Background(), f.entry(by), number, d)
	return err
}

func (f *fixture) agree(by, number string) error {
	_, err := f.j.Agree(context.Background(), f.entry(by), number, "")
	return err
}

func (f *fixture) closeNC(by, number string) error {
	_, err := f.j.CloseNonconformity(context.Background(), f.entry(by), number, "looked at")
	return err
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// thin is a job with one thin bay in the north wall.
func thin(t *testing.T) *fixture {
	f := almost(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 2", Text: "4 7/8 in", Instrument: "DG-2", Rework: "trimmed"})
	f.wantState("insulation.before-board", phases.Open)
	return f
}

var limits = Decision{Disposition: Concession, Limits: "bay 2 of the north wall only", Reason: "behind the rack"}

func TestRaiseFromAFailingCheck(t *testing.T) {
	f := thin(t)
	r := f.raise(Raise{Check: "insulation.foam-depth"})
	if r.Nonconformity != "NC-1" || r.Place != "north wall/bay 2" || r.Found != "4 7/8 in" || r.Hold != "insulation.before-board" || !strings.Contains(r.Requirement, "at least 5 in") {
		t.Errorf("record %+v", r)
	}
	if n := f.raise(Raise{Check: "5.foam-depth"}); n.Nonconformity != "NC-2" || n.CheckID() != "insulation.foam-depth" || n.Phase != "insulation" {
		t.Errorf("by the number of the phase: %+v", n)
	}
	ctx := context.Background()
	for _, tt := range []struct {
		n    Raise
		kind error
		says string
	}{
		{Raise{Check: "insulation.foam-dept"}, ErrNotFound, "did you mean foam-depth?"},
		{Raise{Check: "insulation.foam-depth", Place: "north wal/bay 1"}, ErrNotFound, "did you mean north wall?"},
		{Raise{Check: "insulation.foam-depth", Place: "north wall/bay 9"}, ErrInput, "bays 1 to 2"},
		{Raise{Check: "framing.nails"}, ErrInput, "says what was required and what was found"},
		{Raise{Hold: "framing.frame", Found: "bent"}, ErrInput, "says what was required"},
	} {
		_, err := f.j.RaiseNonconformity(ctx, f.entry("Ana"), tt.n)
		f.wantError(err, tt.kind, tt.says)
	}
}

func TestRework(t *testing.T) {
	f := thin(t)
	f.raise(Raise{Check: "insulation.foam-depth"})
	f.wantError(f.closeNC("Ana", "NC-1"), ErrInput, "nobody has decided about NC-1")
	f.wantError(f.decide("Cy", "NC-1", Decision{Disposition: Rework}), ErrShut, "a rework is decided by the crew lead")
	f.wantError(f.decide("Ana", "NC-1", Decision{Disposition: "scrap"}), ErrNotFound, "scrap")
	must(t, f.decide("Ana", "nc-1", Decision{Disposition: Rework, Cause: "cold substrate"}))
	f.wantError(f.closeNC("Ana", "NC-1"), ErrShut, "insulation.foam-depth does not pass yet")
	f.wantError(f.agree("homeowner", "NC-1"), ErrInput, "NC-1 is not a concession")
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 2", Text: "5 1/4 in", Instrument: "DG-2", Rework: "sprayed again"})
	f.wantState("insulation.before-board", phases.Open) // the nonconformity is still open
	f.wantError(f.closeNC("Cy", "NC-1"), ErrShut, "neither crew lead nor owner")
	must(t, f.closeNC("Ana", "NC-1"))
	f.wantState("insulation.before-board", phases.Ready)
	f.wantError(f.decide("Ana", "NC-1", Decision{Disposition: Rework}), ErrInput, "NC-1 is closed already")
	f.wantError(f.decide("Ana", "NC-7", Decision{Disposition: Rework}), ErrNotFound, "NC-7")
}

func TestRepairIsTheOwners(t *testing.T) {
	f := thin(t)
	f.raise(Raise{Check: "insulation.foam-depth"})
	f.wantError(f.decide("Ana", "NC-1", Decision{Disposition: Repair}), ErrShut, "a repair is decided by the owner")
	must(t, f.decide("Ben", "NC-1", Decision{Disposition: Repair}))
	f.wantError(f.closeNC("Ben", "NC-1"), ErrShut, "does not pass yet")
	must(t, f.decide("Ben", "NC-1", limits)) // a repair that still does not conform needs a concession
}

func TestConcession(t *testing.T) {
	f := thin(t)
	f.raise(Raise{Check: "insulation.foam-depth"})
	f.wantError(f.decide("Ana", "NC-1", limits), ErrShut, "a concession is decided by the owner")
	f.wantError(f.decide("Ben", "NC-1", Decision{Disposition: Concession}), ErrInput, "a concession is limited")
	must(t, f.decide("Ben", "NC-1", limits))
	f.wantState("insulation.before-board", phases.Open)
	_, err := f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "NC-1 is open")
	f.wantError(f.closeNC("Ben", "NC-1"), ErrInput, "settled by agreement, not closed")
	f.wantError(f.agree("Ana", "NC-1"), ErrShut, "the agreement of Ana Ruiz is not wanted")
	f.wantError(f.agree("Ben", "NC-1"), ErrShut, "not wanted")
	must(t, f.agree("homeowner", "NC-1"))
	f.wantState("insulation.before-board", phases.Ready)
	s := f.mustSign("Ana", "insulation.before-board", "")
	if !slices.Equal(s.Concessions, []string{"NC-1"}) || !strings.Contains(s.Statement, "I know of the concessions NC-1") {
		t.Errorf("sign-off %+v", s)
	}
	f.mustSign("Ben", "insulation.before-board", "owner")
	f.wantState("insulation.before-board", phases.Signed)
	// A later reading, even a better one, was not agreed to.
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 2", Text: "4 15/16 in", Instrument: "DG-2", Rework: "read again"})
	f.wantState("insulation.before-board", phases.Stale)
	// Neither was another place.
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 2", Text: "5 in", Instrument: "DG-2", Rework: "filled"})
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "east wall/bay 1", Text: "4 7/8 in", Instrument: "DG-2", Rework: "trimmed"})
	_, err = f.sign("Ana", "insulation.before-board", "")
	f.wantError(err, ErrShut, "4 7/8 in is not at least 5 in")
}

func TestConcessionEnds(t *testing.T) {
	f := thin(t)
	f.raise(Raise{Check: "insulation.foam-depth"})
	d := limits
	d.Until = f.now.AddDate(0, 0, 10)
	must(t, f.decide("Ben", "NC-1", d))
	must(t, f.agree("homeowner", "NC-1"))
	f.wantState("insulation.before-board", phases.Ready)
	f.now = d.Until.Add(-time.Minute)
	f.wantState("insulation.before-board", phases.Ready)
	f.now = d.Until
	f.wantState("insulation.before-board", phases.Open)
}

func TestConcessionAcceptsWhatIsThere(t *testing.T) {
	f := almost(t)
	f.raise(Raise{Check: "insulation.foam-depth", Place: "north wall/bay 2", Requirement: "5 in", Found: "thin"})
	f.wantError(f.decide("Ben", "NC-1", limits), ErrInput, `insulation.foam-depth does not fail at "north wall/bay 2": there is nothing to accept yet`)
}

// An agreement belongs to the decision it was given to.
func TestAgreementToAnotherDecision(t *testing.T) {
	f := newFixture(t)
	f.edit(f.file("phases/05-*.yaml"), "instrument: depth gauge", "code: \"yes\"\n        instrument: depth gauge")
	if _, err := f.j.Adopt(context.Background(), f.entry("Ana"), "a rule of the code"); err != nil {
		t.Fatal(err)
	}
	f.depths("4 7/8 in")
	f.raise(Raise{Check: "insulation.foam-depth", Place: "north wall/bay 2"})
	must(t, f.decide("Ben", "NC-1", limits))
	must(t, f.agree("homeowner", "NC-1"))
	n, err := f.j.Nonconformity("NC-1")
	if err != nil || !slices.Equal(n.MustAgree(), []string{"engineer or building inspector"}) {
		t.Fatalf("still wanted: %v, %v", n.MustAgree(), err)
	}
	wider := limits
	wider.Limits = "all walls"
	must(t, f.decide("Ben", "NC-1", wider))
	if n, err = f.j.Nonconformity("NC-1"); err != nil || !slices.Contains(n.MustAgree(), "homeowner") {
		t.Errorf("the homeowner's agreement to other limits counts: %v, %v", n.MustAgree(), err)
	}
}

func TestSafetyCannotBeConceded(t *testing.T) {
	f := almost(t)
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "3 in", Rework: "too much at once"})
	f.raise(Raise{Check: "insulation.lift"})
	f.wantError(f.decide("Ben", "NC-1", limits), ErrShut, "insulation.lift is a safety check: it cannot be accepted as it is")
	must(t, f.decide("Ana", "NC-1", Decision{Disposition: Rework}))
	f.wantError(f.closeNC("Ana", "NC-1"), ErrShut, "insulation.lift does not pass yet")
}

// A nonconformity is not made to vanish by whoever likes.
func TestNonconformityTakenBack(t *testing.T) {
	f := almost(t)
	r := f.raise(Raise{Hold: "insulation.before-board", Requirement: "straight", Found: "bent"})
	f.wantState("insulation.before-board", phases.Open)
	ctx := context.Background()
	_, err := f.j.Correct(ctx, f.c, f.entry("Ana"), r.ID, Answer{}, "it is fine")
	f.wantError(err, ErrShut, "NC-1 is taken back by the owner")
	if _, err := f.j.Correct(ctx, f.c, f.entry("Ben"), r.ID, Answer{}, "the wrong job"); err != nil {
		t.Fatal(err)
	}
	f.wantState("insulation.before-board", phases.Ready)
	if next := f.raise(Raise{Hold: "framing.frame", Requirement: "a", Found: "b"}); next.Nonconformity != "NC-2" {
		t.Errorf("the number of one that was taken back is used again: %s", next.Nonconformity)
	}
}

// A hole before the release is on the list; one after it raises a
// nonconformity by itself.
func TestPenetrations(t *testing.T) {
	f := almost(t)
	ctx := context.Background()
	add := func(place string) *Record {
		f.t.Helper()
		_, raised, err := f.j.AddPenetration(ctx, f.entry("Ana"), Penetration{Place: place, For: "line set", Owner: "Cy", Seal: "boot"})
		must(t, err)
		return raised
	}
	if raised := add("north wall/line set"); raised != nil {
		t.Errorf("raised %+v before the release", raised)
	}
	f.wantState("insulation.before-board", phases.Open)
	_, err := f.j.Record(ctx, f.c, f.entry("Ana"), Answer{Phase: "insulation", Check: "penetrations", Place: "north wall/duct", Text: "yes"})
	f.wantError(err, ErrNotFound, "asked at other places")
	f.record("Ana", Answer{Phase: "insulation", Check: "penetrations", Text: "yes"})
	f.wantState("insulation.before-board", phases.Ready)
	for _, bad := range []string{"south wall/x", "north wall/line set"} {
		if _, _, err := f.j.AddPenetration(ctx, f.entry("Ana"), Penetration{Place: bad, For: "x"}); err == nil {
			t.Errorf("a hole at %q was added", bad)
		}
	}
	f.mustSign("Ana", "insulation.before-board", "")
	f.mustSign("Ben", "insulation.before-board", "owner")
	raised := add("east wall/cable")
	if raised == nil || raised.Nonconformity != "NC-1" || raised.Hold != "insulation.before-board" || raised.Place != "east wall/cable" {
		t.Fatalf("raised %+v", raised)
	}
	s := f.state("insulation.before-board")
	if s.State != phases.Stale || !slices.Contains(s.Stale, "NC-1 is open") {
		t.Errorf("%s: %q", s.State, s.Stale)
	}
}

// A question about holes in a job without any says so.
func TestNoHolesYet(t *testing.T) {
	f := newFixture(t)
	_, err := f.j.Record(context.Background(), f.c, f.entry("Ana"), Answer{Phase: "insulation", Check: "penetrations", Text: "yes"})
	f.wantError(err, ErrInput, "the job has no penetration yet; put it on the list first")
}

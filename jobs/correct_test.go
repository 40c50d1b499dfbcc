package jobs

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks"
	"proveout/phases"
)

func (f *fixture) correct(by, id string, a Answer, reason string) (*Record, error) {
	return f.j.Correct(context.Background(), f.c, f.entry(by), id, a, reason)
}

// A correction replaces an answer, and is itself replaced or taken back; what
// was replaced stays so.
func TestCorrectAndVoid(t *testing.T) {
	f := newFixture(t)
	first := f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "3 in"})
	_, err := f.correct("Ana", first.ID, Answer{Text: "2 in"}, " ")
	f.wantError(err, ErrInput, "a correction says why")
	second, err := f.correct("Ana", first.ID, Answer{Text: "2 in"}, "typed 3 for 2")
	must(t, err)
	if second.Value != "2 in" || !slices.Equal(second.Supersedes, []string{first.ID}) || second.Measured.Compare(first.Measured) != 0 || second.Place != first.Place {
		t.Errorf("correction %+v", second)
	}
	_, err = f.correct("Ana", first.ID, Answer{Text: "1 in"}, "again")
	f.wantError(err, ErrInput, "is already superseded by "+second.ShortID())
	void, err := f.correct("Ana", second.ShortID(), Answer{}, "another room")
	must(t, err)
	if void.Kind != VoidRecord {
		t.Errorf("taken back by %+v", void)
	}
	if p := f.point("insulation", "lift", "point 1"); p.Reason != "no answer" {
		t.Errorf("after both are gone: %+v", p)
	}
	_, err = f.correct("Ben", void.ID, Answer{}, "put it back")
	f.wantError(err, ErrInput, `a record of kind "void" is not corrected`)
	f.record("Ana", Answer{Phase: "insulation", Check: "lift", Text: "2 in"})
	if p := f.point("insulation", "lift", "point 1"); p.Outcome != checks.Pass {
		t.Errorf("recorded anew: %+v", p)
	}
	_, err = f.correct("Ben", f.j.adopted().ID, Answer{}, "no plan")
	f.wantError(err, ErrInput, `a record of kind "adoption" is not corrected`)
	_, err = f.correct("Ana", "zzzzzz", Answer{}, "why")
	f.wantError(err, ErrNotFound, `there is no record "zzzzzz"`)
}

// A correction keeps the rules of an answer: the role, the place, the limit of
// one answer to a place.
func TestCorrectKeepsTheRules(t *testing.T) {
	f := newFixture(t)
	f.depths("5 in")
	bay := f.first("insulation")
	_, err := f.correct("Ana", bay.ID, Answer{Place: "north wall/bay 2"}, "the other bay")
	f.wantError(err, ErrInput, "has another answer already")
	_, err = f.correct("Ana", bay.ID, Answer{Place: "north wall/bay 9"}, "the other bay")
	f.wantError(err, ErrInput, "bays 1 to 2")
	_, err = f.correct("Ana", bay.ID, Answer{Text: "5"}, "no unit")
	f.wantError(err, ErrInput, `"5" has no unit`)
	_, err = f.correct("Ana", bay.ID, Answer{Instrument: "PM-1"}, "another one")
	f.wantError(err, ErrInput, "PM-1 is a pin meter")
	r, err := f.correct("Ana", bay.ID, Answer{Note: "at the outlet"}, "a remark")
	must(t, err)
	if r.Value != "5 in" || r.Instrument == nil || r.Instrument.ID != "DG-2" || r.Note != "at the outlet" {
		t.Errorf("correction %+v", r)
	}
}

// What is entered must be able to be true.
func TestRecordRefuses(t *testing.T) {
	f := newFixture(t)
	ctx := context.Background()
	depth := Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "5 in", Instrument: "DG-2"}
	with := func(change func(*Answer)) Answer {
		a := depth
		change(&a)
		return a
	}
	for _, tt := range []struct {
		a    Answer
		kind error
		says string
	}{
		{with(func(a *Answer) { a.Phase = "insulaton" }), ErrNotFound, "did you mean insulation?"},
		{with(func(a *Answer) { a.Check = "foam" }), ErrNotFound, `there is no check of insulation called "foam"`},
		{with(func(a *Answer) { a.Place = "" }), ErrInput, "say where: --at \"north wall/bay 1\""},
		{with(func(a *Answer) { a.Place = "nort wall" }), ErrNotFound, "did you mean north wall"},
		{with(func(a *Answer) { a.Text = "5.5" }), ErrInput, "has no unit"},
		{with(func(a *Answer) { a.Text = "NaN in" }), ErrInput, "NaN in"},
		{with(func(a *Answer) { a.Text = "-5 in" }), ErrInput, "below 0"},
		{with(func(a *Answer) { a.Text = "" }), ErrInput, ""},
		{with(func(a *Answer) { a.Instrument = "" }), ErrInput, "name the depth gauge: --with ID; the company has: DG-2"},
		{with(func(a *Answer) { a.Instrument = "DG-3" }), ErrNotFound, "did you mean DG-2?"},
		{with(func(a *Answer) { a.Instrument = "PM-1" }), ErrInput, "this check wants a depth gauge"},
		{with(func(a *Answer) { a.Measured = f.now.AddDate(0, 0, 1) }), ErrInput, "is still to come"},
		{with(func(a *Answer) { a.Measured = f.now.AddDate(0, 0, -40) }), ErrInput, "is before the job started"},
		{with(func(a *Answer) { a.Start = f.now.AddDate(0, 0, 1) }), ErrInput, "still to come"},
		{with(func(a *Answer) { a.Start, a.End = f.now, f.now.Add(-time.Hour) }), ErrInput, "not between the start and now"},
		{with(func(a *Answer) { a.Party = "engineer A. B." }), ErrInput, "only an inspection or a document comes from another party"},
		{Answer{Phase: "framing", Check: "nails", Text: "maybe"}, ErrInput, `the answer "maybe" is not one of: yes, no, not applicable`},
		{Answer{Phase: "insulation", Check: "effective-resistance", Place: "north wall", Text: "R-18"}, ErrInput, "computed from other records"},
	} {
		_, err := f.j.Record(ctx, f.c, f.entry("Ana"), tt.a)
		f.wantError(err, tt.kind, tt.says)
	}
	if got := f.git("ls-files", "records"); strings.Contains(got, "insulation") {
		t.Errorf("something was entered: %s", got)
	}
	// All or nothing: one bad answer among good ones enters none.
	_, err := f.j.Record(ctx, f.c, f.entry("Ana"), depth, with(func(a *Answer) { a.Place, a.Text = "north wall/bay 2", "5" }))
	f.wantError(err, ErrInput, "nothing was entered; correct these and enter all again")
	if len(f.j.Records) != 1 {
		t.Errorf("%d records, want the adoption alone", len(f.j.Records))
	}
	_, err = f.j.Record(ctx, f.c, f.entry("Ana"), depth, depth)
	f.wantError(err, ErrInput, "is answered twice")
	f.record("Ana", depth)
	_, err = f.j.Record(ctx, f.c, f.entry("Ana"), depth)
	f.wantError(err, ErrInput, "has an answer already: 5 in")
}

// An instrument out of calibration can be recorded with, and proves nothing.
func TestOutOfCalibration(t *testing.T) {
	f := newFixture(t)
	f.c.Instruments[0].Due = time.Date(2026, 5, 3, 0, 0, 0, 0, time.UTC)
	f.depths("6 in")
	if p := f.point("insulation", "foam-depth", "north wall/bay 1"); p.Outcome != checks.Undecided || !strings.Contains(p.Reason, "calibration ran out on 2026-05-03") {
		t.Errorf("point %+v", p)
	}
	// A certificate that comes later does not make the reading good.
	f.c.Instruments[0].Calibrated, f.c.Instruments[0].Due = time.Date(2026, 5, 5, 0, 0, 0, 0, time.UTC), time.Date(2027, 5, 5, 0, 0, 0, 0, time.UTC)
	f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "6 in", Instrument: "DG-2", Rework: "again"})
	if p := f.point("insulation", "foam-depth", "north wall/bay 1"); p.Outcome != checks.Undecided || !strings.Contains(p.Reason, "was calibrated after this reading") {
		t.Errorf("point %+v", p)
	}
}

// Who gives a result is named with a role the plan accepts, and a name.
func TestPartyRole(t *testing.T) {
	roles := []string{"building inspector", "engineer"}
	for party, want := range map[string]string{
		"building inspector R. Stone": "building inspector", "Building Inspector: R. Stone": "building inspector", "engineer, A. B.": "engineer",
		"engineer": "", "engineer ": "", "engineering student A. B.": "", "R. Stone, building inspector": "", "": "", "building inspectors R. Stone": "",
	} {
		if got := partyRole(party, roles); got != want {
			t.Errorf("partyRole(%q) = %q, want %q", party, got, want)
		}
	}
}

// The owner's review shows every job, broken ones among them.
func TestReview(t *testing.T) {
	f := almost(t)
	f.create("oak-hall")
	broken := f.create("pine-loft")
	g := &fixture{t: t, c: f.c, j: broken, now: f.now, rnd: f.rnd}
	g.edit(g.file(JobFile), "units: US", "units: metric")
	all, err := f.c.Review(f.now)
	if err != nil || len(all) != 3 {
		t.Fatalf("%d jobs, %v", len(all), err)
	}
	byName := map[string]Summary{}
	for _, s := range all {
		byName[s.Job] = s
	}
	if s := byName["pine-loft"]; !strings.Contains(s.Problem, `units is "metric"`) || all[0].Job != "pine-loft" {
		t.Errorf("the broken job: %+v", s)
	}
	if s := byName["birch-stair"]; s.Released != 1 || s.Holds != 2 || s.Next != "insulation.before-board" || s.State != string(phases.Ready) || !slices.Contains(s.Owner, "sign insulation.before-board") {
		t.Errorf("birch-stair: %+v", s)
	}
	if s := byName["oak-hall"]; s.Released != 0 || s.Next != "framing.frame" || s.Undecided != 1 || s.Complete {
		t.Errorf("oak-hall: %+v", s)
	}
}

package diagnosis_test

import (
	"encoding/csv"
	"go/parser"
	"go/token"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"proveout/checks/diagnosis"
)

// play makes the readings of a scene.
func (s scene) play(t testing.TB) diagnosis.Room {
	t.Helper()
	r := soundRoom()
	s.true(&r)
	room, seen := look(t, r)
	if s.visit != nil {
		s.visit(&room, seen)
	}
	return room
}

func diagnose(t testing.TB, room diagnosis.Room) diagnosis.Report {
	t.Helper()
	report, err := diagnosis.Diagnose(room)
	if err != nil {
		t.Fatal(err)
	}
	return report
}

// The causes named are the known ones, all of them and no other, on readings.
func TestKnownCauses(t *testing.T) {
	for _, s := range scenes {
		t.Run(s.name, func(t *testing.T) {
			report := diagnose(t, s.play(t))
			want := diagnosis.Explained
			if len(s.causes) == 0 {
				want = diagnosis.Sound
			}
			got := slices.Sorted(slices.Values(report.Named()))
			if report.Outcome != want || !slices.Equal(got, slices.Sorted(slices.Values(s.causes))) {
				t.Errorf("%v %v, want %v %v", report.Outcome, got, want, s.causes)
				tell(t, report)
			}
			for _, want := range s.signs {
				if !slices.ContainsFunc(report.Symptoms, func(g diagnosis.Sign) bool { return g.Symptom == want }) {
					t.Errorf("no sign %q", want)
					tell(t, report)
				}
			}
			wellPut(t, report)
		})
	}
}

// wellPut checks what must hold of every report.
func wellPut(t *testing.T, r diagnosis.Report) {
	t.Helper()
	if r.Summary == "" || len(r.Unknown) == 0 {
		t.Error("no summary, or it knows everything")
	}
	named := true
	for _, f := range r.Causes {
		if f.Named && (!named || f.Certainty < diagnosis.Medium || len(f.For) == 0) {
			t.Errorf("%s is named with certainty %v on %d readings, after one that is not: %v", f.Cause, f.Certainty, len(f.For), !named)
		}
		named = f.Named
		if !f.Named && f.Certainty > diagnosis.Low {
			t.Errorf("%s is not named but certain: %v", f.Cause, f.Certainty)
		}
		for _, e := range append(slices.Clone(f.For), f.Against...) {
			if e.Text == "" || e.Source == "" || len(e.Readings) == 0 || strings.Contains(e.Text, "%!") || strings.Contains(e.Text, "NaN") {
				t.Errorf("%s: evidence %+v", f.Cause, e)
			}
			for _, m := range e.Readings {
				if m.What() == "" || m.How() == "" {
					t.Errorf("measurement %q says nothing of itself", m)
				}
			}
		}
	}
	for _, s := range r.Steps {
		if s.Name == "" || s.Value == "" || strings.Contains(s.Value+s.Formula, "%!") || strings.Contains(s.Value, "NaN") {
			t.Errorf("step %+v", s)
		}
	}
}

// Without a reading that decides the answer is undecided, and that reading is asked
// for.
func TestMissingReadingIsNamed(t *testing.T) {
	for _, s := range scenes {
		t.Run(s.name, func(t *testing.T) {
			if len(s.decides) == 0 {
				t.Fatal("no reading decides")
			}
			full := s.play(t)
			for _, m := range s.decides {
				room := clone(full)
				remove[m](&room)
				report := diagnose(t, room)
				if report.Outcome != diagnosis.Undecided || !report.Wants(m) || !strings.Contains(report.Summary, m.What()) {
					t.Errorf("without %s: %v, wants %v", m, report.Outcome, report.Wanted)
					tell(t, report)
				}
				wellPut(t, report)
			}
		})
	}
}

// Each row of the table of observations is played, and leads to a cause that the row
// points to.
func TestEveryObservationIsPlayed(t *testing.T) {
	f, err := os.Open("../../testdata/tables/diagnosis-observations.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) != 15 {
		t.Fatal(len(rows), err)
	}
	if len(scenes) < 15 {
		t.Errorf("%d invented rooms, want 15", len(scenes))
	}
	for _, row := range rows[1:] {
		played := slices.DeleteFunc(slices.Clone(scenes), func(s scene) bool { return !slices.Contains(s.rows, row[0]) })
		if len(played) == 0 {
			t.Errorf("row %s is played by no room: %s", row[0], row[1])
		}
		for _, s := range played {
			points := strings.Split(row[2], ";")
			fits := len(s.causes) == 0 && row[2] == "none" || slices.ContainsFunc(s.causes, func(c diagnosis.Cause) bool { return slices.Contains(points, string(c)) })
			if !fits {
				t.Errorf("row %s points to %s, %q has %v", row[0], row[2], s.name, s.causes)
			}
		}
	}
}

// Two rooms have two causes at least, and one has none.
func TestScenesCoverEveryCause(t *testing.T) {
	count := map[int]int{}
	seen := map[diagnosis.Cause]bool{}
	for _, s := range scenes[:15] {
		count[len(s.causes)]++
		for _, c := range s.causes {
			seen[c] = true
		}
	}
	if count[2] < 2 || count[0] < 1 || len(seen) != len(diagnosis.Causes) {
		t.Errorf("rooms by number of causes %v; %d of %d causes", count, len(seen), len(diagnosis.Causes))
	}
}

// The simulation shares no code with what it tests.
func TestSimulationStandsAlone(t *testing.T) {
	for _, name := range []string{"sim_test.go", "simwall_test.go"} {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range file.Imports {
			if i.Path.Value != `"math"` && i.Path.Value != `"math/rand/v2"` {
				t.Errorf("%s imports %s", name, i.Path.Value)
			}
		}
	}
}

// The order in which faces and places were written down changes nothing.
func TestOrderDoesNotMatter(t *testing.T) {
	for _, s := range scenes[:4] {
		room := s.play(t)
		want := diagnose(t, room)
		turned := clone(room)
		slices.Reverse(turned.Faces)
		slices.Reverse(turned.Readings.Air)
		got := diagnose(t, turned)
		if got.Outcome != want.Outcome || !slices.Equal(got.Named(), want.Named()) || math.Abs(float64(got.Visit.Found.Total()-want.Visit.Found.Total())) > 1e-9*float64(want.Visit.Found.Total()) {
			t.Errorf("%s: %v %v, in order %v %v", s.name, got.Outcome, got.Named(), want.Outcome, want.Named())
		}
	}
}

// tell prints a report that is not as expected.
func tell(t *testing.T, r diagnosis.Report) {
	t.Helper()
	t.Log(r.Summary)
	for _, s := range r.Symptoms {
		t.Logf("sign: %s: %s; explained %v by %v", s.Symptom, s.Text, s.Explained, s.By)
	}
	for _, f := range r.Causes {
		t.Logf("%s: named %v, certainty %v, share %.0f, decides %v", f.Cause, f.Named, f.Certainty, float64(f.Share), f.Decides)
		for _, e := range f.For {
			t.Logf("  + %s %v", e.Text, e.Readings)
		}
		for _, e := range f.Against {
			t.Logf("  - %s %v", e.Text, e.Readings)
		}
	}
	for _, w := range r.Wanted {
		t.Logf("wanted: %s because %s %v", w.Measurement, w.Because, w.Between)
	}
}

package diagnosis_test

import (
	"slices"
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

// The causes named are the known ones, all of them and no other.
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
		})
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
			for _, m := range s.decides {
				room := s.play(t)
				remove[m](&room)
				report := diagnose(t, room)
				if report.Outcome != diagnosis.Undecided || !report.Wants(m) {
					t.Errorf("without %s: %v, wants %v", m, report.Outcome, report.Wanted)
					tell(t, report)
				}
			}
		})
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

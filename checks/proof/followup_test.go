package proof_test

import (
	"testing"

	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

var (
	simWinter = simSeason{simWeather{4, 4, 3, 5, 2}, 21}
	simSummer = simSeason{simWeather{32, 6, 2.5, 14, 1.5}, 24.6}
)

// seasons plays one room in two seasons; change is done to it between.
func seasons(t *testing.T, seed uint64, change func(*simRoom)) (baseline, later *proof.Analysis, truth *simRoom) {
	t.Helper()
	for i, season := range []simSeason{simWinter, simSummer} {
		r := newRoomIn(seed, 11, &season)
		if i == 1 && change != nil {
			change(r)
		}
		a, err := proof.Analyse(r.play(300, r.loggers()))
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			baseline = a
		} else {
			later, truth = a, r
		}
	}
	return baseline, later, truth
}

func changeOf(f proof.FollowUp, name string) *proof.Change {
	for i := range f.Changes {
		if f.Changes[i].Name == name {
			return &f.Changes[i]
		}
	}
	return nil
}

// A room that stays as it was does not drift, and the opposite season proves what
// winter left open, and rightly.
func TestOppositeSeason(t *testing.T) {
	const rooms = 15
	proven, held := 0, 0
	for seed := range uint64(rooms) {
		b, l, r := seasons(t, 300+seed, nil)
		f := proof.Compare(b, l)
		if changeOf(f, "UA with leaks") == nil {
			t.Errorf("room %d: UA was not compared: %v", seed, f.Skipped)
		}
		for _, c := range f.Changes {
			if c.Outcome != units.Fail {
				continue
			}
			// House air is damper in summer: humidity and water follow the season.
			if c.Name == "UA with leaks" || c.Name == "time constant" || c.Name[:4] == "duty" {
				t.Errorf("room %d: %s: %+v, want no drift", seed, c.Name, c)
			}
		}
		if b.Hold == nil || b.Hold.Outcome == units.Pass && !b.Hold.Provisional {
			t.Errorf("room %d: winter alone proves summer: %+v", seed, b.Hold)
		}
		if f.Hold == nil {
			t.Errorf("room %d: no answer; %v", seed, f.Skipped)
			continue
		}
		if truth := r.hotDuty(); truth >= f.Hold.Duty.Low && truth <= f.Hold.Duty.High {
			held++
		}
		if f.Proven {
			proven++
		}
	}
	t.Logf("proven in %d of %d rooms, the truth held in %d", proven, rooms, held)
	if proven < rooms/2 || held < rooms-2 {
		t.Errorf("proven in %d, the truth held in %d of %d rooms", proven, held, rooms)
	}
}

// A leak that opened and a unit that lost capacity both look like more heat; the
// time constant tells them apart.
func TestDriftIsNamed(t *testing.T) {
	for _, tt := range []struct {
		name   string
		change func(*simRoom)
		means  string
	}{
		{"leak", func(r *simRoom) { r.leak *= 8 }, "more heat comes in: the time constant fell as well; look at seals, openings, wet insulation"},
		{"weak unit", func(r *simRoom) { r.capacity *= 0.65 }, "the unit does less than it did: the time constant did not fall; look at coil, condenser, refrigerant"},
	} {
		named := 0
		const rooms = 4
		for seed := range uint64(rooms) {
			b, l, _ := seasons(t, 400+seed, tt.change)
			f := proof.Compare(b, l)
			ua := changeOf(f, "UA with leaks")
			if ua == nil || ua.Outcome != units.Fail {
				t.Errorf("%s, room %d: UA %+v, want a drift", tt.name, seed, ua)
				continue
			}
			if ua.Means == tt.means {
				named++
			}
			if f.Note == "" || len(f.Steps) < 3 {
				t.Errorf("%s: note %q, %d steps", tt.name, f.Note, len(f.Steps))
			}
		}
		t.Logf("%s: explained in %d of %d rooms", tt.name, named, rooms)
		if named < rooms/2 {
			t.Errorf("%s: explained in %d of %d rooms", tt.name, named, rooms)
		}
	}
}

// What one of the logs lacks is skipped, and nothing is proven.
func TestCompareEmpty(t *testing.T) {
	f := proof.Compare(&proof.Analysis{}, &proof.Analysis{Steady: logs.TimeSpan{}})
	if f.Proven || f.Hold != nil || len(f.Changes) != 0 || len(f.Skipped) < 4 {
		t.Errorf("Compare of nothing: %+v", f)
	}
}

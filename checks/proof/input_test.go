package proof_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// Without the maker's capacity UA stays unknown; the margin on the design day is
// found all the same, and its interval holds the truth.
func TestCapacityNotKnown(t *testing.T) {
	const rooms = 12
	held := 0
	for seed := range uint64(rooms) {
		r := newRoomIn(600+seed, 11, &simSummer)
		in := r.play(300, r.loggers())
		in.Unit.Capacity = nil
		a, err := proof.Analyse(in)
		if err != nil || a.Hold == nil {
			t.Fatal(seed, err, a.Skipped)
		}
		if a.Signature.UA.Known() || a.Fit != nil {
			t.Errorf("room %d: UA %v, fit %v without a capacity", seed, a.Signature.UA, a.Fit)
		}
		if truth := r.hotDuty(); truth >= a.Hold.Duty.Low && truth <= a.Hold.Duty.High {
			held++
		} else {
			t.Logf("room %d: duty %.3f, interval %.3f to %.3f", seed, truth, a.Hold.Duty.Low, a.Hold.Duty.High)
		}
	}
	if held < rooms-1 {
		t.Errorf("the interval held the truth in %d of %d rooms", held, rooms)
	}
}

// The test with the unit off lies within the log that is to be judged, and so do
// visitors: neither counts as the room failing.
func TestTestsAreNotFaults(t *testing.T) {
	r := newRoom(620, 12)
	r.offFrom, r.offTo = 5*86400, 5*86400+18*3600
	r.ends = 12 * 86400
	r.doors = append(r.doors, [2]float64{9 * 86400, 9*86400 + 2*3600})
	in := playTo(r, 300)
	in.Except = []logs.TimeSpan{{From: simTime(9*86400 - 600), To: simTime(9*86400 + 5*3600)}}
	a, err := proof.Analyse(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range a.Findings {
		t.Errorf("%s: %s", f.Fault, f.Reason)
	}
	if a.Signature == nil || a.Decay == nil {
		t.Fatal(a.Skipped)
	}
	for _, d := range a.Signature.Days {
		within := d.From.Before(in.Off.To.Add(24*time.Hour)) && d.From.Add(24*time.Hour).After(in.Off.From)
		if within && d.Used {
			t.Errorf("the day from %v was used", d.From)
		}
	}
	for _, k := range a.Keeping {
		if k.Place.Room() && k.Quantity == logs.Temperature && k.InBand < 0.95 {
			t.Errorf("%s in band %.2f of the time, the test counted in", k.Logger, k.InBand)
		}
	}
}

// playTo plays a room whose unit is off for a while before its log ends.
func playTo(r *simRoom, every float64) proof.Input {
	offTo := r.offTo
	loggers := r.loggers()
	r.testEnds, r.offTo = offTo, r.ends
	in := r.play(every, loggers)
	in.Off.To = simTime(offTo)
	return in
}

// A logger of each kind is missing in turn: the signature says which.
func TestSignatureSaysWhatLacks(t *testing.T) {
	r := newRoom(630, 6)
	whole := r.play(300, r.loggers())
	for _, tt := range []struct {
		place proof.Place
		want  string
	}{
		{proof.Unit, "no meter of the unit tells when it ran"},
		{proof.Intake, "no sound logger at the condenser's intake"},
		{proof.OtherSide, "no sound logger beyond the faces to \"house\""},
	} {
		in := whole
		in.Loggers = nil
		for _, l := range whole.Loggers {
			if l.Place != tt.place {
				in.Loggers = append(in.Loggers, l)
			}
		}
		a, err := proof.Analyse(in)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, s := range a.Skipped {
			found = found || s.What == "energy signature" && len(s.Why) > len(tt.want) && s.Why[len(s.Why)-len(tt.want):] == tt.want
		}
		if !found || a.Hold != nil {
			t.Errorf("without %s: %v", tt.place, a.Skipped)
		}
	}
	in := whole
	in.Room.Sides = []proof.Side{{Name: "house", Conductance: -1}}
	if _, err := proof.Analyse(in); err == nil {
		t.Error("a negative conductance was taken")
	}
	in = whole
	in.Room.Set = units.Temperature(200)
	if _, err := proof.Analyse(in); err == nil {
		t.Error("a set point of 200 °C was taken")
	}
}

// Broken columns are named, and nothing panics.
func TestBrokenColumns(t *testing.T) {
	r := newRoom(640, 9)
	whole := r.play(300, r.loggers())
	if a, err := proof.Analyse(whole); err != nil || a.Hold == nil {
		t.Fatal("the room in order has no prediction", err)
	}
	breaks := map[string]func(s *logs.Series){
		"empty":         func(s *logs.Series) { s.Times, s.Values = nil, nil },
		"no values":     func(s *logs.Series) { s.Values = slices.Repeat([]float64{math.NaN()}, len(s.Times)) },
		"lengths":       func(s *logs.Series) { s.Values = s.Values[:10] },
		"infinite":      func(s *logs.Series) { s.Values = append([]float64{math.Inf(1)}, s.Values[1:]...) },
		"backwards":     func(s *logs.Series) { s.Times = slices.Clone(s.Times); slices.Reverse(s.Times) },
		"one time":      func(s *logs.Series) { s.Times = slices.Repeat([]int64{s.Times[0]}, len(s.Times)) },
		"one sample":    func(s *logs.Series) { s.Times, s.Values = s.Times[:1], s.Values[:1] },
		"an hour":       func(s *logs.Series) { s.Times, s.Values = s.Times[:13], s.Values[:13] },
		"nothing known": func(s *logs.Series) { s.Quantity = logs.Unknown },
	}
	for name, broken := range breaks {
		for i := range whole.Loggers {
			in := whole
			in.Loggers = slices.Clone(whole.Loggers)
			in.Loggers[i].Series = slices.Clone(whole.Loggers[i].Series)
			broken(&in.Loggers[i].Series[0])
			a, err := proof.Analyse(in)
			if err != nil {
				t.Fatalf("%s, logger %d: %v", name, i, err)
			}
			if name != "an hour" && !a.Named(proof.NotLogged) {
				t.Errorf("%s, logger %s: not named: %v", name, in.Loggers[i].Name, a.Findings)
			}
			if place := in.Loggers[i].Place; !place.Room() && place != proof.BottleProbe && a.Hold != nil {
				t.Errorf("%s, logger %s: still a prediction", name, in.Loggers[i].Name)
			}
		}
		in := proof.Input{Room: whole.Room, On: whole.On, Off: whole.Off, Design: whole.Design, Loggers: slices.Clone(whole.Loggers)}
		for i := range in.Loggers {
			in.Loggers[i].Series = slices.Clone(in.Loggers[i].Series)
			for k := range in.Loggers[i].Series {
				broken(&in.Loggers[i].Series[k])
			}
		}
		if a, err := proof.Analyse(in); err == nil && (a.Hold != nil || a.Signature != nil) {
			t.Errorf("%s everywhere: %+v", name, a.Hold)
		}
	}
}

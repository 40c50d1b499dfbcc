package proof_test

import (
	"encoding/json"
	"slices"
	"testing"
	"time"

	"proveout/checks/logs"
	"proveout/checks/proof"
)

// planted is one fault, put into a healthy room or its log.
type planted struct {
	fault proof.Fault
	room  func(r *simRoom)
	log   func(in *proof.Input)
	// May also be named: what follows from it.
	also []proof.Fault
}

var plants = []planted{
	{fault: proof.InSupplyAir, log: nil, room: nil}, // by its logger, below
	{fault: proof.ShortCycling, room: func(r *simRoom) { r.lag, r.band, r.minOn, r.minOff = 15, 0.3, 60, 60 }},
	{fault: proof.Leak, room: func(r *simRoom) { r.leak *= 9 }, also: []proof.Fault{proof.UnitTooSmall}},
	{fault: proof.UnitTooSmall, room: func(r *simRoom) { r.capacity, r.nominal = 0.38*r.capacity, 0.38*r.nominal }},
	{fault: proof.GapOverPullDown, log: gapAfterStart, also: []proof.Fault{proof.Gap, proof.NotLogged}},
	{fault: proof.Stuck, log: func(in *proof.Input) {
		v := in.Loggers[1].Series[1].Values
		for i := len(v) / 3; i < len(v); i++ {
			v[i] = v[len(v)/3]
		}
	}},
	{fault: proof.WrongClock, log: func(in *proof.Input) {
		for k := range in.Loggers[2].Series {
			times := slices.Clone(in.Loggers[2].Series[k].Times)
			for i := range times {
				times[i] -= (5 * time.Hour).Milliseconds()
			}
			in.Loggers[2].Series[k].Times = times
		}
	}},
	{fault: proof.Fahrenheit, log: func(in *proof.Input) {
		s := in.Loggers[0].Series[0]
		in.Loggers[0].Series[0] = s.Corrected(1.8, 32)
	}},
	{fault: proof.DoorOpen, room: func(r *simRoom) {
		r.doors = append(r.doors, [2]float64{6.3 * 86400, 6.3*86400 + 3*3600})
	}},
	{fault: proof.Defrost, room: func(r *simRoom) { r.defrostEvery, r.defrostFor = 6*3600, 25*60 }},
}

// gapAfterStart takes out of room and bottle what was logged while both came down.
func gapAfterStart(in *proof.Input) {
	gap := logs.TimeSpan{From: in.On.Add(30 * time.Minute), To: in.On.Add(50 * time.Hour)}
	for i, l := range in.Loggers {
		if l.Place == proof.BottleProbe {
			for k, s := range l.Series {
				in.Loggers[i].Series[k] = s.Without(gap)
			}
		}
	}
}

// inSupply hangs the first logger into the stream of cold air.
func inSupply(loggers []*simLogger) {
	cold := 0.0
	loggers[0].columns[0].read = func(r *simRoom, _ float64) float64 {
		target := 0.0
		if r.on {
			target = -8
		}
		cold += 0.4 * (target - cold)
		return r.air + cold
	}
}

// Each of ten faults is named in each of several rooms, and no other.
func TestFaultsAreNamed(t *testing.T) {
	const each = 5
	for n, p := range plants {
		for k := range uint64(each) {
			r := newRoom(1000+uint64(n)*each+k, 11)
			if p.room != nil {
				p.room(r)
			}
			loggers := r.loggers()
			if p.fault == proof.InSupplyAir {
				inSupply(loggers)
			}
			in := r.play([]float64{60, 300}[k%2], loggers)
			if p.log != nil {
				p.log(&in)
			}
			a, err := proof.Analyse(in)
			if err != nil {
				t.Fatal(err)
			}
			if !a.Named(p.fault) {
				t.Errorf("%s, room %d: not named; %v; skipped %v", p.fault, k, a.Findings, a.Skipped)
				if a.Overlay != nil {
					t.Log(a.Overlay.Steps)
				}
				if a.Signature != nil {
					t.Log(a.Signature.UA, a.Signature.Designed, a.Condensate, r.expected)
				}
				if a.Hold != nil {
					t.Log(a.Hold)
				}
			}
			for _, f := range a.Findings {
				if f.Fault != p.fault && !slices.Contains(p.also, f.Fault) {
					t.Errorf("%s, room %d: also %s %s: %s", p.fault, k, f.Fault, f.Logger, f.Reason)
				}
			}
		}
	}
}

// Faults of single loggers that are not among the ten.
func TestLesserFaults(t *testing.T) {
	healthy := newRoom(77, 11)
	whole := healthy.play(300, healthy.loggers())
	for _, tt := range []struct {
		fault    proof.Fault
		excluded bool
		change   func(s *logs.Series, l *proof.Logger)
		column   int
	}{
		{proof.Repeated, false, func(s *logs.Series, _ *proof.Logger) {
			s.Times = append(slices.Clone(s.Times), s.Times[len(s.Times)-1])
			s.Values = append(slices.Clone(s.Values), s.Values[len(s.Values)-1])
		}, 0},
		{proof.Gap, false, func(s *logs.Series, _ *proof.Logger) {
			*s = s.Without(logs.TimeSpan{From: simTime(5 * 86400), To: simTime(5*86400 + 4*3600)})
		}, 0},
		{proof.NotLogged, true, func(s *logs.Series, _ *proof.Logger) {
			*s = s.Without(logs.TimeSpan{From: simTime(5 * 86400), To: simTime(7 * 86400)})
		}, 0},
		{proof.Jumping, true, func(s *logs.Series, _ *proof.Logger) {
			s.Values = slices.Clone(s.Values)
			for i := 500; i < len(s.Values); i += 700 {
				s.Values[i] += 7
			}
		}, 0},
		{proof.Implausible, true, func(s *logs.Series, _ *proof.Logger) {
			s.Values = slices.Clone(s.Values)
			s.Values[900] = -127
		}, 0},
		{proof.Drifting, false, func(s *logs.Series, _ *proof.Logger) {
			s.Values = slices.Clone(s.Values)
			for i := range s.Values {
				s.Values[i] += 1.5 * float64(i) / float64(len(s.Values))
			}
		}, 0},
		{proof.Stuck, true, func(s *logs.Series, _ *proof.Logger) {
			s.Values = slices.Clone(s.Values)
			for i := 2000; i < 2300; i++ {
				s.Values[i] = s.Values[2000]
			}
		}, 0},
		{proof.TooClose, false, func(_ *logs.Series, l *proof.Logger) { l.Distance = 0.3 }, 0},
		{proof.WrongClock, true, func(s *logs.Series, _ *proof.Logger) {
			s.Times = slices.Clone(s.Times)
			for i := range s.Times {
				s.Times[i] += time.Hour.Milliseconds() // daylight saving
			}
		}, 0},
	} {
		in := whole
		in.Loggers = slices.Clone(whole.Loggers)
		in.Loggers[1].Series = slices.Clone(whole.Loggers[1].Series)
		tt.change(&in.Loggers[1].Series[tt.column], &in.Loggers[1])
		a, err := proof.Analyse(in)
		if err != nil {
			t.Fatal(tt.fault, err)
		}
		found := false
		for _, f := range a.Findings {
			if f.Fault == tt.fault && f.Logger == "A2" {
				found = true
				if f.Excluded != tt.excluded || f.Reason == "" || f.Do == "" {
					t.Errorf("%s: %+v, want excluded %v, a reason and what to do", tt.fault, f, tt.excluded)
				}
			} else if tt.fault != proof.NotLogged || f.Fault != proof.Gap {
				t.Errorf("%s: also %s %s: %s", tt.fault, f.Fault, f.Logger, f.Reason)
			}
		}
		if !found {
			t.Errorf("%s: not named: %v", tt.fault, a.Findings)
		}
	}
}

// What cannot be analysed is an error, and what lacks something is skipped with a
// reason, never a pass.
func TestAnalyseWithLittle(t *testing.T) {
	if _, err := proof.Analyse(proof.Input{}); err == nil {
		t.Error("an empty input gave an analysis")
	}
	r := newRoom(78, 4)
	in := r.play(300, r.loggers())
	in.Loggers = in.Loggers[:3] // the room alone
	a, err := proof.Analyse(in)
	if err != nil {
		t.Fatal(err)
	}
	if a.Signature != nil || a.Hold != nil || a.Cycles != nil || a.Fit != nil || len(a.Skipped) < 3 {
		t.Errorf("from the room alone: signature %v, hold %v, cycles %v; skipped %v", a.Signature, a.Hold, a.Cycles, a.Skipped)
	}
	if len(a.Keeping) != 6 || len(a.PullDowns) != 3 || !a.Room.Known() || len(a.Mold) != 3 {
		t.Errorf("from the room alone: %d columns kept, %d pull-downs, %d mold indices, %v", len(a.Keeping), len(a.PullDowns), len(a.Mold), a.Room)
	}
	full := newRoom(79, 9)
	b, err := proof.Analyse(full.play(300, full.loggers()))
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []*proof.Analysis{a, b} {
		if _, err := json.Marshal(a); err != nil {
			t.Errorf("an analysis holds what JSON cannot: %v", err)
		}
	}
}

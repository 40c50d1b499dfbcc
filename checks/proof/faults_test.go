package proof_test

import (
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

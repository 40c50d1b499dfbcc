package proof_test

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks/logs"
	"proveout/checks/proof"
)

// A probe that stands still, or a room that was cold already, has not come down. The
// rule is ours: nothing published could be found.
func TestStandingStillIsNoPullDown(t *testing.T) {
	start := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	log := func(at func(h float64) float64) logs.Series {
		s := logs.Series{Name: "temperature", Quantity: logs.Temperature}
		for m := 0; m < 4*24*60; m += 5 {
			s.Times = append(s.Times, start.Add(time.Duration(m)*time.Minute).UnixMilli())
			s.Values = append(s.Values, at(float64(m)/60))
		}
		return s
	}
	for _, tt := range []struct {
		name string
		at   func(float64) float64
		fell bool
	}{
		{"still", func(float64) float64 { return 13 }, false},
		{"falls", func(h float64) float64 { return max(13, 24-h/2) }, true},
	} {
		in := proof.Input{On: start, Loggers: []proof.Logger{
			{Name: "probe", Place: proof.BottleProbe, Series: []logs.Series{log(tt.at)}},
			{Name: "air", Place: proof.RoomMiddle, Series: []logs.Series{log(func(h float64) float64 { return max(13, 24-2*h) + 0.2*math.Sin(h) })}},
		}}
		in.Room.Set = 13
		a, err := proof.Analyse(in)
		if err != nil {
			t.Fatalf("%s: %v", tt.name, err)
		}
		fell := slices.ContainsFunc(a.PullDowns, func(p proof.PulledDown) bool { return p.Place == proof.BottleProbe && p.Proven })
		if fell != tt.fell {
			t.Errorf("%s: pull-downs %+v, want that of the probe proven: %v", tt.name, a.PullDowns, tt.fell)
		}
		var said strings.Builder
		for _, s := range a.Skipped {
			said.WriteString(s.What + ": " + s.Why + "\n")
		}
		if !tt.fell && !strings.Contains(said.String(), "pull-down of probe: ") {
			t.Errorf("%s: nothing says why:\n%s", tt.name, said.String())
		}
	}
}

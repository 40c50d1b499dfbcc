package proof_test

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"proveout/checks/proof"
)

// hits counts how often an interval held the truth.
type hits struct {
	held, known int
	widths      []float64 // half-width over value
}

func (h *hits) add(truth, value, low, high float64) {
	h.known++
	if truth >= low && truth <= high {
		h.held++
	}
	h.widths = append(h.widths, (high-low)/2/value)
}

func (h *hits) share() float64 { return float64(h.held) / float64(h.known) }

func (h *hits) middle() float64 {
	w := slices.Sorted(slices.Values(h.widths))
	return w[len(w)/2]
}

const manyRooms = 200

// The stated 95 % intervals hold the truth in 90 to 99 of a hundred rooms, and no
// fault is named in a room that has none.
func TestIntervalsHoldTheTruth(t *testing.T) {
	var ua, tau, duty, coupling hits
	alarms := map[proof.Fault]int{}
	for seed := range uint64(manyRooms) {
		r := newRoom(seed, 11)
		every := []float64{60, 120, 300}[seed%3]
		in := r.play(every, r.loggers())
		a, err := proof.Analyse(in)
		if err != nil {
			t.Fatal(seed, err)
		}
		for _, f := range a.Findings {
			alarms[f.Fault]++
			t.Logf("room %d: %s %s: %s", seed, f.Fault, f.Logger, f.Reason)
		}
		if s := a.Signature; s != nil {
			ua.add(r.uaTrue(), float64(s.UA.Value), float64(s.UA.Low), float64(s.UA.High))
			if os.Getenv("DUMP") != "" {
				fmt.Printf("%d UA true %.2f got %.2f (%.2f..%.2f) anch %v n %d span %.2f s %.1f rho %.2f base %.0f [%.0f..%.0f] ins %.0f lat %.0f\n", seed, r.uaTrue(), s.UA.Value, s.UA.Low, s.UA.High, s.Line.Anchored, s.Line.N, s.Line.MaxX-s.Line.MinX, s.Line.S, s.Line.Lag1, s.Base.Value, s.Base.Low, s.Base.High, in.Room.Inside, s.Latent)
			}
		} else {
			t.Logf("room %d: no signature: %v", seed, a.Skipped)
		}
		if h := a.Hold; h != nil {
			d := r.hotDuty()
			duty.add(d, h.Duty.Value, h.Duty.Low, h.Duty.High)
			if os.Getenv("DUMP") != "" {
				fmt.Printf("   duty true %.3f got %.3f (%.3f..%.3f) %v %s\n", d, h.Duty.Value, h.Duty.Low, h.Duty.High, h.Outcome, h.Reason)
			}
		}
		if d := a.Decay; d != nil {
			x := r.slowTau()
			tau.add(x, d.TimeConstant.Value, d.TimeConstant.Low, d.TimeConstant.High)
			if os.Getenv("DUMP") != "" {
				fmt.Printf("   tau true %.1f got %.1f (%.1f..%.1f)\n", x/3600, d.TimeConstant.Value/3600, d.TimeConstant.Low/3600, d.TimeConstant.High/3600)
			}
		} else {
			t.Logf("room %d: no time constant: %v", seed, a.Skipped)
		}
		if f := a.Fit; f != nil {
			coupling.add(r.airBottle, float64(f.Coupling.Value), float64(f.Coupling.Low), float64(f.Coupling.High))
			if os.Getenv("DUMP") != "" {
				fmt.Printf("   H true %.1f got %.1f (%.1f..%.1f) UA %.1f light %.0f apart %.2f %.2f\n", r.airBottle, f.Coupling.Value, f.Coupling.Low, f.Coupling.High, f.UA.Value, f.Light.Value/1000, f.AirApart, f.BottleApart)
			}
		}
	}
	for name, h := range map[string]*hits{"UA": &ua, "time constant": &tau, "design-day duty": &duty, "bottle conductance": &coupling} {
		t.Logf("%s: %d rooms, %.1f %% held, median half-width %.1f %%", name, h.known, 100*h.share(), 100*h.middle())
	}
	t.Logf("false alarms: %v", alarms)
}

package proof_test

import (
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

// report checks that 90 to 99 of a hundred intervals held the truth, and that
// nearly every room had one.
func (h *hits) report(t *testing.T, name string, rooms int) {
	t.Logf("%s: %d of %d rooms, %.1f %% held, median half-width %.1f %%", name, h.known, rooms, 100*h.share(), 100*h.middle())
	if h.known < rooms*95/100 {
		t.Errorf("%s: known in %d of %d rooms only", name, h.known, rooms)
	}
	if s := h.share(); s < 0.90 || s > 0.99 {
		t.Errorf("%s: %.1f %% of the intervals hold the truth, want 90 to 99", name, 100*s)
	}
}

const manyRooms = 200

// The stated 95 % intervals hold the truth in 90 to 99 of a hundred rooms, that of
// UA is at most ± 15 % wide in the median, and no fault is named in any room.
func TestIntervalsHoldTheTruth(t *testing.T) {
	var ua, tau, duty, coupling hits
	alarms := 0
	for seed := range uint64(manyRooms) {
		r := newRoom(seed, 11)
		a, err := proof.Analyse(r.play([]float64{60, 120, 300}[seed%3], r.loggers()))
		if err != nil {
			t.Fatal(seed, err)
		}
		for _, f := range a.Findings {
			alarms++
			t.Errorf("healthy room %d: %s %s: %s", seed, f.Fault, f.Logger, f.Reason)
		}
		if s := a.Signature; s != nil {
			ua.add(r.uaTrue(), float64(s.UA.Value), float64(s.UA.Low), float64(s.UA.High))
		}
		if h := a.Hold; h != nil {
			duty.add(r.hotDuty(), h.Duty.Value, h.Duty.Low, h.Duty.High)
		}
		if d := a.Decay; d != nil {
			tau.add(r.slowTau(), d.TimeConstant.Value, d.TimeConstant.Low, d.TimeConstant.High)
		}
		if f := a.Fit; f != nil {
			coupling.add(r.airBottle, float64(f.Coupling.Value), float64(f.Coupling.Low), float64(f.Coupling.High))
		}
	}
	ua.report(t, "UA", manyRooms)
	tau.report(t, "time constant", manyRooms)
	duty.report(t, "duty on the design day", manyRooms)
	coupling.report(t, "bottles to air", manyRooms)
	if m := ua.middle(); m > 0.15 {
		t.Errorf("UA: median half-width %.1f %%, want 15 at most", 100*m)
	}
	t.Logf("false alarms: %d in %d rooms", alarms, manyRooms)
}

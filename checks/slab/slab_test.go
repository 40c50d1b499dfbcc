package slab

import (
	"math"
	"testing"
	"time"

	"proveout/checks/units"
)

// ASTM F2170 (from memory): 40 % of a 100 mm slab is 40 mm, 24 h in 2019, 72 h before.
func TestHole(t *testing.T) {
	now, old := Editions()[0], Editions()[1]
	good := Hole{Humidity: 72, Depth: 0.04, Thickness: 0.1, Rest: 24 * time.Hour}
	for i, tt := range []struct {
		change func(*Hole)
		ok     bool
	}{
		{func(*Hole) {}, true},
		{func(h *Hole) { h.Depth = 0.036 }, true},
		{func(h *Hole) { h.Depth = 0.035 }, false},
		{func(h *Hole) { h.Depth = 0.045 }, false},
		{func(h *Hole) { h.Depth, h.TwoSides = 0.02, true }, true},
		{func(h *Hole) { h.TwoSides = true }, false},
		{func(h *Hole) { h.Rest = 23 * time.Hour }, false},
	} {
		h := good
		tt.change(&h)
		if problem, err := h.Problem(now); err != nil || (problem == "") != tt.ok {
			t.Errorf("case %d: %q, %v", i, problem, err)
		}
	}
	if problem, err := good.Problem(old); err != nil || problem == "" {
		t.Errorf("24 h under %s: %q, %v", old.Name, problem, err)
	}
	for _, h := range []Hole{{}, {Humidity: units.RelativeHumidity(math.NaN()), Depth: 0.04, Thickness: 0.1}, {Humidity: 70, Depth: 2, Thickness: 0.1}, {Humidity: 70, Depth: 0.04, Thickness: 0.1, Rest: -1}} {
		if problem, err := h.Problem(now); err == nil {
			t.Errorf("%+v: %q, want an error", h, problem)
		}
	}
}

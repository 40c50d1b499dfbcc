package racks

import (
	"math"
	"testing"

	"proveout/checks/units"
)

// One in ten, at least two to a wall: common practice, nothing published was found.
func TestPulls(t *testing.T) {
	for n, want := range map[int]int{1: 1, 2: 2, 10: 2, 20: 2, 21: 3, 30: 3, 31: 4, 100: 10} {
		if got := Pulls(n); got != want {
			t.Errorf("Pulls(%d) = %d, want %d", n, got, want)
		}
	}
}

// By hand: a 2×6 laid flat from 78 to 83.5 in, an anchor at 82 in is 1.5 in inside.
func TestEdge(t *testing.T) {
	const inch = 0.0254
	b := Blocking{78 * inch, 83.5 * inch}
	for height, want := range map[float64]float64{82: 1.5, 80.75: 2.75, 78: 0, 77: -1, 84: -0.5} {
		got, err := b.Edge(units.Length(height * inch))
		if err != nil || math.Abs(float64(got)/inch-want) > 1e-9 {
			t.Errorf("anchor at %v in: %v in, %v, want %v", height, float64(got)/inch, err, want)
		}
	}
	for _, b := range []Blocking{{}, {2, 1}, {-1, 2}, {units.Length(math.NaN()), 2}} {
		if got, err := b.Edge(1.5); err == nil {
			t.Errorf("%+v: %v, want an error", b, got)
		}
	}
	if got, err := b.Edge(units.Length(math.Inf(1))); err == nil {
		t.Errorf("%v, want an error", got)
	}
}

func TestAnchors(t *testing.T) {
	for _, tt := range []struct {
		a    Anchors
		want units.Outcome
	}{
		{Anchors{20, 20, 2, 2}, units.Pass}, {Anchors{20, 19, 2, 2}, units.Fail}, {Anchors{20, 20, 2, 1}, units.Fail},
		{Anchors{21, 21, 2, 2}, units.Undecided}, {Anchors{1, 1, 1, 1}, units.Pass}, {Anchors{21, 21, 7, 7}, units.Pass},
	} {
		if got, text, err := tt.a.Judge(); err != nil || got != tt.want {
			t.Errorf("%+v: %v %q, %v, want %v", tt.a, got, text, err, tt.want)
		}
	}
	for _, a := range []Anchors{{}, {5, 6, 2, 2}, {5, 5, 6, 6}, {5, 5, 2, 3}, {5, -1, 2, 2}} {
		if got, _, err := a.Judge(); err == nil {
			t.Errorf("%+v: %v, want an error", a, got)
		}
	}
}

package mold

import (
	"math"
	"math/rand/v2"
	"testing"

	"proveout/checks/units"
)

// By hand. Two rectangles of 2 by 1 that overlap by a half of one of them are 3; a
// third that touches at a corner hangs on; one on another face does not.
func TestSketch(t *testing.T) {
	a := Patch{"north wall", 0, 0, 2, 1}
	b := Patch{"north wall", 1, 0, 2, 1}
	corner := Patch{"north wall", 3, 1, 0.5, 0.5}
	away := Patch{"north wall", 5, 0, 1, 1}
	other := Patch{"east wall", 0, 0, 4, 1}
	for i, tt := range []struct {
		patches        []Patch
		gap            units.Length
		total, largest float64
		groups         int
	}{
		{nil, 0, 0, 0, 0},
		{[]Patch{a}, 0, 2, 2, 1},
		{[]Patch{a, a}, 0, 2, 2, 1},
		{[]Patch{a, b}, 0, 3, 3, 1},
		{[]Patch{a, b, corner}, 0, 3.25, 3.25, 1},
		{[]Patch{corner, a, away, b}, 0, 4.25, 3.25, 2},
		{[]Patch{a, b, other}, 0, 7, 4, 2},
		{[]Patch{b, away}, 1, 3, 2, 2},
		{[]Patch{corner, away}, 1, 1.25, 1, 2},
		{[]Patch{a, {"north wall", 2.3, 0, 1, 1}}, 0.3, 3, 3, 1},
		{[]Patch{a, {"north wall", 2.3, 0, 1, 1}}, 0.2, 3, 2, 2},
	} {
		e, err := Sketch(tt.patches, tt.gap)
		if err != nil || math.Abs(float64(e.Total)-tt.total) > 1e-9 || math.Abs(float64(e.Largest)-tt.largest) > 1e-9 || len(e.Patches) != tt.groups {
			t.Errorf("case %d: %+v, %v, want %v %v %d", i, e, err, tt.total, tt.largest, tt.groups)
		}
	}
	nan := units.Length(math.NaN())
	for _, p := range []Patch{{}, {"x", 0, 0, nan, 1}, {"x", nan, 0, 1, 1}, {"x", 0, 0, 1, -1}, {"x", 0, 0, 1000, 1}} {
		if e, err := Sketch([]Patch{p}, 0); err == nil {
			t.Errorf("%+v: %+v, want an error", p, e)
		}
	}
	if e, err := Sketch([]Patch{a}, nan); err == nil {
		t.Errorf("a gap that is no number: %+v", e)
	}
}

// The area against a count of points: a million of them in 10 by 10 m. Tolerance:
// four standard deviations of such a count.
func TestSketchAgainstPoints(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	var patches []Patch
	for range 12 {
		patches = append(patches, Patch{"wall", units.Length(7 * rnd.Float64()), units.Length(7 * rnd.Float64()), units.Length(3 * rnd.Float64()), units.Length(3 * rnd.Float64())})
	}
	e, err := Sketch(patches, 0)
	if err != nil {
		t.Fatal(err)
	}
	const n = 200_000
	hit := 0
	for range n {
		if covered(patches, units.Length(10*rnd.Float64()), units.Length(10*rnd.Float64())) {
			hit++
		}
	}
	share := float64(hit) / n
	if math.Abs(float64(e.Total)/100-share) > 4*math.Sqrt(share*(1-share)/n) {
		t.Errorf("total %v m², points say %v m²", e.Total, 100*share)
	}
}

func BenchmarkSketch(b *testing.B) {
	patches := make([]Patch, 8)
	for i := range patches {
		patches[i] = Patch{"wall", units.Length(i), 0, 1.5, 1}
	}
	for b.Loop() {
		if _, err := Sketch(patches, 0); err != nil {
			b.Fatal(err)
		}
	}
}

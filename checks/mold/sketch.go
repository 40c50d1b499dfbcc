package mold

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"proveout/checks/units"
)

// A Patch is a rectangle drawn round mold on a face, in a sketch with x to the
// right and y up.
type Patch struct {
	Face          string
	X, Y          units.Length // of its lower left corner, −100 to 100 m
	Width, Height units.Length // 1 mm to 100 m
}

// Extent is what a sketch says to the tiers of a scheme.
type Extent struct {
	// Total is the area of all patches, overlaps counted once.
	Total units.Area
	// Largest is the area of the largest contiguous patch: rectangles of one face
	// that touch, overlap or lie no farther apart than the gap are one.
	Largest units.Area
	Patches []units.Area // of each contiguous patch, the largest first
}

// Sketch measures patches. Gap is how far apart two may lie and still be one, 0 to
// 1 m: schemes say contiguous without a figure, so 0 is what they say. Patches that
// meet round a corner of the room are on two faces and count as two: add them by
// hand where the scheme means otherwise. No patch is an extent of 0.
func Sketch(patches []Patch, gap units.Length) (Extent, error) {
	if !(gap >= 0 && gap <= 1) {
		return Extent{}, fmt.Errorf("mold sketch: gap %g m is outside 0 to 1 m", gap)
	}
	for i, p := range patches {
		if err := p.valid(); err != nil {
			return Extent{}, fmt.Errorf("mold sketch: patch %d: %w", i+1, err)
		}
	}
	var e Extent
	for _, group := range contiguous(patches, gap) {
		area := unionArea(group)
		e.Patches = append(e.Patches, area)
		e.Largest = max(e.Largest, area)
		if gap == 0 {
			e.Total += area
		}
	}
	slices.SortFunc(e.Patches, func(a, b units.Area) int { return cmp.Compare(b, a) })
	if gap > 0 {
		for _, group := range contiguous(patches, 0) {
			e.Total += unionArea(group)
		}
	}
	return e, nil
}

// contiguous parts patches into those that hang together.
func contiguous(patches []Patch, gap units.Length) [][]Patch {
	var groups [][]Patch
	for _, p := range patches {
		joined := []Patch{p}
		var others [][]Patch
		for _, g := range groups {
			if meetsAny(p, g, gap) {
				joined = append(joined, g...)
			} else {
				others = append(others, g)
			}
		}
		groups = append(others, joined)
	}
	return groups
}

func meetsAny(p Patch, group []Patch, gap units.Length) bool {
	for _, q := range group {
		if p.meets(q, gap) {
			return true
		}
	}
	return false
}

// meets reports whether two patches touch, overlap or lie within the gap.
func (p Patch) meets(q Patch, gap units.Length) bool {
	if p.Face != q.Face {
		return false
	}
	const slack = 1e-9 // m, for float noise of corners that touch
	reach := gap + slack
	return p.X <= q.X+q.Width+reach && q.X <= p.X+p.Width+reach && p.Y <= q.Y+q.Height+reach && q.Y <= p.Y+p.Height+reach
}

// unionArea adds the area of rectangles of one face, overlaps once: each strip
// between two edges in x has the length in y that any of them covers.
func unionArea(patches []Patch) units.Area {
	xs := edges(patches, func(p Patch) (units.Length, units.Length) { return p.X, p.X + p.Width })
	ys := edges(patches, func(p Patch) (units.Length, units.Length) { return p.Y, p.Y + p.Height })
	var area float64
	for i := range len(xs) - 1 {
		for j := range len(ys) - 1 {
			if covered(patches, (xs[i]+xs[i+1])/2, (ys[j]+ys[j+1])/2) {
				area += float64(xs[i+1]-xs[i]) * float64(ys[j+1]-ys[j])
			}
		}
	}
	return units.Area(area)
}

// edges are the sorted ends of patches along one axis.
func edges(patches []Patch, ends func(Patch) (units.Length, units.Length)) []units.Length {
	var all []units.Length
	for _, p := range patches {
		a, b := ends(p)
		all = append(all, a, b)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

func covered(patches []Patch, x, y units.Length) bool {
	for _, p := range patches {
		if x > p.X && x < p.X+p.Width && y > p.Y && y < p.Y+p.Height {
			return true
		}
	}
	return false
}

func (p Patch) valid() error {
	return errors.Join(
		units.Within("x", float64(p.X), -100, 100, "m"), units.Within("y", float64(p.Y), -100, 100, "m"),
		units.Within("width", float64(p.Width), 0.001, 100, "m"), units.Within("height", float64(p.Height), 0.001, 100, "m"),
	)
}

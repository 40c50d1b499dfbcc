// Package slab judges the humidity inside a concrete slab, read in drilled holes by
// ASTM F2170: whether a hole is a test at all, and the limit where the maker of the
// floor gives none.
//
// A hole ends at 40 % of the thickness of a slab that dries from one side, 20 % of
// one that dries from two; its probe rests until the air in it is in balance, 24 h
// in the edition of 2019 and 72 h before (from memory). 75 % RH where the maker of
// the floor says nothing: ASTM F710 (read as quoted by a flooring text).
package slab

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// DefaultLimit is the humidity that a floor may be laid at where its maker gives none.
const DefaultLimit units.RelativeHumidity = 75

// Edition is one edition of F2170 by its rest.
type Edition struct {
	Name string
	Rest time.Duration
}

// Editions returns the editions known, the newest first (from memory).
func Editions() []Edition {
	return []Edition{{"ASTM F2170-19", 24 * time.Hour}, {"ASTM F2170-11", 72 * time.Hour}}
}

// Hole is one test hole.
type Hole struct {
	Humidity  units.RelativeHumidity // of the air at its bottom, 10 to 100 %
	Depth     units.Length           // 5 mm to 1 m
	Thickness units.Length           // of the slab, 40 mm to 1 m
	Rest      time.Duration          // since the probe went in, up to 1 year
	TwoSides  bool                   // the slab dries from both sides
}

// depthSlack is how far the depth may lie off, as a share of it: our choice, the
// standard's figure could not be read.
const depthSlack = 0.1

// Problem says why the hole is no test under an edition, or "". Values out of range
// are an error.
func (h Hole) Problem(e Edition) (string, error) {
	if err := h.valid(); err != nil {
		return "", fmt.Errorf("slab: %w", err)
	}
	share := h.Share()
	want := share * float64(h.Thickness)
	switch {
	case math.Abs(float64(h.Depth)-want) > depthSlack*want*(1+1e-9):
		return fmt.Sprintf("the hole is %.0f mm deep; wanted is %.0f %% of %.0f mm, %.0f mm", 1000*h.Depth, 100*share, 1000*h.Thickness, 1000*want), nil
	case h.Rest < e.Rest:
		return fmt.Sprintf("the probe rested %.1f h; %s wants %.0f h", h.Rest.Hours(), e.Name, e.Rest.Hours()), nil
	}
	return "", nil
}

// Share is the part of the thickness at which the hole ends.
func (h Hole) Share() float64 {
	if h.TwoSides {
		return 0.2
	}
	return 0.4
}

func (h Hole) valid() error {
	return errors.Join(
		units.Within("humidity", float64(h.Humidity), 10, 100, "% RH"),
		units.Within("depth", float64(h.Depth), 0.005, 1, "m"),
		units.Within("thickness", float64(h.Thickness), 0.04, 1, "m"),
		units.Within("rest", h.Rest.Hours(), 0, 8784, "h"),
	)
}

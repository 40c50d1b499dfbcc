package racks

import (
	"errors"
	"fmt"

	"proveout/checks/units"
)

// Blocking is a strip of solid wood in a wall, as the blocking map of the framing
// shows it: heights above the finished floor.
type Blocking struct {
	Bottom, Top units.Length // 0 to 6 m, Bottom below Top
}

// Edge returns how far an anchor at a height lies inside the blocking: the distance
// to its nearer edge, negative where the anchor misses it. An anchor near an edge
// splits the wood; how near is the engineer's or the screw maker's to say.
func (b Blocking) Edge(height units.Length) (units.Length, error) {
	err := errors.Join(units.Within("bottom of the blocking", float64(b.Bottom), 0, 6, "m"), units.Within("top of the blocking", float64(b.Top), 0, 6, "m"),
		units.Within("height of the anchor", float64(height), 0, 6, "m"))
	if err == nil && !(b.Bottom < b.Top) {
		err = fmt.Errorf("blocking from %g m to %g m has no height; read the map again", b.Bottom, b.Top)
	}
	if err != nil {
		return 0, fmt.Errorf("anchors: %w", err)
	}
	return min(height-b.Bottom, b.Top-height), nil
}

// Pulls returns how many of a wall's anchors are pulled: one in ten, at least two,
// never more than there are (common practice).
func Pulls(anchors int) int { return min(anchors, max(2, (anchors+9)/10)) }

// Anchors are those of one wall.
type Anchors struct {
	Set        int // in all, 1 to 500
	InBlocking int // by the blocking map
	Pulled     int
	Held       int // of those pulled
}

// Judge reports whether every anchor is in blocking, enough were pulled and all of
// those held. Too few pulled is undecided; counts that contradict each other are an
// error.
func (a Anchors) Judge() (units.Outcome, string, error) {
	err := units.Within("anchors", float64(a.Set), 1, 500, "")
	if err == nil && !(a.InBlocking >= 0 && a.InBlocking <= a.Set && a.Held >= 0 && a.Held <= a.Pulled && a.Pulled <= a.Set) {
		err = fmt.Errorf("%d set, %d in blocking, %d pulled and %d held contradict each other; count again", a.Set, a.InBlocking, a.Pulled, a.Held)
	}
	if err != nil {
		return units.Undecided, "", fmt.Errorf("anchors: %w", err)
	}
	switch want := Pulls(a.Set); {
	case a.InBlocking < a.Set:
		return units.Fail, fmt.Sprintf("%d of %d anchors missed the blocking", a.Set-a.InBlocking, a.Set), nil
	case a.Held < a.Pulled:
		return units.Fail, fmt.Sprintf("%d of %d pulled did not hold", a.Pulled-a.Held, a.Pulled), nil
	case a.Pulled < want:
		return units.Undecided, fmt.Sprintf("%d of %d pulled; wanted are %d", a.Pulled, a.Set, want), nil
	}
	return units.Pass, fmt.Sprintf("%d anchors in blocking, %d pulled and held", a.Set, a.Pulled), nil
}

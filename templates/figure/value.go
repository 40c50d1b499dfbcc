package figure

import (
	"errors"
	"fmt"
	"math"
)

// ErrEmpty is the error of a picture without anything to show. A document leaves
// such a picture out.
var ErrEmpty = errors.New("nothing to show")

// Point is a place in a chart, in the units that the axes name. A Y of NaN is a
// gap in a curve.
type Point struct{ X, Y float64 }

// Mark is a value on an axis and how it is printed. Without a text it is not
// there.
type Mark struct {
	At   float64
	Text string // "14 °C", "proven after 21 h"
}

// there reports whether m is to be drawn.
func (m Mark) there() bool { return m.Text != "" }

// Amount is the length of a bar and how it is printed. Without a text it is
// unknown, and no bar is drawn.
type Amount struct {
	Value float64
	Text  string // "120 W"
}

// there reports whether a is known.
func (a Amount) there() bool { return a.Text != "" }

// finite reports whether v can be placed.
func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// notFinite is the error of a value that cannot be placed.
func notFinite(what string, v float64) error {
	return fmt.Errorf("%s is %v, want a finite number", what, v)
}

// checkMarks returns the first mark that has a text but no place.
func checkMarks(marks ...Mark) error {
	for _, m := range marks {
		if m.there() && !finite(m.At) {
			return notFinite(fmt.Sprintf("place of %q", m.Text), m.At)
		}
	}
	return nil
}

// span is a range of values.
type span struct{ low, high float64 }

// nothing is the range of no value.
func nothing() span { return span{math.Inf(1), math.Inf(-1)} }

// with returns s widened to hold the finite ones of vs.
func (s span) with(vs ...float64) span {
	for _, v := range vs {
		if finite(v) {
			s = span{min(s.low, v), max(s.high, v)}
		}
	}
	return s
}

func (s span) empty() bool { return s.low > s.high }

// least returns s widened about its middle to be at least w wide.
func (s span) least(w float64) span {
	if s.empty() || s.high-s.low >= w {
		return s
	}
	mid := (s.low + s.high) / 2
	return span{mid - w/2, mid + w/2}
}

// padded returns s with a share of its width added at both ends.
func (s span) padded(share float64) span {
	d := (s.high - s.low) * share
	return span{s.low - d, s.high + d}
}

// Package units reads the measured values that people write, keeps them as
// they were written, and hands the physics numbers whose unit is known.
//
// A Quantity is a text, the number in it, and the unit in it. It is always read
// as one Kind, because the same writing means different things: "500 micron" is
// a foil's thickness or the vacuum in a pipe, "10 °F" a temperature or the
// difference of two. The number stays in the unit it was written in. Only Base
// converts it, so that a reading of 54.9 °F is still 54.9 °F when it is printed.
//
// What cannot be read with certainty is refused: a number without a unit, a
// comma that may group thousands or mark decimals, a unit with two meanings, a
// value that nature does not have. The zero Quantity, and one that is not
// finite, is unknown: it compares as neither at least nor at most anything.
//
// Each unit is a straight line to the base unit of its kind, base = (value −
// zero) · num / den, with num and den from the exact definition of the unit;
// constants.go names the sources. Three writings are not straight lines: an
// equivalent air layer ("sd 34 m") is the reciprocal of a permeance, a wire
// gauge follows the geometric series of ASTM B258, and a slope of 1:100 is read
// as the percentage that it is.
//
// Known deviations: gallons, quarts and pints are those of the United States; a
// litre of condensate counts as one kilogram; inches of water and of mercury
// are the conventional ones of NIST SP 811.
package units

import "math"

// Quantity is a value as a person wrote it, with its unit. The zero Quantity is
// unknown.
type Quantity struct {
	Text  string  // as written, without the space around it
	Value float64 // the number, in Unit; of "12 ft 6 in" the 150 in
	Unit  Unit
}

// Known reports whether q holds a finite value with a unit.
func (q Quantity) Known() bool {
	return q.Unit.of != nil && finite(q.Value) && finite(q.Base())
}

// Kind returns what q measures; it is empty for the zero Quantity.
func (q Quantity) Kind() Kind { return q.Unit.Kind }

// Base returns the value in the base unit of its kind, the one that
// Kind.BaseUnit names. It is NaN when q has no unit.
func (q Quantity) Base() float64 {
	if q.Unit.of == nil {
		return math.NaN()
	}
	return q.Unit.of.base(q.Value)
}

// String returns q as it was written, or "unknown" for the zero Quantity.
func (q Quantity) String() string {
	if q.Text == "" {
		return unknown
	}
	return q.Text
}

// unknown is what prints in place of a value that nobody knows.
const unknown = "unknown"

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

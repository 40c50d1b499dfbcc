package units

import "math"

// System is a family of everyday units.
type System int

// The systems that values are shown in. A unit used by both, such as % or V,
// belongs to neither and is never converted for display.
const (
	US System = iota + 1 // inches, pounds, °F
	SI                   // metric units
)

// String returns "US", "SI", or "any" for a unit that both systems use.
func (s System) String() string {
	switch s {
	case US:
		return "US"
	case SI:
		return "SI"
	}
	return "any"
}

// Unit is a unit of one kind, found by Parse, OfUnit or Kind.Units. The zero
// Unit makes a Quantity unknown.
type Unit struct {
	Symbol string // as this package prints it; of a count the thing counted
	Kind   Kind
	of     *measure
}

// System returns the system whose readers use u every day, or 0 for both.
func (u Unit) System() System {
	if u.of == nil {
		return 0
	}
	return u.of.system
}

// curve says how a unit's value leads to the base unit.
type curve uint8

const (
	straight   curve = iota // base = (value − zero) · num / den
	reciprocal              // base = num / den / value
	gauge                   // the wire gauge's geometric series
)

// measure is one unit of a family: how it converts, prints and is spelled.
type measure struct {
	symbol   string
	system   System
	num, den float64
	decimals int    // finest decimals an everyday print shows
	names    string // other spellings, separated by |; one that starts with = is matched with its case
	zero     float64
	curve    curve
	prefix   string // printed before the number, in place of the symbol after it
	plural   string // symbol when the number is not 1
	margin   string // symbol for a difference of two such values, where it is another
}

// base converts a value of this unit to the base unit of its kind.
func (m *measure) base(value float64) float64 {
	switch m.curve {
	case reciprocal:
		return m.num / m.den / value
	case gauge:
		return gaugeArea(value)
	}
	return (value - m.zero) * m.num / m.den
}

// value converts from the base unit of the kind to this unit.
func (m *measure) value(base float64) float64 {
	switch m.curve {
	case reciprocal:
		return m.num / m.den / base
	case gauge:
		return gaugeNumber(base)
	}
	return base*m.den/m.num + m.zero
}

// American wire gauge: 39 equal ratios from 0.005 in (36 AWG) to 0.46 in
// (4/0 AWG, counted as −3). ASTM B258 (from memory); NIST Handbook 100 gives
// the same series (from memory).
const (
	gauge36Diameter = 0.127 // mm, exactly 0.005 in
	gaugeSteps      = 39
	gaugeSpan       = 92 // ratio of 0.46 in to 0.005 in
)

// gaugeArea returns the cross-section in mm² of a solid wire of n AWG.
func gaugeArea(n float64) float64 {
	d := gauge36Diameter * math.Pow(gaugeSpan, (36-n)/gaugeSteps)
	return math.Pi / 4 * d * d
}

// gaugeNumber returns the gauge, with fractions, of a cross-section in mm².
func gaugeNumber(area float64) float64 {
	d := math.Sqrt(area * 4 / math.Pi)
	return 36 - gaugeSteps*math.Log(d/gauge36Diameter)/math.Log(gaugeSpan)
}

// ReferenceAirPermeability is δ0, the water vapour permeability of still air in
// kg/(m·s·Pa) that turns an equivalent air layer sd into a permeance δ0/sd.
// ISO 13788:2012 (clause from memory).
const ReferenceAirPermeability = 2.0e-10

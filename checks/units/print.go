package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// In returns q in the everyday unit of s, rounded as a person would: "139.7 mm",
// "5.5 in". A unit that s uses is kept. An unknown q is "unknown".
func (q Quantity) In(s System) string {
	if !q.Known() {
		return unknown
	}
	m := q.Unit.of
	if m.system == s || m.system == 0 {
		if rounded := q.Unit.write(q.Unit.Kind.family().rounded(m, q.Value)); rounded == q.Text {
			return rounded // computed, and rounded already
		}
		return q.Unit.write(whole(m, q.Value))
	}
	return Of(q.Unit.Kind, q.Base(), s).Text
}

// Understood returns q as written and, when that is in the other system's unit,
// what it is in s: "5 1/2 in" for US, "140 mm (5.51 in)" for one who wrote mm.
func (q Quantity) Understood(s System) string {
	if !q.Known() {
		return unknown
	}
	m := q.Unit.of
	shown := Of(q.Unit.Kind, q.Base(), s)
	if m.system == s || m.system == 0 || shown.Unit.of == m {
		return q.String()
	}
	return q.Text + " (" + shown.Text + ")"
}

// Of returns a computed value, given in the base unit of its kind, in the
// everyday unit of s. Value is exact and Text the rounded print. It is unknown
// when base is not finite or the kind is.
func Of(kind Kind, base float64, s System) Quantity {
	f := kind.family()
	if f == nil || !finite(base) {
		return Quantity{}
	}
	return f.quantity(f.everyday(base, s), base)
}

// OfUnit returns a computed value, given in the base unit of its kind, in the
// unit with the symbol, which may be any spelling that Parse reads.
func OfUnit(kind Kind, base float64, symbol string) (Quantity, error) {
	f := kind.family()
	if f == nil {
		return Quantity{}, unknownKind(kind)
	}
	if !finite(base) {
		return Quantity{}, fmt.Errorf("%v is not a finite %s; it cannot be shown in %s", base, kind, symbol)
	}
	if symbol == "" && kind == CountKind {
		return f.quantity(&f.units[0], base), nil
	}
	s, ok := f.find(symbol)
	if !ok || s.unit == nil {
		return Quantity{}, fmt.Errorf("%q is not a unit of %s; write one of %s", symbol, kind, list(f.symbols()))
	}
	return f.quantity(s.unit, base), nil
}

func (f *family) quantity(m *measure, base float64) Quantity {
	value := m.value(base)
	if !finite(value) {
		return Quantity{}
	}
	return Quantity{Text: m.write(f.rounded(m, value)), Value: value, Unit: f.unit(m)}
}

// everyday returns the unit that s uses for a value of this size. A wire has a
// gauge only if its size is that of a gauge.
func (f *family) everyday(base float64, s System) *measure {
	rungs := f.everyUS
	if s == SI && f.everySI != nil {
		rungs = f.everySI
	}
	m := f.measure(rungFor(rungs, math.Abs(base)).symbol)
	if m.curve == gauge && !isGauge(m.value(base)) {
		return f.measure(f.everySI[0].symbol)
	}
	return m
}

// rungFor returns the rung for a magnitude. Zero is printed in the last but
// one: 0 in rather than 0 mil or 0 ft.
func rungFor(rungs []rung, size float64) rung {
	last := len(rungs) - 1
	if size == 0 {
		return rungs[max(last-1, 0)]
	}
	for _, r := range rungs[:last] {
		if size < r.below {
			return r
		}
	}
	return rungs[last]
}

// isGauge reports whether n is a gauge within a hundredth: a quarter percent of
// the area.
func isGauge(n float64) bool {
	return math.Abs(n-math.Round(n)) < 0.01 && -3.5 < n && n < 50.5
}

// write puts the unit to a number.
func (u Unit) write(number string) string {
	if u.Kind == CountKind && u.Symbol != "" {
		return number + " " + u.Symbol
	}
	return u.of.write(number)
}

// write puts the unit to a number; to none it gives the unit alone.
func (m *measure) write(number string) string {
	switch {
	case number == "" || m.symbol == "":
		return number + m.symbol
	case m.curve == reciprocal:
		return m.prefix + number + strings.TrimPrefix(m.symbol, strings.TrimSpace(m.prefix))
	case m.prefix != "" && number[0] != '-':
		return m.prefix + number
	case m.plural != "" && number != "1":
		return number + " " + m.plural
	}
	return number + " " + m.symbol
}

// rounded prints a value of unit m with the digits that mean something: four,
// no finer than the unit's everyday decimals, but at least two. It rounds less
// where rounding would print a value that nature does not have.
func (f *family) rounded(m *measure, value float64) string {
	if m.curve == gauge {
		return gaugeText(value)
	}
	for digits := 4; digits < 9; digits++ {
		text := everydayDigits(value, digits, m.decimals)
		if shown, _ := strconv.ParseFloat(text, 64); f.allows(m.base(shown)) || !f.allows(m.base(value)) {
			return text
		}
	}
	return strconv.FormatFloat(value, 'g', -1, 64)
}

func (f *family) allows(base float64) bool { return f.low <= base && base <= f.high }

// gaugeText prints a gauge: 12, and 1/0 to 4/0 for 0 and below.
func gaugeText(n float64) string {
	if r := math.Round(n); isGauge(n) && r <= 0 {
		return strconv.Itoa(int(1-r)) + "/0"
	} else if isGauge(n) {
		return strconv.Itoa(int(r))
	}
	return significant(n, 4)
}

// whole prints a number in the unit it was written in: as it is when it has up
// to six digits, as written ones do, and otherwise rounded.
func whole(m *measure, value float64) string {
	if m.curve == gauge {
		return gaugeText(value)
	}
	if text := significant(value, 6); parsesTo(text, value) {
		return text
	}
	return everydayDigits(value, 4, m.decimals)
}

func parsesTo(text string, value float64) bool {
	v, err := strconv.ParseFloat(text, 64)
	return err == nil && v == value
}

// everydayDigits prints a value to so many significant digits, but no finer than
// decimals unless that would leave fewer than two.
func everydayDigits(value float64, digits, decimals int) string {
	if value == 0 || !ordinary(value) {
		return significant(value, digits)
	}
	magnitude := int(math.Floor(math.Log10(math.Abs(value))))
	d := max(digits-4+min(decimals, 3-magnitude), 1-magnitude, 0)
	return trimZeros(strconv.FormatFloat(value, 'f', d, 64))
}

// ordinary reports whether a value prints without an exponent.
func ordinary(value float64) bool {
	a := math.Abs(value)
	return 1e-6 <= a && a < 1e12
}

// significant prints a value to at most so many significant digits.
func significant(value float64, digits int) string {
	if value == 0 {
		return "0"
	}
	v, _ := strconv.ParseFloat(strconv.FormatFloat(value, 'e', digits-1, 64), 64) // what FormatFloat wrote
	format := byte('f')
	if !ordinary(v) {
		format = 'e'
	}
	return strconv.FormatFloat(v, format, -1, 64)
}

// trimZeros drops the zeros that end the decimals, and the sign of zero.
func trimZeros(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

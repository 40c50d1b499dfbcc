package units

import (
	"math"
	"strconv"
	"strings"
)

// Slack is the relative difference that comparisons forgive, for the noise of
// floating-point conversions and no more.
const Slack = 1e-9

// AtLeast reports whether got is at least limit, within Slack. It is false when
// either is unknown or their kinds differ.
func AtLeast(got, limit Quantity) bool {
	order, ok := Compare(got, limit)
	return ok && order >= 0
}

// AtMost reports whether got is at most limit, within Slack. It is false when
// either is unknown or their kinds differ.
func AtMost(got, limit Quantity) bool {
	order, ok := Compare(got, limit)
	return ok && order <= 0
}

// Compare returns -1, 0 or 1 as a is less than, equal to within Slack, or more
// than b. It is not ok when either is unknown or their kinds differ.
func Compare(a, b Quantity) (order int, ok bool) {
	if !a.Known() || !b.Known() || a.Kind() != b.Kind() {
		return 0, false
	}
	x, y := a.Base(), b.Base()
	switch {
	case math.Abs(x-y) <= slack(a.Kind(), x, y):
		return 0, true
	case x < y:
		return -1, true
	}
	return 1, true
}

// slack returns what a comparison of two base values forgives. Near 0 °C a
// temperature has no size for noise to be relative to: 1 K serves there.
func slack(kind Kind, x, y float64) float64 {
	size := max(math.Abs(x), math.Abs(y))
	if kind == TemperatureKind {
		size = max(size, 1)
	}
	return Slack * size
}

// Difference returns a − b in the unit of b: in its degrees for temperatures,
// whose difference is a temperature difference, in psi for psig. Wire gauges and
// air layers, which do not subtract, give mm² and ng/(s·m²·Pa). It is 0 where
// Compare finds none, and unknown when a or b is or their kinds differ.
func Difference(a, b Quantity) Quantity {
	order, ok := Compare(a, b)
	if !ok {
		return Quantity{}
	}
	f, m := b.Kind().family(), b.Unit.of
	if m.curve != straight {
		m = f.measure(f.everySI[0].symbol)
	}
	x, y := in(m, a), in(m, b)
	value := x - y
	if order == 0 {
		value = 0
	}
	unit := marginUnit(f, m, b.Unit)
	return Quantity{Text: unit.write(marginText(unit.of, clean(value, x, y))), Value: value, Unit: unit}
}

// in returns q's value in the unit m, untouched if that is its own.
func in(m *measure, q Quantity) float64 {
	if q.Unit.of == m {
		return q.Value
	}
	return m.value(q.Base())
}

// marginUnit returns the unit in which a difference of two values in m prints.
func marginUnit(f *family, m *measure, written Unit) Unit {
	switch {
	case f.kind == TemperatureKind:
		d := &temperatureDifference
		return d.unit(d.measure(m.symbol))
	case m.margin != "":
		return f.unit(f.measure(m.margin))
	case f.kind == CountKind:
		return written
	}
	return f.unit(m)
}

// marginText prints a difference whole if it is that of two written numbers, with
// at most one decimal more than the unit's everyday ones, and otherwise rounded.
func marginText(m *measure, value float64) string {
	text := whole(m, value)
	if _, decimals, _ := strings.Cut(text, "."); len(decimals) > m.decimals+1 {
		return everydayDigits(value, 4, m.decimals)
	}
	return text
}

// clean drops the digits of x − y that are noise of x and y.
func clean(value, x, y float64) float64 {
	size := max(math.Abs(x), math.Abs(y))
	if value == 0 || !ordinary(size) {
		return value
	}
	decimals := 9 - int(math.Floor(math.Log10(size)))
	v, err := strconv.ParseFloat(strconv.FormatFloat(value, 'f', max(decimals, 0), 64), 64)
	if err != nil {
		return value
	}
	return v
}

package logs

import (
	"math"
	"strconv"
)

// conversion turns a written number into the unit of a quantity:
// (v + shift)·mul/div. Shift is in hundredths.
type conversion struct {
	shift    int64
	mul, div int64
}

var (
	asWritten  = conversion{0, 1, 1}
	fahrenheit = conversion{-3200, 5, 9}
	kelvin     = conversion{-27315, 1, 1}
	kilo       = conversion{0, 1000, 1}
	milli      = conversion{0, 1, 1000}
	waterInch  = conversion{0, 24_908_891, 100_000} // NIST SP 811, conventional inch of water
)

// numberFormat reads the numbers of one column.
type numberFormat struct {
	decimal, group byte
	convert        conversion
	suffix         string // unit behind the number, folded; "" allows none
	written        string // the same as the file writes it, with its space
	low, high      float64
}

// Powers of ten that float64 holds exactly.
var tens = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12,
	1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

const exact = 1 << 53 // integers below it are float64s

// decimalNumber is a written number: ±digits / 10^places.
type decimalNumber struct {
	negative bool
	digits   uint64
	places   int
	length   int  // bytes read
	plain    bool // no more than 18 digits, no exponent: digits and places hold all
}

// scan reads sign, digits, decimal mark and digits at the start of b. ok is
// false when there is no digit.
func scan(b []byte, mark byte) (n decimalNumber, ok bool) {
	i := 0
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		n.negative = b[i] == '-'
		i++
	}
	start := i
	for i < len(b) && b[i]-'0' <= 9 {
		n.digits = n.digits*10 + uint64(b[i]-'0')
		i++
	}
	count := i - start
	if i < len(b) && b[i] == mark {
		i++
		fraction := i
		for i < len(b) && b[i]-'0' <= 9 {
			n.digits = n.digits*10 + uint64(b[i]-'0')
			i++
		}
		n.places = i - fraction
		count += n.places
	}
	n.length, n.plain = i, count <= 18
	return n, count > 0
}

// parse reads a whole cell. The reason is "" when it was read.
func (f *numberFormat) parse(cell []byte) (v float64, reason string) {
	n, ok := scan(cell, f.decimal)
	if !ok || !n.plain || n.length != len(cell) && string(cell[n.length:]) != f.written {
		return f.parseOdd(cell)
	}
	v, ok = f.convert.decimal(n)
	if !ok {
		return f.parseOdd(cell)
	}
	if v < f.low || v > f.high {
		return 0, "outside of what can be measured"
	}
	return v, ""
}

// decimal converts with a single rounding; ok is false when the digits are too
// many for that.
func (c conversion) decimal(n decimalNumber) (v float64, ok bool) {
	if c == asWritten {
		v = float64(n.digits) / tens[n.places]
		if n.negative {
			v = -v
		}
		return v, n.digits < exact
	}
	m, k, mul := int64(n.digits), n.places, c.mul
	if mul == 1000 && k >= 3 {
		mul, k = 1, k-3
	}
	if n.digits >= exact {
		return 0, false
	}
	if n.negative {
		m = -m
	}
	for c.shift != 0 && k < 2 {
		m, k = m*10, k+1
	}
	if k > 15 {
		return 0, false
	}
	if c.shift != 0 {
		m += c.shift * int64(tens[k-2])
	}
	if m > exact/mul || m < -exact/mul {
		return 0, false
	}
	// 9·10^k and 1000·10^k are exact for the k that occur: 9·5^15 < 2^53, 10^18.
	return float64(m*mul) / (float64(c.div) * tens[k]), true
}

// parseOdd reads what scan alone does not: units behind the number, thousands
// marks, exponents, typographic minus, very many digits.
func (f *numberFormat) parseOdd(cell []byte) (float64, string) {
	text, rest, ok := f.normal(cell)
	if !ok {
		return 0, "not a number"
	}
	if unit := foldUnit(string(rest)); unit != "" && unit != f.suffix {
		if f.suffix == "" {
			return 0, "not a number"
		}
		return 0, "the unit is not that of the column, " + f.suffix
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, "number out of range"
	}
	if n, _ := scan([]byte(text), '.'); n.plain && n.length == len(text) {
		if exactly, ok := f.convert.decimal(n); ok {
			v = exactly
			if v < f.low || v > f.high {
				return 0, "outside of what can be measured"
			}
			return v, ""
		}
	}
	v = f.convert.float(v)
	if !(v >= f.low && v <= f.high) {
		return 0, "outside of what can be measured"
	}
	return v, ""
}

// float converts a number that has too many digits for decimal.
func (c conversion) float(v float64) float64 {
	if c.shift != 0 {
		v += float64(c.shift) / 100
	}
	if c.mul != 1 {
		v *= float64(c.mul)
	}
	if c.div != 1 {
		v /= float64(c.div)
	}
	return v
}

// normal rewrites the number at the start of a cell as strconv wants it and
// returns what follows it.
func (f *numberFormat) normal(cell []byte) (text string, rest []byte, ok bool) {
	b, buf := cell, make([]byte, 0, 32)
	if sign, cut := cutMinus(b); cut > 0 {
		buf, b = append(buf, sign), b[cut:]
	}
	whole, b, ok := f.wholePart(b)
	if !ok {
		return "", nil, false
	}
	buf = append(buf, whole...)
	digits := len(whole)
	if len(b) > 0 && b[0] == f.decimal {
		buf, b = append(buf, '.'), b[1:]
		for len(b) > 0 && b[0]-'0' <= 9 {
			buf, b, digits = append(buf, b[0]), b[1:], digits+1
		}
	}
	if digits == 0 {
		return "", nil, false
	}
	if n := exponent(b); n > 0 {
		buf, b = append(buf, b[:n]...), b[n:]
	}
	return string(buf), b, true
}

// cutMinus reads a sign, also U+2212.
func cutMinus(b []byte) (sign byte, n int) {
	switch {
	case len(b) > 0 && (b[0] == '-' || b[0] == '+'):
		return b[0], 1
	case len(b) > 2 && string(b[:3]) == "\u2212":
		return '-', 3
	}
	return 0, 0
}

// wholePart reads the digits before the decimal mark. Thousands marks must
// part groups of three; with a mark set, more than three digits may also stand
// without one.
func (f *numberFormat) wholePart(b []byte) (digits, rest []byte, ok bool) {
	n := leadingDigits(b)
	digits, rest = b[:n], b[n:]
	marked := false
	for n > 0 && f.group != 0 {
		cut := groupMark(rest, f.group)
		if cut == 0 || leadingDigits(rest[cut:]) != 3 {
			break
		}
		if !marked && n > 3 {
			return nil, nil, false
		}
		digits = append(append([]byte{}, digits...), rest[cut:cut+3]...)
		rest, marked = rest[cut+3:], true
	}
	return digits, rest, true
}

// groupMark returns the length of the thousands mark at the start of b. A
// space is also the no-break space and the narrow one.
func groupMark(b []byte, mark byte) int {
	if len(b) > 0 && b[0] == mark {
		return 1
	}
	if mark == ' ' && len(b) > 1 && string(b[:2]) == "\u00a0" {
		return 2
	}
	if mark == ' ' && len(b) > 2 && string(b[:3]) == "\u202f" {
		return 3
	}
	return 0
}

func leadingDigits(b []byte) int {
	n := 0
	for n < len(b) && b[n]-'0' <= 9 {
		n++
	}
	return n
}

// exponent returns the length of an exponent at the start of b.
func exponent(b []byte) int {
	if len(b) < 2 || b[0]|0x20 != 'e' {
		return 0
	}
	i := 1
	if b[i] == '-' || b[i] == '+' {
		i++
	}
	n := leadingDigits(b[i:])
	if n == 0 || n > 4 {
		return 0
	}
	return i + n
}

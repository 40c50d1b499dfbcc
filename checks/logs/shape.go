package logs

import (
	"bytes"
	"strings"
)

// shape is what a date or time looks like, before it is known what is day and
// what is month. It is comparable, so that the most frequent one can be found.
type shape struct {
	lead   string // day of the week
	date   string // "Y-N-N" style: Y four digits, N one or two, M a name; or "20060102"
	joiner string
	clock  string // a layout
	zone   string // a layout
}

// shapeOf recognises a cell that is a date, a time, or both, and nothing else.
func shapeOf(cell []byte) (s shape, ok bool) {
	if len(cell) < 4 || len(cell) > 60 {
		return s, false
	}
	var rest []byte
	s.lead, rest = leadShape(cell)
	s.date, rest = dateShape(rest)
	if s.lead != "" && s.date == "" {
		return shape{}, false
	}
	if s.date != "" {
		s.joiner, rest = joinerShape(rest)
	}
	if s.clock, rest = clockShape(rest, s.date == "20060102"); s.clock != "" {
		s.zone, rest = zoneShape(rest)
	}
	if len(rest) > 0 || s.date == "" && s.clock == "" || s.joiner != "" && s.clock == "" {
		return shape{}, false
	}
	return s, true
}

// leadShape reads a day of the week before a date.
func leadShape(b []byte) (layout string, rest []byte) {
	n := dayName(b)
	if _, month := namedMonth(b); n < 2 || month > 0 {
		return "", b
	}
	comma := ""
	if n < len(b) && b[n] == ',' {
		comma, n = ",", n+1
	}
	space := blanks(b[n:])
	if space == 0 {
		return "", b
	}
	return "Mon" + comma + " ", b[n+space:]
}

// dateShape reads the date at the start of b.
func dateShape(b []byte) (pattern string, rest []byte) {
	n := leadingDigits(b)
	if n == 8 || n == 12 || n == 14 {
		if c := b[:8]; c[0] == '2' && c[1] == '0' && c[4] <= '1' && c[6] <= '3' {
			return "20060102", b[8:]
		}
		return "", b
	}
	var out []byte
	rest = b
	for part := range 3 {
		kind, size := datePart(rest)
		if kind == 0 {
			return "", b
		}
		out, rest = append(out, kind), rest[size:]
		if part == 2 {
			break
		}
		sep := dateSeparator(rest)
		if len(sep) == 0 {
			return "", b
		}
		out, rest = append(out, sep...), rest[skipSeparator(rest, sep):]
	}
	if pattern = string(out); ordersOf[partsOf(pattern)] == nil {
		return "", b
	}
	return pattern, rest
}

// datePart returns Y, N or M and how long the part is; 0 if it is none.
func datePart(b []byte) (kind byte, size int) {
	switch n := leadingDigits(b); n {
	case 1, 2:
		return 'N', n
	case 4:
		return 'Y', n
	}
	if _, n := namedMonth(b); n > 0 {
		return 'M', n
	}
	return 0, 0
}

// dateSeparator returns what parts day, month and year here: one of / - . or
// blanks, or a full stop or comma with blanks.
func dateSeparator(b []byte) string {
	if len(b) == 0 {
		return ""
	}
	switch c := b[0]; {
	case (c == '.' || c == ',') && blanks(b[1:]) > 0:
		return string(c) + " "
	case c == '/' || c == '-' || c == '.':
		return string(c)
	case blanks(b) > 0:
		return " "
	}
	return ""
}

func skipSeparator(b []byte, sep string) int {
	switch {
	case sep == " ":
		return blanks(b)
	case len(sep) == 2:
		return 1 + blanks(b[1:])
	}
	return 1
}

// joinerShape reads what stands between date and time.
func joinerShape(b []byte) (string, []byte) {
	switch {
	case len(b) == 0:
		return "", b
	case b[0] == 'T':
		return "T", b[1:]
	case b[0] == ',':
		n := blanks(b[1:])
		if n > 0 {
			return ", ", b[1+n:]
		}
		return ",", b[1:]
	}
	if n := blanks(b); n > 0 {
		return " ", b[n:]
	}
	return "", b
}

// clockShape reads a time of day and returns its layout. compact allows hours
// and minutes without a mark between them, as they follow a compact date.
func clockShape(b []byte, compact bool) (layout string, rest []byte) {
	n := leadingDigits(b)
	if compact && (n == 6 || n == 4) {
		return "150405"[:n], b[n:]
	}
	if n != 1 && n != 2 || n == len(b) || !bytes.ContainsAny(b[n:n+1], ":.h") {
		return "", b
	}
	mark := b[n]
	rest = b[n+1:]
	if leadingDigits(rest) != 2 {
		return "", b
	}
	hour, out := "15", string(mark)+"04"
	rest = rest[2:]
	if mark != 'h' && len(rest) > 2 && rest[0] == mark && leadingDigits(rest[1:]) == 2 {
		out, rest = out+string(mark)+"05", rest[3:]
		_, f := fraction(rest)
		rest = rest[f:]
	}
	var s stamp
	if n := s.half(rest); n > 0 {
		hour = "03"
		if blanks(rest) > 0 {
			out += " "
		}
		out, rest = out+"PM", rest[n:]
	}
	return hour + out, rest
}

// zoneShape reads an offset from UTC behind a time.
func zoneShape(b []byte) (string, []byte) {
	var s stamp
	n := s.zone(b)
	if n == 0 {
		return "", b
	}
	if blanks(b) > 0 {
		return " Z07:00", b[n:]
	}
	return "Z07:00", b[n:]
}

// isClock reports a time of day that cannot be a decimal number.
func (s shape) isClock() bool {
	return s.date == "" && len(s.clock) > 0 && (s.clock[2] != '.' || len(s.clock) >= len("15.04.05"))
}

// asClock returns the shape of a cell that is a time of day, also one with full
// stops that looks like a date; else a shape without a clock.
func (s shape) asClock(cell []byte) shape {
	if s.isClock() {
		return s
	}
	clock, rest := clockShape(cell, false)
	if other := (shape{clock: clock}); len(rest) == 0 && clock != "" && other.isClock() {
		return other
	}
	return shape{}
}

func (s shape) isDate() bool  { return s.date != "" && s.clock == "" }
func (s shape) isStamp() bool { return s.date != "" && s.clock != "" }

// layouts returns the layouts that the shape allows. The order day, year,
// month is not among them: no country writes it.
func (s shape) layouts() []string {
	var all []string
	for _, date := range dateLayouts(s.date) {
		all = append(all, s.lead+date+s.joiner+s.clock+s.zone)
	}
	return all
}

// dateLayouts fills the parts of a date's pattern in the orders that occur.
func dateLayouts(pattern string) []string {
	if pattern == "20060102" {
		return []string{pattern}
	}
	var layouts []string
	for _, order := range ordersOf[partsOf(pattern)] {
		out, part := "", 0
		for _, c := range pattern {
			if isPart(c) {
				out += order[part]
				part++
			} else {
				out += string(c)
			}
		}
		layouts = append(layouts, out)
	}
	return layouts
}

// partsOf returns the parts of a pattern without its separators.
func partsOf(pattern string) string {
	return strings.Map(func(c rune) rune {
		if isPart(c) {
			return c
		}
		return -1
	}, pattern)
}

func isPart(c rune) bool { return c == 'Y' || c == 'N' || c == 'M' }

// ordersOf lists what the three parts of a date can be, day first.
var ordersOf = map[string][][3]string{
	"YNN": {{"2006", "01", "02"}},
	"NNY": {{"02", "01", "2006"}, {"01", "02", "2006"}},
	"NNN": {{"02", "01", "06"}, {"01", "02", "06"}, {"06", "01", "02"}},
	"NMY": {{"02", "Jan", "2006"}},
	"MNY": {{"Jan", "02", "2006"}},
	"YMN": {{"2006", "Jan", "02"}},
	"NMN": {{"02", "Jan", "06"}, {"06", "Jan", "02"}},
	"MNN": {{"Jan", "02", "06"}},
}

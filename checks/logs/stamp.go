package logs

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// digits reads between low and high digits.
func digits(b []byte, low, high int) (v, n int) {
	for n < high && n < len(b) && b[n]-'0' <= 9 {
		v = v*10 + int(b[n]-'0')
		n++
	}
	if n < low {
		return 0, 0
	}
	return v, n
}

func twoDigits(b []byte, fixed bool) (v, n int) {
	if fixed {
		return digits(b, 2, 2)
	}
	return digits(b, 1, 2)
}

// fraction reads ".123" or ",123" and cuts it to milliseconds.
func fraction(b []byte) (ms, n int) {
	if len(b) < 2 || b[0] != '.' && b[0] != ',' || b[1]-'0' > 9 {
		return 0, 0
	}
	scale := 100
	for n = 1; n < len(b) && b[n]-'0' <= 9; n++ {
		ms += int(b[n]-'0') * scale
		scale /= 10
	}
	return ms, n
}

var noBreak, narrowNoBreak = []byte("\u00a0"), []byte("\u202f")

// blanks counts spaces of any width.
func blanks(b []byte) (n int) {
	for n < len(b) {
		switch {
		case b[n] == ' ' || b[n] == '\t':
			n++
		case b[n] < utf8.RuneSelf:
			return n
		case bytes.HasPrefix(b[n:], noBreak):
			n += len(noBreak)
		case bytes.HasPrefix(b[n:], narrowNoBreak):
			n += len(narrowNoBreak)
		default:
			return n
		}
	}
	return n
}

// half reads AM or PM, also as a.m., with and without spaces.
func (s *stamp) half(b []byte) (n int) {
	n = blanks(b)
	if n >= len(b) || b[n]|0x20 != 'a' && b[n]|0x20 != 'p' {
		return 0
	}
	pm := b[n]|0x20 == 'p'
	n++
	if n < len(b) && b[n] == '.' {
		n++
		n += blanks(b[n:])
	}
	if n >= len(b) || b[n]|0x20 != 'm' {
		return 0
	}
	n++
	if n < len(b) && b[n] == '.' {
		n++
	}
	s.afternoon, s.morning = pm, !pm
	return n
}

// zone reads Z, UTC, GMT, an offset such as +02:00, +0200, +2, or both.
func (s *stamp) zone(b []byte) int {
	n := blanks(b)
	start := n
	switch {
	case hasFold(b[n:], "utc"), hasFold(b[n:], "gmt"):
		n += 3
	case n < len(b) && b[n] == 'Z':
		s.offset = true
		return n + 1
	}
	named := n > start
	seconds, used := signedOffset(b[n:])
	if used == 0 && !named {
		return 0
	}
	s.offset, s.offsetSeconds = true, seconds
	return n + used
}

// signedOffset reads ±h, ±hh, ±hhmm or ±hh:mm in seconds.
func signedOffset(b []byte) (seconds, n int) {
	mark, n := cutMinus(b)
	if n == 0 {
		return 0, 0
	}
	sign := 1
	if mark == '-' {
		sign = -1
	}
	hours, h := digits(b[n:], 1, 2)
	if h == 0 {
		return 0, 0
	}
	n += h
	rest, colon := bytes.CutPrefix(b[n:], []byte{':'})
	minutes, m := digits(rest, 2, 2)
	if m == 2 && minutes < 60 && (h == 2 || colon) {
		n = len(b) - len(rest) + 2
	} else {
		minutes = 0
	}
	return sign * (hours*3600 + minutes*60), n
}

func hasFold(b []byte, lower string) bool {
	return len(b) >= len(lower) && strings.EqualFold(string(b[:len(lower)]), lower)
}

// monthNames maps names and abbreviations in the languages that write months
// out in logger files. The list holds no name that means different months in
// two languages, which is why the Slavic ones are left out.
var monthNames = map[string]int{
	"jan": 1, "january": 1, "januar": 1, "jän": 1, "jänner": 1, "janv": 1, "janvier": 1, "ene": 1, "enero": 1, "gen": 1, "gennaio": 1, "januari": 1, "janeiro": 1,
	"feb": 2, "february": 2, "februar": 2, "févr": 2, "fév": 2, "février": 2, "febrero": 2, "febbraio": 2, "februari": 2, "fev": 2, "fevereiro": 2,
	"mar": 3, "march": 3, "mär": 3, "mrz": 3, "märz": 3, "mars": 3, "marzo": 3, "maart": 3, "mrt": 3, "março": 3, "marts": 3,
	"apr": 4, "april": 4, "avr": 4, "avril": 4, "abr": 4, "abril": 4, "aprile": 4,
	"may": 5, "mai": 5, "mayo": 5, "mag": 5, "maggio": 5, "mei": 5, "maio": 5, "maj": 5,
	"jun": 6, "june": 6, "juni": 6, "juin": 6, "junio": 6, "giu": 6, "giugno": 6, "junho": 6,
	"jul": 7, "july": 7, "juli": 7, "juil": 7, "juillet": 7, "julio": 7, "lug": 7, "luglio": 7, "julho": 7,
	"aug": 8, "august": 8, "août": 8, "aoû": 8, "ago": 8, "agosto": 8, "augustus": 8, "augusti": 8,
	"sep": 9, "sept": 9, "september": 9, "septembre": 9, "septiembre": 9, "set": 9, "settembre": 9, "setembro": 9,
	"oct": 10, "october": 10, "okt": 10, "oktober": 10, "octobre": 10, "octubre": 10, "ott": 10, "ottobre": 10, "out": 10, "outubro": 10,
	"nov": 11, "november": 11, "novembre": 11, "noviembre": 11, "novembro": 11,
	"dec": 12, "december": 12, "dez": 12, "dezember": 12, "déc": 12, "décembre": 12, "dic": 12, "diciembre": 12, "dicembre": 12, "dezembro": 12, "des": 12, "desember": 12,
}

// namedMonth reads a month's name, with or without a full stop behind it.
func namedMonth(b []byte) (m, n int) {
	n = letters(b)
	m = monthNames[strings.ToLower(string(b[:n]))]
	if m == 0 {
		return 0, 0
	}
	if n < len(b) && b[n] == '.' {
		n++
	}
	return m, n
}

// dayName returns the length of a day of the week in any language, which is not
// compared with the date.
func dayName(b []byte) int {
	n := letters(b)
	if n > 0 && n < len(b) && b[n] == '.' {
		n++
	}
	return n
}

// letters returns the length of the word at the start of b.
func letters(b []byte) int {
	n := 0
	for n < len(b) {
		if c := b[n] | 0x20; c >= 'a' && c <= 'z' {
			n++
			continue
		}
		r, size := utf8.DecodeRune(b[n:])
		if r < 0xc0 || r > 0x24f {
			break
		}
		n += size
	}
	return n
}

// civilDays counts days from 1970-01-01 in the Gregorian calendar. Years are
// taken to begin in March, so that the leap day is the last of its year.
func civilDays(year, month, day int) int64 {
	if month <= 2 {
		year, month = year-1, month+12
	}
	era := year / 400
	of := year - era*400
	dayOfYear := (153*(month-3)+2)/5 + day - 1
	return int64(era*146097 + of*365 + of/4 - of/100 + dayOfYear - 719468)
}

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

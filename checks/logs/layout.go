package logs

import (
	"strings"
	"time"
)

// stepKind is one element of a layout.
type stepKind uint8

const (
	literal stepKind = iota
	blank
	year4
	year2
	month
	monthName
	weekday
	day
	hour24
	hour12
	minute
	second
	halfDay
	offset
)

type step struct {
	kind  stepKind
	lit   byte
	fixed bool // two digits, because digits or nothing follow at once
}

// stampParser reads dates and times in one layout.
type stampParser struct {
	layout string
	steps  []step
	unix   int64 // ms per unit of a Unix time, 0: not a Unix time
	zoned  bool  // each row states its offset
}

// Words of a layout, longest first where one begins another.
var layoutWords = []struct {
	text string
	kind stepKind
}{
	{"2006", year4}, {"January", monthName}, {"Jan", monthName}, {"Monday", weekday}, {"Mon", weekday}, {"Z07:00", offset}, {"-07:00", offset},
	{"Z0700", offset}, {"-0700", offset}, {"-07", offset}, {"PM", halfDay}, {"pm", halfDay}, {"15", hour24},
	{"01", month}, {"02", day}, {"_2", day}, {"03", hour12}, {"04", minute}, {"05", second}, {"06", year2},
	{"1", month}, {"2", day}, {"3", hour12},
}

// compileLayout turns a layout in the notation of package time into steps.
func compileLayout(layout string) (*stampParser, error) {
	p := &stampParser{layout: layout}
	switch layout {
	case "unix":
		p.unix = 1000
		return p, nil
	case "unix ms":
		p.unix = 1
		return p, nil
	}
	for rest := layout; rest != ""; {
		s, n := nextStep(rest)
		if n == 0 {
			return nil, problemf(ErrDialect, "layout %q is not understood from %q on; write it like 02/01/2006 15:04:05", layout, rest)
		}
		rest = rest[n:]
		p.zoned = p.zoned || s.kind == offset
		p.steps = append(p.steps, s)
	}
	p.markFixed()
	return p, p.complete()
}

func nextStep(rest string) (step, int) {
	for _, w := range layoutWords {
		if strings.HasPrefix(rest, w.text) {
			return step{kind: w.kind}, len(w.text)
		}
	}
	switch c := rest[0]; {
	case c == ' ':
		return step{kind: blank}, 1
	case strings.IndexByte("/-.:,Th", c) >= 0:
		return step{kind: literal, lit: c}, 1
	}
	return step{}, 0
}

// markFixed finds the numbers with another number right behind or before them.
func (p *stampParser) markFixed() {
	number := func(i int) bool {
		if i < 0 || i >= len(p.steps) {
			return false
		}
		kind := p.steps[i].kind
		return kind >= year4 && kind <= second && kind != monthName && kind != weekday
	}
	for i := range p.steps {
		p.steps[i].fixed = number(i) && (number(i-1) || number(i+1))
	}
}

// complete checks that a layout has all parts of a date and a time, once.
func (p *stampParser) complete() error {
	var count [offset + 1]int
	for _, s := range p.steps {
		count[s.kind]++
	}
	switch {
	case count[year4]+count[year2] != 1, count[month]+count[monthName] != 1, count[day] != 1:
		return problemf(ErrDialect, "layout %q needs year, month and day once each", p.layout)
	case count[hour24]+count[hour12] != 1, count[minute] != 1, count[second] > 1, count[offset] > 1:
		return problemf(ErrDialect, "layout %q needs hours and minutes once each", p.layout)
	case count[hour12] != count[halfDay]:
		return problemf(ErrDialect, "layout %q needs PM for hours written as 03, or 15 for hours", p.layout)
	}
	return nil
}

// why says for what reason a date and time was not read.
type why uint8

const (
	fine why = iota
	badShape
	badMonth
	badDay
	badHour
	badMinute
	badSecond
	badYear
	badOffset
)

func (w why) reason(layout string) string {
	switch w {
	case badMonth:
		return "there is no such month in " + layout
	case badDay:
		return "the month does not have that day in " + layout
	case badHour:
		return "there is no such hour"
	case badMinute:
		return "there is no such minute"
	case badSecond:
		return "there is no such second"
	case badYear:
		return "the year is not between 1990 and 2099: the logger's clock was not set"
	case badOffset:
		return "there is no such offset from UTC"
	}
	return "not a date and time in the layout " + layout
}

// stamp is a date and time as written.
type stamp struct {
	year, month, day           int
	hour, minute, second, ms   int
	afternoon, morning, offset bool
	offsetSeconds              int
}

// local returns the stamp as milliseconds since 1970 as if it were UTC.
func (s *stamp) local() int64 {
	days := civilDays(s.year, s.month, s.day)
	return ((days*24+int64(s.hour))*60+int64(s.minute))*60_000 + int64(s.second)*1000 + int64(s.ms)
}

// parse reads b from its first to its last byte. ms is local time as if it were
// UTC, unless the layout is Unix time or has an offset: then it is Unix time.
func (p *stampParser) parse(b []byte) (ms int64, w why) {
	if p.unix != 0 {
		return p.parseUnix(b)
	}
	var s stamp
	rest, w := p.walk(b, &s)
	if w != fine {
		return 0, w
	}
	if len(rest) != 0 {
		return 0, badShape
	}
	if w := s.check(); w != fine {
		return 0, w
	}
	ms = s.local()
	if s.offset {
		ms -= int64(s.offsetSeconds) * 1000
	}
	return ms, fine
}

// walk takes the steps of the layout through b and returns what is left.
func (p *stampParser) walk(b []byte, s *stamp) (rest []byte, w why) {
	for i := range p.steps {
		st := &p.steps[i]
		n := 0
		switch st.kind {
		case literal:
			if len(b) > 0 && b[0] == st.lit {
				n = 1
			}
		case blank:
			n = blanks(b)
		case year4:
			s.year, n = digits(b, 4, 4)
		case year2:
			s.year, n = digits(b, 2, 2)
			s.year += 2000
		case month:
			s.month, n = twoDigits(b, st.fixed)
		case monthName:
			s.month, n = namedMonth(b)
		case weekday:
			n = dayName(b)
		case day:
			s.day, n = twoDigits(b, st.fixed)
		case hour24, hour12:
			s.hour, n = twoDigits(b, st.fixed)
			if st.kind == hour12 && s.hour > 12 {
				return b, badHour
			}
		case minute:
			s.minute, n = digits(b, 2, 2)
		case second:
			s.second, n = digits(b, 2, 2)
			if n == 2 {
				var f int
				s.ms, f = fraction(b[2:])
				n += f
			}
		case halfDay:
			n = s.half(b)
		case offset:
			n = s.zone(b)
		}
		if n == 0 {
			return b, badShape
		}
		b = b[n:]
	}
	return b, fine
}

// check tests the ranges and turns twelve hours into twenty-four.
func (s *stamp) check() why {
	if s.afternoon && s.hour < 12 {
		s.hour += 12
	} else if s.morning && s.hour == 12 {
		s.hour = 0
	}
	switch {
	case s.month < 1 || s.month > 12:
		return badMonth
	case s.day < 1 || s.day > 28 && s.day > daysIn(s.year, s.month):
		return badDay
	case s.minute > 59:
		return badMinute
	case s.second > 59:
		return badSecond
	case s.hour > 24 || s.hour == 24 && (s.afternoon || s.minute != 0 || s.second != 0 || s.ms != 0):
		return badHour
	case s.year < 1990 || s.year > 2099:
		return badYear
	case s.offsetSeconds > 14*3600 || s.offsetSeconds < -12*3600:
		return badOffset
	}
	return fine
}

// Bounds of a Unix time that can be a logger's: 1990 to 2099.
var (
	earliest = time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()
	latest   = time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()
)

func (p *stampParser) parseUnix(b []byte) (int64, why) {
	n := leadingDigits(b)
	if n == 0 || n > 13 {
		return 0, badShape
	}
	var v int64
	for _, c := range b[:n] {
		v = v*10 + int64(c-'0')
	}
	v *= p.unix
	if rest := b[n:]; len(rest) > 0 {
		ms, f := fraction(rest)
		if f != len(rest) || p.unix == 1 {
			return 0, badShape
		}
		v += int64(ms)
	}
	if v < earliest || v >= latest {
		return 0, badYear
	}
	return v, fine
}

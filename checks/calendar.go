package checks

import "time"

// calendar says which days count.
type calendar func(time.Time) bool

// calendars are the kinds of day that a wait may count.
var calendars = map[string]calendar{
	// 16 CFR 429.0(f): every day but Sunday and the federal holidays (from
	// memory). Saturday counts.
	"business days": func(d time.Time) bool { return d.Weekday() != time.Sunday && !observedHoliday(d) },
	// 40 CFR 61.141: Monday to Friday, holidays included (from memory).
	"working days":  func(d time.Time) bool { return d.Weekday() != time.Sunday && d.Weekday() != time.Saturday },
	"calendar days": func(time.Time) bool { return true },
}

// midnightAfter returns the midnight that ends the n-th counting day after the
// day of start; the day of start itself does not count.
func (counts calendar) midnightAfter(start time.Time, n int) time.Time {
	day := time.Date(start.Year(), start.Month(), start.Day(), 0, 0, 0, 0, start.Location())
	for n > 0 {
		day = day.AddDate(0, 0, 1)
		if counts(day) {
			n--
		}
	}
	return day.AddDate(0, 0, 1)
}

// observedHoliday reports a federal holiday on its own date, on the Friday before
// when that is a Saturday, or on the Monday after when it is a Sunday: 5 U.S.C.
// 6103(b) and Executive Order 11582 (from memory). The rule on sales at home does
// not say which of the two days it means, so neither counts: a wait rather ends a
// day late.
func observedHoliday(d time.Time) bool {
	switch d.Weekday() {
	case time.Friday:
		return federalHoliday(d) || federalHoliday(d.AddDate(0, 0, 1))
	case time.Monday:
		return federalHoliday(d) || federalHoliday(d.AddDate(0, 0, -1))
	}
	return federalHoliday(d)
}

// federalHoliday reports a legal public holiday of the United States on its
// own date, 5 U.S.C. 6103(a) (from memory).
func federalHoliday(d time.Time) bool {
	type monthDay struct {
		m time.Month
		d int
	}
	switch (monthDay{d.Month(), d.Day()}) {
	case monthDay{1, 1}, monthDay{6, 19}, monthDay{7, 4}, monthDay{11, 11}, monthDay{12, 25}:
		return true
	}
	nth := (d.Day()-1)/7 + 1
	last := d.AddDate(0, 0, 7).Month() != d.Month()
	switch d.Weekday() {
	case time.Monday:
		return d.Month() == time.January && nth == 3 || d.Month() == time.February && nth == 3 ||
			d.Month() == time.May && last || d.Month() == time.September && nth == 1 ||
			d.Month() == time.October && nth == 2
	case time.Thursday:
		return d.Month() == time.November && nth == 4
	}
	return false
}

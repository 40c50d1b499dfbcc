package checks

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"proveout/checks/units"
)

// waits reports whether q is answered by time that passes.
func (q *Question) waits() bool {
	check := ByName(q.Compute)
	return q.Kind == Wait || check != nil && check.Waits
}

// waited judges the time since a recorded start.
func (c Case) waited(p *Point, f Fact) {
	over, err := waitOver(c.Question.Wait, f, c.Room)
	if err != nil {
		p.Reason = err.Error()
		return
	}
	p.Value = "since " + f.Start.Format("2006-01-02 15:04")
	p.Limit = c.Question.Wait
	if c.Now.Before(over) {
		p.Reason = "the wait is over on " + over.Format("Mon 2 January 2006 15:04")
		p.Quantity = units.Of(units.DurationKind, over.Sub(c.Now).Seconds(), c.Room.Units)
		return
	}
	p.Outcome = Pass
}

// WaitOver returns the moment at which a wait ends that begins at start, in the zone
// where the job is. A wait that stands on a data sheet is an error.
func WaitOver(wait string, start time.Time, zone *time.Location) (time.Time, error) {
	return waitOver(wait, Fact{Start: start}, &Room{Zone: zone})
}

// waitOver returns the moment a wait ends.
func waitOver(wait string, f Fact, room *Room) (time.Time, error) {
	if f.Start.IsZero() {
		return time.Time{}, fmt.Errorf("the start is missing: --start \"2026-05-04 14:00\"")
	}
	if name, ok := strings.CutPrefix(wait, DataSheet); ok {
		q, err := room.Value(DataSheet+name, units.DurationKind)
		if err != nil {
			return time.Time{}, fmt.Errorf("%w (the time stands on the product's data sheet)", err)
		}
		return f.Start.Add(q.Duration()), nil
	}
	days, calendar, err := parseDays(wait)
	if err != nil {
		return time.Time{}, err
	}
	if calendar != nil {
		return calendar.midnightAfter(f.Start.In(room.zone()), days), nil
	}
	q, err := units.Parse(units.DurationKind, wait)
	if err != nil {
		return time.Time{}, err
	}
	return f.Start.Add(q.Duration()), nil
}

// CheckWait reports whether a plan's wait can be understood.
func CheckWait(wait string) error {
	if strings.HasPrefix(wait, DataSheet) {
		return nil
	}
	_, calendar, err := parseDays(wait)
	if err != nil || calendar != nil {
		return err
	}
	_, err = units.Parse(units.DurationKind, wait)
	return err
}

// WaitSpan returns the shortest and the longest time that a wait can last,
// whenever it starts; ok is false for one that stands on a data sheet. Sundays,
// weekends and holidays at most double the days of a calendar and add four, and
// a change of the clocks takes or gives an hour.
func WaitSpan(wait string) (shortest, longest time.Duration, ok bool) {
	days, calendar, err := parseDays(wait)
	switch {
	case err != nil:
		return 0, 0, false
	case calendar != nil:
		return time.Duration(24*days-1) * time.Hour, time.Duration(24*(2*days+4)+1) * time.Hour, true
	}
	q, err := units.Parse(units.DurationKind, wait)
	if err != nil {
		return 0, 0, false
	}
	return q.Duration(), q.Duration(), true
}

// parseDays reads "3 business days"; a nil calendar means wait is not in days
// of a calendar.
func parseDays(wait string) (int, calendar, error) {
	number, word, _ := strings.Cut(wait, " ")
	calendar, ok := calendars[word]
	if !ok {
		return 0, nil, nil
	}
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 {
		return 0, nil, fmt.Errorf("%q does not start with a number of days", wait)
	}
	return n, calendar, nil
}

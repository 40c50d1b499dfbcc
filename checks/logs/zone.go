package logs

import (
	"fmt"
	"time"
)

// zoneClock turns local milliseconds into Unix milliseconds. It keeps the
// stretch of local time in which one offset holds, so that nearly every row is
// a comparison and a subtraction.
type zoneClock struct {
	zone     *time.Location
	from, to int64 // local ms with exactly one meaning under offset
	offset   int64 // ms
}

// passes is how often a local time occurs.
type passes uint8

const (
	once passes = iota
	twice
	never
)

// unix returns the Unix time of a local time, the first if there are two, and
// for times that come twice the second.
func (z *zoneClock) unix(local int64) (first, second int64, p passes) {
	if local >= z.from && local < z.to {
		return local - z.offset, 0, once
	}
	return z.lookUp(local)
}

// lookUp goes through the zone's offsets around local.
func (z *zoneClock) lookUp(local int64) (first, second int64, p passes) {
	const near = 27 * time.Hour // no offset from UTC is larger
	at := time.UnixMilli(local).Add(-near).In(z.zone)
	found := 0
	var home time.Time
	for {
		_, seconds := at.Zone()
		shift := int64(seconds) * 1000
		begin, end := at.ZoneBounds()
		if from, to := bound(begin, -1<<62)+shift, bound(end, 1<<62)+shift; local >= from && local < to {
			if found++; found == 1 {
				first, home = local-shift, at
			} else {
				second = local - shift
			}
		}
		if end.IsZero() || end.UnixMilli() > local+near.Milliseconds() {
			break
		}
		at = end
	}
	switch found {
	case 0:
		return 0, 0, never
	case 1:
		z.keep(home)
		return first, 0, once
	}
	return first, second, twice
}

// keep remembers the local times that have one meaning only, under the offset
// in force at t: those that the offsets before and after do not reach.
func (z *zoneClock) keep(t time.Time) {
	_, seconds := t.Zone()
	z.offset = int64(seconds) * 1000
	z.from, z.to = -1<<62, 1<<62
	begin, end := t.ZoneBounds()
	if !begin.IsZero() {
		_, before := begin.Add(-1).Zone()
		z.from = begin.UnixMilli() + 1000*int64(max(before, seconds))
	}
	if !end.IsZero() {
		_, after := end.Zone()
		z.to = end.UnixMilli() + 1000*int64(min(after, seconds))
	}
}

func bound(t time.Time, none int64) int64 {
	if t.IsZero() {
		return none
	}
	return t.UnixMilli()
}

// missingReason explains a local time that does not exist.
func missingReason(local int64, zone *time.Location) string {
	t := time.UnixMilli(local).UTC()
	return fmt.Sprintf("%s does not exist in %s: the clock skips that hour", t.Format("2006-01-02 15:04"), zone)
}

func doubledReason(local int64, zone *time.Location) string {
	t := time.UnixMilli(local).UTC()
	return fmt.Sprintf("%s comes twice in %s and the order of the rows does not tell which is meant", t.Format("2006-01-02 15:04"), zone)
}

// doubledRun is a run of rows within an hour that comes twice.
type doubledRun struct {
	rows       []int   // places in the columns
	lines      []int   // their lines
	first      []int64 // Unix time if the row belongs to the first pass
	local      []int64
	shift      int64 // from the first to the second pass
	before     int64 // Unix time of the row before the run
	hasBefore  bool
	descending bool // the file has its newest rows first
}

// secondPass decides for each row whether it belongs to the second pass. after
// is the Unix time of the row behind the run. ok is false when neither the
// order of the rows nor the gap that a reading would leave decides.
func (r *doubledRun) secondPass(after int64, hasAfter bool, interval int64) (second []bool, ok bool) {
	second = make([]bool, len(r.first))
	split, count := 0, 0
	for i := 1; i < len(r.first); i++ {
		if r.goesBack(r.first[i-1], r.first[i]) {
			split, count = i, count+1
		}
	}
	switch count {
	case 0:
		isSecond, ok := r.singlePass(after, hasAfter, interval)
		for i := range second {
			second[i] = isSecond
		}
		return second, ok
	case 1:
		for i := range second {
			second[i] = (i >= split) != r.descending
		}
		return second, true
	}
	return nil, false
}

// goesBack reports a step against the direction of the file. Two equal rows
// that are the whole run are the two passes of an hourly log.
func (r *doubledRun) goesBack(a, b int64) bool {
	if r.descending {
		a, b = b, a
	}
	return b < a || a == b && len(r.first) == 2
}

// singlePass takes the one reading that joins on without a gap, to the row
// before or to the row behind. If both do, or neither, it does not decide.
func (r *doubledRun) singlePass(after int64, hasAfter bool, interval int64) (second, ok bool) {
	early, late, hasEarly, hasLate := r.before, after, r.hasBefore, hasAfter
	lowest, highest := r.first[0], r.first[len(r.first)-1]
	if r.descending {
		early, late, hasEarly, hasLate = late, early, hasLate, hasEarly
		lowest, highest = highest, lowest
	}
	joins := func(step int64) bool { return step >= 0 && step <= interval+min(interval, r.shift)/2 }
	isFirst := hasEarly && joins(lowest-early)
	isSecond := hasLate && joins(late-highest-r.shift)
	return isSecond, isFirst != isSecond
}

// ClockChange is a moment at which a zone's clock is set.
type ClockChange struct {
	At time.Time
	By time.Duration // forward, so that an hour is missing; back where negative, so that one comes twice
}

// mostChanges bounds the list of a log with a year that was mistyped.
const mostChanges = 40

// clockChanges returns when the zone of from sets its clock up to to.
func clockChanges(from, to time.Time) []ClockChange {
	var all []ClockChange
	_, before := from.Zone()
	for {
		_, next := from.ZoneBounds()
		if next.IsZero() || next.After(to) || len(all) == mostChanges {
			return all
		}
		_, after := next.Zone()
		if after != before {
			all = append(all, ClockChange{next, time.Duration(after-before) * time.Second})
		}
		from, before = next, after
	}
}

package logs

import (
	"math"
	"slices"
	"strconv"
	"time"
)

// reader turns records into columns.
type reader struct {
	d       Dialect
	split   splitter
	stamps  *stampParser
	clock   zoneClock
	timeAt  int
	clockAt int
	wanted  int
	columns []columnReader
	newline byte

	line     int
	joined   []byte
	times    []int64
	dropped  map[int]bool // places of rows rejected after they were appended
	events   []Event
	rejected []Rejection
	blank    int
	run      doubledRun
	missing  int // rows in an hour that the clock skips
	doubled  int // rows in an hour that comes twice and stayed open
	told     int // rows in such an hour that were read
	interval int64
	strays   string // reason why every row from here on is rejected
}

// columnReader reads the cells of one column.
type columnReader struct {
	at     int
	column Column
	number numberFormat
	values []float64
	text   string // of a text column, in the row before
}

// newReader prepares the reading of rows that are interval apart and stand with
// the newest first if descending.
func newReader(d Dialect, interval time.Duration, descending bool) (*reader, error) {
	stamps, err := compileLayout(d.Layout)
	if err != nil {
		return nil, err
	}
	r := &reader{d: d, stamps: stamps, clockAt: -1, dropped: map[int]bool{}, interval: interval.Milliseconds()}
	r.split.separator = d.Separator
	r.clock = zoneClock{zone: d.Zone}
	r.run.descending = descending
	r.timeAt, r.wanted = d.index(Stamp), d.wanted()
	if r.timeAt < 0 {
		r.timeAt, r.clockAt = d.index(DateOnly), d.index(ClockOnly)
		if r.timeAt < 0 || r.clockAt < 0 {
			return nil, problemf(ErrDialect, "no column is %q; say which holds the time", Stamp)
		}
	}
	for i, c := range d.Columns {
		if c.Role != Value && c.Role != OnOff && c.Role != Text {
			continue
		}
		convert, err := c.conversion()
		if err != nil {
			return nil, err
		}
		low, high := plausibleRange(c.Quantity)
		number := numberFormat{d.Decimal, d.Group, convert, foldUnit(c.Suffix), c.Suffix, low, high}
		r.columns = append(r.columns, columnReader{at: i, column: c, number: number})
	}
	return r, nil
}

func (r *reader) reserve(rows int) {
	r.times = make([]int64, 0, rows)
	for i := range r.columns {
		if r.columns[i].column.Role != Text {
			r.columns[i].values = make([]float64, 0, rows)
		}
	}
}

// row reads one record. ended is false for a last line without line end.
func (r *reader) row(record []byte, ended bool) {
	cells, open := r.split.split(record)
	if len(cells) <= 1 && len(trim(record)) == 0 {
		r.blank++
		return
	}
	stamp := cellAt(cells, r.timeAt)
	if r.clockAt >= 0 {
		r.joined = joinCells(r.joined[:0], stamp, cellAt(cells, r.clockAt))
		stamp = r.joined
	}
	local, w := r.stamps.parse(stamp)
	switch {
	case r.strays != "":
		r.reject(record, r.strays)
	case open:
		r.reject(record, "a quote is opened and not closed")
	case w != fine:
		r.reject(record, r.timeReason(w, stamp, cells))
	case len(cells) < r.wanted:
		r.reject(record, "the row has "+strconv.Itoa(len(cells))+" cells where "+strconv.Itoa(r.wanted)+" are expected")
	case len(cells) > len(r.d.Columns) && anyFilled(cells[len(r.d.Columns):]):
		r.reject(record, "the row has "+strconv.Itoa(len(cells))+" cells where "+strconv.Itoa(len(r.d.Columns))+" are expected")
	case !ended && len(r.times) > 0 && r.cutOff(cells):
		r.reject(record, "the file ends within this row")
	case r.time(local, record):
		r.values(cells)
	}
}

func anyFilled(cells [][]byte) bool {
	return slices.ContainsFunc(cells, func(c []byte) bool { return len(c) > 0 })
}

func (r *reader) reject(record []byte, reason string) {
	r.rejected = append(r.rejected, Rejection{Line: r.line, Text: shorten(record), Reason: reason})
}

// cutOff reports a last cell with fewer decimals than its column always has.
func (r *reader) cutOff(cells [][]byte) bool {
	last := len(cells) - 1
	if last >= len(r.d.Columns) || r.d.Columns[last].Role != Value || r.d.Columns[last].Decimals <= 0 {
		return false
	}
	n, ok := scan(cells[last], r.d.Decimal)
	return ok && n.length == len(cells[last]) && n.places < r.d.Columns[last].Decimals
}

// time appends the row's time; false when the row was rejected.
func (r *reader) time(local int64, record []byte) bool {
	if r.stamps.zoned || r.stamps.unix != 0 {
		r.times = append(r.times, local)
		return true
	}
	first, second, p := r.clock.unix(local)
	switch {
	case p == never:
		r.missing++
		r.reject(record, missingReason(local, r.d.Zone))
		return false
	case p == twice && r.d.Doubled != ByOrder:
		r.told++
		if r.d.Doubled == Second {
			first = second
		}
	case p == twice && r.d.Doubled == ByOrder:
		r.hold(first, second, local)
	case len(r.run.rows) > 0:
		r.settle(first, true)
	}
	r.times = append(r.times, first)
	return true
}

// hold notes a row of the doubled hour, to be settled when the hour is over.
func (r *reader) hold(first, second, local int64) {
	n := len(r.times)
	if len(r.run.rows) == 0 {
		r.run.hasBefore = n > 0
		if n > 0 {
			r.run.before = r.times[n-1]
		}
	}
	r.run.shift = second - first
	r.run.rows = append(r.run.rows, n)
	r.run.lines = append(r.run.lines, r.line)
	r.run.first = append(r.run.first, first)
	r.run.local = append(r.run.local, local)
}

// settle decides the rows held. after is the time of the row behind them.
func (r *reader) settle(after int64, hasAfter bool) {
	run := &r.run
	second, ok := run.secondPass(after, hasAfter, r.interval)
	if ok {
		r.told += len(run.rows)
	}
	for i, place := range run.rows {
		switch {
		case !ok:
			r.doubled++
			r.dropped[place] = true
			text := time.UnixMilli(run.local[i]).UTC().Format(time.DateTime)
			r.rejected = append(r.rejected, Rejection{Line: run.lines[i], Text: text, Reason: doubledReason(run.local[i], r.d.Zone)})
		case second[i]:
			r.times[place] = run.first[i] + run.shift
		}
	}
	*run = doubledRun{rows: run.rows[:0], lines: run.lines[:0], first: run.first[:0], local: run.local[:0], descending: run.descending}
}

// values appends one value to each column.
func (r *reader) values(cells [][]byte) {
	for i := range r.columns {
		c := &r.columns[i]
		cell := cellAt(cells, c.at)
		if c.column.Role == Text {
			r.event(c, cell)
			continue
		}
		v, reason := c.value(cell)
		if reason != "" {
			r.rejected = append(r.rejected, Rejection{r.line, c.column.Name, shorten(cell), reason})
		}
		c.values = append(c.values, v)
	}
}

// value reads a cell; NaN is no value.
func (c *columnReader) value(cell []byte) (v float64, reason string) {
	if len(cell) == 0 {
		return math.NaN(), ""
	}
	if c.column.Role == OnOff {
		if v, ok := stateOf(cell); ok {
			return v, ""
		}
		return math.NaN(), "neither on nor off"
	}
	if v, reason = c.number.parse(cell); reason != "" {
		return math.NaN(), reason
	}
	return v, ""
}

// event keeps a text when it differs from that of the row before.
func (r *reader) event(c *columnReader, cell []byte) {
	if string(cell) == c.text {
		return
	}
	c.text = string(cell)
	if c.text != "" {
		at := time.UnixMilli(r.times[len(r.times)-1]).In(r.d.Zone)
		r.events = append(r.events, Event{at, r.line, c.column.Name, shorten(cell)})
	}
}

package logs

import (
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"
)

// timeReason explains why a row has no time. A second header is recognised; if
// it names other units or quantities, the rows after it are rejected too.
func (r *reader) timeReason(w why, stamp []byte, cells [][]byte) string {
	same := 0
	for i, c := range r.d.Columns {
		cell := string(cellAt(cells, i))
		switch again, _ := headerColumn(cell, ""); {
		case cell == "":
		case cell == c.Name:
			same++
		case c.Role == Value && again.Unit != "" && again.Unit != c.Unit && leadingDigits([]byte(cell)) == 0:
			r.strays = fmt.Sprintf("the header in line %d has %q where the file began with %q; split the file there", r.line, cell, c.Name)
			return r.strays
		}
	}
	switch {
	case same >= 2:
		return "the header once more"
	case strings.TrimSpace(string(stamp)) == "":
		return "the row has no date and time"
	}
	return w.reason(r.stamps.layout)
}

// file ends the reading and hands over what was read.
func (r *reader) file(p Preview) (*File, error) {
	if len(r.run.rows) > 0 {
		r.settle(0, false)
	}
	r.drop()
	sort.SliceStable(r.rejected, func(i, k int) bool { return r.rejected[i].Line < r.rejected[k].Line })
	if len(r.times) == 0 {
		return nil, r.nothing()
	}
	r.sort(&p)
	r.describe(&p)
	f := &File{Events: r.events, Rejected: r.rejected, Dialect: r.d, Preview: p}
	for _, c := range r.columns {
		if c.column.Role != Text {
			f.Columns = append(f.Columns, Series{c.column.Name, c.column.Quantity, c.column.Unit, r.times, c.values})
		}
	}
	return f, nil
}

func (r *reader) nothing() error {
	if len(r.rejected) == 0 {
		return problemf(ErrEmpty, "the file has no rows from line %d on", r.d.First)
	}
	first := r.rejected[0]
	return problemf(ErrEmpty, "line %d: %q: %s; none of the %d rows could be read", first.Line, first.Text, first.Reason, len(r.rejected))
}

// drop takes out the rows that were rejected after they had been appended.
func (r *reader) drop() {
	if len(r.dropped) == 0 {
		return
	}
	keep := 0
	for i := range r.times {
		if r.dropped[i] {
			continue
		}
		r.times[keep] = r.times[i]
		for k := range r.columns {
			if v := r.columns[k].values; v != nil {
				v[keep] = v[i]
			}
		}
		keep++
	}
	r.times = r.times[:keep]
	for k := range r.columns {
		if v := r.columns[k].values; v != nil {
			r.columns[k].values = v[:keep]
		}
	}
}

// The orders of rows, as a preview names them.
const (
	oldestFirst = "oldest first"
	newestFirst = "newest first"
	mixedOrder  = "mixed"
)

// sort makes the times ascending.
func (r *reader) sort(p *Preview) {
	up, down := 0, 0
	for i := 1; i < len(r.times); i++ {
		switch {
		case r.times[i] > r.times[i-1]:
			up++
		case r.times[i] < r.times[i-1]:
			down++
		}
	}
	switch {
	case down == 0:
		p.Order = oldestFirst
	case up == 0:
		p.Order = newestFirst
		slices.Reverse(r.times)
		slices.Reverse(r.events)
		for _, c := range r.columns {
			slices.Reverse(c.values)
		}
	default:
		p.Order = mixedOrder
		p.note(fmt.Sprintf("the rows go back in time %d times and were sorted: was the clock set during the log?", min(up, down)))
		r.sortMixed()
	}
}

// sortMixed sorts rows by time; rows of the same time keep their order.
func (r *reader) sortMixed() {
	order := make([]int32, len(r.times))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortStableFunc(order, func(a, b int32) int { return compare(r.times[a], r.times[b]) })
	r.times = permute(r.times, order)
	for k := range r.columns {
		if v := r.columns[k].values; v != nil {
			r.columns[k].values = permute(v, order)
		}
	}
	slices.SortStableFunc(r.events, func(a, b Event) int { return a.Time.Compare(b.Time) })
}

func compare(a, b int64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

func permute[T any](from []T, order []int32) []T {
	to := make([]T, len(from))
	for i, k := range order {
		to[i] = from[k]
	}
	return to
}

// describe fills the preview from the rows read.
func (r *reader) describe(p *Preview) {
	n := len(r.times)
	p.Rows, p.Blank, p.Rejected = n, r.blank, 0
	for _, x := range r.rejected {
		if x.Row() {
			p.Rejected++
		}
	}
	zone := r.d.Zone
	p.Start, p.End = time.UnixMilli(r.times[0]).In(zone), time.UnixMilli(r.times[n-1]).In(zone)
	p.Interval = usualStep(r.times)
	p.Gaps, p.Duplicates, p.LongestGap = 0, 0, 0
	for i := 1; i < n; i++ {
		step := time.Duration(r.times[i]-r.times[i-1]) * time.Millisecond
		switch {
		case step == 0:
			p.Duplicates++
		case step*2 > p.Interval*3:
			p.Gaps++
			p.LongestGap = max(p.LongestGap, step)
		}
	}
	p.Doubled, p.Open, p.Missing, p.Changes = r.told, r.doubled, r.missing, nil
	if !r.stamps.zoned && r.stamps.unix == 0 {
		p.Changes = clockChanges(p.Start, p.End)
	}
	if r.missing > 0 {
		p.note(fmt.Sprintf("%d rows lie in an hour that the clock skips in %s: the logger does not follow summer time; give its fixed offset", r.missing, zone))
	}
	if r.doubled > 0 {
		p.note(fmt.Sprintf("%d rows lie in an hour that comes twice in %s; say which pass they are, or give a fixed offset if the logger does not follow summer time", r.doubled, zone))
	}
}

// manySteps is about how many steps are looked at to find the usual one.
const manySteps = 1 << 14

// usualStep returns the most frequent step between rows.
func usualStep(times []int64) time.Duration {
	steps := stepCount{}
	for i := 1; i < len(times); i += 1 + len(times)/manySteps {
		steps.add(max(times[i]-times[i-1], times[i-1]-times[i]))
	}
	return steps.best()
}

// stepCount counts steps in ms.
type stepCount map[int64]int

func (c stepCount) add(step int64) {
	if step > 0 {
		c[step]++
	}
}

// best returns the most frequent step, the shorter of two as frequent.
func (c stepCount) best() time.Duration {
	var best int64
	for step, n := range c {
		if n > c[best] || n == c[best] && step < best {
			best = step
		}
	}
	return milliseconds(best)
}

// preview reads the part of the file that was looked at.
func (f *finder) preview() error {
	step, descending := f.sampleOrder()
	r, err := newReader(f.d, step, descending)
	if err != nil {
		return err
	}
	r.records(&scanner{text: f.text, newline: newlineOf(f.text), split: &r.split})
	file, err := r.file(f.p)
	if err != nil {
		return err
	}
	f.p = file.Preview
	return nil
}

// sampleOrder returns the usual step of the rows looked at, by the clock as
// written, and whether most of them are older than the one before.
func (f *finder) sampleOrder() (step time.Duration, descending bool) {
	p, err := compileLayout(f.d.Layout)
	if err != nil {
		return 0, false
	}
	var times []int64
	var joined []byte
	down := 0
	split := splitter{separator: f.d.Separator}
	for _, line := range f.lines {
		if line.number < f.d.First {
			continue
		}
		cells, _ := split.split(line.text)
		stamp := cellAt(cells, f.form.timeAt)
		if f.form.clockAt >= 0 {
			joined = joinCells(joined[:0], stamp, cellAt(cells, f.form.clockAt))
			stamp = joined
		}
		if ms, w := p.parse(stamp); w == fine {
			times = append(times, ms)
			if n := len(times); n > 1 && ms < times[n-2] {
				down++
			}
		}
	}
	return usualStep(times), down*2 > len(times)-1
}

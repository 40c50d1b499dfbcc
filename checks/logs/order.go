package logs

import (
	"fmt"
	"strings"
	"time"
)

// trial is one layout that the shape of the dates allows, tried on the rows.
type trial struct {
	parser *stampParser
	only   clash // first row that this layout alone can read
	failed int   // rows that another layout can read and this one cannot

	near, far int // steps over midnight of up to half a day, and of weeks
	last      int64
	started   bool
}

// layout settles the layout of dates: by a field that can only be a day, else
// by the one order in which the rows follow each other without holes of a
// month, else by the full stops; else it is an AmbiguousDate.
func (f *finder) layout() error {
	if f.form.layout != "" {
		f.d.Layout = f.form.layout
		return nil
	}
	trials := make([]*trial, 0, 3)
	for _, layout := range f.form.shape.layouts() {
		p, err := compileLayout(layout)
		if err != nil {
			return err
		}
		trials = append(trials, &trial{parser: p})
	}
	if len(trials) == 1 {
		f.d.Layout = trials[0].parser.layout
		return nil
	}
	clash := f.try(trials, f.text)
	if open := alive(trials); len(open) != 1 && len(f.data) > len(f.text) {
		whole, err := decode(f.data, f.d.Charset)
		if err != nil {
			return err
		}
		for _, t := range trials {
			*t = trial{parser: t.parser}
		}
		clash = f.try(trials, whole)
	}
	return f.choose(trials, clash)
}

// clash is a row that the layouts read differently.
type clash struct {
	line int
	text string
}

// try reads the times of all rows in all layouts.
func (f *finder) try(trials []*trial, text []byte) (found clash) {
	split := splitter{separator: f.d.Separator}
	rows := scanner{text: text, newline: newlineOf(text), split: &split}
	var joined []byte
	for {
		record, _, ok := rows.next()
		if !ok {
			return found
		}
		if rows.line < f.d.First {
			continue
		}
		cells, _ := split.split(record)
		stamp := cellAt(cells, f.form.timeAt)
		if f.form.clockAt >= 0 {
			joined = joinCells(joined[:0], stamp, cellAt(cells, f.form.clockAt))
			stamp = joined
		}
		if len(stamp) > 0 && tryRow(trials, stamp, rows.line) && found.line == 0 {
			found = clash{rows.line, shorten(stamp)}
		}
	}
}

// tryRow reports whether the layouts give different times.
func tryRow(trials []*trial, stamp []byte, line int) (differ bool) {
	var times [3]int64
	var read [3]bool
	count := 0
	for i, t := range trials {
		ms, w := t.parser.parse(stamp)
		times[i], read[i] = ms, w == fine
		if w == fine {
			count++
			t.step(ms)
		}
	}
	if count == 0 {
		return false
	}
	first := int64(0)
	for i, t := range trials {
		switch {
		case !read[i]:
			t.failed++
			differ = true
		case count == 1 && t.only.line == 0:
			t.only = clash{line, shorten(stamp)}
		}
		if read[i] && first != 0 && times[i] != first {
			differ = true
		}
		if read[i] {
			first = times[i]
		}
	}
	return differ
}

// step looks at what lies between two rows of different days.
func (t *trial) step(ms int64) {
	const day = 86_400_000
	if t.started && floorDiv(ms, day) != floorDiv(t.last, day) {
		switch d := abs(ms - t.last); {
		case d <= day/2:
			t.near++
		case d >= 20*day:
			t.far++
		}
	}
	t.last, t.started = ms, true
}

func abs(v int64) int64 { return max(v, -v) }

func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// alive returns the layouts that read every row that any of them reads.
func alive(trials []*trial) (open []*trial) {
	for _, t := range trials {
		if t.failed == 0 && t.started {
			open = append(open, t)
		}
	}
	return open
}

func (f *finder) choose(trials []*trial, c clash) error {
	open := alive(trials)
	switch {
	case len(open) == 1:
		f.p.note(open[0].settled())
		f.d.Layout = open[0].parser.layout
		return nil
	case len(open) > 1 && c.line == 0: // the same day in all
		f.d.Layout = open[0].parser.layout
		return nil
	case len(open) == 0:
		return f.mixed(trials)
	}
	if t := unbroken(open); t != nil {
		f.d.Layout = t.parser.layout
		f.p.note("dates are " + f.d.Layout + ": only so do the rows follow each other over midnight")
		return nil
	}
	if t := fullStops(open); t != nil {
		f.d.Layout = t.parser.layout
		f.p.note("dates are " + f.d.Layout + ": with full stops the day comes first")
		return nil
	}
	return f.ambiguous(open, c)
}

// unbroken returns the layout whose rows run on over midnight, if in every
// other they jump by weeks at every change of the date.
func unbroken(open []*trial) *trial {
	var found *trial
	for _, t := range open {
		switch {
		case t.near > 0 && t.far == 0 && found == nil:
			found = t
		case t.near > 0 || t.far == 0:
			return nil
		}
	}
	return found
}

// fullStops returns the layout with the day first if all that is open is day
// and month, and full stops part them: month.day.year is written nowhere
// (Unicode CLDR, from memory).
func fullStops(open []*trial) *trial {
	var found *trial
	for _, t := range open {
		switch {
		case strings.Contains(t.parser.layout, "02.01."):
			found = t
		case !strings.Contains(t.parser.layout, "01.02."):
			return nil
		}
	}
	return found
}

func (t *trial) settled() string {
	if t.only.line == 0 {
		return "dates are " + t.parser.layout + ": no other order fits all rows"
	}
	return fmt.Sprintf("dates are %s: line %d, %q, fits no other order", t.parser.layout, t.only.line, t.only.text)
}

// ambiguous names the readings of the first row that the layouts read
// differently.
func (f *finder) ambiguous(open []*trial, c clash) error {
	e := &AmbiguousDate{Line: c.line, Text: c.text}
	for _, t := range open {
		ms, _ := t.parser.parse([]byte(c.text))
		e.Readings = append(e.Readings, Reading{Layout: t.parser.layout, Time: time.UnixMilli(ms).UTC()})
	}
	return e
}

// mixed names the rows that rule out one order each.
func (f *finder) mixed(trials []*trial) error {
	e := &AmbiguousDate{}
	for _, t := range trials {
		if t.only.line == 0 {
			continue
		}
		ms, _ := t.parser.parse([]byte(t.only.text))
		e.Readings = append(e.Readings, Reading{t.parser.layout, time.UnixMilli(ms).UTC(), t.only.line, t.only.text})
	}
	if len(e.Readings) == 0 {
		return f.noTimes()
	}
	e.Line, e.Text = e.Readings[0].Line, e.Readings[0].Text
	return e
}

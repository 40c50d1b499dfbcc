package logs

import "bytes"

// vote is where a line has its time and what it looks like.
type vote struct {
	timeAt, clockAt int
	shape           shape
	layout          string // of a Unix time, or the one given
}

// timeFinder finds the time of a line: in the columns and the layout that the
// dialect names, or by the look of the cells.
type timeFinder struct {
	split   splitter
	dialect *Dialect
	layout  *stampParser
	unixAt  int // column that has held Unix times, −1 none yet
	last    int64
}

func (t *timeFinder) prepare() (err error) {
	t.unixAt = -1
	if t.dialect.Layout != "" {
		t.layout, err = compileLayout(t.dialect.Layout)
	}
	return err
}

// vote looks at one line. width is its number of cells without empty ones at
// the end. ok is false when the line has no time, or nothing but the time.
func (t *timeFinder) vote(line []byte) (v vote, width int, ok bool) {
	cells, open := t.split.split(line)
	for len(cells) > 0 && len(cells[len(cells)-1]) == 0 {
		cells = cells[:len(cells)-1]
	}
	if open || len(cells) < 2 {
		return v, 0, false
	}
	if t.layout != nil {
		v, ok = t.given(cells)
	} else {
		v, ok = t.seen(cells)
	}
	if !ok || v.clockAt >= 0 && len(cells) < 3 {
		return v, 0, false
	}
	return v, len(cells), true
}

// given looks for the layout of the dialect in the first columns.
func (t *timeFinder) given(cells [][]byte) (vote, bool) {
	const most = 24
	cells = cells[:min(len(cells), most)]
	for i, cell := range cells {
		if _, w := t.layout.parse(cell); w == fine && t.allowed(i, Stamp) {
			return vote{timeAt: i, clockAt: -1, layout: t.dialect.Layout}, true
		}
	}
	var joined []byte
	for i := range cells {
		for k := range cells {
			joined = joinCells(joined[:0], cells[i], cells[k])
			if _, w := t.layout.parse(joined); i != k && w == fine && t.allowed(i, DateOnly) && t.allowed(k, ClockOnly) {
				return vote{timeAt: i, clockAt: k, layout: t.dialect.Layout}, true
			}
		}
	}
	return vote{}, false
}

// allowed reports whether the dialect leaves a column free for a role.
func (t *timeFinder) allowed(i int, role Role) bool {
	if at := t.dialect.index(role); at >= 0 && t.dialect.Columns[at].Name == "" {
		return at == i
	}
	return true
}

// seen looks for cells with the shape of a time: with an offset first, then
// date and time in one cell, then in two, then Unix time.
func (t *timeFinder) seen(cells [][]byte) (vote, bool) {
	best := vote{timeAt: -1, clockAt: -1}
	dateAt, clockAt := -1, -1
	var date, clock shape
	for i, cell := range cells {
		s, ok := shapeOf(cell)
		switch {
		case !ok:
		case s.isStamp() && t.allowed(i, Stamp) && (best.timeAt < 0 || s.zone != "" && best.shape.zone == ""):
			best.timeAt, best.shape = i, s
		case s.isDate() && dateAt < 0 && t.allowed(i, DateOnly):
			dateAt, date = i, s
		case clockAt < 0 && t.allowed(i, ClockOnly):
			if s = s.asClock(cell); s.clock != "" {
				clockAt, clock = i, s
			}
		}
	}
	switch {
	case best.timeAt >= 0:
		return best, true
	case dateAt >= 0 && clockAt >= 0:
		joined := shape{date.lead, date.date, " ", clock.clock, clock.zone}
		return vote{timeAt: dateAt, clockAt: clockAt, shape: joined}, true
	}
	return t.unixTime(cells)
}

// unixTime looks for a column of Unix times: whole numbers of the right size
// that change from line to line.
func (t *timeFinder) unixTime(cells [][]byte) (vote, bool) {
	for i, cell := range cells {
		layout := unixLayout(cell)
		if layout == "" || t.unixAt >= 0 && i != t.unixAt {
			continue
		}
		p, _ := compileLayout(layout)
		at, w := p.parse(cell)
		if w != fine || at == t.last {
			continue
		}
		t.unixAt, t.last = i, at
		return vote{timeAt: i, clockAt: -1, layout: layout}, true
	}
	return vote{}, false
}

func unixLayout(cell []byte) string {
	n := leadingDigits(cell)
	switch {
	case n == 13 && len(cell) == 13:
		return "unix ms"
	case (n == 9 || n == 10) && (len(cell) == n || cell[n] == '.' || cell[n] == ','):
		return "unix"
	}
	return ""
}

// joinCells writes date and time of day as one text.
func joinCells(buf, date, clock []byte) []byte {
	buf = append(buf, date...)
	buf = append(buf, ' ')
	return append(buf, clock...)
}

// cellsOf splits the rows of the sample that have the form found, and calls use
// with each.
func (f *finder) cellsOf(use func(line sampleLine, cells [][]byte)) {
	split := splitter{separator: f.d.Separator}
	for _, i := range f.form.rows {
		if line := f.lines[i]; line.number >= f.d.First {
			cells, _ := split.split(line.text)
			use(line, cells)
		}
	}
}

// cellAt returns a cell, nil where the row is too short.
func cellAt(cells [][]byte, i int) []byte {
	if i < 0 || i >= len(cells) {
		return nil
	}
	return cells[i]
}

// isRule reports a line that only underlines the header.
func isRule(line []byte) bool {
	return len(line) > 0 && len(bytes.Trim(line, "-=_+|;,\t \"")) == 0
}

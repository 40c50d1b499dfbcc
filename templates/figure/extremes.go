package figure

import "math"

// extremes thins a curve for a picture of some pixel columns: of each column it
// keeps the first, the least, the greatest and the last value, in the order they
// came. So the line looks as if every value had been drawn, and no extreme of any
// column is lost or moved. Where a value is missing, or the step to the next is
// longer than gap, the curve is broken by a NaN; a gap of 0 never breaks it.
//
// means holds the mean of each column, with the same breaks.
//
// at returns the i-th of n values, in order of X; those outside of s are left out.
func extremes(n int, at func(i int) Point, s span, columns int, gap float64) (kept, means []Point) {
	t := thinner{list: make([]Point, 0, min(n, 4*columns)+2), means: make([]Point, 0, min(n, columns)+2), column: -1}
	for i := range n {
		p := at(i)
		if p.X < s.low || p.X > s.high {
			continue
		}
		if !finite(p.Y) || gap > 0 && t.count > 0 && p.X-t.last.X > gap {
			t.cut(p.X)
			if !finite(p.Y) {
				continue
			}
		}
		column := min(int((p.X-s.low)/(s.high-s.low)*float64(columns)), columns-1)
		if column != t.column {
			t.flush()
			t.column = column
		}
		t.take(p)
	}
	t.flush()
	return t.list, t.means
}

// thinner collects the values of one pixel column.
type thinner struct {
	list, means              []Point
	column, count            int // values in the column so far
	first, least, most, last Point
	leastAt, mostAt          int
	sum                      float64
}

func (t *thinner) take(p Point) {
	if t.count == 0 {
		t.first, t.least, t.most = p, p, p
		t.leastAt, t.mostAt, t.sum = 0, 0, 0
	}
	if p.Y < t.least.Y {
		t.least, t.leastAt = p, t.count
	}
	if p.Y > t.most.Y {
		t.most, t.mostAt = p, t.count
	}
	t.last = p
	t.sum += p.Y
	t.count++
}

// flush writes the values kept of a column, each once.
func (t *thinner) flush() {
	if t.count == 0 {
		return
	}
	a, b, ai, bi := t.least, t.most, t.leastAt, t.mostAt
	if ai > bi {
		a, b, ai, bi = b, a, bi, ai
	}
	t.list = append(t.list, t.first)
	if ai > 0 && ai < t.count-1 {
		t.list = append(t.list, a)
	}
	if bi > ai && bi > 0 && bi < t.count-1 {
		t.list = append(t.list, b)
	}
	if t.count > 1 {
		t.list = append(t.list, t.last)
	}
	t.means = append(t.means, Point{(t.first.X + t.last.X) / 2, t.sum / float64(t.count)})
	t.count = 0
}

// cut breaks the curve before x.
func (t *thinner) cut(x float64) {
	t.flush()
	if n := len(t.list); n > 0 && finite(t.list[n-1].Y) {
		t.list, t.means = append(t.list, Point{x, math.NaN()}), append(t.means, Point{x, math.NaN()})
	}
}

// thin is extremes of a list.
func thin(list []Point, s span, columns int) []Point {
	kept, _ := extremes(len(list), func(i int) Point { return list[i] }, s, columns, 0)
	return kept
}

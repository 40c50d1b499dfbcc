package figure

import (
	"fmt"
	"math"
	"strings"
)

// Months are one or two values for each month of a year, as bars, with a sum or a
// limit over them.
type Months struct {
	Title  string
	Axis   string   // "Water in the plane, g/m²"
	Names  []string // of the months, in order, from wherever the year begins
	Series []MonthSeries

	Sum   *MonthSeries // a line over the bars: what has gathered by the end of a month
	Limit Mark         // on the axis
	Notes []string
}

// MonthSeries is a value for each month; NaN where it is not known.
type MonthSeries struct {
	Name   string
	Values []float64
	// Texts are the values as printed, for the greatest and the least, and for the
	// terminal. A missing one is written from the value.
	Texts []string
}

func (m MonthSeries) text(i int) string {
	switch {
	case i < len(m.Texts) && m.Texts[i] != "":
		return m.Texts[i]
	case !finite(m.Values[i]):
		return "not known"
	}
	return figures(m.Values[i])
}

// all are the series, with the sum.
func (f Months) all() []MonthSeries {
	list := f.Series[:len(f.Series):len(f.Series)]
	if f.Sum != nil {
		list = append(list, *f.Sum)
	}
	return list
}

// check returns what cannot be drawn, else the range of the axis.
func (f Months) check() (span, error) {
	y, known := span{0, 0}, false
	if len(f.Series) > 2 {
		return y, fmt.Errorf("months %q has %d values a month, want one or two", f.Title, len(f.Series))
	}
	for _, m := range f.all() {
		if len(m.Values) != len(f.Names) {
			return y, fmt.Errorf("months %q: %q has %d values for %d months", f.Title, m.Name, len(m.Values), len(f.Names))
		}
		for i, v := range m.Values {
			if math.IsInf(v, 0) {
				return y, fmt.Errorf("months %q: %s of %s is infinite", f.Title, m.Name, f.Names[i])
			}
			known = known || finite(v)
		}
		y = y.with(m.Values...)
	}
	if !known {
		return y, fmt.Errorf("months %q has no values: %w", f.Title, ErrEmpty)
	}
	if err := checkMarks(f.Limit); err != nil {
		return y, fmt.Errorf("months %q: %w", f.Title, err)
	}
	if f.Limit.there() {
		y = y.with(f.Limit.At)
	}
	if y.low == y.high {
		y.high++
	}
	d := (y.high - y.low) * 0.12 // room for the numbers printed
	if y.low < 0 {
		y.low -= d
	}
	return span{y.low, y.high + d}, nil
}

// The lines over the bars.
var (
	sumLine        = pen(brown, 1.8)
	monthLimitLine = pen(ink, 1.4, 8, 3)
)

// SVG draws the months.
func (f Months) SVG() ([]byte, error) {
	y, err := f.check()
	if err != nil {
		return nil, err
	}
	s := newSheet()
	n := float64(len(f.Names))
	top := s.key(s.heading(f.Title)+4, f.signs()...) - 4
	p := s.stand(top, 0, 170, f.Axis, span{0, n}, y, nil)
	p.grid(s, nil, round(y, 6, 1e-6))
	zero := p.py(0)
	f.bars(s, p, zero)
	s.line(pen(ink, 0.9), Point{p.x, zero}, Point{p.x + p.w, zero})
	if f.Limit.there() {
		p.add(p.level(f.Limit.At, monthLimitLine))
	}
	if f.Sum != nil {
		p.add(stretch{f.sums(), pen(paper, 4)}, stretch{f.sums(), sumLine})
	}
	p.draw(s)
	if f.Sum != nil {
		for _, v := range f.sums() {
			if finite(v.Y) {
				s.mark(disc, brown, p.px(v.X), p.py(v.Y), 2.6)
			}
		}
	}
	f.over(s, p)
	for i, name := range f.Names {
		s.say(p.px(float64(i)+0.5), p.y+p.h+14, elide(name, p.w/n-2, small), small.to(about))
	}
	return s.svg(s.notes(p.y+p.h+22, f.Notes), f.Title, f.describe())
}

// sums are the points of the sum, at the ends of the months.
func (f Months) sums() []Point {
	var list []Point
	for i, v := range f.Sum.Values {
		list = append(list, Point{float64(i) + 0.9, v})
	}
	return list
}

// bar is the look of the k-th value of a month: of two the first is hatched, as
// what was found is elsewhere.
func (f Months) bar(k int) func(*sheet, box) {
	if len(f.Series) == 2 && k == 0 {
		return foundBar
	}
	return plannedBar
}

func (f Months) signs() []entry {
	var list []entry
	for i, m := range f.Series {
		list = append(list, entry{func(s *sheet, x, y float64) { f.bar(i)(s, box{x, y - 5, 24, 10}) }, m.Name})
	}
	if f.Sum != nil {
		list = append(list, entry{func(s *sheet, x, y float64) {
			s.line(sumLine, Point{x, y}, Point{x + 24, y})
			s.mark(disc, brown, x+12, y, 3)
		}, f.Sum.Name})
	}
	if f.Limit.there() {
		list = append(list, entry{lineSign(monthLimitLine), f.Limit.Text})
	}
	return list
}

// bars draws the bars and prints the greatest and the least of each series.
func (f Months) bars(s *sheet, p *panel, zero float64) {
	width := p.w / float64(len(f.Names)) * 0.8 / float64(max(len(f.Series), 1))
	for k, m := range f.Series {
		for i, v := range m.Values {
			x := p.px(float64(i)+0.1) + float64(k)*width
			if !finite(v) {
				s.say(x+width/2, zero-4, "?", small.to(about))
				continue
			}
			if h := abs(p.py(v) - zero); h > 0 {
				f.bar(k)(s, box{x, min(p.py(v), zero), width - 1, max(h, 0.8)})
			}
		}
	}
}

// over prints the values worth reading: the greatest and the least of each
// series, and of the sum.
func (f Months) over(s *sheet, p *panel) {
	var taken []box
	for k, m := range f.all() {
		for _, i := range m.ends() {
			v := m.Values[i]
			x, y := p.px(float64(i)+0.1+0.8*(float64(k)+0.5)/float64(max(len(f.Series), 1))), p.py(v)-5
			if f.Sum != nil && k == len(f.Series) {
				x, y = p.px(float64(i)+0.9), p.py(v)-7
			}
			if v < 0 {
				y = p.py(v) + 13
			}
			words := elide(m.text(i), p.w/3, bold)
			w := measure(words, bold)
			if k == 1 && len(f.Series) == 2 {
				x += w/2 - p.w/float64(len(f.Names))*0.2 // from the bar's edge, off the bar before
			}
			x = min(max(x, p.x+w/2), wide-w/2)
			at := box{x - w/2, y - 10, w, 13}
			for _, b := range taken {
				if at.overlaps(b) {
					at.y, y = b.y-13, b.y-3
				}
			}
			taken = append(taken, at)
			s.say(x, y, words, look{bold: true, side: about, halo: true})
		}
	}
}

// ends are the places of the greatest value and, where it is below zero, of the
// least.
func (m MonthSeries) ends() []int {
	most, least := -1, -1
	for i, v := range m.Values {
		if v > 0 && (most < 0 || v > m.Values[most]) {
			most = i
		}
		if v < 0 && (least < 0 || v < m.Values[least]) {
			least = i
		}
	}
	var list []int
	for _, i := range []int{most, least} {
		if i >= 0 {
			list = append(list, i)
		}
	}
	return list
}

// describe says in words what the bars show.
func (f Months) describe() string {
	parts := []string{f.Axis + "."}
	for _, m := range f.all() {
		var list []string
		for i, name := range f.Names {
			list = append(list, name+" "+m.text(i))
		}
		parts = append(parts, m.Name+": "+strings.Join(list, ", ")+".")
	}
	if f.Limit.there() {
		parts = append(parts, f.Limit.Text+".")
	}
	return strings.Join(parts, " ")
}

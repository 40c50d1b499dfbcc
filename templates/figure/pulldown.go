package figure

import (
	"fmt"
)

// PullDown is how a room cools down from the start of its unit: as predicted, and
// as measured where that is given.
type PullDown struct {
	Title string
	Axis  string // "Temperature, °C"
	Hours string // "Hours after the start"

	Air, Bottle                 []Point // predicted: hours, temperature
	MeasuredAir, MeasuredBottle []Point

	SetPoint Mark // on the vertical axis
	Goal     Mark // below which the bottle has arrived
	Limit    Mark // hours: "limit 24 h"
	Arrival  Mark // hours, predicted: "predicted 18 h"
	Proven   Mark // hours, measured: "proven 19 h 40 min"
	Notes    []string
}

// track is one curve of a pull-down.
type track struct {
	name   string
	points []Point
	look   stroke
	sign   rune
}

// tracks are the curves that are there. What is predicted is dashed, what was
// measured is solid and heavier.
func (f PullDown) tracks() []track {
	all := []track{
		{"air, predicted", f.Air, pen(blue, 1.4, 2, 2), '·'},
		{"bottle, predicted", f.Bottle, pen(brown, 1.8, 7, 3), '-'},
		{"air, measured", f.MeasuredAir, pen(blue, 1), 'a'},
		{"bottle, measured", f.MeasuredBottle, pen(brown, 2.4), 'B'},
	}
	var list []track
	for _, t := range all {
		if len(t.points) > 0 {
			list = append(list, t)
		}
	}
	return list
}

func (f PullDown) marks() []Mark { return []Mark{f.Limit, f.Arrival, f.Proven} }

// check returns what cannot be drawn, and else the ranges of both axes.
func (f PullDown) check() (x, y span, err error) {
	x, y = nothing().with(0), nothing()
	for _, t := range f.tracks() {
		for i, p := range t.points {
			if !finite(p.X) || i > 0 && p.X < t.points[i-1].X {
				return x, y, fmt.Errorf("pull-down %q: hour %d of %s is %v, want one after the hour before it", f.Title, i+1, t.name, p.X)
			}
			if finite(p.Y) {
				x, y = x.with(p.X), y.with(p.Y)
			}
		}
	}
	if y.empty() {
		return x, y, fmt.Errorf("pull-down %q has no values: %w", f.Title, ErrEmpty)
	}
	if err := checkMarks(append(f.marks(), f.SetPoint, f.Goal)...); err != nil {
		return x, y, fmt.Errorf("pull-down %q: %w", f.Title, err)
	}
	for _, m := range f.marks() {
		if m.there() {
			x = x.with(m.At)
		}
	}
	for _, m := range []Mark{f.SetPoint, f.Goal} {
		if m.there() {
			y = y.with(m.At)
		}
	}
	return x.least(1), y.least(4).padded(0.06), nil
}

// SVG draws the pull-down.
func (f PullDown) SVG() ([]byte, error) {
	x, y, err := f.check()
	if err != nil {
		return nil, err
	}
	s := newSheet()
	var names []string
	for _, e := range f.endings(nil) {
		names = append(names, e.words)
	}
	p := s.stand(s.heading(f.Title), room(150, names...), 210, f.Axis, x, y, f.pennants)
	p.grid(s, hourly(x, 9), round(y, 7, 1))
	f.lines(p, x)
	p.draw(s)
	f.dots(s, p)
	p.endings(s, f.endings(p))
	return s.svg(s.notes(p.floor(s, f.Hours), f.Notes), f.Title, f.describe())
}

// last is the last value of a curve.
func last(points []Point) float64 {
	for i := len(points) - 1; i >= 0; i-- {
		if finite(points[i].Y) {
			return points[i].Y
		}
	}
	return 0
}

// Levels of the vertical axis.
var (
	setPointLine = pen(ink, 1)
	goalLine     = pen(soft, 1, 1.5, 2.5)
)

// endings are the labels right of a panel; without one they have no height.
func (f PullDown) endings(p *panel) []ending {
	var list []ending
	add := func(words string, y float64, look stroke) {
		e := ending{words: words, look: look}
		if p != nil {
			e.y = p.py(y)
		}
		list = append(list, e)
	}
	for _, t := range f.tracks() {
		add(t.name, last(t.points), t.look)
	}
	for i, m := range []Mark{f.SetPoint, f.Goal} {
		if m.there() {
			add(m.Text, m.At, []stroke{setPointLine, goalLine}[i])
		}
	}
	return list
}

// The lines of moments.
var (
	limitLine   = pen(ink, 1.6)
	arrivalLine = pen(brown, 1, 4, 2)
	provenLine  = pen(green, 1.6)
)

func (f PullDown) pennants(p *panel) []pennant {
	var list []pennant
	for i, m := range f.marks() {
		if m.there() {
			list = append(list, pennant{p.px(m.At), m.Text, []stroke{limitLine, arrivalLine, provenLine}[i]})
		}
	}
	return list
}

// lines puts levels, moments and curves into the panel.
func (f PullDown) lines(p *panel, x span) {
	for i, m := range []Mark{f.SetPoint, f.Goal} {
		if m.there() {
			p.add(p.level(m.At, []stroke{setPointLine, goalLine}[i]))
		}
	}
	for i, m := range f.marks() {
		if m.there() {
			p.add(p.upright(m.At, []stroke{limitLine, arrivalLine, provenLine}[i]))
		}
	}
	for _, t := range f.tracks() {
		p.add(stretch{thin(t.points, x, int(p.w)), t.look})
	}
}

// dots marks arrival and proof on the bottle's curves.
func (f PullDown) dots(s *sheet, p *panel) {
	if y, ok := along(f.Bottle, f.Arrival); ok {
		s.mark(ring, brown, p.px(f.Arrival.At), p.py(y), 4)
	}
	if y, ok := along(f.MeasuredBottle, f.Proven); ok {
		s.mark(diamond, green, p.px(f.Proven.At), p.py(y), 4.5)
	}
}

// along is the height of a curve at a mark, between its two neighbours.
func along(points []Point, m Mark) (float64, bool) {
	for i := 1; i < len(points) && m.there(); i++ {
		a, b := points[i-1], points[i]
		if a.X <= m.At && m.At <= b.X && finite(a.Y) && finite(b.Y) {
			if a.X == b.X {
				return b.Y, true
			}
			return a.Y + (b.Y-a.Y)*(m.At-a.X)/(b.X-a.X), true
		}
	}
	return 0, false
}

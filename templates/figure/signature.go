package figure

import (
	"fmt"
	"image/color"
	"strings"
)

// Signature is the cooling of each day against the difference between outside and
// room, with the line fitted through the days and what it says of the design day.
type Signature struct {
	Title string
	X, Y  string // "Outside minus room, K"; "Cooling, mean of the day, W"
	Days  []SignatureDay
	Fit   []FitPoint // in order of X, from the least to the greatest shown
	Level string     // of both bands: "95 %"

	Design Mark // X of the design day, "design day 22 K"
	// Predicted is the line at the design day with the interval for a day; without
	// a text it is not drawn.
	Predicted Interval
	Capacity  Mark // on the vertical axis: "the unit can do 560 W"
	// Beyond says that the design day lies outside of the days logged, and how far;
	// the stretch between is hatched. Empty: it does not.
	Beyond string
	Notes  []string
}

// SignatureDay is one day; one that is not used for the fit is drawn open.
type SignatureDay struct {
	Point
	Unused bool
}

// FitPoint is the fitted line at one X, with its confidence band, and the
// prediction band for a single day. A band that is not known is NaN.
type FitPoint struct {
	X, Y          float64
	Line, ForADay Range
}

// Range is from a low value to a high one.
type Range struct{ Low, High float64 }

// Interval is a value with its range, and how both are printed.
type Interval struct {
	Value float64
	Range
	Text string // "294 W (251 to 337 W)"
}

// check returns what cannot be drawn, else the ranges of both axes.
func (f Signature) check() (x, y span, err error) {
	x, y = nothing(), nothing()
	for i, d := range f.Days {
		if !finite(d.X) || !finite(d.Y) {
			return x, y, fmt.Errorf("signature %q: day %d is at %v, %v, want finite numbers", f.Title, i+1, d.X, d.Y)
		}
		x, y = x.with(d.X), y.with(d.Y)
	}
	if len(f.Days) == 0 {
		return x, y, fmt.Errorf("signature %q has no days: %w", f.Title, ErrEmpty)
	}
	for i, p := range f.Fit {
		if !finite(p.X) || !finite(p.Y) || i > 0 && p.X < f.Fit[i-1].X {
			return x, y, fmt.Errorf("signature %q: point %d of the fit is at %v, %v, want finite numbers in order", f.Title, i+1, p.X, p.Y)
		}
		x, y = x.with(p.X), y.with(p.Y, p.Line.Low, p.Line.High, p.ForADay.Low, p.ForADay.High)
	}
	if err := checkMarks(f.Design, f.Capacity, Mark{f.Predicted.Value, f.Predicted.Text}); err != nil {
		return x, y, fmt.Errorf("signature %q: %w", f.Title, err)
	}
	if f.Design.there() {
		x = x.with(f.Design.At)
	}
	if f.Capacity.there() {
		y = y.with(f.Capacity.At)
	}
	if f.Predicted.Text != "" {
		y = y.with(f.Predicted.Value, f.Predicted.Low, f.Predicted.High)
	}
	narrowest := 0.1 * max(abs(y.low), abs(y.high))
	if narrowest == 0 {
		narrowest = 1
	}
	return x.least(2).padded(0.06), y.least(narrowest).padded(0.08), nil
}

// The looks of a signature.
var (
	fitLine    = pen(blue, 2)
	dayEdge    = pen(blue, 0.9, 4, 3)
	designLine = pen(ink, 1.4)
	unitLine   = pen(brown, 1.4, 8, 3)
)

// SVG draws the signature.
func (f Signature) SVG() ([]byte, error) {
	x, y, err := f.check()
	if err != nil {
		return nil, err
	}
	s := newSheet()
	top := s.key(s.heading(f.Title)+4, f.signs()...) - 4
	p := s.stand(top, 0, 220, f.Y, x, y, func(p *panel) []pennant {
		if !f.Design.there() {
			return nil
		}
		return []pennant{{p.px(f.Design.At), f.Design.Text, designLine}}
	})
	f.bands(p)
	p.draw(s)
	if from, to, ok := f.unseen(); ok {
		s.hatch(pen(faint, 0.8), box{p.px(from), p.y, p.px(to) - p.px(from), p.h}, 9)
	}
	p.grid(s, round(x, 9, 1), round(y, 7, 1e-6))
	f.lines(s, p)
	for _, d := range f.Days {
		s.mark(f.sign(d), ink, p.px(d.X), p.py(d.Y), 2.8)
	}
	f.prediction(s, p)
	notes := f.Notes
	if f.Beyond != "" {
		notes = append([]string{"Hatched: " + f.Beyond}, notes...)
	}
	return s.svg(s.notes(p.floor(s, f.X), notes), f.Title, f.describe())
}

func (f Signature) sign(d SignatureDay) shape {
	if d.Unused {
		return ring
	}
	return disc
}

// bands puts both bands into the panel.
func (f Signature) bands(p *panel) {
	for i, c := range []struct{ of func(FitPoint) Range }{
		{func(q FitPoint) Range { return q.ForADay }}, {func(q FitPoint) Range { return q.Line }},
	} {
		var up, down []Point
		for _, q := range f.Fit {
			if r := c.of(q); finite(r.Low) && finite(r.High) {
				up, down = append(up, Point{q.X, r.High}), append([]Point{{q.X, r.Low}}, down...)
			}
		}
		if len(up) < 2 {
			continue
		}
		p.add(patch{append(up[:len(up):len(up)], down...), []color.RGBA{pale, middle}[i]})
		if i == 0 {
			p.add(stretch{up, dayEdge}, stretch{down, dayEdge})
		}
	}
}

// unseen is the stretch between the days and the design day.
func (f Signature) unseen() (from, to float64, ok bool) {
	days := nothing()
	for _, d := range f.Days {
		days = days.with(d.X)
	}
	switch at := f.Design.At; {
	case f.Beyond == "" || !f.Design.there():
		return 0, 0, false
	case at > days.high:
		return days.high, at, true
	case at < days.low:
		return at, days.low, true
	}
	return 0, 0, false
}

// lines draws the fit, the design day and the capacity.
func (f Signature) lines(s *sheet, p *panel) {
	line := func(st stroke, list ...Point) {
		for i := range list {
			list[i] = Point{p.px(list[i].X), p.py(list[i].Y)}
		}
		s.line(st, list...)
	}
	if f.Capacity.there() {
		at := f.Capacity.At
		line(unitLine, Point{p.p.X.Min, at}, Point{p.p.X.Max, at})
		s.say(p.x+4, p.py(at)-5, elide(f.Capacity.Text, p.w-4, plain), look{halo: true})
	}
	if f.Design.there() {
		line(designLine, Point{f.Design.At, p.p.Y.Min}, Point{f.Design.At, p.p.Y.Max})
	}
	var fit []Point
	for _, q := range f.Fit {
		fit = append(fit, Point{q.X, q.Y})
	}
	if len(fit) > 1 {
		line(fitLine, fit...)
	}
}

// prediction draws the value for the design day with its interval, and its words
// below the bands on the side of the design day that has room.
func (f Signature) prediction(s *sheet, p *panel) {
	if f.Predicted.Text == "" || !f.Design.there() {
		return
	}
	x, lowest := p.px(f.Design.At), f.Predicted.Value
	if finite(f.Predicted.Low) && finite(f.Predicted.High) {
		low, high := p.py(f.Predicted.Low), p.py(f.Predicted.High)
		s.line(pen(ink, 2.4), Point{x, low}, Point{x, high})
		s.line(pen(ink, 1.6), Point{x - 5, low}, Point{x + 5, low})
		s.line(pen(ink, 1.6), Point{x - 5, high}, Point{x + 5, high})
		lowest = f.Predicted.Low
	}
	s.mark(openDiamond, ink, x, p.py(f.Predicted.Value), 4.5)
	l := look{bold: true, halo: true}
	words := elide(f.Predicted.Text, p.w-10, l)
	w := measure(words, l)
	from := x + 8
	if from+w > wide {
		from, l.side = max(x-8-w, p.x), before
	}
	y := p.py(lowest)
	for _, q := range f.Fit {
		if at := p.px(q.X); at > from-12 && at < from+w+12 {
			y = max(y, p.py(q.Y))
			if finite(q.ForADay.Low) {
				y = max(y, p.py(q.ForADay.Low))
			}
		}
	}
	if l.side == before {
		from += w
	}
	s.say(from, min(y+14, p.y+p.h-5), words, l)
}

// level adds the level of the bands to what they mean.
func (f Signature) level(words string) string {
	if clean(f.Level) == "" {
		return words
	}
	return words + " (" + f.Level + ")"
}

func (f Signature) signs() []entry {
	list := []entry{{markSign(disc, ink), "a day"}}
	for _, d := range f.Days {
		if d.Unused {
			list = append(list, entry{markSign(ring, ink), "a day not used"})
			break
		}
	}
	if len(f.Fit) > 1 {
		list = append(list, entry{lineSign(fitLine), "fitted line"},
			entry{boxSign(middle, stroke{}, stroke{}), f.level("where the line may lie")},
			entry{boxSign(pale, dayEdge, stroke{}), f.level("where a single day may lie")})
	}
	return list
}

// describe says in words what the chart shows.
func (f Signature) describe() string {
	parts := []string{fmt.Sprintf("%s against %s, %d days.", f.Y, f.X, len(f.Days))}
	for _, words := range []string{f.Design.Text, f.Predicted.Text, f.Capacity.Text, f.Beyond} {
		if words != "" {
			parts = append(parts, words+".")
		}
	}
	return strings.Join(parts, " ")
}

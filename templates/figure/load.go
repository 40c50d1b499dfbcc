package figure

import (
	"fmt"
	"slices"
)

// Load is what heats a room, item by item, as found and as planned.
type Load struct {
	Title string
	Items []LoadItem
	Total LoadItem

	// Capacity is what the unit found can take out, PlannedCapacity what the unit
	// planned can; each is a line over its total. Without the latter the former
	// stands over both.
	Capacity, PlannedCapacity Mark
	Notes                     []string
}

// LoadItem is one part of a load. Its amounts share one unit; one that is below
// zero cools.
type LoadItem struct {
	Name           string
	Found, Planned Amount
}

// all are the items and the total.
func (f Load) all() []LoadItem { return append(slices.Clone(f.Items), f.Total) }

// check returns what cannot be drawn.
func (f Load) check() error {
	if len(f.Items) == 0 {
		return fmt.Errorf("load %q has no items: %w", f.Title, ErrEmpty)
	}
	for _, item := range f.all() {
		for _, a := range []Amount{item.Found, item.Planned} {
			if a.there() && !finite(a.Value) {
				return fmt.Errorf("load %q: %w", f.Title, notFinite(item.Name, a.Value))
			}
		}
	}
	if err := checkMarks(f.Capacity, f.PlannedCapacity); err != nil {
		return fmt.Errorf("load %q: %w", f.Title, err)
	}
	return nil
}

// both reports which of the two states have amounts.
func (f Load) both() (found, planned bool) {
	for _, item := range f.all() {
		found, planned = found || item.Found.there(), planned || item.Planned.there()
	}
	return found, planned
}

// scale is the range of the bars.
func (f Load) scale() span {
	s := span{0, 0}
	for _, item := range f.all() {
		s = s.with(item.Found.Value, item.Planned.Value)
	}
	for _, m := range []Mark{f.Capacity, f.PlannedCapacity} {
		if m.there() {
			s = s.with(m.At)
		}
	}
	return s.least(1)
}

// bars is a chart of horizontal bars being drawn.
type bars struct {
	scale          span
	width          float64 // of the scale on the sheet
	found, planned bool
}

func (b bars) x(v float64) float64 {
	return b.width * (v - b.scale.low) / (b.scale.high - b.scale.low)
}

const barHeight = 11.0

// SVG draws the load.
func (f Load) SVG() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	s := newSheet()
	y := s.heading(f.Title)
	b := bars{scale: f.scale()}
	b.found, b.planned = f.both()
	b.width = wide - f.widest() - 8
	y = s.key(y+4, b.signs()...) + 6
	for _, item := range f.Items {
		y = b.item(s, item, y)
	}
	s.line(pen(rule, 0.8), Point{0, y - 7}, Point{wide, y - 7})
	y = f.total(s, b, y+4)
	return s.svg(s.notes(y, f.Notes), f.Title, f.describe())
}

// widest is the room that the printed amounts need.
func (f Load) widest() float64 {
	w := 0.0
	for _, item := range f.all() {
		w = max(w, measure(clean(item.Found.Text), bold), measure(clean(item.Planned.Text), bold))
	}
	return min(w, wide/2)
}

// The looks of bars: as found is hatched, as planned is solid.
func foundBar(s *sheet, b box)   { bar(s, b, paper, pen(soft, 0.9), pen(soft, 0.9)) }
func plannedBar(s *sheet, b box) { bar(s, b, blue, stroke{}, stroke{}) }

func (b bars) signs() []entry {
	sign := func(draw func(*sheet, box)) func(*sheet, float64, float64) {
		return func(s *sheet, x, y float64) { draw(s, box{x, y - 5, 24, 10}) }
	}
	var list []entry
	if b.found {
		list = append(list, entry{sign(foundBar), "as found"})
	}
	if b.planned {
		list = append(list, entry{sign(plannedBar), "as planned"})
	}
	return list
}

// item draws one item and returns where the next begins.
func (b bars) item(s *sheet, item LoadItem, y float64) float64 {
	y = s.tell(0, y+3, wide, item.Name, plain) - plain.lead() + 5
	if b.found {
		y = b.bar(s, item.Found, y, foundBar, plain, Mark{})
	}
	if b.planned {
		y = b.bar(s, item.Planned, y, plannedBar, plain, Mark{})
	}
	return y + 14
}

// total draws the totals with the lines of capacity, and returns the y below.
func (f Load) total(s *sheet, b bars, y float64) float64 {
	y = s.tell(0, y+3, wide, f.Total.Name, bold) - bold.lead() + 6
	found, planned, top := f.Capacity, f.PlannedCapacity, y
	if !planned.there() {
		planned = found
	}
	if b.found {
		y = b.bar(s, f.Total.Found, y, foundBar, bold, found)
		if f.PlannedCapacity.there() || !b.planned {
			y = b.capacity(s, found, top, y)
			top = y
		}
	}
	if b.planned {
		y = b.bar(s, f.Total.Planned, y, plannedBar, bold, planned)
		y = b.capacity(s, planned, top, y)
	}
	return y
}

// capacity draws the line of a capacity over the bars between top and y, with its
// words below, and returns where the next bar begins.
func (b bars) capacity(s *sheet, m Mark, top, y float64) float64 {
	if !m.there() {
		return y
	}
	x, words := b.x(m.At), elide(m.Text, wide, plain)
	w := measure(words, plain)
	s.line(pen(paper, 5), Point{x, top - 2}, Point{x, y - 1})
	s.line(pen(ink, 2.2), Point{x, top - 3}, Point{x, y + 3})
	s.say(min(max(x-w/2, 0), wide-w)+w/2, y+13, words, plain.to(about))
	return y + 23
}

// bar draws one bar with its amount behind it and returns where the next begins.
func (b bars) bar(s *sheet, a Amount, y float64, draw func(*sheet, box), l look, capacity Mark) float64 {
	zero := b.x(0)
	end, words := zero, "not known"
	if a.there() {
		words, end = a.Text, b.x(a.Value)
		if end != zero {
			draw(s, box{min(zero, end), y, max(abs(end-zero), 0.8), barHeight})
		}
	}
	s.line(pen(rule, 0.8), Point{zero, y - 1}, Point{zero, y + barHeight + 1})
	x := max(zero, end) + 6
	if c := b.x(capacity.At); capacity.there() && c > x-4 && c < x+measure(words, l)+4 {
		x = c + 6
	}
	s.say(x, y+barHeight-2, elide(words, wide-x, l), l)
	return y + barHeight + 2
}

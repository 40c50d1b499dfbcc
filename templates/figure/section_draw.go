package figure

import (
	"fmt"
	"strings"
)

// Where things stand in a section, in units of the sheet.
const (
	sectionLeft   = 28.0  // air on the other side begins
	sectionWall   = 112.0 // layers begin
	sectionWidth  = 256.0 // of all layers
	sectionHeight = 180.0
)

// The lines of a section.
var (
	temperatureLine = pen(red, 2.2)
	dewPointLine    = pen(blue, 2.2, 6, 3)
)

// SVG draws the section.
func (f Section) SVG() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	s := newSheet()
	c := f.layout(sectionWall, sectionWidth)
	y := s.heading(f.Title)
	if len(f.Planes) > 0 {
		y = s.key(y+4, f.signs()...)
	}
	y = f.airs(s, y+8) + 4
	y = f.numbers(s, c, y)
	y = f.wall(s, c, y)
	y = f.drops(s, c, y)
	y = f.list(s, c, y+8)
	return s.svg(y, f.Title, f.describe(c))
}

func (f Section) signs() []entry {
	list := []entry{{lineSign(temperatureLine), "temperature"}, {lineSign(dewPointLine), "dew point"}}
	if len(f.Wet) > 0 {
		list = append(list, entry{func(s *sheet, x, y float64) { drop(s, x+14, y+1) }, "wet plane"})
	}
	return list
}

// airs writes both airs above their columns and returns the y below them.
func (f Section) airs(s *sheet, y float64) float64 {
	right := sectionWall + sectionWidth
	write := func(x, w float64, a AirSide, l side) float64 {
		below := s.tell(x, y, w, a.Name, bold.to(l))
		return s.tell(x, below, w, a.Humidity, plain.to(l))
	}
	a := write(0, sectionWall+20, f.Other, after)
	b := write(wide, wide-right+20, f.Room, before)
	if f.Other.Name != "" && f.Room.Name != "" {
		mid := sectionWall + sectionWidth/2
		s.line(pen(rule, 0.8), Point{mid - 30, y - 4}, Point{mid + 30, y - 4}, Point{mid + 25, y - 7})
		s.line(pen(rule, 0.8), Point{mid + 30, y - 4}, Point{mid + 25, y - 1})
		s.say(mid, y+9, "to the room", small.to(about))
	}
	return max(a, b, y+26)
}

// numbers draws the layers' numbers above the wall and returns where the wall
// begins.
func (f Section) numbers(s *sheet, c cut, y float64) float64 {
	const r, drop = 8.0, 14.0
	wished := make([]float64, len(f.Layers))
	for i := range f.Layers {
		wished[i] = (c.edges[i] + c.edges[i+1]) / 2
	}
	places := apart(wished, 2*r+3, sectionWall-24, sectionWall+sectionWidth+24)
	for i, x := range places {
		s.line(pen(rule, 0.7), Point{x, y + r}, Point{wished[i], y + r + drop})
		s.badge(x, y, i+1)
	}
	return y + r + drop
}

// badge draws a number in a circle.
func (s *sheet) badge(x, y float64, n int) {
	s.circle(pen(soft, 0.8), paper, x, y, 8)
	s.say(x, y+3.6, fmt.Sprint(n), look{size: 10, side: about})
}

// wall draws layers and lines and returns the y below them.
func (f Section) wall(s *sheet, c cut, y float64) float64 {
	for i, l := range f.Layers {
		s.material(box{c.edges[i], y, c.edges[i+1] - c.edges[i], sectionHeight}, l.Material)
	}
	for _, w := range f.Wet {
		x := c.x(w.Depth)
		s.line(pen(blue, 3.5), Point{x, y}, Point{x, y + sectionHeight + 4})
	}
	scale := f.scale()
	if scale.empty() {
		return y + sectionHeight
	}
	p := newPanel(box{sectionLeft, y, wide - sectionLeft, sectionHeight}, span{sectionLeft, wide}, scale)
	for _, t := range round(scale, 7, 1) {
		at := p.py(t.at)
		s.line(pen(rule, 0.4, 1, 3), Point{sectionLeft, at}, Point{wide, at})
		s.say(sectionLeft-5, at+3.5, t.text, small.to(before))
	}
	temperature, dewPoint := f.curves(c, sectionLeft, wide)
	for _, l := range [][]Point{temperature, dewPoint} {
		p.add(stretch{l, pen(paper, 4.5)})
	}
	p.add(stretch{temperature, temperatureLine}, stretch{dewPoint, dewPointLine})
	p.draw(s)
	f.ends(s, p)
	return y + sectionHeight
}

// ends writes the values of both airs at the ends of the lines: the higher above
// its line, the lower below.
func (f Section) ends(s *sheet, p *panel) {
	const column = sectionWall - sectionLeft + 20 // what the words may take
	write := func(x float64, a AirSide, l side) {
		t, d := a.Temperature, a.DewPoint
		up, down := -6.0, 14.0
		if t.there() && d.there() && d.At > t.At {
			up, down = down, up
		}
		if t.there() {
			s.say(x, p.py(t.At)+up, elide(t.Text, column, bold), look{bold: true, side: l, halo: true})
		}
		if d.there() {
			s.say(x, p.py(d.At)+down, elide(d.Text, column, plain), look{side: l, halo: true})
		}
	}
	write(sectionLeft+2, f.Other, after)
	write(wide, f.Room, before)
}

// drop draws a drop of water.
func drop(s *sheet, x, y float64) {
	list := []Point{{x, y - 7}, {x + 2.6, y - 2.4}, {x + 4, y + 0.6}, {x + 3.4, y + 3.2}, {x + 1.7, y + 4.8},
		{x, y + 5.2}, {x - 1.7, y + 4.8}, {x - 3.4, y + 3.2}, {x - 4, y + 0.6}, {x - 2.6, y - 2.4}}
	s.area(blue, list...)
}

// drops marks the wet planes under the wall and returns the y below them.
func (f Section) drops(s *sheet, c cut, y float64) float64 {
	if len(f.Wet) == 0 {
		return y
	}
	gap := 0.0
	wished := make([]float64, len(f.Wet))
	for i, w := range f.Wet {
		wished[i] = c.x(w.Depth)
		gap = max(gap, measure(w.label(i), bold)+24)
	}
	room := wide - sectionLeft
	if gap*float64(len(f.Wet)) > room { // letters alone
		gap = 34
	}
	for i, x := range apart(wished, gap, sectionLeft, wide-gap) {
		words := f.Wet[i].label(i)
		if measure(words, bold)+24 > gap {
			words = letter(i)
		}
		s.line(pen(blue, 1), Point{wished[i], y + 4}, Point{x, y + 11})
		drop(s, x, y+18)
		s.say(x+9, y+22, words, bold)
	}
	return y + 28
}

func (w WetPlane) label(i int) string { return strings.TrimSpace(letter(i) + " " + clean(w.Humidity)) }

// list writes the layers, the wet planes and the notes.
func (f Section) list(s *sheet, c cut, y float64) float64 {
	if f.Axis != "" && len(f.Planes) > 0 {
		y = s.tell(0, y+6, wide, "Vertical axis: "+f.Axis, small) + 4
	}
	y += 8
	for i, l := range f.Layers {
		s.badge(8, y, i+1)
		s.material(box{24, y - 6, 24, 12}, l.Material)
		w := min(measure(clean(l.Text), plain), wide/2-60)
		thickness := s.tell(wide, y+3.8, wide/2-60, l.Text, plain.to(before))
		y = max(s.tell(56, y+3.8, wide-56-w-12, l.Name, plain), thickness) + 0.5
	}
	for i, w := range f.Wet {
		drop(s, 8, y)
		y = s.tell(24, y+3.8, wide-24, w.words(i), bold) + 0.5
	}
	return s.notes(y-8, append(f.thickened(c), f.Notes...))
}

func (w WetPlane) words(i int) string {
	if clean(w.Words) == "" {
		return w.label(i)
	}
	return w.label(i) + ": " + clean(w.Words)
}

// thickened says which layers are not to scale.
func (f Section) thickened(c cut) []string {
	if len(c.thick) == 0 {
		return []string{"Layers are drawn to scale."}
	}
	var names []string
	for _, i := range c.thick {
		names = append(names, fmt.Sprint(i+1))
	}
	if len(names) == 1 {
		return []string{"Layers are drawn to scale, but for layer " + names[0] + ", too thin to see, which is drawn thicker."}
	}
	last := len(names) - 1
	return []string{"Layers are drawn to scale, but for layers " + strings.Join(names[:last], ", ") + " and " + names[last] +
		", too thin to see, which are drawn thicker."}
}

// describe says in words what the section shows.
func (f Section) describe(c cut) string {
	parts := []string{"From the other side to the room: " + f.Other.words() + "."}
	for i, l := range f.Layers {
		parts = append(parts, fmt.Sprintf("Layer %d: %s, %s.", i+1, l.Name, l.Text))
	}
	parts = append(parts, "Room: "+f.Room.words()+".")
	for i, w := range f.Wet {
		parts = append(parts, "Wet plane "+w.words(i)+".")
	}
	return strings.Join(append(parts, f.thickened(c)...), " ")
}

// words are name and values of an air.
func (a AirSide) words() string {
	list := []string{a.Name}
	if a.Temperature.there() {
		list = append(list, a.Temperature.Text)
	}
	if a.Humidity != "" {
		list = append(list, a.Humidity)
	}
	if a.DewPoint.there() {
		list = append(list, "dew point "+a.DewPoint.Text)
	}
	return strings.Join(list, ", ")
}

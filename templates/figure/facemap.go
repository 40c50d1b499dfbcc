package figure

import (
	"fmt"
	"math"
	"strings"
)

// FaceMap is a face to scale with the readings taken on it: moisture, depth of
// foam, surface temperature.
type FaceMap struct {
	Title         string
	Width, Height float64 // of the face, above 0, in the unit of the places
	WidthText     string  // as printed: "12 ft"
	HeightText    string
	View          string // "seen from the room"
	Limit         string // "at most 15 %"
	Openings      []Opening
	Readings      []MapReading

	// Columns is how many readings stand side by side when places are not known; 0
	// leaves that to the picture.
	Columns int
	Notes   []string
}

// MapReading is a reading on a face: X from the left end, Y from the bottom. If
// one of a map has no place, NaN, all of them stand in rows in their order.
type MapReading struct {
	Reading
	X, Y float64
}

// Opening is a door or window in a face, from its lower left corner.
type Opening struct {
	Name                string
	X, Y, Width, Height float64
}

// check returns what cannot be drawn.
func (f FaceMap) check() error {
	if len(f.Readings) == 0 {
		return fmt.Errorf("map %q has no readings: %w", f.Title, ErrEmpty)
	}
	if !finite(f.Width) || !finite(f.Height) || f.Width <= 0 || f.Height <= 0 || f.Width > 40*f.Height || f.Height > 40*f.Width {
		return fmt.Errorf("map %q: face is %v by %v, want both above 0 and within a ratio of 40", f.Title, f.Width, f.Height)
	}
	for _, r := range f.Readings {
		if finite(r.X) && finite(r.Y) && (outside(r.X, f.Width) || outside(r.Y, f.Height)) || math.IsInf(r.X, 0) || math.IsInf(r.Y, 0) {
			return fmt.Errorf("map %q: place %q is at %v, %v, outside of the face of %v by %v", f.Title, r.Place, r.X, r.Y, f.Width, f.Height)
		}
	}
	for _, o := range f.Openings {
		if outside(o.X, f.Width) || outside(o.Y, f.Height) || outside(o.X+o.Width, f.Width) || outside(o.Y+o.Height, f.Height) {
			return fmt.Errorf("map %q: opening %q lies outside of the face", f.Title, o.Name)
		}
	}
	return nil
}

// outside reports whether a place lies beyond an edge, with room for rounding.
func outside(v, length float64) bool { return !(v >= -1e-6*length && v <= length*(1+1e-6)) }

// placed are the readings with the places at which they are drawn, and whether
// these are true.
func (f FaceMap) placed() (list []MapReading, known bool) {
	known = true
	for _, r := range f.Readings {
		known = known && finite(r.X) && finite(r.Y)
	}
	if known {
		return f.Readings, true
	}
	n := len(f.Readings)
	columns := f.Columns
	if columns <= 0 {
		columns = int(math.Round(math.Sqrt(float64(n) * f.Width / f.Height)))
	}
	columns = min(max(columns, 1), n)
	rows := (n + columns - 1) / columns
	for i, r := range f.Readings {
		r.X = f.Width * (float64(i%columns) + 0.5) / float64(columns)
		r.Y = f.Height * (1 - (float64(i/columns)+0.5)/float64(rows))
		list = append(list, r)
	}
	return list, false
}

func (f FaceMap) readings() []Reading {
	var list []Reading
	for _, r := range f.Readings {
		list = append(list, r.Reading)
	}
	return list
}

// SVG draws the map.
func (f FaceMap) SVG() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	s := newSheet()
	y := s.tell(0, s.heading(f.Title)+10, wide, tally(f.readings(), f.Limit), plain) - 2
	y = s.key(y+3, readingKey(f.readings())...) + 4
	scale := min(400/f.Width, 300/f.Height)
	face := box{0, y, f.Width * scale, f.Height * scale}
	right := measure(f.heightText(), small)
	face.x = max((wide-face.w-right-8)/2, 0)
	s.frame(pen(soft, 1.4), face)
	for _, o := range f.Openings {
		b := o.on(face, scale)
		s.fill(lightGrey, b)
		s.frame(pen(rule, 0.9, 4, 2), b)
	}
	f.sizes(s, face)
	list, known := f.placed()
	left := f.marks(s, face, scale, list)
	y = face.y + face.h + 28
	notes := f.Notes
	if !known {
		notes = append([]string{"The places are in the order of the readings, not to scale."}, notes...)
	}
	if len(left) > 0 {
		notes = append([]string{"No room beside their marks: " + strings.Join(left, "; ") + "."}, notes...)
	}
	return s.svg(s.notes(y, notes), f.Title, tally(f.readings(), f.Limit)+" "+readingsInWords(f.readings()))
}

// on is the rectangle of an opening on a face drawn to a scale.
func (o Opening) on(face box, scale float64) box {
	return box{face.x + o.X*scale, face.y + face.h - (o.Y+o.Height)*scale, o.Width * scale, o.Height * scale}
}

// sizes writes width and height along the face, and how it is seen.
func (f FaceMap) sizes(s *sheet, face box) {
	words := elide(strings.Join(nonEmpty(f.WidthText, f.View), ", "), wide, small)
	w := measure(words, small) / 2
	s.say(min(max(face.x+face.w/2, w), wide-w), face.y+face.h+14, words, small.to(about))
	s.say(face.x+face.w+6, face.y+face.h/2+3.5, f.heightText(), small)
}

// heightText is the height as it stands beside the face.
func (f FaceMap) heightText() string { return elide(f.HeightText, 64, small) }

// marks draws the signs and sets the words of each where there is room, those
// first that matter most. It returns the words that found none.
func (f FaceMap) marks(s *sheet, face box, scale float64, list []MapReading) []string {
	type spot struct {
		MapReading
		x, y float64
	}
	var spots []spot
	var taken []box
	height := box{face.x + face.w + 4, face.y + face.h/2 - 8, wide, 16}
	for _, r := range list {
		p := spot{r, face.x + r.X*scale, face.y + face.h - r.Y*scale}
		size := 6.0
		if r.Worst {
			size = 11
		}
		spots, taken = append(spots, p), append(taken, box{p.x - size, p.y - size, 2 * size, 2 * size})
	}
	var left []string
	for rank := range 4 {
		for i, p := range spots {
			if p.rank() != rank {
				continue
			}
			at, ok := seat(p.x, p.y, p.Reading, taken[i].w/2, face, append(taken, height))
			if !ok {
				left = append(left, strings.TrimSpace(p.Place+" "+p.words()))
				continue
			}
			taken = append(taken, at)
			s.caption(p.x, p.y, at, p.Reading)
		}
	}
	for _, o := range f.Openings {
		b := o.on(face, scale)
		name := Reading{Text: o.Name}
		if at, ok := seat(b.x+b.w/2, b.y+b.h/2, name, -6, face, append(taken, height)); ok {
			taken = append(taken, at)
			s.say(at.x+at.w/2, at.y+at.h/2+3.5, o.Name, look{size: small.size, color: small.color, side: about, halo: true})
		}
	}
	for _, p := range spots {
		s.sign(p.Outcome, p.Worst, p.x, p.y)
	}
	return left
}

// captionSize is the room that the words of a reading take.
func captionSize(r Reading) (w, h float64) {
	w, h = measure(r.words(), bold), 12
	if clean(r.Place) != "" {
		w, h = max(w, measure(clean(r.Place), small)), 24
	}
	return w + 2, h
}

// seat finds room for the words of a reading near its sign: below, above, beside
// it, and farther away in widening rings; within the face if that can be.
func seat(x, y float64, r Reading, size float64, face box, taken []box) (box, bool) {
	w, h := captionSize(r)
	for _, within := range []box{face, {0, face.y, wide, face.h}} {
		for _, d := range []float64{1, 8, 16, 26, 38} {
			reach := size + d
			for _, at := range []box{
				{x - w/2, y + reach, w, h}, {x - w/2, y - reach - h, w, h},
				{x + reach, y - h/2, w, h}, {x - reach - w, y - h/2, w, h},
				{x + reach*0.7, y + reach*0.7, w, h}, {x - reach*0.7 - w, y + reach*0.7, w, h},
				{x + reach*0.7, y - reach*0.7 - h, w, h}, {x - reach*0.7 - w, y - reach*0.7 - h, w, h},
			} {
				if at.within(within) && free(at, taken) {
					return at, true
				}
			}
		}
	}
	return box{}, false
}

// within reports whether b lies in another rectangle.
func (b box) within(o box) bool {
	return b.x >= o.x && b.y >= o.y && b.x+b.w <= o.x+o.w && b.y+b.h <= o.y+o.h
}

// free reports whether nothing stands in a rectangle.
func free(at box, taken []box) bool {
	for _, b := range taken {
		if at.overlaps(b) {
			return false
		}
	}
	return true
}

// caption writes place and value of a reading into a rectangle, joined to its
// sign where that is not beside it.
func (s *sheet) caption(x, y float64, at box, r Reading) {
	nearX := min(max(x, at.x), at.x+at.w)
	nearY := min(max(y, at.y), at.y+at.h)
	if math.Hypot(nearX-x, nearY-y) > 16 {
		s.line(pen(rule, 0.8), Point{x, y}, Point{nearX, nearY})
	}
	l, where := look{side: after, halo: true}, at.x+1
	if at.x+at.w <= x {
		l.side, where = before, at.x+at.w-1
	} else if at.x < x {
		l.side, where = about, at.x+at.w/2
	}
	value := l
	value.bold = r.Worst || r.rank() < 3
	base := at.y + 10
	if clean(r.Place) != "" {
		l.size, l.color = small.size, small.color
		s.say(where, at.y+9, r.Place, l)
		base = at.y + 21
	}
	s.say(where, base, r.words(), value)
}

// Text sets the map for a terminal: the face with its signs, then the readings.
func (f FaceMap) Text(width int) string {
	if err := f.check(); err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	p.tell("", tally(f.readings(), f.Limit))
	list, known := f.placed()
	cols := min(p.width-2, 62)
	rows := min(max(int(math.Round(float64(cols)*f.Height/f.Width/2)), 5), 17)
	cols = min(cols, max(int(float64(rows)*2*f.Width/f.Height), 9))
	plate := newPlate(cols, rows, span{0, f.Width}, span{0, f.Height})
	for _, o := range f.Openings {
		plate.column(plate.col(o.X), o.Y+o.Height, o.Y, ':')
		plate.column(plate.col(o.X+o.Width), o.Y+o.Height, o.Y, ':')
	}
	for _, r := range list {
		col, row := plate.col(r.X), plate.row(r.Y)
		if r.Worst {
			plate.put(col-1, row, '[', false)
			plate.put(col+1, row, ']', false)
		}
		plate.put(col, row, r.rune(), false)
	}
	for _, r := range list {
		plate.caption(r)
	}
	p.add("┌" + strings.Repeat("─", cols) + "┐")
	for _, row := range plate.rows {
		p.add("│" + string(row) + "│")
	}
	p.add("└" + strings.Repeat("─", cols) + "┘")
	p.tell("", strings.Join(nonEmpty(size(f.WidthText, "wide"), size(f.HeightText, "high"), f.View), ", "))
	p.tell("", "o pass, X fail, ? undecided, [ ] the worst")
	if !known {
		p.tell("", "The places are in the order of the readings, not to scale.")
	}
	p.add("")
	p.list(f.readings())
	for _, words := range f.Notes {
		p.tell("", words)
	}
	return p.String()
}

// nonEmpty are the texts that say something.
func nonEmpty(words ...string) []string {
	var list []string
	for _, w := range words {
		if w = clean(w); w != "" {
			list = append(list, w)
		}
	}
	return list
}

// size is a length as printed with what it is the length of.
func size(length, of string) string {
	if clean(length) == "" {
		return ""
	}
	return length + " " + of
}

// caption writes a reading's value behind its sign, or below, if there is room.
func (p *plate) caption(r MapReading) {
	words := []rune(clean(r.Text))
	row, col := p.row(r.Y), p.col(r.X)
	if row < 0 || col < 0 || len(words) == 0 {
		return
	}
	behind := col + 2
	if r.Worst {
		behind = col + 3
	}
	if !p.write(row, behind, words) {
		p.write(row+1, col-len(words)/2, words)
	}
}

// write puts words where nothing stands, one character free on both sides.
func (p *plate) write(row, col int, words []rune) bool {
	if row >= len(p.rows) || col < 0 || col+len(words) > len(p.rows[row]) {
		return false
	}
	for i := max(col-1, 0); i < min(col+len(words)+1, len(p.rows[row])); i++ {
		if c := p.rows[row][i]; c != ' ' && !(i == col-1 && c == ']') {
			return false
		}
	}
	copy(p.rows[row][col:], words)
	return true
}

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
	if err := checkReadings(f.readings()); err != nil {
		return fmt.Errorf("map %q: %w", f.Title, err)
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

package figure

import (
	"fmt"
	"strings"
)

// Door is the outline of a door with the gaps read round it.
type Door struct {
	Title         string
	Width, Height float64 // of the leaf, above 0, in one unit
	WidthText     string
	HeightText    string
	View          string // "seen from the room"
	HingesRight   bool   // as it is seen
	Limit         string // "at most 1/8 in"
	Gaps          []DoorGap
	Notes         []string
}

// DoorGap is a reading at one side of a door. At is its place on that side: 0 at
// the bottom or the hinges, 1 at the top or the latch.
type DoorGap struct {
	Reading
	Side DoorSide
	At   float64
}

// DoorSide is one of the four sides of a door.
type DoorSide int

// The sides of a door.
const (
	Head DoorSide = iota
	HingeSide
	LatchSide
	Sill
)

var doorSides = []DoorSide{Head, HingeSide, LatchSide, Sill}

func (d DoorSide) String() string {
	if d < Head || d > Sill {
		return fmt.Sprintf("door side %d", int(d))
	}
	return [...]string{"head", "hinge side", "latch side", "sill"}[d]
}

// check returns what cannot be drawn.
func (f Door) check() error {
	if len(f.Gaps) == 0 {
		return fmt.Errorf("door %q has no readings: %w", f.Title, ErrEmpty)
	}
	if !finite(f.Width) || !finite(f.Height) || f.Width <= 0 || f.Height <= 0 || f.Width > 4*f.Height || f.Height > 8*f.Width {
		return fmt.Errorf("door %q is %v by %v, want the sizes of a door", f.Title, f.Width, f.Height)
	}
	for _, g := range f.Gaps {
		if g.Side < Head || g.Side > Sill || !(g.At >= 0 && g.At <= 1) {
			return fmt.Errorf("door %q: place %q is at %v of %s, want 0 to 1 of a side", f.Title, g.Place, g.At, g.Side)
		}
	}
	if err := checkReadings(f.readings()); err != nil {
		return fmt.Errorf("door %q: %w", f.Title, err)
	}
	return nil
}

// readings are those of all sides, their places with the side.
func (f Door) readings() []Reading {
	var list []Reading
	for _, g := range f.Gaps {
		g.Place = strings.Join(nonEmpty(g.Side.String(), g.Place), ", ")
		list = append(list, g.Reading)
	}
	return list
}

// on are the gaps of a side.
func (f Door) on(side DoorSide) []DoorGap {
	var list []DoorGap
	for _, g := range f.Gaps {
		if g.Side == side {
			list = append(list, g)
		}
	}
	return list
}

// SVG draws the door.
func (f Door) SVG() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	s := newSheet()
	y := s.tell(0, s.heading(f.Title)+10, wide, tally(f.readings(), f.Limit), plain) - 2
	y = s.key(y+3, readingKey(f.readings())...) + 44
	tall := 210.0
	for _, side := range []DoorSide{HingeSide, LatchSide} {
		tall = max(tall, float64(len(f.on(side)))*28)
	}
	scale := min(tall/f.Height, 200/f.Width)
	leaf := box{wide/2 - f.Width*scale/2, y, f.Width * scale, f.Height * scale}
	f.leaf(s, leaf)
	for _, side := range doorSides {
		f.side(s, leaf, side)
	}
	words := strings.Join(nonEmpty(strings.Join(nonEmpty(f.WidthText, f.HeightText), " by "), f.View), ", ")
	y = s.tell(wide/2, leaf.y+leaf.h+58, wide, words, small.to(about))
	return s.svg(s.notes(y-12, f.Notes), f.Title, tally(f.readings(), f.Limit)+" "+readingsInWords(f.readings()))
}

// leaf draws the door itself with hinges and knob.
func (f Door) leaf(s *sheet, b box) {
	s.fill(lightGrey, b)
	s.frame(pen(soft, 1.4), b)
	hinges, knob, words := b.x+10, b.x+b.w-14, after
	if f.HingesRight {
		hinges, knob, words = b.x+b.w-10, b.x+14, before
	}
	for _, share := range []float64{0.12, 0.4, 0.88} {
		s.fill(soft, box{hinges - 2, b.y + b.h*share - 6, 4, 12})
	}
	s.circle(pen(soft, 1.2), paper, knob, b.y+b.h*0.56, 4)
	x := hinges + 6
	if f.HingesRight {
		x = hinges - 6
	}
	s.say(x, b.y+b.h*0.4+3.5, elide("hinges", b.w-30, small), small.to(words))
}

// place is where a gap's sign stands.
func (f Door) place(b box, g DoorGap) (x, y float64) {
	along, left := g.At, g.Side == HingeSide != f.HingesRight
	if f.HingesRight {
		along = 1 - g.At
	}
	switch g.Side {
	case Head:
		return b.x + b.w*along, b.y
	case Sill:
		return b.x + b.w*along, b.y + b.h
	}
	if left {
		return b.x, b.y + b.h*(1-g.At)
	}
	return b.x + b.w, b.y + b.h*(1-g.At)
}

// side draws the signs and words of one side: outside of the leaf, kept apart.
func (f Door) side(s *sheet, b box, side DoorSide) {
	gaps := f.on(side)
	wished, widestWords := make([]float64, len(gaps)), 0.0
	for i, g := range gaps {
		x, y := f.place(b, g)
		wished[i] = y
		if side == Head || side == Sill {
			wished[i] = x
		}
		w, _ := captionSize(g.Reading)
		widestWords = min(max(widestWords, w), wide/float64(len(gaps))-8)
	}
	if side == Head || side == Sill {
		f.across(s, b, gaps, apart(wished, widestWords+8, widestWords/2, wide-widestWords/2))
		return
	}
	for i, at := range apart(wished, 27, b.y+6, b.y+b.h-6) {
		x, y := f.place(b, gaps[i])
		words, end, l := x+24, x+21, after
		if x < wide/2 {
			words, end, l = x-24, x-21, before
		}
		s.line(pen(rule, 0.7), Point{x, y}, Point{end, at})
		f.words(s, words, at-2, gaps[i].Reading, l, b.x-26)
		s.sign(gaps[i].Outcome, gaps[i].Worst, x, y)
	}
}

// across sets the words of head or sill in a row.
func (f Door) across(s *sheet, b box, gaps []DoorGap, places []float64) {
	for i, g := range gaps {
		x, y := f.place(b, g)
		base, end := y-26.0, y-12
		if g.Side == Sill {
			base, end = y+26, y+14
		}
		s.line(pen(rule, 0.7), Point{x, y}, Point{places[i], end})
		f.words(s, places[i], base, g.Reading, about, wide/float64(len(gaps))-8)
		s.sign(g.Outcome, g.Worst, x, y)
	}
}

// words writes place and value about y.
func (f Door) words(s *sheet, x, y float64, r Reading, l side, room float64) {
	if clean(r.Place) != "" {
		s.say(x, y, elide(r.Place, room, small), small.to(l))
		y += 12
	}
	s.say(x, y, elide(r.words(), room, bold), look{bold: r.rank() < 3, side: l})
}

// Text sets the door for a terminal: the sides in order, then the verdicts.
func (f Door) Text(width int) string {
	if err := f.check(); err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	p.tell("", tally(f.readings(), f.Limit))
	plate := newPlate(29, 11, span{-1.0 / 26, 1 + 1.0/26}, span{0, 1})
	frame := box{0, 0, 1, 1}
	for _, x := range []float64{0, 1} {
		plate.upright(x, '│')
	}
	for _, y := range []float64{0, 1} {
		for col := 2; col < 27; col++ {
			plate.put(col, plate.row(y), '─', true)
		}
	}
	for _, g := range f.Gaps {
		x, y := f.place(frame, g)
		plate.dot(x, 1-y, g.rune())
		if g.Worst {
			plate.put(plate.col(x)-1, plate.row(1-y), '[', false)
			plate.put(plate.col(x)+1, plate.row(1-y), ']', false)
		}
	}
	hinges := "hinges left"
	if f.HingesRight {
		hinges = "hinges right"
	}
	for _, row := range plate.rows {
		p.add(" " + string(row))
	}
	p.tell("", strings.Join(nonEmpty(size(f.WidthText, "wide"), size(f.HeightText, "high"), hinges, f.View), ", "))
	p.tell("", "o pass, X fail, ? undecided, [ ] the worst")
	p.add("")
	p.list(f.readings())
	for _, words := range f.Notes {
		p.tell("", words)
	}
	return p.String()
}

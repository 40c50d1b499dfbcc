package figure

import "math"

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
		for _, d := range rings[:reach(r)] {
			off := size + d
			for _, at := range []box{
				{x - w/2, y + off, w, h}, {x - w/2, y - off - h, w, h},
				{x + off, y - h/2, w, h}, {x - off - w, y - h/2, w, h},
				{x + off*0.7, y + off*0.7, w, h}, {x - off*0.7 - w, y + off*0.7, w, h},
				{x + off*0.7, y - off*0.7 - h, w, h}, {x - off*0.7 - w, y - off*0.7 - h, w, h},
			} {
				if at.within(within) && free(at, taken) {
					return at, true
				}
			}
		}
	}
	return box{}, false
}

// rings are the distances from a sign at which its words are tried.
var rings = []float64{1, 8, 16, 26, 38, 55, 80, 110, 150, 200, 260}

// reach is how many rings are tried: all of them for the worst reading, which is
// not to go without words.
func reach(r Reading) int {
	if r.Worst {
		return len(rings)
	}
	return 5
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

package figure

import (
	"cmp"
	"slices"
)

// pennant is a moment marked above a panel: words beside a pole that stands in
// the panel.
type pennant struct {
	x     float64 // of the pole on the sheet
	words string
	look  stroke
}

// flagRow is the height of a row of pennants.
const flagRow = 14.0

// flown is where the words of a pennant are.
type flown struct {
	pennant
	row      int
	from, to float64
	side     side
}

// crosses reports whether the words of one of two pennants lie on those of the
// other, or on its pole.
func (f flown) crosses(o flown) bool {
	switch {
	case f.row == o.row:
		return f.overlaps(o)
	case f.row < o.row:
		return f.from-2 < o.x && o.x < f.to+2
	}
	return o.from-2 < f.x && f.x < o.to+2
}

// overlaps reports whether the words of two pennants meet in one row.
func (f flown) overlaps(o flown) bool {
	return f.row == o.row && f.from < o.to+8 && o.from < f.to+8
}

// pennants sets the words of pennants in rows above y so that they cross neither
// words nor, where that can be, poles, and returns the number of rows. With a nil sheet it only
// counts.
func pennants(s *sheet, list []pennant, y float64) int {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b pennant) int { return cmp.Compare(b.x, a.x) })
	var all []flown
	rows := 0
	for _, p := range list {
		f := fly(p)
		for slices.ContainsFunc(all, f.crosses) && f.row <= len(list) {
			f.row++
		}
		if f.row > len(list) { // no row is free of poles: one free of words, then
			for f.row = 0; slices.ContainsFunc(all, f.overlaps); f.row++ {
			}
		}
		all, rows = append(all, f), max(rows, f.row+1)
	}
	for _, f := range all {
		if s == nil {
			break
		}
		base := y - float64(f.row)*flagRow
		s.line(f.look, Point{f.x, base - 13}, Point{f.x, y})
		if f.side == after {
			s.say(f.from, base-4, f.words, look{halo: true})
		} else {
			s.say(f.to, base-4, f.words, look{side: before, halo: true})
		}
	}
	return rows
}

// fly puts the words of a pennant to the right of its pole, or to the left where
// there is more room for them.
func fly(p pennant) flown {
	right, left := wide-p.x-4, p.x-4
	p.words = elide(p.words, max(right, left), plain)
	w := measure(p.words, plain)
	if w <= right {
		return flown{pennant: p, from: p.x + 4, to: p.x + 4 + w}
	}
	return flown{pennant: p, from: left - w, to: left, side: before}
}

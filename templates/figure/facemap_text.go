package figure

import (
	"math"
	"strings"
)

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

package figure

import "strings"

// describe says in words what the chart shows.
func (f PullDown) describe() string {
	var names, parts []string
	for _, t := range f.tracks() {
		names = append(names, t.name)
	}
	parts = append(parts, f.Axis+", over "+strings.ToLower(f.Hours)+": "+strings.Join(names, "; ")+".")
	for _, m := range append([]Mark{f.SetPoint, f.Goal}, f.marks()...) {
		if m.there() {
			parts = append(parts, m.Text+".")
		}
	}
	return strings.Join(parts, " ")
}

// Text sets the chart for a terminal.
func (f PullDown) Text(width int) string {
	x, y, err := f.check()
	if err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	p.tell("", f.Axis)
	plate := newPlate(p.width-gutter, 16, x, y)
	for _, t := range f.tracks() {
		plate.trace(thin(t.points, x, p.width-gutter), t.sign)
	}
	signs := []rune{'L', 'A', 'P'}
	for i, m := range f.marks() {
		if m.there() {
			plate.upright(m.At, '│')
			plate.put(plate.col(m.At), 0, signs[i], false)
		}
	}
	for i, m := range []Mark{f.SetPoint, f.Goal} {
		if m.there() {
			plate.level(m.At, []rune{'─', '┄'}[i])
		}
	}
	plate.print(p, hourly(x, 10), round(y, 6, 1))
	p.tell("", f.Hours)
	for _, t := range f.tracks() {
		p.tell(string(t.sign)+"  ", t.name)
	}
	for i, m := range []Mark{f.SetPoint, f.Goal} {
		if m.there() {
			p.tell([]string{"─  ", "┄  "}[i], m.Text)
		}
	}
	for i, m := range f.marks() {
		if m.there() {
			p.tell(string(signs[i])+"  ", m.Text)
		}
	}
	for _, words := range f.Notes {
		p.tell("", words)
	}
	return p.String()
}

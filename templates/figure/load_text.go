package figure

import "strings"

// describe says in words what the bars show.
func (f Load) describe() string {
	var parts []string
	for _, item := range f.all() {
		words := item.Name + ":"
		if item.Found.there() {
			words += " " + item.Found.Text + " as found"
		}
		if item.Planned.there() {
			words += " " + item.Planned.Text + " as planned"
		}
		parts = append(parts, words+".")
	}
	for _, m := range []Mark{f.Capacity, f.PlannedCapacity} {
		if m.there() {
			parts = append(parts, m.Text+".")
		}
	}
	return strings.Join(parts, " ")
}

// Text sets the bars for a terminal.
func (f Load) Text(width int) string {
	if err := f.check(); err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	found, planned := f.both()
	amounts := []string{"not known"}
	for _, item := range f.all() {
		amounts = append(amounts, item.Found.Text, item.Planned.Text)
	}
	n := min(widest(amounts...), p.width/3)
	const states = len("as planned ")
	cols := p.width - n - states - 2
	write := func(item LoadItem, capacity, plannedCapacity Mark) {
		p.tell("", item.Name)
		if found {
			p.add("  " + cell("as found", states, false) + f.row(item.Found, n, cols-3, '░', capacity))
		}
		if planned {
			p.add("  " + cell("as planned", states, false) + f.row(item.Planned, n, cols-3, '█', plannedCapacity))
		}
	}
	for _, item := range f.Items {
		write(item, Mark{}, Mark{})
	}
	p.add(strings.Repeat("─", p.width))
	ahead := f.PlannedCapacity
	if !ahead.there() {
		ahead = f.Capacity
	}
	write(f.Total, f.Capacity, ahead)
	for _, m := range []Mark{f.Capacity, f.PlannedCapacity} {
		if m.there() {
			p.tell("┃ ", m.Text)
		}
	}
	for _, words := range f.Notes {
		p.tell("", words)
	}
	return p.String()
}

// row is one bar as characters behind its amount.
func (f Load) row(a Amount, n, cols int, r rune, capacity Mark) string {
	if !a.there() {
		return cell("not known", n, true)
	}
	scale := f.scale()
	plate := newPlate(cols, 1, scale, span{0, 1})
	from, to := plate.col(min(a.Value, 0)), plate.col(max(a.Value, 0))
	for col := from; col < max(to, from+1) && a.Value != 0; col++ {
		plate.put(col, 0, r, false)
	}
	if capacity.there() {
		plate.dot(capacity.At, 0, '┃')
	}
	return cell(a.Text, n, true) + " " + string(plate.rows[0])
}

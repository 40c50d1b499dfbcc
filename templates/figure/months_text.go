package figure

// Text sets the months for a terminal: one row for each.
func (f Months) Text(width int) string {
	y, err := f.check()
	if err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	p.tell("", f.Axis)
	name, size := min(widest(f.Names...), 10), 0
	for _, m := range f.all() {
		for i := range m.Values {
			size = min(max(size, widest(m.text(i))), 14)
		}
	}
	cols := p.width - name - size - 4
	for i, month := range f.Names {
		for k, m := range f.all() {
			p.columns([]column{{month, name, false}, {m.text(i), size, true}}, f.line(i, k, y, cols))
			month = ""
		}
	}
	for k, m := range f.all() {
		p.tell(string(f.sign(k))+"  ", m.Name)
	}
	if f.Limit.there() {
		p.tell("┃  ", f.Limit.Text)
	}
	for _, words := range f.Notes {
		p.tell("", words)
	}
	return p.String()
}

// sign is the character of the k-th of all series: a bar, or the dot of the sum.
func (f Months) sign(k int) rune {
	switch {
	case k == len(f.Series):
		return '●'
	case k == 0 && len(f.Series) == 2:
		return '░'
	}
	return '█'
}

// line draws the k-th value of a month.
func (f Months) line(i, k int, y span, cols int) string {
	plate := newPlate(cols, 1, y, span{0, 1})
	zero := plate.col(0)
	if k == len(f.Series) {
		plate.dot(f.Sum.Values[i], 0, f.sign(k))
	} else if v := f.Series[k].Values[i]; finite(v) && v != 0 {
		for col := min(zero, plate.col(v)); col < max(zero, plate.col(v), min(zero, plate.col(v))+1); col++ {
			plate.put(col, 0, f.sign(k), false)
		}
	}
	plate.put(zero, 0, '│', true)
	if f.Limit.there() {
		plate.put(plate.col(f.Limit.At), 0, '┃', false)
	}
	return string(plate.rows[0])
}

package figure

// Text sets the chart for a terminal.
func (f Signature) Text(width int) string {
	x, y, err := f.check()
	if err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	p.tell("", f.Y)
	plate := newPlate(p.width-gutter, 18, x, y)
	var low, high, fit []Point
	for _, q := range f.Fit {
		low, high, fit = append(low, Point{q.X, q.ForADay.Low}), append(high, Point{q.X, q.ForADay.High}), append(fit, Point{q.X, q.Y})
	}
	plate.trace(low, '.')
	plate.trace(high, '.')
	plate.trace(fit, '-')
	for _, d := range f.Days {
		sign := 'o'
		if d.Unused {
			sign = 'x'
		}
		plate.dot(d.X, d.Y, sign)
	}
	if f.Design.there() {
		plate.upright(f.Design.At, '│')
		if r := f.Predicted; r.Text != "" {
			plate.dot(f.Design.At, r.Low, '┴')
			plate.dot(f.Design.At, r.High, '┬')
			plate.dot(f.Design.At, r.Value, '◆')
		}
	}
	if f.Capacity.there() {
		plate.level(f.Capacity.At, '═')
	}
	plate.print(p, round(x, 10, 1), round(y, 7, 1e-6))
	f.legend(p)
	return p.String()
}

// legend adds what the characters mean.
func (f Signature) legend(p *page) {
	p.tell("", f.X)
	signs := "o a day"
	for _, d := range f.Days {
		if d.Unused {
			signs += ", x a day not used"
			break
		}
	}
	if len(f.Fit) > 1 {
		signs += ", - fitted line, . " + f.level("where a single day may lie")
	}
	p.tell("", signs)
	for _, e := range []struct{ sign, words string }{{"│  ", f.Design.Text}, {"◆  ", f.Predicted.Text}, {"═  ", f.Capacity.Text}, {"", f.Beyond}} {
		if e.words != "" {
			p.tell(e.sign, e.words)
		}
	}
	for _, words := range f.Notes {
		p.tell("", words)
	}
}

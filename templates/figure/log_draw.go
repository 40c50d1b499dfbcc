package figure

import (
	"fmt"
	"image/color"
	"slices"
	"strings"
)

// SVG draws the log.
func (f Log) SVG() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	s := newSheet()
	y := s.heading(f.Title)
	right := f.labelRoom()
	moments := f.pennants
	for i, p := range f.Panels {
		h := 150.0
		if i > 0 {
			h, moments = 110, nil
		}
		h = max(h, 15*float64(len(p.Lines)))
		y = f.panel(s, i, y, h, right, moments) + 14
	}
	if f.Duty != nil {
		y = f.strip(s, y, right) + 14
	}
	y = f.foot(s, y-14, right)
	y = f.excursions(s, y)
	notes := f.Notes
	if words := f.paleNote(right); words != "" {
		notes = append([]string{words}, notes...)
	}
	return s.svg(s.notes(y, notes), f.Title, f.describe())
}

// windows is into how many parts the time axis of a panel is cut for means: of an
// hour, or of a unit of the sheet where that is longer.
func (f Log) windows(w float64) int {
	return max(int(min(w, f.To.Sub(f.From).Hours())), 1)
}

// dense reports whether a line has so many samples in each window that its mean
// says more than they do.
func (f Log) dense(l LogLine, windows int) bool {
	from, _ := slices.BinarySearch(l.Times, f.From.UnixMilli())
	to, _ := slices.BinarySearch(l.Times, f.To.UnixMilli())
	return windows >= 12 && to-from > 4*windows
}

// paleNote says what strong and pale lines are, if there are any.
func (f Log) paleNote(right float64) string {
	w := wide - leftGutter - right
	for _, p := range f.Panels {
		for _, l := range p.Lines {
			if n := f.windows(w); f.dense(l, n) {
				return fmt.Sprintf("Strong: means of %.0f minutes. Pale: from the lowest to the highest reading.",
					f.To.Sub(f.From).Minutes()/float64(n))
			}
		}
	}
	return ""
}

// labelRoom is the width right of the panels.
func (f Log) labelRoom() float64 {
	var names []string
	for _, p := range f.Panels {
		for _, l := range p.Lines {
			names = append(names, l.Name)
		}
	}
	if f.Duty != nil {
		names = append(names, f.Duty.Text)
	}
	return room(140, names...)
}

func (f Log) pennants(p *panel) []pennant {
	var list []pennant
	for _, m := range f.Moments {
		if x := f.ms(m.At); x >= 0 && x <= f.axis().high {
			list = append(list, pennant{p.px(x), m.Words, pen(green, 1.4)})
		}
	}
	return list
}

// looks of the i-th line: colour and mark.
func looks(i int) (stroke, shape) {
	return pen(hues[i%len(hues)], 1.3), shapes[i%len(shapes)]
}

// paleOf is the look of a line's extremes: pale, so that the means of all lines
// can be told apart where their extremes cross.
func paleOf(look stroke) stroke {
	r, g, b, _ := look.Color.RGBA()
	look.Color = color.NRGBA{uint8(r >> 8), uint8(g >> 8), uint8(b >> 8), 0x73}
	look.Width = 1
	return look
}

// panel draws the k-th quantity and returns the y below it.
func (f Log) panel(s *sheet, k int, y, h, right float64, moments func(*panel) []pennant) float64 {
	lp := f.Panels[k]
	scale := f.scale(lp)
	axis := lp.Axis
	if lp.Band.Text != "" {
		axis = strings.TrimSpace(clean(lp.Axis) + " · shaded: " + clean(lp.Band.Text))
	}
	p := s.stand(y, right, h, axis, f.axis(), scale, moments)
	if b := lp.Band; b.Text != "" {
		in := span{max(b.Low, scale.low), min(b.High, scale.high)}
		s.fill(shade, box{p.x, p.py(in.high), p.w, p.py(in.low) - p.py(in.high)})
	}
	lines, _ := f.days(9)
	for _, t := range lines {
		s.line(hairline, Point{p.px(t.at), p.y}, Point{p.px(t.at), p.y + p.h})
	}
	p.grid(s, nil, round(scale, 6, 1))
	for _, edge := range []float64{lp.Band.Low, lp.Band.High} {
		if lp.Band.Text != "" && finite(edge) {
			p.add(p.level(edge, pen(green, 0.9, 5, 3)))
		}
	}
	for _, m := range f.Moments {
		p.add(p.upright(f.ms(m.At), pen(green, 1.4)))
	}
	drawn, ends := f.curves(p, lp)
	p.draw(s)
	for i, points := range drawn {
		f.marks(s, p, points, i, len(drawn))
	}
	f.brackets(s, p, k)
	p.endings(s, ends)
	return p.y + p.h
}

// curves puts the lines of a panel into it: where they are dense their extremes
// pale and their means over them. It returns what stands in front, and the labels.
func (f Log) curves(p *panel, lp LogPanel) (drawn [][]Point, ends []ending) {
	for i, l := range lp.Lines {
		look, sign := looks(i)
		line, _ := f.thinned(l, int(p.w))
		if n := f.windows(p.w); f.dense(l, n) {
			p.add(stretch{line, paleOf(look)})
			_, line = f.thinned(l, n)
		}
		drawn = append(drawn, line)
		ends = append(ends, ending{p.py(last(line)), l.Name, look, sign, true})
	}
	for i, line := range drawn {
		look, _ := looks(i)
		p.add(stretch{line, pen(paper, 2.6)}, stretch{line, look})
	}
	return drawn, ends
}

// marks puts the mark of a line on it in a few places, apart from those of the
// other lines.
func (f Log) marks(s *sheet, p *panel, points []Point, i, n int) {
	look, sign := looks(i)
	const times = 4
	step := f.axis().high / times
	next := step * (float64(i) + 0.5) / float64(n)
	for _, v := range points {
		if v.X < next || !finite(v.Y) {
			continue
		}
		s.mark(sign, look.Color, p.px(v.X), p.py(v.Y), 3)
		for next <= v.X {
			next += step
		}
	}
}

// mostNumbers is how many excursions of a panel get a number and a line below.
const mostNumbers = 12

// brackets marks the excursions: a bar outside of the peak, with its number.
func (f Log) brackets(s *sheet, p *panel, k int) {
	lp := f.Panels[k]
	var middles []float64
	for _, e := range lp.Excursions {
		from, to := f.ends(p, e)
		middles = append(middles, (from+to)/2)
	}
	places := apart(middles[:min(len(middles), mostNumbers)], 17, p.x+5, p.x+p.w-5)
	for i, e := range lp.Excursions {
		if !finite(e.Peak) {
			continue
		}
		from, to := f.ends(p, e)
		y, words := p.py(e.Peak)-5, -3.0
		if lp.Band.Text != "" && e.Peak < lp.Band.Low {
			y, words = p.py(e.Peak)+5, 12
		}
		s.line(pen(red, 2.5), Point{min(from, middles[i]-3), y}, Point{max(to, middles[i]+3), y})
		if i < len(places) {
			s.say(places[i], y+words, fmt.Sprint(f.before(k)+i+1), look{size: 10, bold: true, color: red, side: about, halo: true})
		}
	}
}

// ends are where an excursion begins and ends on the sheet.
func (f Log) ends(p *panel, e Excursion) (from, to float64) {
	in := func(v float64) float64 { return p.px(min(max(v, 0), f.axis().high)) }
	return in(f.ms(e.From)), in(f.ms(e.To))
}

// before is how many excursions the panels before the k-th have.
func (f Log) before(k int) int {
	n := 0
	for _, p := range f.Panels[:k] {
		n += len(p.Excursions)
	}
	return n
}

// strip draws when the unit ran and returns the y below it.
func (f Log) strip(s *sheet, y, right float64) float64 {
	p := s.stand(y, right, 26, f.Duty.Name, f.axis(), span{0, 1}, nil)
	s.fill(lightGrey, p.box)
	columns := int(p.w / 3)
	step := p.w / float64(columns)
	hills := []Point{{p.x, p.y + p.h}}
	for i, share := range f.share(f.Duty.Running, columns) {
		y := p.y + p.h*(1-share)
		hills = append(hills, Point{p.x + float64(i)*step, y}, Point{p.x + float64(i+1)*step, y})
	}
	s.area(soft, append(hills, Point{p.x + p.w, p.y + p.h})...)
	for _, t := range f.Duty.Unknown {
		from, to := max(f.ms(t.From), 0), min(f.ms(t.To), f.axis().high)
		if from < to {
			bar(s, box{p.px(from), p.y, p.px(to) - p.px(from), p.h}, paper, pen(rule, 0.8), pen(rule, 0.8))
		}
	}
	s.say(p.x-5, p.y+8, "100 %", small.to(before))
	s.say(p.x-5, p.y+p.h, "0", small.to(before))
	text := upTo(2, f.Duty.Text, wide-p.x-p.w-10, plain)
	for i, words := range text {
		s.say(p.x+p.w+10, p.y+p.h/2+3.5+plain.lead()*(float64(i)-float64(len(text)-1)/2), words, plain)
	}
	return p.y + p.h
}

// foot draws the time axis under the lowest panel and returns the y below it.
func (f Log) foot(s *sheet, y, right float64) float64 {
	p := newPanel(box{leftGutter, y, wide - leftGutter - right, 0}, f.axis(), span{0, 1})
	lines, names := f.days(int(p.w / 42))
	s.line(pen(rule, 0.8), Point{p.x, y}, Point{p.x + p.w, y})
	p.footing(s, lines)
	for _, t := range names {
		s.say(p.px(t.at), y+15, t.text, small.to(about))
	}
	return p.floor(s, f.Clock)
}

// excursions lists what the numbers stand for.
func (f Log) excursions(s *sheet, y float64) float64 {
	n := 0
	for _, p := range f.Panels {
		for i, e := range p.Excursions {
			if n++; i < mostNumbers {
				s.say(14, y+14, fmt.Sprint(n), look{bold: true, color: red, side: before})
				y = s.tell(20, y+14, wide-20, e.Words, plain) - 14
			}
		}
		if len(p.Excursions) > mostNumbers {
			y = s.tell(20, y+14, wide-20, fmt.Sprintf("… and %d more", len(p.Excursions)-mostNumbers), plain) - 14
		}
	}
	return y
}

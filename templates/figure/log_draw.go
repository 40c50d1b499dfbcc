package figure

import (
	"fmt"
	"image/color"
	"math"
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
		y = f.panel(s, p, y, h, right, moments) + 14
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

// panel draws one quantity and returns the y below it.
func (f Log) panel(s *sheet, lp LogPanel, y, h, right float64, moments func(*panel) []pennant) float64 {
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
	ends := make([]ending, 0, len(lp.Lines))
	drawn := make([][]Point, len(lp.Lines))
	for i, l := range lp.Lines {
		look, sign := looks(i)
		drawn[i], _ = f.thinned(l, int(p.w))
		if n := f.windows(p.w); f.dense(l, n) {
			p.add(stretch{drawn[i], paleOf(look)})
			_, drawn[i] = f.thinned(l, n)
		}
		ends = append(ends, ending{p.py(last(drawn[i])), l.Name, look, sign, true})
	}
	for i, line := range drawn {
		look, _ := looks(i)
		p.add(stretch{line, pen(paper, 2.6)}, stretch{line, look})
	}
	p.draw(s)
	for i, points := range drawn {
		f.marks(s, p, points, i, len(drawn))
	}
	f.brackets(s, p, lp)
	p.endings(s, ends)
	return p.y + p.h
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

// mostNumbers is how many excursions of a panel get a number.
const mostNumbers = 12

// brackets marks the excursions: a bar outside of the peak, with its number.
func (f Log) brackets(s *sheet, p *panel, lp LogPanel) {
	for i, e := range lp.Excursions {
		if !finite(e.Peak) {
			continue
		}
		from, to := p.px(max(f.ms(e.From), 0)), p.px(min(f.ms(e.To), f.axis().high))
		up := lp.Band.Text == "" || e.Peak > lp.Band.High
		mid := (from + to) / 2
		from, to = min(from, mid-3), max(to, mid+3)
		y, words := p.py(e.Peak)-5, -3.0
		if !up {
			y, words = p.py(e.Peak)+5, 12
		}
		s.line(pen(red, 2.5), Point{from, y}, Point{to, y})
		if len(lp.Excursions) <= mostNumbers {
			s.say(mid, y+words, fmt.Sprint(f.before(lp)+i+1), look{size: 10, bold: true, color: red, side: about, halo: true})
		}
	}
}

// before is how many excursions are numbered in the panels before one.
func (f Log) before(lp LogPanel) int {
	n := 0
	for _, p := range f.Panels {
		if p.Axis == lp.Axis {
			break
		}
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

// describe says in words what the log shows.
func (f Log) describe() string {
	parts := []string{fmt.Sprintf("From %s to %s.", f.From.Format("2006-01-02 15:04"), f.To.Format("2006-01-02 15:04"))}
	for _, p := range f.Panels {
		parts = append(parts, p.Axis+":")
		for _, l := range p.Lines {
			parts = append(parts, f.extremesOf(l)+";")
		}
		if p.Band.Text != "" {
			parts = append(parts, p.Band.Text+".")
		}
		for _, e := range p.Excursions {
			parts = append(parts, "Outside: "+e.Words+".")
		}
	}
	if f.Duty != nil {
		parts = append(parts, f.Duty.Name+": "+f.Duty.Text+".")
	}
	for _, m := range f.Moments {
		parts = append(parts, m.Words+": "+m.At.In(f.From.Location()).Format("2006-01-02 15:04")+".")
	}
	return strings.Join(parts, " ")
}

// extremesOf is a line's name with its least and greatest value shown.
func (f Log) extremesOf(l LogLine) string {
	s := f.extent(LogPanel{Lines: []LogLine{l}})
	if s.empty() {
		return l.Name + ": no values"
	}
	return fmt.Sprintf("%s: %s to %s", l.Name, figures(s.low), figures(s.high))
}

// figures writes a value with four figures at most.
func figures(v float64) string {
	if v == 0 {
		return "0"
	}
	decimals := max(0, 3-int(math.Floor(math.Log10(abs(v)))))
	text := number(v, min(decimals, 6))
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

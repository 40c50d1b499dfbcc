package figure

import (
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// panel is a rectangle of a sheet with two axes. gonum's plot scales and clips
// what is drawn in it; ticks and words are set by the sheet.
type panel struct {
	box
	p *plot.Plot
}

func newPanel(b box, x, y span) *panel {
	p := plot.New()
	p.BackgroundColor = nil
	p.HideAxes()
	p.X.Padding, p.Y.Padding = 0, 0
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = x.low, x.high, y.low, y.high
	return &panel{box: b, p: p}
}

// px and py are where values stand on the sheet.
func (p *panel) px(x float64) float64 { return p.x + p.w*p.p.X.Norm(x) }
func (p *panel) py(y float64) float64 { return p.y + p.h*(1-p.p.Y.Norm(y)) }

// add puts something into the panel, above what is there.
func (p *panel) add(ps ...plot.Plotter) { p.p.Add(ps...) }

// draw puts the panel on the sheet.
func (p *panel) draw(s *sheet) {
	p.p.Draw(draw.Canvas{Canvas: s.lines, Rectangle: vg.Rectangle{
		Min: at(p.x, p.y+p.h), Max: at(p.x+p.w, p.y),
	}})
}

// stretch is a line through values, broken where one is NaN.
type stretch struct {
	points []Point
	look   stroke
}

// Plot draws the line within the panel.
func (l stretch) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	var run []vg.Point
	flush := func() {
		if len(run) == 1 { // a single value still shows
			run = append(run, vg.Point{X: run[0].X + 0.8, Y: run[0].Y})
		}
		c.StrokeLines(l.look, c.ClipLinesXY(run)...)
		run = nil
	}
	for _, v := range l.points {
		if !finite(v.Y) || !finite(v.X) {
			flush()
			continue
		}
		run = append(run, vg.Point{X: x(v.X), Y: y(v.Y)})
	}
	flush()
}

// patch is a filled polygon in values.
type patch struct {
	points []Point
	fill   color.Color
}

// Plot fills the part of the polygon within the panel.
func (a patch) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	list := make([]vg.Point, len(a.points))
	for i, v := range a.points {
		list[i] = vg.Point{X: x(v.X), Y: y(v.Y)}
	}
	c.FillPolygon(a.fill, c.ClipPolygonXY(list))
}

// level is a horizontal line over the panel's whole width.
func (p *panel) level(y float64, st stroke) stretch {
	return stretch{[]Point{{p.p.X.Min, y}, {p.p.X.Max, y}}, st}
}

// upright is a vertical line over the panel's whole height.
func (p *panel) upright(x float64, st stroke) stretch {
	return stretch{[]Point{{x, p.p.Y.Min}, {x, p.p.Y.Max}}, st}
}

// grid draws the lines of the ticks and writes their words.
func (p *panel) grid(s *sheet, xs, ys []tick) {
	for _, t := range ys {
		y := p.py(t.at)
		s.line(hairline, Point{p.x, y}, Point{p.x + p.w, y})
		s.say(p.x-5, y+3.5, t.text, small.to(before))
	}
	p.footing(s, xs)
	s.line(pen(rule, 0.8), Point{p.x, p.y + p.h}, Point{p.x + p.w, p.y + p.h})
}

// footing draws the ticks of the horizontal axis.
func (p *panel) footing(s *sheet, xs []tick) {
	for _, t := range xs {
		x, y := p.px(t.at), p.y+p.h
		s.line(pen(rule, 0.8), Point{x, y}, Point{x, y + 4})
		s.say(x, y+15, t.text, small.to(about))
	}
}

// stand is a panel's place on a sheet: below y, under the words of its vertical
// axis and its pennants, h high, with room on its left for numbers and on its
// right for labels.
func (s *sheet) stand(y, right, h float64, axis string, xs, ys span, moments func(*panel) []pennant) *panel {
	p := newPanel(box{leftGutter, 0, wide - leftGutter - right, h}, xs, ys)
	if axis = clean(axis); axis != "" {
		y = s.tell(0, y+8, wide, axis, small) - small.lead() + 2
	}
	var list []pennant
	if moments != nil {
		list = moments(p)
	}
	p.box.y = y + 8 + flagRow*float64(pennants(nil, list, 0))
	pennants(s, list, p.box.y)
	return p
}

// leftGutter is the room for numbers left of a panel.
const leftGutter = 36.0

// floor writes what the horizontal axis measures, below its ticks, and returns
// the y under it.
func (p *panel) floor(s *sheet, words string) float64 {
	y := p.y + p.h + 18
	if clean(words) == "" {
		return y
	}
	return s.tell(p.x+p.w, y+10, p.x+p.w, words, small.to(before)) - 8
}

// notes writes the words under a picture and returns the y below them.
func (s *sheet) notes(y float64, notes []string) float64 {
	for _, words := range notes {
		y = s.tell(0, y+14, wide, words, small) - 14
	}
	return y + 6
}

package figure

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// wide is the width of every sheet, in units of its view box.
const wide = 480.0

// margin is the empty edge of a sheet, outside of its width.
const margin = 8.0

// sheet is a picture being drawn. Its origin is the upper left corner, y runs
// down, and its height is known when it is written. Lines and areas go to gonum's
// SVG backend in the order they are drawn; words stand above all of them.
type sheet struct {
	lines draw.Canvas
	back  *vgsvg.Canvas
	words bytes.Buffer
}

func newSheet() *sheet {
	// The backend turns y round about the height it was given. The sheet's own
	// height replaces it in the head, so any height will do.
	back := vgsvg.New(wide, 1)
	return &sheet{back: back, lines: draw.New(back)}
}

// at is a place on the sheet as the backend counts.
func at(x, y float64) vg.Point { return vg.Point{X: vg.Length(x), Y: vg.Length(1 - y)} }

// line draws a line through points of the sheet.
func (s *sheet) line(st stroke, points ...Point) {
	list := make([]vg.Point, len(points))
	for i, p := range points {
		list[i] = at(p.X, p.Y)
	}
	s.lines.StrokeLines(st, list)
}

// dashes draws many short lines of one look.
func (s *sheet) dashes(st stroke, list [][2]Point) {
	var p vg.Path
	for _, l := range list {
		p.Move(at(l[0].X, l[0].Y))
		p.Line(at(l[1].X, l[1].Y))
	}
	s.lines.SetLineStyle(st)
	s.lines.Stroke(p)
}

// area fills a polygon.
func (s *sheet) area(c color.Color, points ...Point) {
	list := make([]vg.Point, len(points))
	for i, p := range points {
		list[i] = at(p.X, p.Y)
	}
	s.lines.FillPolygon(c, list)
}

// box is a rectangle of a sheet.
type box struct{ x, y, w, h float64 }

func (b box) corners() []Point {
	return []Point{{b.x, b.y}, {b.x + b.w, b.y}, {b.x + b.w, b.y + b.h}, {b.x, b.y + b.h}}
}

// overlaps reports whether two rectangles have an inside in common.
func (b box) overlaps(o box) bool {
	return b.x < o.x+o.w && o.x < b.x+b.w && b.y < o.y+o.h && o.y < b.y+b.h
}

func (s *sheet) fill(c color.Color, b box) { s.area(c, b.corners()...) }

func (s *sheet) frame(st stroke, b box) {
	c := b.corners()
	s.line(st, append(c, c[0])...)
}

// circle draws the outline of a circle, filled with c.
func (s *sheet) circle(st stroke, c color.Color, x, y, r float64) {
	p := make(vg.Path, 0, 3)
	p.Move(at(x+r, y))
	p.Arc(at(x, y), vg.Length(r), 0, 2*math.Pi)
	p.Close()
	s.lines.SetColor(c)
	s.lines.Fill(p)
	s.lines.SetLineStyle(st)
	s.lines.Stroke(p)
}

// outlines of the marks with corners, for a radius of 1.
var outlines = map[shape][]Point{
	square:   {{-0.9, -0.9}, {0.9, -0.9}, {0.9, 0.9}, {-0.9, 0.9}},
	triangle: {{0, -1.15}, {1.05, 0.8}, {-1.05, 0.8}},
	diamond:  {{0, -1.25}, {1.25, 0}, {0, 1.25}, {-1.25, 0}},
}

// mark draws a shape round a point. Open ones are white inside.
func (s *sheet) mark(sh shape, c color.Color, x, y, r float64) {
	st, inside := pen(c, 1.4), color.Color(c)
	if sh >= ring {
		inside = paper
	}
	switch sh {
	case disc, ring:
		s.circle(st, inside, x, y, r)
		return
	case cross:
		s.line(pen(c, 2.2), Point{x - r, y - r}, Point{x + r, y + r})
		s.line(pen(c, 2.2), Point{x - r, y + r}, Point{x + r, y - r})
		return
	case openSquare, openTriangle, openDiamond:
		sh -= openSquare - square
	}
	list := make([]Point, 0, 5)
	for _, p := range outlines[sh] {
		list = append(list, Point{x + r*p.X, y + r*p.Y})
	}
	s.area(inside, list...)
	s.line(st, append(list, list[0])...)
}

// svg writes the picture: h units high, with its name and what it shows in words.
func (s *sheet) svg(h float64, title, desc string) ([]byte, error) {
	var drawn, out bytes.Buffer
	if _, err := s.back.WriteTo(&drawn); err != nil {
		return nil, fmt.Errorf("write the lines of %q: %w", title, err)
	}
	body := drawn.Bytes()
	body = body[bytes.Index(body, []byte("<g ")):bytes.LastIndex(body, []byte("</svg>"))]
	w, height := wide+2*margin, math.Ceil(h)
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" role="img" width="%g" height="%g" viewBox="%g 0 %g %g">`+"\n",
		w, height, -margin, w, height)
	fmt.Fprintf(&out, "<title>%s</title>\n<desc>%s</desc>\n", escape(title), escape(desc))
	fmt.Fprintf(&out, `<rect x="%g" width="%g" height="%g" fill="#ffffff"/>`+"\n", -margin, w, height)
	out.Write(body)
	out.WriteString(`<g font-family="sans-serif" font-size="11" fill="#1a1a1a">` + "\n")
	out.Write(s.words.Bytes())
	out.WriteString("</g>\n</svg>\n")
	return out.Bytes(), nil
}

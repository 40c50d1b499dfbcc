package figure

import (
	"image/color"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The colours. Those of lines differ in hue for the three common kinds of
// colour-blindness and in lightness for grey paper.
var (
	ink        = color.RGBA{0x1A, 0x1A, 0x1A, 0xFF}
	soft       = color.RGBA{0x55, 0x55, 0x55, 0xFF}
	rule       = color.RGBA{0x80, 0x80, 0x80, 0xFF}
	faint      = color.RGBA{0xDC, 0xDC, 0xDC, 0xFF}
	paper      = color.RGBA{0xFF, 0xFF, 0xFF, 0xFF}
	lightGrey  = color.RGBA{0xF1, 0xF1, 0xF1, 0xFF}
	middleGrey = color.RGBA{0xC4, 0xC4, 0xC4, 0xFF}
	shade      = color.RGBA{0xEC, 0xF1, 0xEE, 0xFF} // an allowed band
	pale       = color.RGBA{0xE6, 0xEC, 0xF2, 0xFF}
	middle     = color.RGBA{0xC3, 0xD2, 0xE1, 0xFF}
	sand       = color.RGBA{0xF2, 0xEC, 0xE2, 0xFF}
	blue       = color.RGBA{0x0B, 0x4F, 0x8F, 0xFF}
	brown      = color.RGBA{0xB3, 0x47, 0x00, 0xFF}
	green      = color.RGBA{0x00, 0x6B, 0x4F, 0xFF}
	purple     = color.RGBA{0x7F, 0x2F, 0x74, 0xFF}
	ochre      = color.RGBA{0x7A, 0x5F, 0x00, 0xFF}
	red        = color.RGBA{0x9E, 0x1B, 0x1B, 0xFF}
)

// hues are the colours of lines, in order.
var hues = []color.RGBA{blue, brown, green, purple, ink, ochre, red}

// stroke is the look of a line.
type stroke = draw.LineStyle

// pen returns the look of a line with dashes of these lengths.
func pen(c color.Color, width float64, dashes ...float64) stroke {
	st := stroke{Color: c, Width: vg.Length(width)}
	for _, d := range dashes {
		st.Dashes = append(st.Dashes, vg.Length(d))
	}
	return st
}

// hairline is the look of a grid.
var hairline = pen(faint, 0.7)

// shape is a mark for a point: the second sign beside colour.
type shape int

const (
	disc shape = iota
	square
	triangle
	diamond
	ring
	openSquare
	openTriangle
	openDiamond
	cross
)

// shapes are the marks of lines, in order.
var shapes = []shape{disc, openSquare, triangle, openDiamond, square, ring, openTriangle, diamond}

package templates

import (
	"encoding/xml"
	"errors"
	"fmt"

	"proveout/templates/figure"
)

// textWidth is the width of a figure in letters: a terminal of 80 columns sets
// it in by four.
const textWidth = 76

// picture is a drawing of package figure.
type picture interface {
	SVG() ([]byte, error)
	Text(width int) string
}

// newFigure makes a figure of a document from a drawing; the zero Figure where
// there is nothing to draw. What the drawing says of itself in words becomes the
// figure's. Where it cannot be drawn, neither can the document that prints it.
func newFigure(name, caption string, p picture) Figure {
	svg, err := p.SVG()
	if errors.Is(err, figure.ErrEmpty) {
		return Figure{}
	}
	if err != nil {
		return Figure{Name: name, err: fmt.Errorf("drawing the figure %s: %w", name, err)}
	}
	var says struct {
		Title string `xml:"title"`
		Desc  string `xml:"desc"`
	}
	if err := xml.Unmarshal(svg, &says); err != nil {
		return Figure{Name: name, err: fmt.Errorf("reading the figure %s: %w", name, err)}
	}
	return Figure{Name: name, Caption: caption, Alt: sentence(says.Title) + " " + says.Desc, SVG: string(svg), Text: p.Text(textWidth)}
}

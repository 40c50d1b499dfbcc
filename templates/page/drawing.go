package page

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// drawing returns the element of a figure's SVG, when it is one that may stand
// in a page: well formed, without script, without another file, its identifiers
// its own.
func (s *setter) drawing(f Figure) (string, error) {
	start := strings.Index(f.SVG, "<svg")
	if start < 0 {
		return "", errors.New("it is not an SVG")
	}
	d := xml.NewDecoder(strings.NewReader(f.SVG[start:]))
	inStyle := false
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return strings.TrimSpace(f.SVG[start:]), nil
		}
		if err != nil {
			return "", err
		}
		switch t := token.(type) {
		case xml.StartElement:
			if err := s.allowed(f, t); err != nil {
				return "", err
			}
			inStyle = t.Name.Local == "style"
		case xml.EndElement:
			inStyle = false
		case xml.CharData:
			if inStyle && !harmless(string(t)) {
				return "", errors.New("its style points to another file")
			}
		case xml.Directive, xml.ProcInst:
			return "", errors.New("it has an instruction inside")
		}
	}
}

// shapes are the elements that a drawing of ours may have.
var shapes = map[string]bool{
	"svg": true, "g": true, "defs": true, "title": true, "desc": true, "style": true,
	"path": true, "rect": true, "line": true, "polyline": true, "polygon": true, "circle": true, "ellipse": true,
	"text": true, "tspan": true, "clipPath": true, "mask": true, "pattern": true, "marker": true, "use": true,
	"linearGradient": true, "stop": true,
}

func (s *setter) allowed(f Figure, e xml.StartElement) error {
	if !shapes[e.Name.Local] {
		return fmt.Errorf("it has an element <%s>", e.Name.Local)
	}
	for _, a := range e.Attr {
		name := strings.ToLower(a.Name.Local)
		switch {
		case strings.HasPrefix(name, "aria-"):
		case strings.HasPrefix(name, "on"):
			return fmt.Errorf("it has an attribute %s", a.Name.Local)
		case name == "href" && !strings.HasPrefix(a.Value, "#"), !harmless(a.Value):
			return fmt.Errorf("its %s points to another file", a.Name.Local)
		case name == "id":
			if owner, taken := s.drawingIDs[a.Value]; taken || s.names[a.Value] {
				return fmt.Errorf("its identifier %q is that of %q too; begin it with the figure's name", a.Value, owner)
			}
			s.drawingIDs[a.Value] = f.Name
		}
	}
	return nil
}

// harmless reports whether a value of style points to nothing outside.
func harmless(style string) bool {
	style = strings.ToLower(style)
	inside := strings.Count(style, "url(#") + strings.Count(style, "url('#") + strings.Count(style, `url("#`)
	return !strings.Contains(style, "@import") && strings.Count(style, "url(") == inside
}

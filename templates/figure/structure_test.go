package figure

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"proveout/checks/units"
)

// drawn is an SVG file as read back.
type drawn struct {
	width, height float64
	title, desc   string
	texts         []textBox
}

// textBox is a text element with the room that it may take.
type textBox struct {
	box
	words string
}

// read parses an SVG file with encoding/xml and fails on anything that would not
// stand alone in a page: ids, scripts, links, styles, outside names.
func read(t *testing.T, svg []byte) drawn {
	t.Helper()
	var d drawn
	dec := xml.NewDecoder(bytes.NewReader(svg))
	var open []string
	for {
		token, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			open = append(open, e.Name.Local)
			d.element(t, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			d.data(open, string(e))
		}
	}
	if len(open) != 0 {
		t.Errorf("elements left open: %v", open)
	}
	return d
}

func (d *drawn) element(t *testing.T, e xml.StartElement) {
	t.Helper()
	if !strings.Contains(" svg title desc rect g path text ", " "+e.Name.Local+" ") {
		t.Errorf("element %s", e.Name.Local)
	}
	at := map[string]string{}
	for _, a := range e.Attr {
		at[a.Name.Local] = a.Value
		if n := a.Name.Local; n == "id" || n == "href" || n == "class" || strings.HasPrefix(n, "on") || strings.Contains(a.Value, "url(") {
			t.Errorf("attribute %s=%q of %s", n, a.Value, e.Name.Local)
		}
		if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
			t.Errorf("attribute %s=%q of %s", a.Name.Local, a.Value, e.Name.Local)
		}
	}
	switch e.Name.Local {
	case "svg":
		fmt.Sscan(at["width"], &d.width)
		fmt.Sscan(at["height"], &d.height)
	case "text":
		l := look{bold: at["font-weight"] == "bold"}
		fmt.Sscan(at["font-size"], &l.size)
		b := textBox{}
		fmt.Sscan(at["x"], &b.x)
		fmt.Sscan(at["y"], &b.y)
		b.h = l.points()
		b.w = l.points() // of one letter; times the letters' widths when they are read
		if l.bold {
			b.w = -b.w
		}
		switch at["text-anchor"] {
		case "middle":
			b.words = "m"
		case "end":
			b.words = "e"
		}
		d.texts = append(d.texts, b)
	}
}

func (d *drawn) data(open []string, data string) {
	if len(open) == 0 {
		return
	}
	switch open[len(open)-1] {
	case "title":
		d.title += data
	case "desc":
		d.desc += data
	case "text":
		b := &d.texts[len(d.texts)-1]
		l := look{size: abs(b.w), bold: b.w < 0}
		b.w = measure(data, l)
		switch b.words {
		case "m":
			b.x -= b.w / 2
		case "e":
			b.x -= b.w
		}
		b.y -= 0.73 * b.h // capitals above the baseline, 0.2 below
		b.h *= 0.93
		b.words = data
	}
}

// Every picture is XML that stands alone, has a title and a description, and no
// word of it leaves the sheet or lies on another, in the widest sans-serif.
func TestWordsKeepApart(t *testing.T) {
	for name, p := range gallery {
		svg, err := p.SVG()
		if err != nil {
			t.Fatal(name, err)
		}
		d := read(t, svg)
		if d.title == "" || d.desc == "" {
			t.Errorf("%s has title %q, desc %q", name, d.title, d.desc)
		}
		apartIn(t, name, d)
	}
}

func apartIn(t *testing.T, name string, d drawn) {
	t.Helper()
	sheet := box{-margin, 0, d.width, d.height}
	for i, a := range d.texts {
		if !a.within(sheet) {
			t.Errorf("%s: %q at %v leaves the sheet of %v by %v", name, a.words, a.box, d.width, d.height)
		}
		for _, b := range d.texts[:i] {
			if shrink(a.box).overlaps(shrink(b.box)) {
				t.Errorf("%s: %q lies on %q", name, a.words, b.words)
			}
		}
	}
}

// shrink takes a unit off a box: letters may touch.
func shrink(b box) box { return box{b.x + 0.5, b.y + 0.5, b.w - 1, b.h - 1} }

// The same values give the same bytes.
func TestSameBytes(t *testing.T) {
	for name, p := range gallery {
		a, _ := p.SVG()
		b, _ := p.SVG()
		first, again := p.Text(80), p.Text(80)
		if !bytes.Equal(a, b) || first != again {
			t.Errorf("%s differs from call to call", name)
		}
	}
}

// No line of a text is wider than asked for, and each shows its title.
func TestTextWidth(t *testing.T) {
	for name, p := range gallery {
		for _, width := range []int{40, 60, 80, 132} {
			for i, line := range strings.Split(p.Text(width), "\n") {
				if n := ansi.StringWidth(line); n > width {
					t.Errorf("%s in %d columns: line %d has %d: %s", name, width, i+1, n, line)
				}
			}
		}
	}
}

// What is empty says so, and a caller can tell.
func TestEmpty(t *testing.T) {
	for name, p := range map[string]picture{
		"section": Section{}, "load": Load{}, "pull-down": PullDown{}, "signature": Signature{}, "months": Months{},
		"map": FaceMap{Width: 1, Height: 1}, "door": Door{Width: 1, Height: 2},
		"log": Log{From: onePointLog.From, To: onePointLog.To, Panels: []LogPanel{{Lines: []LogLine{{Name: "a"}}}}},
	} {
		if _, err := p.SVG(); !errors.Is(err, ErrEmpty) {
			t.Errorf("%s: error %v, want ErrEmpty", name, err)
		}
		if text := p.Text(80); !strings.Contains(text, "No picture") {
			t.Errorf("%s: text %q", name, text)
		}
	}
}

// What cannot be placed is an error that names it, not a picture.
func TestRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, tt := range []struct {
		p    picture
		want string
	}{
		{Section{Layers: []Layer{{Name: "foam", Thickness: 0}}}, `"foam", is 0`},
		{Section{Layers: []Layer{{Name: "foam", Thickness: nan}}}, `NaN`},
		{Section{Layers: []Layer{{Thickness: 2}}, Planes: []Plane{{3, 1, 1}}}, `depth 3 lies outside`},
		{Section{Layers: []Layer{{Thickness: 2}}, Planes: []Plane{{2, 1, 1}, {1, 1, 1}}}, `plane 2 lies before`},
		{Section{Layers: []Layer{{Thickness: 2}}, Wet: []WetPlane{{Depth: -1}}}, `depth -1`},
		{Section{Layers: []Layer{{Thickness: 2}}, Room: AirSide{Temperature: Mark{inf, "hot"}}}, `"hot" is +Inf`},
		{Load{Items: []LoadItem{{"door", Amount{nan, "?"}, Amount{}}}}, `door is NaN`},
		{Load{Items: []LoadItem{{"door", Amount{1, "1 W"}, Amount{}}}, Capacity: Mark{nan, "unit"}}, `"unit" is NaN`},
		{PullDown{Air: []Point{{1, 1}, {0, 1}}}, `hour 2 of air, predicted is 0`},
		{PullDown{Air: []Point{{inf, 1}}}, `+Inf`},
		{PullDown{Air: []Point{{1, 1}}, Limit: Mark{nan, "limit"}}, `"limit" is NaN`},
		{Log{Title: "L"}, `want a span`},
		{Log{From: onePointLog.From, To: onePointLog.To, Panels: []LogPanel{{Lines: []LogLine{{"a", []int64{1}, nil}}}}}, `1 times and 0 values`},
		{Log{From: onePointLog.From, To: onePointLog.To, Panels: []LogPanel{{Lines: []LogLine{{"a", []int64{2, 1}, []float64{1, 1}}}}}}, `earlier`},
		{Log{From: onePointLog.From, To: onePointLog.To, Panels: []LogPanel{{Lines: []LogLine{{"a", []int64{2}, []float64{inf}}}}}}, `infinite`},
		{Signature{Days: []SignatureDay{{Point{nan, 1}, false}}}, `day 1`},
		{Signature{Days: []SignatureDay{{Point{1, 1}, false}}, Fit: []FitPoint{{X: 2}, {X: 1}}}, `point 2 of the fit`},
		{Months{Names: year, Series: []MonthSeries{{"a", []float64{1}, nil}}}, `1 values for 12 months`},
		{Months{Names: []string{"Jan"}, Series: []MonthSeries{{"a", []float64{inf}, nil}}}, `infinite`},
		{FaceMap{Width: 0, Height: 1, Readings: make([]MapReading, 1)}, `0 by 1`},
		{FaceMap{Width: 2, Height: 1, Readings: []MapReading{{X: 3, Y: 0}}}, `outside`},
		{FaceMap{Width: 2, Height: 1, Readings: []MapReading{{X: 1, Y: 0}}, Openings: []Opening{{"hatch", 1, 0, 2, 1}}}, `"hatch" lies outside`},
		{Door{Width: 1, Height: 2, Gaps: []DoorGap{{Side: 9}}}, `door side 9`},
		{Door{Width: 1, Height: 2, Gaps: []DoorGap{{At: nan}}}, `NaN`},
		{Door{Width: 1, Height: 2, Gaps: []DoorGap{{Reading: Reading{Place: "head", Outcome: units.Pass}}}}, `"head, head" is judged pass`},
		{FaceMap{Width: 2, Height: 1, Readings: []MapReading{{Reading: Reading{Place: "A1", Outcome: units.Fail}, X: 1}}}, `"A1" is judged fail`},
	} {
		_, err := tt.p.SVG()
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%T: error %v, want %s", tt.p, err, tt.want)
		} else if !strings.Contains(strings.Join(strings.Fields(tt.p.Text(200)), " "), strings.Join(strings.Fields(clean(tt.want)), " ")) {
			t.Errorf("%T: text does not say %s: %s", tt.p, tt.want, tt.p.Text(200))
		}
	}
}

var coordinates = regexp.MustCompile(`[ML]([-0-9.e]+),([-0-9.e]+)`)

// points reads the places of a path.
func points(t *testing.T, path string) []Point {
	t.Helper()
	var list []Point
	for _, m := range coordinates.FindAllStringSubmatch(path, -1) {
		x, err1 := strconv.ParseFloat(m[1], 64)
		y, err2 := strconv.ParseFloat(m[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(m)
		}
		list = append(list, Point{x, y})
	}
	return list
}

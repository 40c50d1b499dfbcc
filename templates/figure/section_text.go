package figure

import (
	"fmt"
	"strings"
)

// Text sets the section for a terminal: one row for each layer, and on its right
// temperature and dew point behind that layer.
func (f Section) Text(width int) string {
	if err := f.check(); err != nil {
		return notDrawn(width, f.Title, err)
	}
	p := newPage(width, f.Title)
	rows := f.rows()
	chart := 0
	if scale := f.scale(); !scale.empty() && len(f.Planes) > 0 {
		chart = p.width * 45 / 100
	}
	names, sizes := []string{}, []string{}
	for _, r := range rows {
		names, sizes = append(names, r.name), append(sizes, r.size)
	}
	p.tell("Other side  ", f.Other.words())
	size := min(widest(sizes...), (p.width-chart)/3)
	name := min(widest(names...), p.width-chart-size-4)
	if chart > 0 {
		f.ruler(p, name+size+4, chart)
	}
	for _, r := range rows {
		dots := ""
		if chart > 0 {
			dots = f.dots(r.plane, chart)
		}
		p.columns([]column{{r.name, name, false}, {r.size, size, true}}, dots)
	}
	p.tell("Room        ", f.Room.words())
	if chart > 0 {
		p.add("")
		p.tell("", "T temperature, D dew point, * both at one place")
	}
	for i, w := range f.Wet {
		p.tell("wet ", w.words(i))
	}
	for _, n := range f.Notes {
		p.tell("", n)
	}
	return p.String()
}

// row is a line of the text: what lies there, and the plane behind it.
type row struct {
	name, size string
	plane      Plane
}

// rows are the air, the layers with the plane at their end, and the room.
func (f Section) rows() []row {
	list := []row{{"air", "", Plane{0, f.Other.Temperature.value(), f.Other.DewPoint.value()}}}
	if len(f.Planes) > 0 {
		list = append(list, row{"surface" + f.wetAt(0, 0), "", f.Planes[0]})
	}
	depth := 0.0
	for i, l := range f.Layers {
		from := depth
		depth += l.Thickness
		list = append(list, row{fmt.Sprintf("%d %s%s", i+1, l.Name, f.wetAt(from, depth)), l.Text, f.plane(depth)})
	}
	return append(list, row{"air", "", Plane{depth, f.Room.Temperature.value(), f.Room.DewPoint.value()}})
}

// wetAt names the wet planes behind one depth up to another.
func (f Section) wetAt(from, to float64) string {
	words := ""
	for i, w := range f.Wet {
		slack := 1e-9 * to
		if w.Depth <= to+slack && (w.Depth > from+slack || from == to) {
			words += " ◆" + letter(i)
		}
	}
	return words
}

// plane is the one nearest to a depth.
func (f Section) plane(depth float64) Plane {
	var best Plane
	for i, p := range f.Planes {
		if i == 0 || abs(p.Depth-depth) < abs(best.Depth-depth) {
			best = p
		}
	}
	return best
}

func abs(v float64) float64 { return max(v, -v) }

// ruler writes the scale over the dots.
func (f Section) ruler(p *page, indent, cols int) {
	plate := newPlate(cols, 1, f.scale(), span{0, 1})
	words := []rune(strings.Repeat(" ", cols))
	free := 0
	for _, t := range round(f.scale(), 6, 1) {
		text := []rune(t.text)
		col := plate.col(t.at) - len(text)/2
		if col < free || col+len(text) > cols {
			continue
		}
		copy(words[col:], text)
		free = col + len(text) + 1
	}
	p.tell(strings.Repeat(" ", indent), f.Axis)
	p.add(strings.Repeat(" ", indent) + string(words))
}

// dots are temperature and dew point of a plane as characters.
func (f Section) dots(at Plane, cols int) string {
	plate := newPlate(cols, 1, f.scale(), span{0, 1})
	for _, t := range round(f.scale(), 6, 1) {
		plate.put(plate.col(t.at), 0, '·', true)
	}
	plate.dot(at.Temperature, 0, 'T')
	if finite(at.DewPoint) && plate.col(at.DewPoint) == plate.col(at.Temperature) {
		plate.dot(at.DewPoint, 0, '*')
	} else {
		plate.dot(at.DewPoint, 0, 'D')
	}
	return string(plate.rows[0])
}

package figure

// The looks of lines within a material: light, so that the lines of a chart
// stand out over it.
var (
	texture = pen(middleGrey, 0.7)
	fine    = pen(middle, 0.6)
)

// material fills a rectangle of a section.
func (s *sheet) material(b box, m Material) {
	switch m {
	case AirSpace:
		s.fill(paper, b)
	case Membrane:
		s.fill(soft, b)
	case Insulation:
		s.fill(pale, b)
		s.hatch(fine, b, 10)
		s.hatchBack(fine, b, 10)
	case Masonry:
		s.fill(lightGrey, b)
		s.hatch(texture, b, 7)
	case Lumber:
		s.fill(sand, b)
		var grain [][2]Point
		for y := b.y + 3; y < b.y+b.h; y += 6 {
			grain = append(grain, [2]Point{{b.x, y}, {b.x + b.w, y}})
		}
		s.dashes(texture, grain)
	default:
		s.fill(lightGrey, b)
	}
	s.frame(pen(soft, 0.8), b)
}

// hatch draws lines slanted to the right in a rectangle, gap units apart.
func (s *sheet) hatch(st stroke, b box, gap float64) {
	s.dashes(st, slants(b, gap))
}

// hatchBack draws them slanted to the left.
func (s *sheet) hatchBack(st stroke, b box, gap float64) {
	list := slants(b, gap)
	for i, l := range list {
		for j, p := range l {
			list[i][j].X = 2*b.x + b.w - p.X
		}
	}
	s.dashes(st, list)
}

// slants are the ends of slanted lines within a rectangle.
func slants(b box, gap float64) [][2]Point {
	var list [][2]Point
	for d := gap / 2; d < b.w+b.h; d += gap {
		from, to := Point{b.x + d, b.y}, Point{b.x, b.y + d}
		if d > b.w {
			from = Point{b.x + b.w, b.y + d - b.w}
		}
		if d > b.h {
			to = Point{b.x + d - b.h, b.y + b.h}
		}
		list = append(list, [2]Point{from, to})
	}
	return list
}

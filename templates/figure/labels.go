package figure

import (
	"cmp"
	"image/color"
	"slices"
)

// apart returns places at least gap from each other within low and high, in the
// order of those wished for, and as near to them as may be. If they do not all
// fit, they are spread evenly.
func apart(wished []float64, gap, low, high float64) []float64 {
	n := len(wished)
	if n == 0 {
		return nil
	}
	order := make([]int, n)
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wished[a], wished[b]) })
	if n > 1 {
		gap = min(gap, (high-low)/float64(n-1))
	}
	type block struct {
		sum   float64 // of wishes, each less its place in the block
		count int
	}
	var blocks []block
	start := func(b block) float64 {
		return min(max(b.sum/float64(b.count), low), high-gap*float64(b.count-1))
	}
	for _, i := range order {
		b := block{wished[i], 1}
		for len(blocks) > 0 && start(blocks[len(blocks)-1])+gap*float64(blocks[len(blocks)-1].count) > start(b) {
			last := blocks[len(blocks)-1]
			b = block{last.sum + b.sum - gap*float64(last.count*b.count), last.count + b.count}
			blocks = blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	places, k := make([]float64, n), 0
	for _, b := range blocks {
		for j := range b.count {
			places[order[k]] = start(b) + gap*float64(j)
			k++
		}
	}
	return places
}

// ending is the label of a line at the right edge of a panel.
type ending struct {
	y     float64 // where the line ends, on the sheet
	words string
	look  stroke
	shape shape
	mark  bool // the line has marks, and its label shows one
}

// room is the width that labels at the right edge need, limit at most.
func room(limit float64, words ...string) float64 {
	w := 0.0
	for _, s := range words {
		w = max(w, measure(clean(s), plain)+38)
	}
	return min(w, limit)
}

// endings writes labels beside the right edge of a panel, each joined to the end
// of its line and with a piece of it.
func (p *panel) endings(s *sheet, list []ending) {
	const lead = 12.0
	right, tallest := p.x+p.w, 1
	lines := make([][]string, len(list))
	wished := make([]float64, len(list))
	limit := min(max(int((p.h-4)/float64(max(len(list), 1))/lead), 1), 3)
	for i, e := range list {
		lines[i] = upTo(limit, e.words, wide-right-36, plain)
		tallest, wished[i] = max(tallest, len(lines[i])), e.y
	}
	places := apart(wished, lead*float64(tallest)+1, p.y+3, p.y+p.h-3)
	for i, e := range list {
		y := places[i]
		s.line(pen(rule, 0.6), Point{right + 1, e.y}, Point{right + 9, y})
		s.line(e.look, Point{right + 10, y}, Point{right + 31, y})
		if e.mark {
			s.mark(e.shape, e.look.Color, right+20.5, y, 3)
		}
		for j, words := range lines[i] {
			s.say(right+35, y+3.8+lead*(float64(j)-float64(len(lines[i])-1)/2), words, plain)
		}
	}
}

// entry is one sign of a key and what it means.
type entry struct {
	draw  func(s *sheet, x, y float64) // in 24 units from x, about y
	words string
}

// key writes the signs of a picture in rows, the first about y, and returns
// where the next thing may begin.
func (s *sheet) key(y float64, list ...entry) float64 {
	x := 0.0
	for _, e := range list {
		words := elide(e.words, wide-32, plain)
		w := 30 + measure(words, plain)
		if x > 0 && x+w > wide {
			x, y = 0, y+16
		}
		e.draw(s, x, y)
		s.say(x+29, y+3.8, words, plain)
		x += w + 14
	}
	return y + 16
}

// lineSign is the sign of a line in a key.
func lineSign(st stroke) func(*sheet, float64, float64) {
	return func(s *sheet, x, y float64) { s.line(st, Point{x, y}, Point{x + 24, y}) }
}

// boxSign is the sign of a filled area in a key, hatched where lines are given.
func boxSign(fill color.Color, edge, lines stroke) func(*sheet, float64, float64) {
	return func(s *sheet, x, y float64) { bar(s, box{x, y - 5, 24, 10}, fill, edge, lines) }
}

// markSign is the sign of a point in a key.
func markSign(sh shape, c color.Color) func(*sheet, float64, float64) {
	return func(s *sheet, x, y float64) { s.mark(sh, c, x+14, y, 4) }
}

// bar draws a filled rectangle with an edge, hatched where lines are given.
func bar(s *sheet, b box, fill color.Color, edge, lines stroke) {
	s.fill(fill, b)
	if lines.Width > 0 {
		s.hatch(lines, b, 5)
	}
	if edge.Width > 0 {
		s.frame(edge, b)
	}
}

// heading writes the title of a picture and returns where the rest may begin.
func (s *sheet) heading(title string) float64 {
	if clean(title) == "" {
		return 6
	}
	return s.tell(0, 13, wide, title, head) - 2
}

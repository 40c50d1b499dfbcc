package figure

import (
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// narrowest is the least width that a text is set in, in columns.
const narrowest = 40

// page is a text for a terminal being written.
type page struct {
	width int
	lines []string
}

func newPage(width int, title string) *page {
	p := &page{width: max(width, narrowest)}
	p.tell("", title)
	if clean(title) != "" {
		p.add("")
	}
	return p
}

// add puts a line, without the spaces at its end.
func (p *page) add(line string) { p.lines = append(p.lines, strings.TrimRight(line, " ")) }

// tell wraps words after a first indent; the lines after the first are indented
// by as many spaces.
func (p *page) tell(first, words string) {
	in := ansi.StringWidth(first)
	lines := wrapBy(clean(words), func(line string) bool { return ansi.StringWidth(line) <= p.width-in })
	for i, line := range lines {
		if i == 0 {
			p.add(first + line)
			continue
		}
		p.add(strings.Repeat(" ", in) + line)
	}
}

func (p *page) String() string { return strings.Join(p.lines, "\n") + "\n" }

// cell sets words in n columns, cut where they are longer; to the right if asked.
func cell(words string, n int, right bool) string {
	words = clean(words)
	if ansi.StringWidth(words) > n {
		words = ansi.Truncate(words, n, "…")
	}
	pad := strings.Repeat(" ", max(n-ansi.StringWidth(words), 0))
	if right {
		return pad + words
	}
	return words + pad
}

// column is a cell of a row in a text: its words, how wide it is, and whether
// they stand to the right.
type column struct {
	words string
	width int
	right bool
}

// columns adds cells side by side, two spaces apart, and a drawing behind them
// on the first line. Words that are too long go on below.
func (p *page) columns(cells []column, drawing string) {
	lines, n := make([][]string, len(cells)), 1
	for i, c := range cells {
		lines[i] = wrapBy(clean(c.words), func(line string) bool { return ansi.StringWidth(line) <= c.width })
		n = max(n, len(lines[i]))
	}
	for row := range n {
		line := ""
		for i, c := range cells {
			words := ""
			if row < len(lines[i]) {
				words = lines[i][row]
			}
			line += cell(words, c.width, c.right) + "  "
		}
		if row == 0 {
			line += drawing
		}
		p.add(line)
	}
}

// widest is the display width of the longest of some texts.
func widest(words ...string) int {
	n := 0
	for _, w := range words {
		n = max(n, ansi.StringWidth(clean(w)))
	}
	return n
}

// plate is a chart made of characters. Row 0 is the top.
type plate struct {
	x, y span
	rows [][]rune
}

func newPlate(cols, rows int, x, y span) *plate {
	p := &plate{x: x, y: y, rows: make([][]rune, rows)}
	for i := range p.rows {
		p.rows[i] = []rune(strings.Repeat(" ", cols))
	}
	return p
}

func (p *plate) col(x float64) int {
	return index((x-p.x.low)/(p.x.high-p.x.low), len(p.rows[0]))
}

func (p *plate) row(y float64) int {
	return index((p.y.high-y)/(p.y.high-p.y.low), len(p.rows))
}

// index is the one of n cells that a share of the way falls in; −1 outside.
func index(share float64, n int) int {
	if !finite(share) || share < -1e-9 || share > 1+1e-9 {
		return -1
	}
	return min(int(math.Round(share*float64(n-1))), n-1)
}

// put sets a character; weak ones only where nothing stands yet.
func (p *plate) put(col, row int, r rune, weak bool) {
	if col < 0 || row < 0 || row >= len(p.rows) || col >= len(p.rows[0]) {
		return
	}
	if !weak || p.rows[row][col] == ' ' {
		p.rows[row][col] = r
	}
}

// dot marks a value.
func (p *plate) dot(x, y float64, r rune) { p.put(p.col(x), p.row(y), r, false) }

// trace marks a line: in each column all rows from the least to the greatest
// value that the line has there.
func (p *plate) trace(points []Point, r rune) {
	last := -1
	var lastY float64
	for _, v := range points {
		if !finite(v.Y) {
			last = -1
			continue
		}
		col := p.col(v.X)
		if last >= 0 && col >= 0 {
			for c := last + 1; c < col; c++ {
				share := float64(c-last) / float64(col-last)
				p.put(c, p.row(lastY+(v.Y-lastY)*share), r, false)
			}
			if col == last {
				p.column(col, lastY, v.Y, r)
			}
		}
		p.put(col, p.row(v.Y), r, false)
		last, lastY = col, v.Y
	}
}

// column marks all rows between two values.
func (p *plate) column(col int, a, b float64, r rune) {
	from, to := p.row(max(a, b)), p.row(min(a, b))
	if from < 0 || to < 0 {
		return
	}
	for row := from; row <= to; row++ {
		p.put(col, row, r, false)
	}
}

// level marks a value over the whole width, under what is drawn.
func (p *plate) level(y float64, r rune) {
	row := p.row(y)
	for col := range p.rows[0] {
		p.put(col, row, r, true)
	}
}

// upright marks a value over the whole height, under what is drawn.
func (p *plate) upright(x float64, r rune) {
	col := p.col(x)
	for row := range p.rows {
		p.put(col, row, r, true)
	}
}

// gutter is the width of the numbers left of a plate.
const gutter = 7

// print adds a plate to a page with the words of its ticks.
func (p *plate) print(to *page, xs, ys []tick) {
	names := make([]string, len(p.rows))
	for _, t := range ys {
		if row := p.row(t.at); row >= 0 {
			names[row] = t.text
		}
	}
	for i, row := range p.rows {
		edge := "│"
		if names[i] != "" {
			edge = "┤"
		}
		to.add(cell(names[i], gutter-2, true) + " " + edge + string(row))
	}
	p.foot(to, xs)
}

// foot adds the horizontal axis.
func (p *plate) foot(to *page, xs []tick) {
	cols := len(p.rows[0])
	rule := []rune(strings.Repeat("─", cols))
	words := []rune(strings.Repeat(" ", cols+gutter))
	free := 0
	for _, t := range xs {
		col := p.col(t.at)
		if col < 0 {
			continue
		}
		rule[col] = '┬'
		text := []rune(t.text)
		from := min(max(col+gutter-len(text)/2, free), len(words)-len(text))
		if from < free || from < 0 {
			continue
		}
		copy(words[from:], text)
		free = from + len(text) + 1
	}
	to.add(strings.Repeat(" ", gutter-1) + "└" + string(rule))
	to.add(string(words))
}

// notDrawn is the text of a picture that cannot be drawn.
func notDrawn(width int, title string, err error) string {
	p := newPage(width, title)
	p.tell("", "No picture: "+err.Error()+".")
	return p.String()
}

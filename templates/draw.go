package templates

import (
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// grid is a table as a terminal shows it: the plain words of its cells.
type grid struct {
	head  []string
	right []bool
	rows  [][]string
	color bool
}

// drawTable sets a table for a terminal: in columns where they fit, with words
// wrapped where they may be, else as lines of "heading: value".
func drawTable(lines []string, width int, color bool) string {
	g := grid{color: color}
	for i, line := range lines {
		cells := splitRow(line)
		if i > 0 { // a row of another document may have more cells, or fewer
			cells = append(cells, make([]string, max(len(g.head)-len(cells), 0))...)[:len(g.head)]
		}
		if i == 1 {
			for _, c := range cells {
				g.right = append(g.right, toRight(c))
			}
			continue
		}
		for c := range cells {
			cells[c] = inline(cells[c])
		}
		if i == 0 {
			g.head = cells
		} else {
			g.rows = append(g.rows, cells)
		}
	}
	if widths := g.fit(width); widths != nil {
		return g.columns(widths)
	}
	return g.stacked(width)
}

// gap is the space between two columns.
const gap = 2

// readable is the least width at which a wrapped column can still be read.
const readable = 12

// fit returns the widths of the columns in a terminal, or nil when they cannot
// stand side by side. Where they do not fit as they are, the column is narrowed
// whose words then take the fewest lines more.
func (g grid) fit(width int) []int {
	widths, least := make([]int, len(g.head)), make([]int, len(g.head))
	for c := range g.head {
		widths[c], least[c] = g.widths(c)
	}
	room := width - gap*(len(widths)-1)
	if total(least) > room {
		return nil
	}
	for c := range widths {
		widths[c] = min(widths[c], room)
	}
	cells := g.cellWidths()
	for total(widths) > room {
		best, lowest := -1, 0
		for c := range widths {
			if widths[c] == least[c] {
				continue
			}
			widths[c]--
			h := height(cells, widths)
			widths[c]++
			if best < 0 || h < lowest || h == lowest && widths[c] > widths[best] {
				best, lowest = c, h
			}
		}
		widths[best]--
	}
	return widths
}

// cellWidths are the display widths of all cells, the head's first.
func (g grid) cellWidths() [][]int {
	all := make([][]int, 0, len(g.rows)+1)
	for _, row := range append([][]string{g.head}, g.rows...) {
		widths := make([]int, len(row))
		for c, cell := range row {
			widths[c] = ansi.StringWidth(cell)
		}
		all = append(all, widths)
	}
	return all
}

// height is about how many lines a table takes with columns of these widths.
func height(cells [][]int, widths []int) int {
	lines := 0
	for _, row := range cells {
		tallest := 1
		for c, w := range row {
			tallest = max(tallest, (w+widths[c]-1)/widths[c])
		}
		lines += tallest
	}
	return lines
}

// widths returns how wide a column is and how narrow it may become.
func (g grid) widths(c int) (natural, least int) {
	natural, least = 1, 1
	for _, cell := range append([]string{g.head[c]}, g.column(c)...) {
		natural = max(natural, ansi.StringWidth(cell))
		for _, p := range pieces(cell) {
			least = max(least, ansi.StringWidth(p.text))
		}
	}
	if g.right[c] {
		return natural, natural
	}
	return natural, min(natural, max(least, readable))
}

func (g grid) column(c int) []string {
	var cells []string
	for _, row := range g.rows {
		cells = append(cells, row[c])
	}
	return cells
}

func total(widths []int) int {
	sum := 0
	for _, w := range widths {
		sum += w
	}
	return sum
}

func (g grid) columns(widths []int) string {
	var b strings.Builder
	g.row(&b, g.head, widths, "1")
	rule := make([]string, len(widths))
	for c, w := range widths {
		rule[c] = strings.Repeat("─", w)
	}
	b.WriteString(strings.Join(rule, strings.Repeat(" ", gap)) + "\n")
	wrapped := slices.ContainsFunc(g.rows, func(row []string) bool { return tall(row, widths) })
	for i, row := range g.rows {
		if wrapped && i > 0 {
			b.WriteByte('\n')
		}
		g.row(&b, row, widths, "")
	}
	return strings.TrimRight(b.String(), "\n")
}

// tall reports whether a row takes more than one line.
func tall(row []string, widths []int) bool {
	for c, cell := range row {
		if ansi.StringWidth(cell) > widths[c] {
			return true
		}
	}
	return false
}

func (g grid) row(b *strings.Builder, row []string, widths []int, how string) {
	cells := make([][]string, len(row))
	height := 1
	for c, cell := range row {
		cells[c] = wrap(cell, widths[c])
		height = max(height, len(cells[c]))
	}
	for line := range height {
		var parts []string
		for c := range row {
			text := ""
			if line < len(cells[c]) {
				text = cells[c][line]
			}
			parts = append(parts, g.cell(text, widths[c], g.right[c], how))
		}
		b.WriteString(strings.TrimRight(strings.Join(parts, strings.Repeat(" ", gap)), " ") + "\n")
	}
}

// cell pads a text and paints it, the words of an outcome in their color.
func (g grid) cell(text string, width int, right bool, how string) string {
	padded := pad(text, width, right)
	if how == "" {
		word, _, _ := strings.Cut(text, ",")
		how = outcomeColors[word]
	}
	return strings.Replace(padded, text, paint(text, how, g.color), 1)
}

// stacked writes each row as lines of "heading: value".
func (g grid) stacked(width int) string {
	label := 0
	for _, h := range g.head {
		label = max(label, ansi.StringWidth(h)+1)
	}
	label = min(label, width*2/5)
	var rows []string
	for _, row := range g.rows {
		var b strings.Builder
		for c, cell := range row {
			if cell == "" {
				continue
			}
			g.stack(&b, g.head[c], cell, label, width)
		}
		rows = append(rows, b.String())
	}
	return strings.Join(rows, "\n")
}

// stack writes one value behind its heading, or below it where it is too long
// to stand behind it.
func (g grid) stack(b *strings.Builder, head, cell string, label, width int) {
	if head != "" {
		head += ":"
	}
	lines := wrap(cell, width-label-1)
	if slices.ContainsFunc(lines, func(l string) bool { return ansi.StringWidth(l) > width-label-1 }) || ansi.StringWidth(head) > label {
		b.WriteString(paint(head, "1", g.color) + "\n")
		head, label = "", 1
		lines = wrap(cell, width-2)
	}
	for _, line := range lines {
		space := pad("", label-ansi.StringWidth(head), false)
		b.WriteString(paint(head, "1", g.color) + space + " " + g.cell(line, 0, false, "") + "\n")
		head = ""
	}
}

package templates

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// A table in a document is a block of lines that begin with a bar; the second
// line sets the columns.

// tableLength returns how many of the lines, from the first on, are a table.
func tableLength(lines []string) int {
	n := 0
	for n < len(lines) && strings.HasPrefix(lines[n], "|") {
		n++
	}
	if n < 2 || !isRule(splitRow(lines[1])) {
		return 0
	}
	return n
}

// splitRow returns the cells of a line, without the space round them. A bar
// behind a backslash belongs to its cell.
func splitRow(line string) []string {
	line = strings.TrimSuffix(strings.TrimSpace(line), "|")
	line = strings.TrimPrefix(line, "|")
	var cells []string
	start := 0
	for i := 0; i < len(line); i++ {
		switch line[i] {
		case '\\':
			i++
		case '|':
			cells = append(cells, strings.TrimSpace(line[start:i]))
			start = i + 1
		}
	}
	return append(cells, strings.TrimSpace(line[start:]))
}

// isRule reports whether cells are those of the line below a table's head.
func isRule(cells []string) bool {
	for _, c := range cells {
		if dashes := strings.Trim(c, ":"); dashes == "" || strings.Trim(dashes, "-") != "" {
			return false
		}
	}
	return true
}

// toRight reports whether the rule's cell sets its column to the right.
func toRight(rule string) bool { return strings.HasSuffix(rule, ":") }

// alignTable pads the cells of a table so that its columns stand under each
// other.
func alignTable(lines []string) ([]string, error) {
	rows := make([][]string, len(lines))
	for i, line := range lines {
		if rows[i] = splitRow(line); len(rows[i]) != len(rows[0]) {
			return nil, fmt.Errorf("a table has %d cells under %d headings: %q", len(rows[i]), len(rows[0]), line)
		}
	}
	widths := columnWidths(rows)
	out := make([]string, len(lines))
	for i, row := range rows {
		if i == 1 {
			out[i] = ruleLine(row, widths)
			continue
		}
		out[i] = rowLine(row, rows[1], widths)
	}
	return out, nil
}

// columnWidths are the display widths of the columns; the rule does not count.
func columnWidths(rows [][]string) []int {
	widths := make([]int, len(rows[0]))
	for i, row := range rows {
		for c, cell := range row {
			if i != 1 {
				widths[c] = max(widths[c], ansi.StringWidth(cell), 3)
			}
		}
	}
	return widths
}

func ruleLine(rule []string, widths []int) string {
	var b strings.Builder
	for c, cell := range rule {
		if toRight(cell) {
			b.WriteString("| " + strings.Repeat("-", widths[c]-1) + ": ")
		} else {
			b.WriteString("| " + strings.Repeat("-", widths[c]) + " ")
		}
	}
	return b.String() + "|"
}

func rowLine(row, rule []string, widths []int) string {
	var b strings.Builder
	for c, cell := range row {
		b.WriteString("| " + pad(cell, widths[c], toRight(rule[c])) + " ")
	}
	return b.String() + "|"
}

// pad fills a text with spaces to a display width.
func pad(text string, width int, right bool) string {
	space := strings.Repeat(" ", max(width-ansi.StringWidth(text), 0))
	if right {
		return space + text
	}
	return text + space
}

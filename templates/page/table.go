package page

import (
	"html"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	extended "github.com/yuin/goldmark/extension/ast"
)

// narrow is the number of columns up to which a table stays one on a phone; a
// wider one becomes a list of its rows there.
const narrow = 3

// grid is a table: the cells of its head and of its rows.
type grid struct {
	head []*extended.TableCell
	rows [][]*extended.TableCell
}

func gridOf(table *extended.Table) grid {
	var g grid
	for n := table.FirstChild(); n != nil; n = n.NextSibling() {
		if n.Kind() == extended.KindTableHeader {
			g.head = cellsOf(n)
		} else {
			g.rows = append(g.rows, cellsOf(n))
		}
	}
	return g
}

func cellsOf(row ast.Node) []*extended.TableCell {
	var cells []*extended.TableCell
	for n := row.FirstChild(); n != nil; n = n.NextSibling() {
		if c, ok := n.(*extended.TableCell); ok {
			cells = append(cells, c)
		}
	}
	return cells
}

func (s *setter) table(n *extended.Table) {
	g := gridOf(n)
	if column := g.photoColumn(); column >= 0 {
		s.pictures(g, column)
		return
	}
	var heads []string
	for _, cell := range g.head {
		heads = append(heads, s.words(cell))
	}
	var classes []string
	if len(heads) > narrow {
		classes = append(classes, "wide")
	}
	if slices.Contains(heads, "Signature") {
		classes = append(classes, "signatures")
	}
	s.write("<table", attribute("class", strings.Join(classes, " ")), ">\n<thead>\n<tr>")
	for i, cell := range g.head {
		s.head(cell, heads[i])
	}
	s.write("</tr>\n</thead>\n<tbody>\n")
	for _, row := range g.rows {
		s.write("<tr>")
		for i, cell := range row {
			s.cell(cell, i, heads[min(i, len(heads)-1)])
		}
		s.write("</tr>\n")
	}
	s.write("</tbody>\n</table>\n")
}

func (s *setter) head(cell *extended.TableCell, words string) {
	if words == "" {
		s.write("<td></td>")
		return
	}
	s.write(`<th scope="col"`, attribute("class", side(cell)), ">")
	s.inlines(cell)
	s.write("</th>")
}

// cell sets a cell of a row. The first one names its row.
func (s *setter) cell(cell *extended.TableCell, column int, head string) {
	words := s.words(cell)
	name, scope := "td", ""
	if column == 0 && words != "" {
		name, scope = "th", ` scope="row"`
	}
	class := strings.TrimSpace(side(cell) + " " + columnClass(head))
	s.write("<", name, scope, attribute("class", class), attribute("data-head", head), ">")
	if verdict := verdictClass(words); head == "Outcome" && verdict != "" {
		s.write(`<span class="`, verdict, `">`)
		s.inlines(cell)
		s.write("</span>")
	} else {
		s.inlines(cell)
	}
	s.write("</", name, ">")
}

func attribute(name, value string) string {
	if value == "" {
		return ""
	}
	return " " + name + `="` + html.EscapeString(value) + `"`
}

// side is the class of a column that is set to the right.
func side(cell *extended.TableCell) string {
	if cell.Alignment == extended.AlignRight {
		return "right"
	}
	return ""
}

// columnClass is the class of a column of digits that are no number.
func columnClass(head string) string {
	if head == "Fingerprint" || strings.HasPrefix(head, "SHA-256") {
		return "digits"
	}
	return ""
}

// verdictClass tells by the word that an outcome begins with how it is drawn.
func verdictClass(words string) string {
	word, _, _ := strings.Cut(words, ",")
	switch word {
	case "pass":
		return "verdict pass"
	case "FAIL", "fail":
		return "verdict fail"
	case "undecided":
		return "verdict undecided"
	}
	return ""
}

package page

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	extended "github.com/yuin/goldmark/extension/ast"
)

func (s *setter) blocks(nodes []ast.Node) {
	for _, n := range nodes {
		s.block(n)
	}
}

// block sets one block; a kind that no document of ours has is an error.
func (s *setter) block(n ast.Node) {
	switch n := n.(type) {
	case *ast.Heading:
		s.element(fmt.Sprintf("h%d", n.Level), n)
	case *ast.Paragraph:
		s.paragraph(n)
	case *ast.TextBlock:
		s.inlines(n)
	case *ast.List:
		s.list(n)
	case *ast.Blockquote:
		s.quote(n)
	case *ast.ThematicBreak:
		s.write("<hr>\n")
	case *ast.FencedCodeBlock:
		s.code(n)
	case *extended.Table:
		s.table(n)
	default:
		s.fail("a page cannot set a block of the kind %s", n.Kind())
	}
}

// element sets a block of words.
func (s *setter) element(name string, n ast.Node) {
	s.write("<", name, ">")
	s.inlines(n)
	s.write("</", name, ">\n")
}

// paragraph sets a paragraph, or the figure that is all there is of one. A
// paragraph of strong words alone leads what follows it, as a small heading.
func (s *setter) paragraph(n ast.Node) {
	first := n.FirstChild()
	if image, ok := first.(*ast.Image); ok && n.ChildCount() == 1 {
		s.figure(string(image.Destination))
		return
	}
	if n.ChildCount() == 1 && isStrong(first) {
		s.write(`<p class="lead">`)
		s.inlines(n)
		s.write("</p>\n")
		return
	}
	s.element("p", n)
}

func isStrong(n ast.Node) bool {
	e, ok := n.(*ast.Emphasis)
	return ok && e.Level == 2
}

func (s *setter) list(n *ast.List) {
	if s.isFacts(n) {
		s.facts(n)
		return
	}
	name := "ul"
	if n.IsOrdered() {
		name = "ol"
	}
	s.write("<", name, ">\n")
	for item := n.FirstChild(); item != nil; item = item.NextSibling() {
		s.write("<li>")
		s.item(item)
		s.write("</li>\n")
	}
	s.write("</", name, ">\n")
}

// item sets the words of an item; an item of ours is one line.
func (s *setter) item(item ast.Node) {
	for n := item.FirstChild(); n != nil; n = n.NextSibling() {
		if n.Kind() != ast.KindTextBlock && n.Kind() != ast.KindParagraph {
			s.block(n)
			continue
		}
		s.inlines(n)
	}
}

// isFacts reports a list of which every item begins with a label: **Job:** …
func (s *setter) isFacts(list *ast.List) bool {
	for item := list.FirstChild(); item != nil; item = item.NextSibling() {
		label := labelOf(item)
		if label == nil || !strings.HasSuffix(s.words(label), ":") {
			return false
		}
	}
	return !list.IsOrdered()
}

func labelOf(item ast.Node) ast.Node {
	if line := item.FirstChild(); line != nil && isStrong(line.FirstChild()) {
		return line.FirstChild()
	}
	return nil
}

func (s *setter) facts(list *ast.List) {
	s.write("<dl>\n")
	for item := list.FirstChild(); item != nil; item = item.NextSibling() {
		label := labelOf(item)
		s.write("<div><dt>", s.text(strings.TrimSuffix(s.words(label), ":")), "</dt><dd>")
		for n := label.NextSibling(); n != nil; n = n.NextSibling() {
			s.inline(n)
		}
		s.write("</dd></div>\n")
	}
	s.write("</dl>\n")
}

// quote sets a quotation. One that begins with strong words is a notice.
func (s *setter) quote(n ast.Node) {
	name, class := "blockquote", ""
	if first := n.FirstChild(); first != nil && isStrong(first.FirstChild()) {
		name, class = "div", ` class="notice"`
	}
	s.write("<", name, class, ">\n")
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		s.block(child)
	}
	s.write("</", name, ">\n")
}

// code sets lines that are typed or drawn in letters.
func (s *setter) code(n *ast.FencedCodeBlock) {
	s.write("<pre>")
	lines := n.Lines()
	for i := range lines.Len() {
		line := lines.At(i)
		s.write(escape(string(line.Value(s.source))))
	}
	s.write("</pre>\n")
}

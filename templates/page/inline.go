package page

import (
	"html"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"
)

// Text returns the words of a piece of Markdown text, without the backslashes
// and references that Markdown does not show.
func Text(n *ast.Text, source []byte) string {
	raw := n.Segment.Value(source)
	if n.IsRaw() {
		return string(raw)
	}
	return string(util.UnescapePunctuations(util.ResolveEntityNames(raw)))
}

// words are the words below a node without any markup; "" for none.
func (s *setter) words(n ast.Node) string {
	if n == nil {
		return ""
	}
	var b strings.Builder
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok && entering {
			b.WriteString(Text(t, s.source))
			if t.SoftLineBreak() || t.HardLineBreak() {
				b.WriteByte(' ')
			}
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// text prepares words for the page.
func (s *setter) text(words string) string {
	if s.page.Words != nil {
		words = s.page.Words(words)
	}
	return escape(words)
}

// escape is html.EscapeString but for the quotes, which stand in no attribute.
func escape(words string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;").Replace(words)
}

func (s *setter) inlines(n ast.Node) {
	for child := n.FirstChild(); child != nil; child = child.NextSibling() {
		s.inline(child)
	}
}

// inline sets a part of a line; a kind that no document of ours has is an error.
func (s *setter) inline(n ast.Node) {
	switch n := n.(type) {
	case *ast.Text:
		s.write(s.text(Text(n, s.source)))
		if n.SoftLineBreak() || n.HardLineBreak() {
			s.write("\n")
		}
	case *ast.Emphasis:
		name := "em"
		if n.Level == 2 {
			name = "strong"
		}
		s.write("<", name, ">")
		s.inlines(n)
		s.write("</", name, ">")
	case *ast.Link:
		s.file(n)
	default:
		s.fail("a page cannot set words of the kind %s", n.Kind())
	}
}

// file sets a link to a file of the job: a photo as a small picture, another
// file as its name, since it does not go along with the page.
func (s *setter) file(n *ast.Link) {
	if file := photoOf(n); file != "" {
		s.img("thumb", "Photo "+s.words(n), picture{file, thumbSize})
	}
	s.write(`<span class="file">`, s.text(s.words(n)), "</span>")
}

// img sets a picture.
func (s *setter) img(class, alt string, p picture) {
	if !slices.Contains(s.wanted, p) {
		s.wanted = append(s.wanted, p)
	}
	s.write(`<img class="`, class, `" alt="`, html.EscapeString(alt), `" src="`, s.photos[p], `">`)
}

package page

import (
	"fmt"
	"html"
	"strings"

	"github.com/yuin/goldmark/ast"
)

// chapter is a heading of the second level with what follows it; the first one
// may have no heading.
type chapter struct {
	name  string // "" where it has no heading
	title ast.Node
	body  []ast.Node
}

func (s *setter) chapters(body []ast.Node) []chapter {
	var all []chapter
	for _, n := range body {
		h, isHeading := n.(*ast.Heading)
		switch {
		case isHeading && h.Level == 2:
			all = append(all, chapter{name: s.name(s.words(n)), title: n})
			continue
		case all == nil:
			all = append(all, chapter{})
		}
		last := &all[len(all)-1]
		last.body = append(last.body, n)
	}
	return all
}

func (s *setter) chapter(c chapter) {
	if c.title == nil {
		s.blocks(c.body)
		return
	}
	s.write(`<section id="`, c.name, `" aria-labelledby="`, c.name, `-title">`, "\n", `<h2 id="`, c.name, `-title">`)
	s.inlines(c.title)
	s.write("</h2>\n")
	s.blocks(c.body)
	s.write("</section>\n")
}

// fewChapters is the number up to which a document needs no list of contents.
const fewChapters = 5

func (s *setter) contents(chapters []chapter) {
	if len(chapters) <= fewChapters {
		return
	}
	s.write("<nav aria-labelledby=\"contents\">\n<p id=\"contents\">Contents</p>\n<ol>\n")
	for _, c := range chapters {
		if c.title != nil {
			s.write(`<li><a href="#`, c.name, `">`, html.EscapeString(s.words(c.title)), "</a></li>\n")
		}
	}
	s.write("</ol>\n</nav>\n")
}

// longestName keeps the name of a chapter short; what a person typed may be in
// its heading.
const longestName = 48

// name makes the name that links use of a heading, each once.
func (s *setter) name(words string) string {
	base := strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
	}), "-")
	base = strings.Trim(base[:min(len(base), longestName)], "-")
	if base == "" || base == "contents" || base[0] <= '9' {
		base = "part-" + base
	}
	name := base
	for n := 2; s.names[name]; n++ {
		name = fmt.Sprintf("%s-%d", base, n)
	}
	s.names[name] = true
	return name
}

// Package page sets a Markdown document of ours as one HTML file that stands
// alone: style, photos and figures are in it, it runs no script, and it loads
// nothing. The policy in its head says so to the browser, which then refuses
// whatever should have slipped in.
//
// The Markdown is the only source. Its parts are told apart by their shape: what
// stands before the heading of the document is the letterhead, a quotation
// behind that heading is a notice, a list of labels is a list of facts, a table
// with a photo in each row is a row of pictures, and what follows the last rule
// is the footer. Nothing a person typed can make such a part, because it is
// escaped in the Markdown; here it is escaped once more, for HTML.
//
// style.css holds the looks on a screen, print.css those on paper: Letter or A4,
// black on white, the heads of tables repeated, rows and pictures whole, the
// number of the page in the margin. An outcome is told by its word; shape and
// color only repeat it.
package page

import (
	"bytes"
	_ "embed"
	"fmt"
	"html"
	"strings"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	markdown "github.com/yuin/goldmark/text"
)

// Paper is a size of paper, as CSS names it.
type Paper string

// The two sizes that are in use.
const (
	Letter Paper = "letter"
	A4     Paper = "A4"
)

// Page is a document and what goes with it onto its page.
type Page struct {
	Kind     string // of document, a class of the page
	Paper    Paper
	Running  string // at the foot of each printed page: which document of which state
	Markdown string // in which a figure is an image of its name: ![](figure:NAME)
	Figures  []Figure
	// Photo returns a JPEG of a file of the job, its longest side at most so
	// many pixels.
	Photo func(file string, longest int) ([]byte, error)
	// Words may change a text before it is escaped, such as to keep a number in
	// one line with its unit; nil leaves it.
	Words func(string) string
}

// Figure is a drawing with its words.
type Figure struct{ Name, Caption, Alt, SVG string }

// policy lets a page show what is in it, and nothing else.
const policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"

//go:embed style.css
var screenStyle string

//go:embed print.css
var printStyle string

var reader = goldmark.New(goldmark.WithExtensions(extension.Table)).Parser()

// HTML returns the page. The same Page gives the same bytes.
func (p Page) HTML() (string, error) {
	if p.Paper != Letter && p.Paper != A4 {
		return "", fmt.Errorf("the paper %q is neither %s nor %s", p.Paper, Letter, A4)
	}
	source := []byte(p.Markdown)
	parts := split(reader.Parse(markdown.NewReader(source)))
	// It is set twice: the first time tells which photos it shows.
	draft := newSetter(p, source, nil)
	draft.document(parts)
	if draft.err != nil {
		return "", draft.err
	}
	photos, err := p.develop(draft.wanted)
	if err != nil {
		return "", err
	}
	s := newSetter(p, source, photos)
	s.document(parts)
	return s.out.String(), s.err
}

// parts are the blocks of a document by where they stand.
type parts struct {
	letter []ast.Node // before the heading
	title  ast.Node   // nil where there is none
	notice []ast.Node // quotations right behind the heading
	body   []ast.Node
	foot   []ast.Node // behind the last rule
}

func split(document ast.Node) parts {
	var p parts
	for n := document.FirstChild(); n != nil; n = n.NextSibling() {
		h, isHeading := n.(*ast.Heading)
		switch {
		case isHeading && h.Level == 1 && p.title == nil:
			p.title = n
			p.letter, p.body = p.body, nil
		case p.title != nil && p.body == nil && n.Kind() == ast.KindBlockquote:
			p.notice = append(p.notice, n)
		default:
			p.body = append(p.body, n)
		}
	}
	for i := len(p.body) - 1; i >= 0; i-- {
		if p.body[i].Kind() == ast.KindThematicBreak {
			p.body, p.foot = p.body[:i], p.body[i+1:]
			break
		}
	}
	return p
}

// setter writes one page.
type setter struct {
	page       Page
	source     []byte
	out        bytes.Buffer
	names      map[string]bool    // of chapters, so that each is used once
	photos     map[picture]string // nil while it is not known which there are
	wanted     []picture          // the photos that it shows
	drawingIDs map[string]string  // identifier in a drawing, and whose it is
	err        error              // the first
}

func newSetter(p Page, source []byte, photos map[picture]string) *setter {
	return &setter{page: p, source: source, photos: photos, names: map[string]bool{}, drawingIDs: map[string]string{}}
}

func (s *setter) fail(format string, args ...any) {
	if s.err == nil {
		s.err = fmt.Errorf(format, args...)
	}
}

func (s *setter) write(parts ...string) {
	for _, part := range parts {
		s.out.WriteString(part)
	}
}

func (s *setter) document(p parts) {
	title := s.words(p.title)
	s.write("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n",
		`<meta http-equiv="Content-Security-Policy" content="`, policy, "\">\n",
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<meta name=\"color-scheme\" content=\"light dark\">\n",
		"<title>", html.EscapeString(title), "</title>\n<style>\n", screenStyle, printStyle, s.paperStyle(),
		"</style>\n</head>\n<body class=\"", html.EscapeString(s.page.Kind), "\">\n")
	s.header(p)
	chapters := s.chapters(p.body)
	s.contents(chapters)
	s.write("<main>\n")
	for _, c := range chapters {
		s.chapter(c)
	}
	s.write("</main>\n")
	if p.foot != nil {
		s.write("<footer>\n")
		s.blocks(p.foot)
		s.write("</footer>\n")
	}
	s.write("</body>\n</html>\n")
}

// header sets the letterhead, the heading, the facts and the notices.
func (s *setter) header(p parts) {
	if p.title == nil {
		return
	}
	s.write("<header>\n")
	var facts []ast.Node
	for _, n := range p.letter {
		if n.Kind() == ast.KindList {
			facts = append(facts, n)
			continue
		}
		s.write("<p class=\"from\">")
		s.inlines(n)
		s.write("</p>\n")
	}
	s.block(p.title)
	s.blocks(facts)
	s.blocks(p.notice)
	s.write("</header>\n")
}

// paperStyle is the part of the style that depends on the document.
func (s *setter) paperStyle() string {
	return "@page { size: " + string(s.page.Paper) + "; @bottom-left { content: " + cssString(s.page.Running) + " } }\n"
}

// cssString writes a text as a string of CSS that nothing in it can end.
func cssString(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		if r == ' ' || r < 0x80 && (r >= '0' && r <= '9' || r|0x20 >= 'a' && r|0x20 <= 'z') {
			b.WriteRune(r)
			continue
		}
		fmt.Fprintf(&b, `\%x `, r)
	}
	b.WriteByte('"')
	return b.String()
}

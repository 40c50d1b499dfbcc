// Package pagetest looks at pages in tests, with a parser that is not ours.
package pagetest

import (
	"fmt"
	"strings"

	"golang.org/x/net/html"
)

// elements and attributes are those that a page may have, besides those of a
// drawing.
var elements = map[string]bool{
	"html": true, "head": true, "meta": true, "title": true, "style": true, "body": true,
	"header": true, "nav": true, "main": true, "section": true, "footer": true, "div": true,
	"h1": true, "h2": true, "h3": true, "p": true, "ul": true, "ol": true, "li": true, "dl": true, "dt": true, "dd": true,
	"blockquote": true, "pre": true, "hr": true, "a": true, "span": true, "strong": true, "em": true, "b": true,
	"table": true, "thead": true, "tbody": true, "tr": true, "th": true, "td": true,
	"figure": true, "figcaption": true, "img": true,
}

var attributes = map[string]bool{
	"lang": true, "charset": true, "http-equiv": true, "content": true, "name": true, "class": true, "id": true,
	"aria-labelledby": true, "aria-label": true, "role": true, "scope": true, "href": true, "alt": true, "src": true, "data-head": true,
}

// policy is what a page must tell the browser.
const policy = `content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'"`

// look is a walk through one page.
type look struct {
	faults []string
	ids    map[string]bool
	links  []string
	level  int
}

func (l *look) fault(format string, args ...any) {
	l.faults = append(l.faults, fmt.Sprintf(format, args...))
}

// Faults says why a page does not stand alone or is not in order; nil when all
// is well.
func Faults(page string) []string {
	l := &look{ids: map[string]bool{}}
	if !strings.Contains(page, policy) {
		l.fault("there is no policy")
	}
	err := walk(page, func(n *html.Node) {
		if n.Namespace != "" {
			l.drawing(n)
			return
		}
		l.element(n)
	}, func(*html.Node) {})
	if err != nil {
		return []string{err.Error()}
	}
	for _, link := range l.links {
		if name, inside := strings.CutPrefix(link, "#"); !inside || !l.ids[name] {
			l.fault("a link leads to %q, which is not in the page", link)
		}
	}
	return l.faults
}

// drawing looks at an element of an SVG.
func (l *look) drawing(n *html.Node) {
	switch strings.ToLower(n.Data) {
	case "script", "foreignobject", "image", "a", "animate", "set", "iframe":
		l.fault("a drawing has <%s>", n.Data)
	}
	for _, a := range n.Attr {
		if strings.HasPrefix(strings.ToLower(a.Key), "on") || a.Key == "href" && !strings.HasPrefix(a.Val, "#") {
			l.fault("a drawing has %s=%q", a.Key, a.Val)
		}
	}
}

func (l *look) element(n *html.Node) {
	if !elements[n.Data] {
		l.fault("the page has <%s>", n.Data)
	}
	has := map[string]string{}
	for _, a := range n.Attr {
		has[a.Key] = a.Val
		if !attributes[a.Key] {
			l.fault("<%s> has %s=%q", n.Data, a.Key, a.Val)
		}
	}
	if id := has["id"]; id != "" {
		if l.ids[id] {
			l.fault("two elements are called %q", id)
		}
		l.ids[id] = true
	}
	switch n.Data {
	case "h1", "h2", "h3":
		level := int(n.Data[1] - '0')
		if level > l.level+1 {
			l.fault("a heading of level %d follows one of level %d", level, l.level)
		}
		l.level = level
	case "a":
		l.links = append(l.links, has["href"])
	case "img":
		if has["alt"] == "" || !strings.HasPrefix(has["src"], "data:image/jpeg;base64,") {
			l.fault("a picture has the words %q and is %.40q", has["alt"], has["src"])
		}
	case "th":
		if has["scope"] == "" {
			l.fault("a heading of a table does not say of what")
		}
	case "style":
		if strings.Contains(n.FirstChild.Data, "url(") || strings.Contains(n.FirstChild.Data, "@import") {
			l.fault("the style loads something")
		}
	}
}

// Shape is the tree of a page without its words, without the names that come from
// them, and without the insides of drawings, which break words into lines.
func Shape(page string) (string, error) {
	var b strings.Builder
	err := walk(page, func(n *html.Node) {
		if n.Namespace != "" {
			return
		}
		b.WriteString("(" + n.Data)
		for _, a := range n.Attr {
			b.WriteString(" " + a.Key)
			if a.Key == "class" {
				b.WriteString("=" + a.Val)
			}
		}
	}, func(n *html.Node) {
		if n.Namespace == "" {
			b.WriteByte(')')
		}
	})
	return b.String(), err
}

// walk calls functions for each element of a page, before and after those inside
// it.
func walk(page string, enter, leave func(*html.Node)) error {
	document, err := html.Parse(strings.NewReader(page))
	if err != nil {
		return err
	}
	var visit func(n *html.Node)
	visit = func(n *html.Node) {
		if n.Type == html.ElementNode {
			enter(n)
			defer leave(n)
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			visit(c)
		}
	}
	visit(document)
	return nil
}

package templates

import (
	"fmt"
	"net/url"
	"regexp"
	"slices"
	"strings"
)

// Figure is a picture in a document, drawn from the job alone, so that the same
// commit gives the same bytes. The zero Figure prints nothing.
type Figure struct {
	Name    string // of its file: lower-case letters, digits and hyphens
	Caption string // what is seen, in a line
	Alt     string // what a reader who cannot see it should know: the values, not the colors
	SVG     string // stands alone: no script, no other file, no font of its own
	Text    string // the same in letters, for a terminal of 80 columns

	err error // why it could not be drawn
}

// figureTarget is what the Markdown of a template points to in place of a file,
// until it is known how the document is shown.
const figureTarget = "figure:"

var (
	figureName = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	figureLine = regexp.MustCompile(`(?m)^!\[\]\(figure:([a-z0-9-]+)\)$`)
)

// printer turns what the actions of one template print into Markdown, and keeps
// the figures among it.
type printer struct{ figures []Figure }

func (p *printer) words(v any) (Markdown, error) {
	f, ok := v.(Figure)
	if !ok {
		return words(v)
	}
	if f == (Figure{}) {
		return "", nil
	}
	if f.err != nil {
		return "", f.err
	}
	if !figureName.MatchString(f.Name) || f.Alt == "" || f.SVG == "" || f.Text == "" {
		return "", fmt.Errorf("the figure %q needs a name of letters, digits and hyphens, words for those who cannot see it, an SVG and a text", f.Name)
	}
	if slices.ContainsFunc(p.figures, func(g Figure) bool { return g.Name == f.Name }) {
		return "", fmt.Errorf("two figures of one document are called %q", f.Name)
	}
	p.figures = append(p.figures, f)
	return Markdown("![](" + figureTarget + f.Name + ")"), nil
}

// withFigures puts what show returns in place of each figure of a text.
func withFigures(text string, figures []Figure, show func(Figure) string) string {
	return figureLine.ReplaceAllStringFunc(text, func(line string) string {
		name := figureLine.FindStringSubmatch(line)[1]
		i := slices.IndexFunc(figures, func(f Figure) bool { return f.Name == name })
		if i < 0 {
			return line
		}
		return show(figures[i])
	})
}

// linked is a figure as a link to its file in a folder beside the document.
func (f Figure) linked(folder string) string {
	line := "![" + string(Escape(f.Alt)) + "](" + url.PathEscape(folder) + "/" + f.Name + ".svg)"
	if f.Caption == "" {
		return line
	}
	return line + "\n\n*" + string(Escape(f.Caption)) + "*"
}

// drawn is a figure in letters.
func (f Figure) drawn() string {
	text := strings.TrimRight(Terminal(strings.ReplaceAll(f.Text, "\t", " ")), "\n ")
	mark := fence
	for strings.Contains(text, mark) {
		mark += "`"
	}
	text = mark + "\n" + text + "\n" + mark
	if f.Caption == "" {
		return text
	}
	return "*" + string(Escape(f.Caption)) + "*\n\n" + text
}

package templates

import (
	"embed"
	"fmt"
	"strconv"
	"strings"
	"sync"
	"text/template"
	"text/template/parse"
	"time"
)

//go:embed *.md.tmpl
var files embed.FS

// documents holds the parsed templates, in which every action escapes.
var documents = sync.OnceValues(func() (*template.Template, error) {
	t, err := template.New("documents").Funcs(template.FuncMap{"words": words}).ParseFS(files, "*.md.tmpl")
	if err != nil {
		return nil, err
	}
	for _, d := range t.Templates() {
		if d.Tree != nil {
			escapeActions(d.Tree.Root)
		}
	}
	return t, nil
})

// Document is a document of a job, with the figures that it shows. It is told
// when it is written how they are shown: Markdown links to them or draws them in
// letters.
type Document struct {
	Kind    string    // its template
	Figures []Figure  // in the order in which they stand
	At      time.Time // of the commit that it is computed from
	text    string
	sheet   sheet
}

// Markdown returns the document. Its figures are files called <name>.svg in a
// folder beside it; where folder is "", they are drawn in letters.
func (d Document) Markdown(folder string) string {
	return withFigures(d.text, d.Figures, func(f Figure) string {
		if folder == "" {
			return f.drawn()
		}
		return f.linked(folder)
	})
}

// write fills a template with its view.
func write(name string, view any) (Document, error) {
	t, err := documents()
	if err != nil {
		return Document{}, err
	}
	return fill(t, name, view)
}

// fill fills a template of a set, which it leaves as it is.
func fill(set *template.Template, name string, view any) (Document, error) {
	t, err := set.Clone()
	if err != nil {
		return Document{}, err
	}
	p := &printer{}
	var b strings.Builder
	if err := t.Funcs(template.FuncMap{"words": p.words}).ExecuteTemplate(&b, name+".md.tmpl", view); err != nil {
		return Document{}, fmt.Errorf("writing the document: %w", err)
	}
	text, err := tidy(b.String())
	return Document{Kind: name, Figures: p.figures, text: text}, err
}

// words turns what an action prints into Markdown. A view holds texts and
// numbers of things; anything else there is a mistake of ours.
func words(v any) (Markdown, error) {
	switch v := v.(type) {
	case Markdown:
		return v, nil
	case string:
		return Escape(v), nil
	case int:
		return Markdown(strconv.Itoa(v)), nil
	}
	return "", fmt.Errorf("a document cannot print a %T", v)
}

// escapeActions adds words to the end of every action that prints.
func escapeActions(node parse.Node) {
	switch n := node.(type) {
	case *parse.ListNode:
		if n == nil {
			return
		}
		for _, child := range n.Nodes {
			escapeActions(child)
		}
	case *parse.ActionNode:
		if len(n.Pipe.Decl) == 0 {
			n.Pipe.Cmds = append(n.Pipe.Cmds, &parse.CommandNode{
				NodeType: parse.NodeCommand, Pos: n.Pos, Args: []parse.Node{parse.NewIdentifier("words").SetPos(n.Pos)},
			})
		}
	case *parse.IfNode:
		escapeBranches(&n.BranchNode)
	case *parse.RangeNode:
		escapeBranches(&n.BranchNode)
	case *parse.WithNode:
		escapeBranches(&n.BranchNode)
	}
}

func escapeBranches(b *parse.BranchNode) {
	escapeActions(b.List)
	escapeActions(b.ElseList)
}

// tidy sets tables in columns, leaves one blank line between blocks and none
// between the items of a list.
func tidy(document string) (string, error) {
	var out []string
	lines := strings.Split(document, "\n")
	for i := 0; i < len(lines); {
		if n := tableLength(lines[i:]); n > 0 {
			rows, err := alignTable(lines[i : i+n])
			if err != nil {
				return "", err
			}
			out = append(out, rows...)
			i += n
			continue
		}
		out = appendLine(out, strings.TrimRight(lines[i], " "))
		i++
	}
	return strings.TrimRight(strings.Join(out, "\n"), "\n") + "\n", nil
}

func appendLine(out []string, line string) []string {
	last := len(out) - 1
	if line == "" {
		if last < 0 || out[last] == "" {
			return out
		}
		return append(out, "")
	}
	if last > 0 && out[last] == "" && isItem(line) && isItem(out[last-1]) {
		out = out[:last]
	}
	return append(out, line)
}

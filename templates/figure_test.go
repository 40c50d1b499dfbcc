package templates

import (
	"strings"
	"testing"
	"text/template"
)

// drawing is a figure as package figure would make it.
func drawing(name, text string) Figure {
	return Figure{
		Name: name, Caption: "Temperature of the room " + text, Alt: "It falls from 75 °F to 55 °F in 14.3 h. " + text,
		SVG: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 5"><path d="M0 0L10 5"/></svg>`, Text: "75 |\\\n55 | \\__ " + text,
	}
}

// paperOf writes a document from a template that is made for a test.
func paperOf(t *testing.T, source string, view any) (Document, error) {
	t.Helper()
	tmpl, err := template.New("test.md.tmpl").Funcs(template.FuncMap{"words": words}).Parse(source)
	if err != nil {
		t.Fatal(err)
	}
	escapeActions(tmpl.Root)
	return fill(tmpl, "test", view)
}

func TestFigureInADocument(t *testing.T) {
	paper, err := paperOf(t, "# Log\n\n{{.Log}}\n\nAfter it.\n\n{{.None}}\n", map[string]Figure{"Log": drawing("pull-down", "now"), "None": {}})
	if err != nil {
		t.Fatal(err)
	}
	const linked = "# Log\n\n![It falls from 75 °F to 55 °F in 14.3 h. now](my%20record-figures/pull-down.svg)\n\n*Temperature of the room now*\n\nAfter it.\n"
	if got := paper.Markdown("my record-figures"); got != linked {
		t.Errorf("with files it is\n%s\nwant\n%s", got, linked)
	}
	const drawn = "# Log\n\n*Temperature of the room now*\n\n```\n75 |\\\n55 | \\__ now\n```\n\nAfter it.\n"
	if got := paper.Markdown(""); got != drawn {
		t.Errorf("without files it is\n%s\nwant\n%s", got, drawn)
	}
	shown, err := Render(paper.Markdown(""), 80, false)
	if err != nil || !strings.Contains(shown, "    75 |\\\n    55 | \\__ now\n") {
		t.Errorf("a terminal shows\n%s, %v", shown, err)
	}
}

// TestFigureOfHostileText asks that what a person typed changes no more of a
// document with a figure than its words.
func TestFigureOfHostileText(t *testing.T) {
	shape := func(text, folder string) string {
		paper, err := paperOf(t, "{{.Text}}\n\n{{.Log}}\n\nAfter it.\n", map[string]any{"Text": "x " + text, "Log": drawing("log", text)})
		if err != nil {
			t.Fatal(err)
		}
		s, _ := outline(paper.Markdown(folder))
		return s
	}
	for _, folder := range []string{"", "figures"} {
		for _, text := range append(wild, "![](figure:log)", "\n![](figure:log)\n", "````\n```", "x \" y ) z") {
			if got, want := shape(text, folder), shape("plain words", folder); got != want {
				t.Errorf("%q changes the shape:\n got %s\nwant %s", text, got, want)
			}
		}
	}
}

// TestFenceInAFigure asks that a terminal shows letters that look like a fence.
func TestFenceInAFigure(t *testing.T) {
	f := drawing("log", "")
	f.Text = "a\n```\n| b | c |\n| --- | --- |\n```\nd"
	paper, err := paperOf(t, "{{.}}\n\nAfter it.\n", f)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Render(paper.Markdown(""), 80, false)
	if want := "    a\n    ```\n    | b | c |\n    | --- | --- |\n    ```\n    d\n\nAfter it.\n"; err != nil || !strings.HasSuffix(got, want) {
		t.Errorf("a terminal shows\n%s, %v, want\n%s", got, err, want)
	}
}

func TestFigureThatCannotBeShown(t *testing.T) {
	good := drawing("log", "")
	for name, spoil := range map[string]func(*Figure){
		"no name": func(f *Figure) { f.Name = "" }, "a path": func(f *Figure) { f.Name = "../log" }, "capitals": func(f *Figure) { f.Name = "Log" },
		"no words": func(f *Figure) { f.Alt = "" }, "no picture": func(f *Figure) { f.SVG = "" }, "no text": func(f *Figure) { f.Text = "" },
	} {
		f := good
		spoil(&f)
		if _, err := paperOf(t, "{{.}}", f); err == nil {
			t.Errorf("a figure with %s is shown", name)
		}
	}
	if _, err := paperOf(t, "{{.}}\n\n{{.}}", good); err == nil {
		t.Error("two figures have one file")
	}
}

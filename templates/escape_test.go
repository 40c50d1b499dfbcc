package templates

import (
	"html"
	"math/rand/v2"
	"strings"
	"testing"
	"unicode"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"
)

// hostile are texts that try to be more than words.
var hostile = []string{
	"plain words, 5 1/2 in at bay 3",
	"a | b | c", `\| a`, `\`, `\\|`, "`|`", "x |\n| --- |\n| forged | pass |",
	"# heading", "text\n# heading", "Setext\n===", "---", "- item", "+ item", "* item", "1. item", "12) item", "> quote", ">1", "=1",
	"    indented", "\tcode", "```\nfence", "~~~", "~~gone~~", "**pass**", "_pass_", "a_b_c", "__pass__", "*", "_",
	"[pass](http://example.org)", "![x](y)", "<b>pass</b>", "<!-- ", "<http://example.org>", "http://example.org", "https://example.org/a_b_c",
	"www.example.org", "WWW.example.org", "person@example.org", "mailto:a@b.org", "ftp://example.org",
	"&lt;b&gt;", "&#x202e;", "&amp", "[ ] done", "[^1]: note", ": definition", "term\n: definition", "| --- |", "|---|",
	"\x1b[2Jgone", "\x1b]0;title\a", "a\u202eb\u202c", "\u2066x\u2069", "a\u200bb", "soft\u00adhyphen", "a\u2028b", "a\u0085b", "\ufeffx",
	"\xff\xfe", "trailing \\", "two  spaces  \nbreak", "", " ", "\n\n", "日本語 | テスト", "=1+1", "+1 K", "-0.5 K", "$x$ and $y$",
	"-", "=", "+", "-a", "1.", "1)", "123456789. x", "1234567890. x", "a.\nb", "{#id}", "x {#id .class}", "::: note", ":tada:",
	"\u3164\u3164", "e\u0301", "👷\u200d♀️",
}

// Where a text may stand in a document.
var contexts = []struct{ before, after string }{
	{"", "\n"},
	{"# ", "\n"},
	{"## ", "\n"},
	{"- ", "\n"},
	{"1. ", "\n"},
	{"- **", ":** words\n"},
	{"words ", " words\n"},
	{"words (", ")\n"},
	{"Words.\n\n", "\n\nWords.\n"},
	{"words\n", "\nwords\n"},
	{"> ", "\n"},
	{"| a | b |\n| --- | ---: |\n| ", " | b |\n"},
	{"| a | b |\n| --- | ---: |\n| a | ", " |\n"},
	{"| ", " | b |\n| --- | --- |\n| a | b |\n"},
	{"[", "](evidence/photos/x.jpg)\n"},
}

var reader = goldmark.New(goldmark.WithExtensions(extension.GFM, extension.DefinitionList, extension.Footnote)).Parser()

// outline is the tree of a document without the words in it.
func outline(markdown string) (shape, words string) {
	source := []byte(markdown)
	var s, w strings.Builder
	_ = ast.Walk(reader.Parse(text.NewReader(source)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if t, ok := n.(*ast.Text); ok {
			if entering {
				w.Write(t.Segment.Value(source))
				if t.SoftLineBreak() {
					w.WriteByte('\n')
				}
				if t.HardLineBreak() {
					s.WriteString("break ")
				}
			}
			return ast.WalkContinue, nil
		}
		if entering {
			s.WriteString(n.Kind().String() + "(")
		} else {
			s.WriteString(") ")
		}
		return ast.WalkContinue, nil
	})
	return s.String(), w.String()
}

// checkEscape asks that a text changes nothing but the words of a document.
func checkEscape(t *testing.T, typed string) {
	t.Helper()
	escaped := string(Escape(typed))
	if strings.ContainsFunc(escaped, func(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }) {
		t.Errorf("Escape(%q) = %q keeps a control character", typed, escaped)
	}
	if escaped == "" {
		return
	}
	for _, c := range contexts {
		want, benign := outline(c.before + "x" + c.after)
		got, words := outline(c.before + escaped + c.after)
		if got != want {
			t.Errorf("Escape(%q) = %q after %q changes the document:\n got %s\nwant %s", typed, escaped, c.before, got, want)
		}
		if w := strings.Replace(benign, "x", plain(typed), 1); unescape(words) != w {
			t.Errorf("Escape(%q) = %q after %q reads %q, want %q", typed, escaped, c.before, unescape(words), w)
		}
	}
}

// unescape takes away the backslashes and references that Markdown does not
// show; the parser leaves them in its segments.
func unescape(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] == '\\' && i+1 < len(s) && strings.IndexByte("!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~", s[i+1]) >= 0 {
			i++
		}
		b.WriteByte(s[i])
	}
	return html.UnescapeString(b.String())
}

func TestEscape(t *testing.T) {
	for _, typed := range hostile {
		checkEscape(t, typed)
	}
}

func TestEscapeKeepsWhatPeopleWrite(t *testing.T) {
	for _, text := range []string{"5 1/2 in", "R-19", "north wall/bay 3", "IMG_0412.jpg", "-0.5 K", "55 °F (12.8 °C)", "60 % RH", "Smith & Sons", "2026-05-04 14:00", "it's 5\" deep"} {
		if got := string(Escape(text)); got != text {
			t.Errorf("Escape(%q) = %q, want it unchanged", text, got)
		}
	}
}

// TestEscapeOfMarkup strings together the characters that Markdown is made of.
func TestEscapeOfMarkup(t *testing.T) {
	markup := []rune("\\`*_{}[]()<>#+-.!|~&:;=^\"'$@ \n a1wW/x%htp")
	random := rand.New(rand.NewPCG(1, 2))
	for range 4_000 {
		typed := make([]rune, 1+random.IntN(9))
		for i := range typed {
			typed[i] = markup[random.IntN(len(markup))]
		}
		checkEscape(t, string(typed))
	}
}

func FuzzEscape(f *testing.F) {
	for _, typed := range hostile {
		f.Add(typed)
	}
	f.Fuzz(func(t *testing.T, typed string) { checkEscape(t, typed) })
}

func TestTerminal(t *testing.T) {
	for _, typed := range hostile {
		got := Terminal(typed)
		if strings.ContainsFunc(got, func(r rune) bool {
			return unicode.IsControl(r) && r != '\n' && r != '\t' || unicode.Is(unicode.Bidi_Control, r)
		}) {
			t.Errorf("Terminal(%q) = %q keeps a control character", typed, got)
		}
	}
	if got, want := Terminal("\x1b[31mred\x1b[0m\r\npass"), "[31mred[0m\npass"; got != want {
		t.Errorf("Terminal = %q, want %q", got, want)
	}
}

func TestCSV(t *testing.T) {
	for text, want := range map[string]string{
		"=1+1": "'=1+1", "@SUM(A1)": "'@SUM(A1)", "+cmd|' /C calc'!A0": "'+cmd|' /C calc'!A0",
		"-2+3": "'-2+3", "-0.5 K": "-0.5 K", "+1 K": "+1 K", "5 1/2 in": "5 1/2 in", "\t=x": "'=x", "north wall": "north wall",
		"'quoted": "''quoted", "-1 °F": "-1 °F", "": "",
	} {
		if got := CSV(text); got != want {
			t.Errorf("CSV(%q) = %q, want %q", text, got, want)
		}
	}
}

func FuzzCSV(f *testing.F) {
	for _, typed := range hostile {
		f.Add(typed)
	}
	f.Fuzz(func(t *testing.T, typed string) {
		cell := CSV(typed)
		if FromCSV(cell) != plain(typed) {
			t.Errorf("FromCSV(CSV(%q)) = %q, want %q", typed, FromCSV(cell), plain(typed))
		}
		if cell != "" && strings.ContainsRune("=@|\t\r", rune(cell[0])) {
			t.Errorf("CSV(%q) = %q begins a formula", typed, cell)
		}
	})
}

package strict

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

func TestSplice(t *testing.T) {
	for _, tt := range []struct {
		data           string
		line, column   int
		old, new, want string
	}{
		{"a: 1 # one\nb: 2\n", 1, 4, "1", "12 in", "a: 12 in # one\nb: 2\n"},
		{"a: 1", 1, 4, "1", "2", "a: 2"},
		{"a: \"1\"\n", 1, 4, "1", "2", "a: \"2\"\n"},
		{"a: '1'   # x\n", 1, 4, "1", "it's", "a: 'it''s'   # x\n"},
		{"a: '1'\n", 1, 4, "1", "x\ny", "a: \"x\\ny\"\n"},
		{"a: it\n", 1, 4, "it", "yes", "a: yes\n"},
		{"a: it\n", 1, 4, "it", "null", "a: \"null\"\n"},
		{"a: it\n", 1, 4, "it", "bay #3", "a: \"bay #3\"\n"},
		{"a: it\n", 1, 4, "it", "x: y", "a: \"x: y\"\n"},
		{"a: it\n", 1, 4, "it", " x ", "a: \" x \"\n"},
		{"a: [x, y, z]\n", 1, 8, "y", "5 in", "a: [x, 5 in, z]\n"},
		{"a: [x, y, z]\n", 1, 8, "y", "5, 6", "a: [x, \"5, 6\", z]\n"},
		{"a: {per bay: 1, per face: 3} # c\n", 1, 27, "3", "4", "a: {per bay: 1, per face: 4} # c\n"},
		{"a: {é: 1, ü: 2}\n", 1, 14, "2", "3", "a: {é: 1, ü: 3}\n"},
		{"a: 1\r\nb: 2\r\n", 2, 4, "2", "3", "a: 1\r\nb: 3\r\n"},
		{"\ufeffa: 1\n", 1, 4, "1", "3", "\ufeffa: 3\n"},
		{"- \"a\": 1\n", 1, 8, "1", "3", ""},
		{"l:\n- a: 1\n  b: x   y # c\n", 3, 6, "x   y", "z", "l:\n- a: 1\n  b: z # c\n"},
		{"a: \"x\n  y\"\nb: 1\n", 1, 4, "x y", "z", "a: \"z\"\nb: 1\n"},
		{"a: x\n  y\nb: 1\n", 1, 4, "x y", "z", ""},
		{"a: |\n  x\nb: 1\n", 1, 4, "x\n", "z", ""},
		{"a:\nb: 1\n", 1, 3, "", "z", "a: z\nb: 1\n"},
		{"a: # c\nb: 1\n", 1, 3, "", "z", "a: z # c\nb: 1\n"},
		{"? a", 1, 3, "", "z", ""},
		{"a:\n  ~\n", 2, 3, "~", "z", "a:\n  z\n"},
		{"a: ~\n", 1, 4, "~", "z", "a: z\n"},
		{"a: 1\n", 1, 4, "2", "3", ""},
		{"a: 1\n", 1, 3, "1", "3", ""},
		{"a: 1\n", 7, 1, "1", "3", ""},
		{"a: 1\n", 1, 4, "1", "", ""},
		{"a: 1\n", 1, 4, "1", " ", ""},
		{"a: 1\n", 1, 4, "1", "\xff", ""},
		{"a: 1\nb: 2\n", 2, 1, "b", "c", "a: 1\nc: 2\n"},
		{"a: 1\nb: 2\n", 2, 1, "b", "a", ""},
		{"a: 1\na: 2\n", 2, 4, "2", "3", ""},
	} {
		got, err := Splice("f", []byte(tt.data), Pos{"f", tt.line, tt.column}, tt.old, tt.new)
		if string(got) != tt.want || (err == nil) != (tt.want != "") {
			t.Errorf("Splice(%q, %d:%d, %q, %q) = %q, %v, want %q", tt.data, tt.line, tt.column, tt.old, tt.new, got, err, tt.want)
		}
	}
}

func TestSpliceErrors(t *testing.T) {
	for _, tt := range []struct{ data, old, new, want string }{
		{"a: 1\n", "2", "3", `f:1:4: "2" is not written here; read the file again, it has changed`},
		{"a: 1\n", "1", "", `f:1:4: "" cannot be written as a value; give text in UTF-8, or delete the line by hand`},
		{"a: |\n  x\n", "x\n", "y", `f:1:4: the value runs over several lines; edit it by hand`},
		{"a: \"x\n", "x", "y", `f:1:4: the quote " is not closed; close it at the end of the value`},
	} {
		_, err := Splice("f", []byte(tt.data), Pos{"f", 1, 4}, tt.old, tt.new)
		if fmt.Sprint(err) != tt.want {
			t.Errorf("Splice(%q, %q, %q): %v, want %s", tt.data, tt.old, tt.new, err, tt.want)
		}
	}
}

func TestInsertAfter(t *testing.T) {
	value := Field{"reason", "bay #3"}
	for _, tt := range []struct {
		data         string
		line, column int
		field        Field
		want         string
	}{
		{"a: 1 # one\nb: 2\n", 1, 1, value, "a: 1 # one\nreason: \"bay #3\"\nb: 2\n"},
		{"a: 1", 1, 1, value, "a: 1\nreason: \"bay #3\""},
		{"a: 1\r\nb: 2\r\n", 2, 1, value, "a: 1\r\nb: 2\r\nreason: \"bay #3\"\r\n"},
		{"a: 1\n...\n", 1, 1, value, "a: 1\nreason: \"bay #3\"\n...\n"},
		{"\ufeffa: 1\n", 1, 1, value, "\ufeffa: 1\nreason: \"bay #3\"\n"},
		{"l:\n  - a: 1\n    b: 2\n  - c: 3\n", 2, 5, value, "l:\n  - a: 1\n    reason: \"bay #3\"\n    b: 2\n  - c: 3\n"},
		{"l:\n  - a: 1\n  - c: 3\n", 2, 5, value, "l:\n  - a: 1\n    reason: \"bay #3\"\n  - c: 3\n"},
		{"m:\n  a: 1\n  # c\n  b:\n    - x\n# d\nn: 2\n", 1, 1, value, "m:\n  a: 1\n  # c\n  b:\n    - x\nreason: \"bay #3\"\n# d\nn: 2\n"},
		{"a: |\n  x\n\n  y\n\nb: 2\n", 1, 1, value, "a: |\n  x\n\n  y\nreason: \"bay #3\"\n\nb: 2\n"},
		{"a: x\n  y\nb: 2\n", 1, 1, value, "a: x\n  y\nreason: \"bay #3\"\nb: 2\n"},
		{"a:\nb: 2\n", 1, 1, value, "a:\nreason: \"bay #3\"\nb: 2\n"},
		{"a: [1,\n  2]\nb: 2\n", 1, 1, value, "a: [1,\n  2]\nreason: \"bay #3\"\nb: 2\n"},
		{"m:\n  a: 1\nb: 2\n", 2, 3, Field{"l", []string{"x", "z"}}, "m:\n  a: 1\n  l:\n    - x\n    - z\nb: 2\n"},
		{"a: 1\r\nb: 2\r\n", 1, 1, Field{"c", "x\ny"}, "a: 1\r\nc: |-\r\n  x\r\n  y\r\nb: 2\r\n"},
		{"a: {b: 1}\n", 1, 5, value, ""},
		{"a: 1\nreason: x\n", 1, 1, value, ""},
		{"a: 1\n", 1, 4, value, ""},
		{"a: 1\n", 1, 1, Field{"reason", ""}, ""},
		{"a: 1\na: 2\n", 1, 1, value, ""},
	} {
		got, err := InsertAfter("f", []byte(tt.data), Pos{"f", tt.line, tt.column}, tt.field)
		if string(got) != tt.want || (err == nil) != (tt.want != "") {
			t.Errorf("InsertAfter(%q, %d:%d, %v) = %q, %v, want %q", tt.data, tt.line, tt.column, tt.field, got, err, tt.want)
		}
	}
}

// FuzzSplice writes text in place of each scalar of a file, and after each of
// its keys, and wants that the other bytes stay and the text reads back.
func FuzzSplice(f *testing.F) {
	for i, name := range []string{"good/forms.yaml", "good/crlf.yaml", "good/bom.yaml", "good/record.yaml", "bad/lost.yaml"} {
		for j := range 6 {
			f.Add(read(f, files+name), uint(i*7+j*5), hostile[(i*17+j*23)%len(hostile)])
		}
	}
	f.Add([]byte("a: {b: c, d, e: [f, g: h]}\n? i\n? j\n: - k\n"), uint(3), "x, y")
	f.Fuzz(func(t *testing.T, data []byte, pick uint, text string) {
		root, err := parse("f", data, false)
		text = strings.ToValidUTF8(text, "\ufffd")
		if err != nil {
			return
		}
		scalars := gather(root, nil)
		if len(scalars) == 0 {
			return
		}
		i := int(pick % uint(len(scalars)))
		n := scalars[i]
		pos := Pos{"f", n.Line, n.Column}
		if out, err := Splice("f", data, pos, n.Value, text); err == nil {
			checkKept(t, data, out, n.Value)
			texts := values(scalars)
			texts[i] = text
			checkTexts(t, out, texts)
		}
		if out, err := InsertAfter("f", data, pos, Field{"added", text}); err == nil {
			checkKept(t, data, out)
			checkAdded(t, out, values(scalars), text)
		}
	})
}

func gather(n *yaml.Node, all []*yaml.Node) []*yaml.Node {
	if n.Kind == yaml.ScalarNode {
		return append(all, n)
	}
	for _, child := range n.Content {
		all = gather(child, all)
	}
	return all
}

func values(scalars []*yaml.Node) []string {
	texts := make([]string, len(scalars))
	for i, n := range scalars {
		texts[i] = n.Value
	}
	return texts
}

// checkTexts wants the scalars of a file to be texts.
func checkTexts(t *testing.T, data []byte, texts []string) {
	t.Helper()
	root, err := parse("f", data, false)
	if err != nil {
		t.Fatalf("result is refused: %v\n%s", err, data)
	}
	if got := values(gather(root, nil)); !slices.Equal(got, texts) {
		t.Errorf("scalars of %q are\n%q, want\n%q", data, got, texts)
	}
}

// checkAdded wants the scalars of a file to be texts with "added" and text
// somewhere among them.
func checkAdded(t *testing.T, data []byte, texts []string, text string) {
	t.Helper()
	root, err := parse("f", data, false)
	if err != nil {
		t.Fatalf("result is refused: %v\n%s", err, data)
	}
	got := values(gather(root, nil))
	for i := range texts {
		if i >= len(got) || got[i] != texts[i] {
			checkTexts(t, data, slices.Insert(texts, i, "added", text))
			return
		}
	}
	checkTexts(t, data, append(texts, "added", text))
}

// checkKept wants out to be data with at most one run of bytes replaced, and
// that run without a line of data's own unless it stood in quotes.
func checkKept(t *testing.T, data, out []byte, old ...string) {
	t.Helper()
	head := 0
	for head < min(len(data), len(out)) && data[head] == out[head] {
		head++
	}
	tail := 0
	for tail < min(len(data), len(out))-head && data[len(data)-1-tail] == out[len(out)-1-tail] {
		tail++
	}
	gone := data[head : len(data)-tail]
	if len(old) == 0 && len(gone) > 0 {
		t.Errorf("adding a line removed %q", gone)
	}
	for _, text := range old {
		// An escape takes up to ten bytes for one character.
		if most := 10*utf8.RuneCountInString(text) + 2 + strings.Count(string(gone), "\n")*len(gone); len(gone) > most {
			t.Errorf("replacing %q removed %q", text, gone)
		}
	}
}

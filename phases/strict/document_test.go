package strict

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// TestReadRefuses holds the attacks and accidents that a line with a want
// comment cannot hold. The columns are counted by hand.
func TestReadRefuses(t *testing.T) {
	const (
		anchorA = `anchor "&a" is not accepted; delete it, or put text that starts with "&" in quotes`
		aliasA  = `alias "*a" is not accepted; write the value out, or put text that starts with "*" in quotes`
		deep    = "maps and lists are nested more than 20 deep; flatten them"
	)
	laughs := "a: &a [x, x]\n"
	for c := 'b'; c <= 'z'; c++ {
		laughs += fmt.Sprintf("%c: &%c [*%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c, *%c]\n", c, c, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1, c-1)
	}
	for _, tt := range []struct{ name, data, want string }{
		{"nothing", "", `f:1:1: file is empty`},
		{"comments only", "# a\n\n# b\n", `f:1:1: file is empty`},
		{"document start only", "---\n", `f:1:1: file is empty`},
		{"document end only", "...\n", `f:1:1: file is empty`},
		{"null", "~\n", `f:1:1: file is blank; write it as lines of "key: value"`},
		{"text", "title\n", `f:1:1: file is the text "title"; write it as lines of "key: value"`},
		{"no space after the only colon", "title:x\n", `f:1:1: file is the text "title:x"; write it as lines of "key: value", with a space after the colon`},
		{"billion laughs", laughs, "f:1:4: " + anchorA},
		{"alias inside its own anchor", "a: &a [*a]\n", "f:1:4: " + anchorA + "\nf:1:8: " + aliasA},
		{"flow nesting", "a: " + strings.Repeat("[", 20) + strings.Repeat("]", 20), "f:1:23: " + deep},
		{"deeper flow nesting", "a: " + strings.Repeat("[", 99) + strings.Repeat("]", 99), "f:1:23: " + deep},
		{"flow nesting beyond yaml.v3", strings.Repeat("[", 1<<20), "f:1:1: " + deep},
		{"block nesting beyond yaml.v3", "a:\n " + strings.Repeat("- ", 1<<19-4), "f:2:2: " + deep},
		{"two documents", "a: 1\n---\nb: 2\n", `f:2:1: a second document begins here; keep one in a file, or delete the line "---"`},
		{"an empty second document", "a: 1\n---\n", `f:2:1: a second document begins here; keep one in a file, or delete the line "---"`},
		{"text after the end", "a: 1\n...\nb: 2\n", `f:3:1: this line belongs to nothing above; check brackets and indentation above it`},
		{"text after a flow root", "{a: 1}\nb: 2\n", `f:2:1: this line belongs to nothing above; check brackets and indentation above it`},
		{"directive", "%TAG ! tag:x,2000:\n---\na: 1\n", `f:1:1: a line that starts with "%" is not accepted before the first key; delete it`},
		{"NUL", "a: 1\nb: x\x00y\n", `f:2:5: character U+0000 cannot be seen and is not accepted; delete it`},
		{"escape character", "a: é\x1b[2J\n", `f:1:5: character U+001B cannot be seen and is not accepted; delete it`},
		{"delete", "a: \x7f\n", `f:1:4: character U+007F cannot be seen and is not accepted; delete it`},
		{"next line", "a: x\u0085b: 1\n", `f:1:5: character U+0085 cannot be seen and is not accepted; delete it`},
		{"line separator", "a: x\u2028b: 1\n", `f:1:5: character U+2028 cannot be seen and is not accepted; delete it`},
		{"paragraph separator", "a: x\u2029b: 1\n", `f:1:5: character U+2029 cannot be seen and is not accepted; delete it`},
		{"not a character", "a: \uffff\n", `f:1:4: character U+FFFF cannot be seen and is not accepted; delete it`},
		{"byte order mark inside", "a: 1\n\ufeffb: 2\n", `f:2:1: character U+FEFF cannot be seen and is not accepted; delete it`},
		{"two byte order marks", "\ufeff\ufeffa: 1\n", `f:1:1: character U+FEFF cannot be seen and is not accepted; delete it`},
		{"Latin-1", "a: 1\nb: caf\xe9\n", `f:2:7: byte 0xe9 is not UTF-8; save the file as UTF-8`},
		{"overlong", "a: \xc0\xaf\n", `f:1:4: byte 0xc0 is not UTF-8; save the file as UTF-8`},
		{"surrogate", "a: \xed\xa0\x80\n", `f:1:4: byte 0xed is not UTF-8; save the file as UTF-8`},
		{"UTF-16", "\xff\xfea\x00:\x00", `f:1:1: file is written as UTF-16; save it as UTF-8`},
		{"lone carriage returns", "a: 1\rb: 2\r", `f:1:5: a carriage return stands alone; end lines with a line feed`},
		{"carriage return at the end", "a: 1\r\nb: 2\r", `f:2:5: a carriage return stands alone; end lines with a line feed`},
		{"tab", "a:\n\tb: 1\n", `f:2:1: a tab is used for indentation; use spaces`},
		{"tab after spaces", "a:\n  \tb: 1\n", `f:2:3: a tab is used for indentation; use spaces`},
		{"tab that would join two lines", "a:\n  - x\n\t- y\n", `f:3:1: a tab is used for indentation; use spaces`},
		{"several bad lines", "a: \x00\x00\nb: \xff\n", "f:1:4: character U+0000 cannot be seen and is not accepted; delete it\nf:2:4: byte 0xff is not UTF-8; save the file as UTF-8"},
	} {
		_, err := Read("f", []byte(tt.data), Options{})
		if errs := problemList(err); tt.name == "billion laughs" && len(errs) > 0 {
			err = errs[0] // the first of some 300
		}
		if fmt.Sprint(err) != tt.want {
			t.Errorf("%s: error\n%v, want\n%s", tt.name, err, tt.want)
		}
	}
}

func TestReadAccepts(t *testing.T) {
	for _, data := range []string{
		"a: 1", "\ufeffa: 1\r\n", "---\na: 1\n...\n", "a: 1\n...\n# after\n", "{}\n", "a:\tx\t# tabs between\n",
		"a: \"\\x1b\\0\"\n", "a: wow! 5*3 & more, 100 %, @home `x` |y| >z\n", "a: x-y -z\n",
		"a: " + strings.Repeat("[", 19) + "1" + strings.Repeat("]", 19),
	} {
		if _, err := Read("f", []byte(data), Options{}); err != nil {
			t.Errorf("Read(%q) = %v", data, err)
		}
	}
}

func TestReadSize(t *testing.T) {
	data := []byte("a: " + strings.Repeat("x", RecordLimit-3))
	if _, err := Read("f", data, Options{MaxBytes: RecordLimit}); err != nil {
		t.Errorf("a file of the largest size: %v", err)
	}
	data = append(data, 0xff)
	_, err := Read("f", data, Options{MaxBytes: RecordLimit})
	if want := "f:1:1: file has 262145 bytes; at most 262144 are read"; fmt.Sprint(err) != want {
		t.Errorf("a file one byte larger: %v, want %s", err, want)
	}
	if _, err := Read("f", make([]byte, PlanLimit+1), Options{}); err == nil || !strings.Contains(err.Error(), "at most 1048576") {
		t.Errorf("the limit without options: %v", err)
	}
}

// TestReadManyKeys reads a map that takes yaml.v3 the better part of a minute
// when it decodes into Go values. BenchmarkKeys shows that the time is linear.
func TestReadManyKeys(t *testing.T) {
	data := manyKeys(100_000)
	d, err := Read("f", data, Options{MaxBytes: len(data)})
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Map().Text("k99999"); got != "1" {
		t.Errorf("last key is %q, want 1", got)
	}
	var errs Errors
	if !errors.As(d.Err(), &errs) || len(errs) != mostErrors+1 {
		t.Errorf("99,999 unknown keys give %d errors, want %d", len(errs), mostErrors+1)
	}
	if want := "and 99899 more problems from here on"; len(errs) > 0 && errs[len(errs)-1].Text != want {
		t.Errorf("last error %v, want %s", errs[len(errs)-1], want)
	}
	twice := append(data, "k0: 1\n"...)
	_, err = Read("f", twice, Options{MaxBytes: len(twice)})
	if want := `f:100001:1: key "k0" is written twice, first on line 1; keep one`; fmt.Sprint(err) != want {
		t.Errorf("error %v, want %s", err, want)
	}
}

func manyKeys(n int) []byte {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "k%d: 1\n", i)
	}
	return []byte(b.String())
}

func BenchmarkKeys(b *testing.B) {
	for _, n := range []int{1_000, 10_000, 100_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			data := manyKeys(n)
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				d, err := Read("f", data, Options{MaxBytes: len(data)})
				if err != nil {
					b.Fatal(err)
				}
				d.Map().Pairs()
			}
		})
	}
}

// BenchmarkBroken is the price of finding the line of a syntax error at the
// end of a plan.
func BenchmarkBroken(b *testing.B) {
	data := append(read(b, files+"good/plan.yaml"), "note: \"open\n"...)
	for b.Loop() {
		if _, err := Read("f", data, Options{}); err == nil {
			b.Fatal("no error")
		}
	}
}

// TestEnded cuts files of the program at every byte. Only the last line feed
// may be missing.
func TestEnded(t *testing.T) {
	written := [][]byte{read(t, files+"good/record.yaml"), Encode(hostileFields())}
	written = append(written, []byte("a: |\n  text\n  ...\n\n...\n"), []byte("a: 1\r\n...\r\n"))
	for _, data := range written {
		if _, err := Read("f", data, Options{Ended: true}); err != nil {
			t.Fatalf("the whole file is refused: %v", err)
		}
		end := strings.LastIndex(string(data), endMarker) + len(endMarker)
		for n := range data {
			_, err := Read("f", data[:n], Options{Ended: true})
			if n == end && err != nil {
				t.Errorf("without its last line feed: %v", err)
			}
			if n != end && err == nil {
				t.Errorf("a file cut off after %d of %d bytes is read: …%q", n, len(data), data[max(0, n-20):n])
			}
		}
	}
}

func TestEndedPosition(t *testing.T) {
	for data, want := range map[string]string{
		"":                "f:1:1: file is cut off",
		"a: 1\nb: é":      "f:2:5: file is cut off",
		"a: 1\n":          "f:2:1: file is cut off",
		"a: 1\n..":        "f:2:3: file is cut off",
		"a: 1\n...\n\n":   "f:4:1: file is cut off",
		"a: 1\n... # x\n": "f:3:1: file is cut off",
		"a: ...\n":        "f:2:1: file is cut off",
		"...\n":           "f:2:1: file is cut off",
	} {
		_, err := Read("f", []byte(data), Options{Ended: true})
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("Read(%q) = %v, want %s", data, err, want)
		}
	}
}

func TestErrors(t *testing.T) {
	_, err := Read("jobs/x/phases/05.yaml", []byte("b: 1\nb: 2\na: 1\na: 2\n"), Options{})
	want := `jobs/x/phases/05.yaml:2:1: key "b" is written twice, first on line 1; keep one
jobs/x/phases/05.yaml:4:1: key "a" is written twice, first on line 3; keep one`
	if fmt.Sprint(err) != want {
		t.Errorf("error %v, want %s", err, want)
	}
	var one *Error
	if !errors.As(err, &one) || one.Pos != (Pos{"jobs/x/phases/05.yaml", 2, 1}) {
		t.Errorf("first problem %v, want line 2", one)
	}
}

// FuzzRead wants no panic, an error with a place in the file, and text of
// every scalar for what is read.
func FuzzRead(f *testing.F) {
	f.Add([]byte("a: [b, {c: d}]\ne: |\n  f\n  g\n...\n"))
	f.Add([]byte("a: \"x\\u00e9\" # c\n? b\n: - 'd'\n"))
	f.Add(Encode(hostileFields()))
	for _, name := range []string{"good/forms.yaml", "good/crlf.yaml", "bad/reuse.yaml", "bad/plan.yaml", "bad/later.yaml"} {
		f.Add(read(f, files+name))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Read("f", data, Options{})
		if err == nil {
			readPlan(d.Map())
			err = d.Err()
			var out []string
			dump(Value{in: d.Map(), node: d.Map().node}, "", &out)
			if len(out) == 0 {
				t.Errorf("nothing read of %q", data)
			}
		}
		lines := lineIndex{data: withoutBOM(data)}
		for _, e := range problemList(err) {
			if lines.offset(e.Pos.Line, e.Pos.Column) < 0 || e.Text == "" {
				t.Errorf("error outside the file: %v", e)
			}
		}
	})
}

func problemList(err error) Errors {
	var errs Errors
	errors.As(err, &errs)
	return errs
}

type panicking struct{}

func (panicking) Read([]byte) (int, error) { panic("unforeseen") }

func TestNextOutlivesPanic(t *testing.T) {
	var n yaml.Node
	if err := next(yaml.NewDecoder(panicking{}), &n); fmt.Sprint(err) != "yaml: unforeseen" {
		t.Errorf("error %v, want the panic's text", err)
	}
}

package strict

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// TestSyntaxErrors holds mistakes that a want comment would change; the rest
// are in testdata/strict/bad. The columns are counted by hand.
func TestSyntaxErrors(t *testing.T) {
	const (
		neighbours = "the indentation fits no line above; align the line with its neighbours"
		open       = `"%s" is not closed, lacks a comma, or is followed by text; end it with "%s", or put text that starts with "%[1]s" in quotes`
	)
	for data, want := range map[string]string{
		"a: \"open\nb: 2\nc: 3\n":             `f:1:4: the quote " is not closed; close it at the end of the value`,
		"a: 'x\n---\n'\n":                     `f:1:4: the quote ' is not closed; close it at the end of the value`,
		"a: 'it's'\n":                         `f:1:8: text follows the closing quote; put single quotes around all of it: '''it''s'''`,
		"a: \"5 1/2\"\"\n":                    `f:1:11: text follows the closing quote; put single quotes around all of it: '"5 1/2""'`,
		"a: \"x\": y\n":                       `f:1:7: text follows the closing quote; put single quotes around all of it: '"x": y'`,
		"a: \"b\\u12\"\n":                     `f:1:6: unknown escape "\u" in double quotes; use single quotes, or write the backslash twice`,
		"é: \"\\é\"\n":                        `f:1:5: unknown escape "\é" in double quotes; use single quotes, or write the backslash twice`,
		"a: [b,\n":                            "f:1:4: " + fmt.Sprintf(open, "[", "]"),
		"a: [b] c\n":                          "f:1:4: " + fmt.Sprintf(open, "[", "]"),
		"a: {b: [}\n":                         "f:1:4: " + fmt.Sprintf(open, "{", "}"),
		"a:\n  b: [c, d]\n  - e\n":            "f:3:3: " + neighbours,
		"a: |\n  x\n b: 1\n":                  "f:3:2: " + neighbours,
		"a: 'x'\n  - b\n":                     "f:2:3: " + neighbours,
		"- a: b\n c: d\n":                     `f:2:2: the indentation fits no line above, or "-" is missing; align the line with its neighbours`,
		"a: > 5 in\n":                         `f:1:4: text cannot start with ">"; put it in quotes`,
		"a: |x\n":                             `f:1:4: text cannot start with "|"; put it in quotes`,
		"a: ? b\n":                            `f:1:4: text cannot start with "?"; put it in quotes`,
		"a: &\n":                              `f:1:4: text cannot start with "&"; put it in quotes`,
		"a: - b\n":                            `f:1:4: a list starts on the line after its key; put "-" there`,
		"? a: b: c\n":                         `f:1:7: ": " stands in this line twice; put the value in quotes`,
		": 1\n":                               `f:1:1: a key is empty; write its name before the colon`,
		"a: b\n\t\nc: d\n":                    `f:2:1: a tab is used for indentation; use spaces`,
		"a: 1\nb: {c: *d}\n":                  `f:2:8: alias "*d" is not accepted; write the value out, or put text that starts with "*" in quotes`,
		"a: 1\nb:tight\n":                     `f:2:2: no space after the colon; write "key: value"`,
		"a: 1\n- b:tight\n":                   `f:2:4: no space after the colon; write "key: value"`,
		"a:\n  - b\n\n  c\n":                  `f:4:3: this line has no colon; write "key: value", or indent it as part of the value above`,
		"a: !<x y\n":                          `f:1:4: text cannot start with "!"; put it in quotes`,
		"a: x\n  - b\n":                       `f:2:3: this list item becomes part of the text above; move that text into the list, or put it in quotes`,
		"a: x\n  y\n\n  - b\nc: d\n":          `f:4:3: this list item becomes part of the text above; move that text into the list, or put it in quotes`,
		"a: x - y\nb: - c\n":                  `f:2:4: a list starts on the line after its key; put "-" there`,
		"a: \"x\nb: 5\"\nc: d\n":              `f:1:4: this quote is still open on line 2; close it, or indent that line`,
		"l:\n- a: 'x\n\n  b: y'\nc: d\n":      `f:2:6: this quote is still open on line 4; close it, or indent that line`,
		"l:\n- 'x\n  b: y'\nc: d\n":           "<nil>",
		"l:\n- 'x\n- y'\nc: d\n":              `f:2:3: this quote is still open on line 3; close it, or indent that line`,
		"a: [b,\nc: d,\n e]\n":                `f:1:4: this bracket is still open on line 2; close it, or indent that line`,
		"l:\n  a: {b: c,\n  d: e\n  }\n":      `f:2:6: this bracket is still open on line 3; close it, or indent that line`,
		"l:\n  a: {b: c,\n   d: 'e\n   f'\n}": "<nil>",
		"a: x -\n  y - z\n  w - -\nb: c":      "<nil>", // a text of three lines
	} {
		if _, err := Read("f", []byte(data), Options{}); fmt.Sprint(err) != want {
			t.Errorf("%q: error\n%v, want\n%s", data, err, want)
		}
	}
}

// TestBrokenLine breaks sound files before each of their outermost keys and
// wants the line that was put in.
func TestBrokenLine(t *testing.T) {
	for _, name := range []string{"good/plan.yaml", "good/forms.yaml", "good/record.yaml", "good/crlf.yaml"} {
		lines := bytes.SplitAfter(read(t, files+name), []byte("\n"))
		first := true
		for i, line := range lines {
			if len(line) == 0 || strings.ContainsAny(string(line[:1]), " #\n\r-.:?") {
				continue
			}
			for _, broken := range []string{"open: \"never closed\n", "open: [a, b\n", "title:x\n", "note: @me\n", "a: b: c\n"} {
				if broken == "title:x\n" && first {
					continue // the line after it is the one that cannot be read
				}
				data := bytes.Join([][]byte{bytes.Join(lines[:i], nil), []byte(broken), bytes.Join(lines[i:], nil)}, nil)
				_, err := Read("f", data, Options{})
				if want := fmt.Sprintf("f:%d:", i+1); err == nil || !strings.HasPrefix(err.Error(), want) {
					t.Errorf("%s with %q: error %v, want %s", name, broken, err, want)
				}
			}
			first = false
		}
	}
}

// TestBrokenLineBudget wants a line of the file also for one too large to
// search.
func TestBrokenLineBudget(t *testing.T) {
	data := "b: [\n" + strings.Repeat(" x,\n", 1<<18-10)
	_, err := Read("f", []byte(data), Options{})
	if e := problemList(err); len(e) != 1 || e[0].Pos.Line < 1 || e[0].Pos.Line > 1<<18 {
		t.Errorf("error %v, want one in the file", err)
	}
}

package strict

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

const files = "../../testdata/strict/"

func read(t testing.TB, file string) []byte {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func glob(t *testing.T, pattern string) []string {
	t.Helper()
	names, err := filepath.Glob(pattern)
	if err != nil || len(names) == 0 {
		t.Fatalf("no files match %s: %v", pattern, err)
	}
	return names
}

// TestBadFiles reads each bad file as a plan and wants the errors that its
// lines announce, each matched as "column: text", and no others.
func TestBadFiles(t *testing.T) {
	for _, name := range glob(t, files+"bad/*.yaml") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			data := read(t, name)
			wants := wanted(t, data)
			for _, e := range problems(t, name, data) {
				got := fmt.Sprintf("%d: %s", e.Pos.Column, e.Text)
				if !take(wants, e.Pos.Line, got) {
					t.Errorf("line %d: unwanted error %s", e.Pos.Line, got)
				}
			}
			for line, left := range wants {
				for _, want := range left {
					t.Errorf("line %d: no error matches %q", line, want)
				}
			}
		})
	}
}

var wantString = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)

func wanted(t *testing.T, data []byte) map[int][]*regexp.Regexp {
	t.Helper()
	wants := map[int][]*regexp.Regexp{}
	for i, line := range strings.Split(string(data), "\n") {
		_, comment, _ := strings.Cut(line, "# want ")
		for _, quoted := range wantString.FindAllString(comment, -1) {
			expr := strings.ReplaceAll(quoted[1:len(quoted)-1], `\"`, `"`)
			wants[i+1] = append(wants[i+1], regexp.MustCompile(expr))
		}
	}
	if len(wants) == 0 {
		t.Fatal("file wants no error")
	}
	return wants
}

func take(wants map[int][]*regexp.Regexp, line int, got string) bool {
	for i, want := range wants[line] {
		if want.MatchString(got) {
			wants[line] = append(wants[line][:i:i], wants[line][i+1:]...)
			return true
		}
	}
	return false
}

// problems reads a file the way phases do and returns all errors.
func problems(t *testing.T, name string, data []byte) Errors {
	t.Helper()
	d, err := Read(name, data, Options{})
	if err == nil {
		readPlan(d.Map())
		err = d.Err()
	}
	var errs Errors
	if !errors.As(err, &errs) {
		t.Fatalf("error is a %T, want Errors: %v", err, err)
	}
	return errs
}

func readPlan(m *Map) {
	m.Text("phase")
	m.OptionalText("title")
	m.OptionalText("purpose")
	m.OptionalTexts("cautions")
	m.OptionalTime("start")
	m.OptionalDate("day")
	m.OptionalMap("room")
	for _, hold := range m.Maps("holds") {
		hold.Text("hold")
		hold.Text("title")
		hold.OptionalTexts("after")
		hold.Int("points")
		hold.Bool("photo")
		for _, check := range hold.Maps("checks") {
			check.Text("check")
			check.Text("ask")
			check.OptionalTexts("walls")
			if limit := check.OptionalText("limit"); limit == "5.5" {
				check.Fail("limit", "%q has no unit; write it as 5.5 in or 140 mm", limit)
			}
		}
	}
}

// TestGoodFiles compares text and position of every scalar with what another
// YAML reader says, PyYAML 6.0.3, whose answers stand in the CSV files.
func TestGoodFiles(t *testing.T) {
	for _, name := range glob(t, files+"good/*.yaml") {
		t.Run(filepath.Base(name), func(t *testing.T) {
			d, err := Read(name, read(t, name), Options{})
			if err != nil {
				t.Fatal(err)
			}
			var got []string
			dump(Value{in: d.Map(), node: d.Map().node}, "", &got)
			want := otherReader(t, strings.TrimSuffix(name, ".yaml")+".csv")
			for i := range max(len(got), len(want)) {
				if i >= len(got) || i >= len(want) || got[i] != want[i] {
					t.Fatalf("scalar %d differs:\n got %s\nwant %s", i, at(got, i), at(want, i))
				}
			}
			if err := d.Err(); err != nil {
				t.Errorf("all keys were read: %v", err)
			}
		})
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "nothing"
}

func dump(v Value, path string, out *[]string) {
	text := v.Exact()
	switch v.Kind() {
	case ListKind:
		for i, item := range v.List() {
			dump(item, fmt.Sprintf("%s[%d]", path, i), out)
		}
		text = "[]"
	case MapKind:
		m := v.in
		if path != "" {
			m = v.Map()
		}
		for _, p := range m.Pairs() {
			dump(p.Value, path+"/"+p.Key, out)
		}
		text = "{}"
	}
	if len(v.node.Content) == 0 {
		*out = append(*out, fmt.Sprintf("%d:%d %s = %q", v.Pos().Line, v.Pos().Column, path, text))
	}
}

func otherReader(t *testing.T, name string) []string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(string(read(t, name))))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	for _, row := range rows {
		var text string
		if err := json.Unmarshal([]byte(row[3]), &text); err != nil {
			t.Fatal(err)
		}
		line, _ := strconv.Atoi(row[1])
		column, _ := strconv.Atoi(row[2])
		lines = append(lines, fmt.Sprintf("%d:%d %s = %q", line, column, row[0], text))
	}
	return lines
}

package strict

import (
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"gopkg.in/yaml.v3"
)

// hostile is text that YAML or one of its readers could take for something
// else.
var hostile = []string{
	"a", "5 1/2 in", "13 °C", "R-19 (nominal)", "bay #3", "bay#3", "# bay", "a: b", "a:b", "a:", ":a", ": a", "-", "- a", "-5 °C", "-a", "---", "--- a", "...", "... a", "..", ".5",
	"?", "? a", "?a", "[a]", "]", "{a}", "}", "a, b", ",a", "&a", "*a", "!a", "!!str a", "|", "|a", ">", "> 5 in", "%a", "100 %", "@a", "`a`", "'a'", "it's", "\"a\"", "5 1/2\"", `C:\photos`, `\`,
	"~", "null", "Null", "NULL", "nULL", "true", "True", "FALSE", "yes", "No", "on", "OFF", "y", "N", "=", "<<",
	"0", "5", "-5", "+5", "017", "0o17", "0x1F", "0X1F", "0b11", "5.5", "5.", ".", "-.5", "1e3", "1E-3", "1_000", "1,234", "12:30", "12:30:45", "190:20:30.15", "1.2.3", ".inf", "-.INF", ".nan", "NaN", "inf",
	"2026-05-04", "2026-5-4", "2026-05-04T10:15:00-05:00", "2026-05-04 10:15", "2026-05-04 10:15:00 +02:00", "20260504",
	" a", "a ", "\ta", "a\t", "a\tb", "a  b", "\u00a0a", "a\u00a0b", "a\u3000", "\n", "a\n", "a\n\n", "\na", "a\nb", "a\nb\n", "a\n\nb", "a\n b\nc", " a\nb", "a \nb", "a\n \nb", "a\n#b", "a\n...\nb\n", "a\n---\n", "a: b\nc: d\n", "- a\n- b", "a\r\nb", "a\rb", "a\n\tb",
	"\x00", "\x1b[2J", "\x7f", "\u0085", "a\u0085b", "\u2028", "a\u2029b", "\ufeff", "\ufeffa", "\ufffe", "\uffff", "\U0001f642", "\U000e0001", "\u202eabc", "é", "e\u0301", "高さ", "\ufffd", "\U0010ffff",
	strings.Repeat("long ", 500) + "end", strings.Repeat("x", 2000),
}

func hostileFields() []Field {
	var fields, keys []Field
	for i, s := range hostile {
		fields = append(fields, Field{fmt.Sprintf("t%03d", i), s})
		keys = append(keys, Field{s, "v"})
	}
	item := []Field{{"at", "north"}, {"none", ""}, {"note", "a\nb"}, {"deep", []Field{{"x", hostile}}}}
	return append(fields,
		Field{"keys", keys}, Field{"list", hostile}, Field{"items", [][]Field{item, {}, {{"m", item}}, {{"l", []string{"a\nb", "", "c"}}}}},
		Field{"yes", true}, Field{"no", false}, Field{"five", 5}, Field{"zero", 0},
		Field{"time", time.Date(2026, 5, 4, 10, 15, 0, 0, time.FixedZone("", -5*3600))},
		Field{"plain", Plain("5.50")}, Field{"plain date", Plain("2026-05-04")}, Field{"plain text", Plain("a: b")}, Field{"plain null", Plain("null")})
}

var update = flag.Bool("update", false, "write the golden file anew")

// TestEncodeGolden compares the bytes written with a file that PyYAML 6.0.3
// has read; TestEncodeOtherReader compares with what it read.
func TestEncodeGolden(t *testing.T) {
	const golden = files + "encode/hostile.yaml"
	got := Encode(hostileFields())
	if *update {
		if err := os.WriteFile(golden, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if want := read(t, golden); string(got) != string(want) {
		t.Errorf("Encode differs from %s; see the difference with -update and git diff", golden)
	}
}

// TestEncodeOtherReader checks that another reader of YAML, PyYAML 6.0.3 with
// its SafeLoader, takes every hostile text for text and for the same text. The
// CSV file holds what it read.
func TestEncodeOtherReader(t *testing.T) {
	rows := otherReader(t, files+"encode/hostile.csv")
	if len(rows) != len(hostile) {
		t.Fatalf("%d texts, want %d", len(rows), len(hostile))
	}
	for i, s := range hostile {
		if want := fmt.Sprintf("0:0 t%03d = %q", i, s); rows[i] != want {
			t.Errorf("other reader read %s, want %s", rows[i], want)
		}
	}
}

func TestEncodeReadsBack(t *testing.T) {
	roundTrip(t, hostileFields())
	roundTrip(t, nil)
	roundTrip(t, []Field{{"a", ""}, {"b", []string{""}}, {"c", []Field{{"d", nil}}}, {"e", [][]Field{}}})
}

// TestEncodeTyped checks that a reader which guesses types, yaml.v3 decoding
// into any, guesses text for text.
func TestEncodeTyped(t *testing.T) {
	for _, s := range hostile {
		var got map[string]any
		if err := yaml.Unmarshal(Encode([]Field{{"a", s}}), &got); err != nil || got["a"] != any(s) {
			t.Errorf("%q is read as %#v, %v", s, got["a"], err)
		}
	}
}

// TestEncodeForm holds how a file looks; the form is the project's own.
func TestEncodeForm(t *testing.T) {
	got := string(Encode([]Field{
		{"record", "reading"}, {"value", "5 1/2 in"}, {"count", Plain("5")}, {"serial", "017"}, {"nothing", ""},
		{"time", time.Date(2026, 5, 4, 10, 15, 0, 0, time.FixedZone("", -5*3600))}, {"photo", true},
		{"note", "first line\n\n- second line"}, {"place", "bay #3: \"north\""},
		{"after", []string{"framing.frame", "yes"}},
		{"room", []Field{{"volume", "20 m³"}, {"set point", "13 °C"}}},
		{"faces", [][]Field{{{"face", "north wall"}, {"layers", [][]Field{{{"layer", "drywall"}}, {{"layer", "mineral wool"}}}}}, {{"face", "floor"}}}},
	}))
	want := `record: reading
value: 5 1/2 in
count: 5
serial: "017"
time: 2026-05-04T10:15:00-05:00
photo: yes
note: |-
  first line

  - second line
place: "bay #3: \"north\""
after:
  - framing.frame
  - "yes"
room:
  volume: 20 m³
  set point: 13 °C
faces:
  - face: north wall
    layers:
      - layer: drywall
      - layer: mineral wool
  - face: floor
...
`
	if got != want {
		t.Errorf("Encode wrote\n%s, want\n%s", got, want)
	}
}

func TestEncodeWrongType(t *testing.T) {
	defer func() {
		if r := recover(); r != "strict: a float64 cannot be written" {
			t.Errorf("Encode of a float64: %v, want a panic", r)
		}
	}()
	Encode([]Field{{"a", 5.5}})
}

func roundTrip(t *testing.T, fields []Field) {
	t.Helper()
	data := Encode(fields)
	d, err := Read("f", data, Options{MaxBytes: 1 << 30, Ended: true})
	if err != nil {
		t.Fatalf("Encode wrote what Read refuses: %v\n%s", err, data)
	}
	compare(t, d.Map(), fields)
	if t.Failed() {
		t.Logf("file:\n%s", data)
	}
}

func compare(t *testing.T, m *Map, fields []Field) {
	t.Helper()
	fields = slices.DeleteFunc(slices.Clone(fields), func(f Field) bool { return blank(f.Value) })
	pairs := m.Pairs()
	if len(pairs) != len(fields) {
		t.Fatalf("%d keys, want %d", len(pairs), len(fields))
	}
	for i, f := range fields {
		if pairs[i].Key != f.Key {
			t.Errorf("key %q, want %q", pairs[i].Key, f.Key)
		}
		compareValue(t, pairs[i].Value, f)
	}
}

func compareValue(t *testing.T, v Value, f Field) {
	t.Helper()
	switch want := f.Value.(type) {
	case []Field:
		compare(t, v.Map(), want)
	case [][]Field:
		items := v.List()
		if len(items) != len(want) {
			t.Fatalf("%s: %d items, want %d", f.Key, len(items), len(want))
		}
		for i, item := range items {
			compare(t, item.Map(), want[i])
		}
	case []string:
		want = slices.DeleteFunc(slices.Clone(want), func(s string) bool { return s == "" })
		items := v.List()
		if len(items) != len(want) {
			t.Fatalf("%s: %d items, want %d", f.Key, len(items), len(want))
		}
		for i, item := range items {
			if item.Exact() != want[i] {
				t.Errorf("%s: item %q, want %q", f.Key, item.Exact(), want[i])
			}
		}
	case bool:
		if v.Bool() != want {
			t.Errorf("%s: %v, want %v", f.Key, v.Bool(), want)
		}
	case int:
		if v.Int() != want {
			t.Errorf("%s: %v, want %v", f.Key, v.Int(), want)
		}
	case time.Time:
		if !v.Time().Equal(want) {
			t.Errorf("%s: %v, want %v", f.Key, v.Time(), want)
		}
	default:
		if v.Exact() != fmt.Sprint(want) || v.Kind() != ScalarKind {
			t.Errorf("%s: text %q, want %q", f.Key, v.Exact(), want)
		}
	}
}

// FuzzEncode wants that what is written reads back, whatever the text.
func FuzzEncode(f *testing.F) {
	for i, s := range hostile {
		f.Add("key", s, hostile[(i*7+3)%len(hostile)])
		f.Add(s, "a", s)
	}
	f.Fuzz(func(t *testing.T, key, a, b string) {
		key, a, b = strings.ToValidUTF8(key, ""), strings.ToValidUTF8(a, ""), strings.ToValidUTF8(b, "")
		if key == "" {
			key = "key"
		}
		item := []Field{{key, b}, {key + "2", []string{a, b}}, {key + "3", []Field{{b + "x", a}, {b + "y", Plain(b)}}}}
		roundTrip(t, []Field{{key, a}, {key + "2", []string{b, a, b}}, {key + "3", item}, {key + "4", [][]Field{item, {}, {{b + "x", item}}}}, {key + "5", Plain(a)}})
	})
}

func TestEncodeInvalidUTF8(t *testing.T) {
	const bad, want = "caf\xe9.jpg", "caf\ufffd.jpg"
	d, err := Read("f", Encode([]Field{{"file", bad}, {"plain", Plain(bad)}, {bad, "key"}}), Options{Ended: true})
	if err != nil {
		t.Fatal(err)
	}
	m := d.Map()
	if m.Text("file") != want || m.Text("plain") != want || m.Text(want) != "key" {
		t.Errorf("read %v, want each bad byte as U+FFFD", m.Pairs())
	}
}

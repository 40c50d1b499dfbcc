package strict

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

func open(t *testing.T, data string) *Document {
	t.Helper()
	d, err := Read("f", []byte(data), Options{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestMap(t *testing.T) {
	d := open(t, `text: "  5.50 "
number: -12
yes: yes
no: false
time: 2026-05-04T10:15:00.5-05:00
utc: 2026-05-04T10:15:00+00:00
day: 2024-02-29
list: [a, {b: c}]
one: north
several:
  - north
  - 017
map: {x: 1e3}
maps:
  - x: 1
  - x: 2
pairs:
  wall: R-19
  ceiling: R-30
`)
	m := d.Map()
	for _, tt := range []struct{ name, got, want any }{
		{"Text", m.Text("text"), "5.50"},
		{"Exact", m.Value("text").Exact(), "  5.50 "},
		{"Int", m.Int("number"), -12},
		{"Bool yes", m.Bool("yes"), true},
		{"Bool false", m.Bool("no"), false},
		{"Time", m.Time("time").Format(time.RFC3339Nano), "2026-05-04T10:15:00.5-05:00"},
		{"Time UTC", m.OptionalTime("utc"), time.Date(2026, 5, 4, 10, 15, 0, 0, time.UTC)},
		{"Date", m.Date("day"), time.Date(2024, 2, 29, 0, 0, 0, 0, time.UTC)},
		{"List", len(m.List("list")), 2},
		{"List text", m.List("list")[0].Text(), "a"},
		{"List map", m.List("list")[1].Map().Text("b"), "c"},
		{"Texts of one", fmt.Sprint(m.Texts("one")), "[north]"},
		{"Texts", fmt.Sprint(m.Texts("several")), "[north 017]"},
		{"Map", m.Map("map").Text("x"), "1e3"},
		{"Maps", m.Maps("maps")[1].Int("x"), 2},
		{"Pairs", fmt.Sprint(m.Map("pairs").Pairs()[1].Key, m.Map("pairs").Pairs()[1].Value.Text()), "ceilingR-30"},
		{"Pos", m.Pos().String(), "f:1:1"},
		{"PosOf", m.PosOf("day").String(), "f:7:6"},
		{"PosOf missing", m.PosOf("nowhere").String(), "f:1:1"},
		{"KeyPos", m.Map("pairs").KeyPos("ceiling").String(), "f:19:3"},
		{"PairPos", m.Map("pairs").Pairs()[1].KeyPos.String(), "f:19:3"},
		{"Has", m.Has("map"), true},
		{"Has not", m.Has("nowhere"), false},
		{"Len", m.Len(), 13},
		{"OptionalText", m.OptionalText("nowhere"), ""},
		{"OptionalTexts", len(m.OptionalTexts("nowhere")), 0},
		{"OptionalTime", m.OptionalTime("nowhere").IsZero(), true},
	} {
		if tt.got != tt.want {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
	m.Maps("maps")[0].AnyKeys()
	if err := d.Err(); err != nil {
		t.Errorf("a file read in full: %v", err)
	}
}

func TestMapOptional(t *testing.T) {
	d := open(t, "number: 5\nblank:\nword: five\nlist: []\nfull: {a: 1}\n")
	m := d.Map()
	if n, ok := m.OptionalInt("number"); n != 5 || !ok {
		t.Errorf("OptionalInt = %v, %v, want 5, true", n, ok)
	}
	for _, key := range []string{"nowhere", "blank", "word"} {
		if n, ok := m.OptionalInt(key); n != 0 || ok {
			t.Errorf("OptionalInt(%s) = %v, %v, want 0, false", key, n, ok)
		}
		if yes, ok := m.OptionalBool(key); yes || ok {
			t.Errorf("OptionalBool(%s) = %v, %v, want false, false", key, yes, ok)
		}
		if sub, ok := m.OptionalMap(key); sub != nil || ok {
			t.Errorf("OptionalMap(%s) = %v, %v, want nil, false", key, sub, ok)
		}
		if v, ok := m.OptionalValue(key); ok != (key == "word") {
			t.Errorf("OptionalValue(%s) = %v, %v", key, v, ok)
		}
	}
	if maps := m.OptionalMaps("list"); len(maps) != 0 {
		t.Errorf("OptionalMaps of [] = %v, want none", maps)
	}
	if items := m.OptionalList("list"); len(items) != 0 {
		t.Errorf("OptionalList of [] = %v, want none", items)
	}
	if sub, ok := m.OptionalMap("full"); !ok || sub.Text("a") != "1" {
		t.Errorf("OptionalMap(full) = %v, %v", sub, ok)
	}
	want := `f:2:7: key "blank" has no value; write one, or delete the line
f:3:7: key "word" is "five"; write a whole number such as 5
f:3:7: key "word" is "five"; write yes or no
f:3:7: key "word" is the text "five"; a map of "key: value" lines is wanted`
	if err := d.Err(); fmt.Sprint(err) != want {
		t.Errorf("error\n%v, want\n%s", err, want)
	}
}

// TestMapErrors asks one wrong question of each file.
func TestMapErrors(t *testing.T) {
	for _, tt := range []struct {
		data string
		ask  func(*Map)
		want string
	}{
		{"b: 1", func(m *Map) { m.Has("b"); m.Text("ask") }, `f:1:1: key "ask" is missing`},
		{"a: ~", func(m *Map) { m.Text("a") }, `f:1:4: key "a" has no value; write one, or delete the line`},
		{"a: NULL", func(m *Map) { m.Text("a") }, `f:1:4: key "a" has no value; write one, or delete the line`},
		{"a:\nb: 1", func(m *Map) { m.OptionalText("a"); m.Has("b") }, `f:1:3: key "a" has no value; write one, or delete the line`},
		{"a: '  '", func(m *Map) { m.Text("a") }, `f:1:4: key "a" has no text; write some, or delete the line`},
		{"a: {b: 1}", func(m *Map) { m.Text("a") }, `f:1:4: key "a" is a map of keys; text is wanted`},
		{"a: [~]", func(m *Map) { m.Texts("a") }, `f:1:5: item 1 of "a" is blank; text is wanted`},
		{"a: {b: 1}", func(m *Map) { m.Texts("a") }, `f:1:4: key "a" is a map of keys; a list is wanted`},
		{"a: x", func(m *Map) { m.List("a") }, `f:1:4: key "a" is the text "x"; a list is wanted`},
		{"a: []", func(m *Map) { m.Texts("a") }, `f:1:4: key "a" is an empty list; write an item`},
		{"a: 1.0", func(m *Map) { m.Int("a") }, `f:1:4: key "a" is "1.0"; write a whole number such as 5`},
		{"a: +1", func(m *Map) { m.Int("a") }, `f:1:4: key "a" is "+1"; write a whole number such as 5`},
		{"a: 1_000", func(m *Map) { m.Int("a") }, `f:1:4: key "a" is "1_000"; write a whole number such as 5`},
		{"a: 0x1F", func(m *Map) { m.Int("a") }, `f:1:4: key "a" is "0x1F"; write a whole number such as 5`},
		{"a: 99999999999999999999", func(m *Map) { m.Int("a") }, `f:1:4: key "a" is "99999999999999999999"; write a whole number such as 5`},
		{"a: on", func(m *Map) { m.Bool("a") }, `f:1:4: key "a" is "on"; write yes or no`},
		{"a: 2026-05-04T10:15:00", func(m *Map) { m.Time("a") }, `f:1:4: key "a" is "2026-05-04T10:15:00"; write date, time and offset from UTC, such as 2026-05-04T10:15:00-05:00`},
		{"a: 2026-02-30T10:15:00Z", func(m *Map) { m.Time("a") }, `f:1:4: key "a" is "2026-02-30T10:15:00Z"; write date, time and offset from UTC, such as 2026-05-04T10:15:00-05:00`},
		{"a: 2026-5-4", func(m *Map) { m.Date("a") }, `f:1:4: key "a" is "2026-5-4"; write a date such as 2026-05-04`},
		{"a: 2025-02-29", func(m *Map) { m.Date("a") }, `f:1:4: key "a" is "2025-02-29"; write a date such as 2026-05-04`},
		{"a: {b: 1}", func(m *Map) { m.Map("a").Text("c") }, "f:1:4: a: key \"c\" is missing\nf:1:5: a: unknown key \"b\"; known here: \"c\""},
		{"at least: 5\nb: 1", func(m *Map) { m.OptionalText("atleast"); m.Has("b") }, `f:1:1: unknown key "at least"; did you mean "atleast"?`},
		{"colour: red", func(m *Map) { m.OptionalText("ask"); m.OptionalText("photo") }, `f:1:1: unknown key "colour"; known here: "ask", "photo"`},
		{"a: 5", func(m *Map) { m.Fail("a", "%q has no unit", m.Text("a")) }, `f:1:4: a: "5" has no unit`},
		{"a: 5", func(m *Map) { m.Has("a"); m.Fail("", "needs a limit") }, `f:1:1: needs a limit`},
		{"a: 5", func(m *Map) { m.Has("a"); m.Fail("b", "needs a limit") }, `f:1:1: b: needs a limit`},
		{"a: 5", func(m *Map) { m.Value("a").Fail("100 %% wrong") }, `f:1:4: a: 100 % wrong`},
		{"a: 5", func(m *Map) { m.Name("foam-depth"); m.Value("a").Fail("wrong") }, `f:1:4: foam-depth: wrong`},
		{"a: {wal: R-19}", func(m *Map) { m.Map("a").Pairs()[0].Fail("no face is called %q", "wal") }, `f:1:5: a: no face is called "wal"`},
		{"a: cavty", func(m *Map) { m.Value("a").OneOf("surface", "cavity") }, `f:1:4: key "a" is "cavty"; did you mean "cavity"?`},
		{"a: roof", func(m *Map) { m.Value("a").OneOf("surface", "cavity") }, `f:1:4: key "a" is "roof"; known here: "surface", "cavity"`},
		{"a: cavity", func(m *Map) { m.Fail("a", "%s", m.Value("a").OneOf("surface", "cavity")) }, `f:1:4: a: cavity`},
		{"a: [{n: \"\\e[2J\", v: 5}]", func(m *Map) { i := m.Maps("a")[0]; i.Text("n"); i.Fail("v", "wrong"); i.Has("v") }, `f:1:21: "\x1b[2J": wrong`},
		{"a: [{n: x, v: 5}]", func(m *Map) { i := m.Maps("a")[0]; i.Text("n"); i.Fail("v", "wrong"); i.Has("v") }, `f:1:15: x: wrong`},
	} {
		d := open(t, tt.data)
		tt.ask(d.Map())
		if err := d.Err(); fmt.Sprint(err) != tt.want {
			t.Errorf("%q: error\n%v, want\n%s", tt.data, err, tt.want)
		}
	}
}

// TestMapGoesOn wants one problem for a missing map, and not one for each key
// that is then asked of it.
func TestMapGoesOn(t *testing.T) {
	d := open(t, "title: x\n")
	m := d.Map()
	m.Text("title")
	room := m.Map("room")
	room.Name("room")
	room.Text("volume")
	room.Fail("volume", "too small")
	room.AnyKeys()
	for _, face := range room.Maps("faces") {
		face.Text("area")
	}
	if room.Has("x") || room.Len() != 0 || room.Pos() != (Pos{}) || room.KeyPos("x") != (Pos{}) || len(room.Pairs()) != 0 {
		t.Error("a missing map holds something")
	}
	var none Value
	if none.Text() != "" || none.Exact() != "" || none.Map() != nil || none.List() != nil || none.Kind() != NullKind || none.Pos() != (Pos{}) {
		t.Error("the zero value holds something")
	}
	none.Fail("nothing")
	if err := d.Err(); fmt.Sprint(err) != `f:1:1: key "room" is missing` {
		t.Errorf("error %v, want one missing key", err)
	}
}

// TestMapTwice lets two readers share a map: each key need be asked for once.
func TestMapTwice(t *testing.T) {
	d := open(t, "room: {a: 1, b: 2}\n")
	d.Map().Map("room").Text("a")
	d.Map().Value("room").Map().Text("b")
	for range 2 {
		if err := d.Err(); err != nil {
			t.Errorf("all keys were asked for: %v", err)
		}
	}
}

func TestPosString(t *testing.T) {
	for pos, want := range map[Pos]string{{"f", 3, 4}: "f:3:4", {"f", 0, 0}: "f"} {
		if got := pos.String(); got != want {
			t.Errorf("%#v prints %s, want %s", pos, got, want)
		}
	}
}

func TestErrKeepsOrder(t *testing.T) {
	d := open(t, "z: 1\na:\nb: {c: 1}\n")
	d.Map().OptionalText("a")
	d.Map().Map("b")
	d.Map().Fail("b", "wrong")
	var at []int
	for _, e := range problemList(d.Err()) {
		at = append(at, e.Pos.Line*100+e.Pos.Column)
	}
	if want := []int{101, 203, 304, 305}; !slices.Equal(at, want) {
		t.Errorf("problems at %v, want %v: %v", at, want, d.Err())
	}
}

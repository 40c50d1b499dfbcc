package figure

import (
	"maps"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
)

// hostile are texts that try to break out of a picture, or to be unreadable in
// it.
var hostile = []string{
	`</text><script>alert(1)</script>`, `"><svg onload="x">`, `&lt;&#0;&amp`, "]]>", "<!-- -->", "\x00\x01\x1b[31mred",
	"two\nlines\tand\rmore", "\u202eright to left\u2066", "bad \xff\xfe utf8", "\ufffe\uffff", "𝕳𝖔𝖙 🌡️ 温度計の長い名前", "e\u0301 combining",
	strings.Repeat("long ", 60), strings.Repeat("W", 300), " ", "", "%s%d%!", "{{.X}}",
}

// spoiled returns a copy of a picture with every text in it replaced.
func spoiled(p picture, words string) picture {
	v := reflect.New(reflect.TypeOf(p)).Elem()
	v.Set(reflect.ValueOf(p))
	return replace(v, words).Interface().(picture)
}

// replace deeply copies a value with its texts replaced.
func replace(v reflect.Value, words string) reflect.Value {
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.String:
		out.SetString(words)
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				out.Field(i).Set(replace(v.Field(i), words))
			}
		}
	case reflect.Slice:
		if v.Len() > 0 && (v.Type().Elem().Kind() == reflect.Struct || v.Type().Elem().Kind() == reflect.String) {
			out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
			for i := range v.Len() {
				out.Index(i).Set(replace(v.Index(i), words))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type().Elem().Kind() == reflect.Struct && !strings.HasPrefix(v.Type().Elem().PkgPath(), "time") {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(replace(v.Elem(), words))
		}
	}
	return out
}

// harmless fails when a picture with any texts is not a picture any more.
func harmless(t *testing.T, name string, p picture, words string) {
	t.Helper()
	svg, err := p.SVG()
	if err != nil {
		return // nothing drawn, nothing broken
	}
	d := read(t, svg)
	for _, b := range d.texts {
		if !b.within(box{-margin - 1, -1, d.width + 2, d.height + 2}) {
			t.Errorf("%s with %.40q: %.40q at %v leaves the sheet of %v by %v", name, words, b.words, b.box, d.width, d.height)
		}
	}
	for _, line := range strings.Split(p.Text(80), "\n") {
		if ansi.StringWidth(line) > 80 {
			t.Errorf("%s with %.40q: line of %d columns: %q", name, words, ansi.StringWidth(line), line)
		}
		for _, r := range line {
			if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
				t.Errorf("%s with %q: text has %U", name, words, r)
			}
		}
	}
}

// Whatever a label says, the picture stays XML, one picture, within its sheet.
func TestHostileWords(t *testing.T) {
	for name, p := range gallery {
		for i, words := range hostile {
			if name == "log" && i > 0 {
				break // the shorter logs stand for it
			}
			harmless(t, name, spoiled(p, words), words)
		}
	}
}

func FuzzWords(f *testing.F) {
	for _, words := range hostile {
		f.Add(words)
	}
	names := slices.Sorted(maps.Keys(gallery))
	f.Fuzz(func(t *testing.T, words string) {
		sum := 0
		for _, b := range []byte(words) {
			sum += int(b)
		}
		if name := names[sum%len(names)]; name != "log" {
			harmless(t, name, spoiled(gallery[name], words), words)
		}
	})
}

// Labels keep their distance, their order and their limits, as near as may be to
// where they want to be.
func TestApart(t *testing.T) {
	for _, tt := range []struct {
		wished         []float64
		gap, low, high float64
		want           []float64
	}{
		{[]float64{10, 50}, 10, 0, 100, []float64{10, 50}},
		{[]float64{50, 50}, 10, 0, 100, []float64{45, 55}},
		{[]float64{52, 50, 90}, 10, 0, 100, []float64{56, 46, 90}},
		{[]float64{0, 0, 0}, 10, 0, 100, []float64{0, 10, 20}},
		{[]float64{100, 99}, 10, 0, 100, []float64{100, 90}},
		{[]float64{5, 5, 5}, 80, 0, 100, []float64{0, 50, 100}},
		{nil, 1, 0, 1, nil},
	} {
		got := apart(tt.wished, tt.gap, tt.low, tt.high)
		for i := range tt.want {
			if math.Abs(got[i]-tt.want[i]) > 1e-9 {
				t.Errorf("apart(%v, %v) = %v, want %v", tt.wished, tt.gap, got, tt.want)
				break
			}
		}
	}
}

// Ticks are round, lie within their range and are as many as fit.
func TestRound(t *testing.T) {
	for _, tt := range []struct {
		s     span
		n     int
		least float64
		want  string
	}{
		{span{11.4, 14.6}, 6, 1, "12 13 14"},
		{span{-6, 21}, 6, 1, "−5 0 5 10 15 20"},
		{span{0, 1}, 5, 0.001, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{span{0, 988}, 5, 1, "0 200 400 600 800"},
		{span{12.2, 12.4}, 6, 1, ""},
	} {
		var list []string
		for _, k := range round(tt.s, tt.n, tt.least) {
			list = append(list, k.text)
		}
		if got := strings.Join(list, " "); got != tt.want {
			t.Errorf("round(%v, %d) = %q, want %q", tt.s, tt.n, got, tt.want)
		}
	}
}

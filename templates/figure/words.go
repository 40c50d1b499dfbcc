package figure

import (
	"fmt"
	"html"
	"image/color"
	"strconv"
	"strings"
	"sync"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
)

// side is where words stand beside their point.
type side int

const (
	after  side = iota // they begin at the point
	about              // they are centred on it
	before             // they end at it
)

// look is how words are set. The zero look is 11 units, ink, upright.
type look struct {
	size  float64
	bold  bool
	color color.RGBA
	side  side
	halo  bool // a white edge, where words stand on lines
}

func (l look) points() float64 {
	if l.size == 0 {
		return 11
	}
	return l.size
}

// to returns l on another side of its point.
func (l look) to(s side) look { l.side = s; return l }

// The looks of words.
var (
	plain = look{}
	small = look{size: 10, color: soft}
	bold  = look{bold: true}
	head  = look{size: 13, bold: true}
)

// say writes one line of words with its baseline at y.
func (s *sheet) say(x, y float64, words string, l look) {
	words = clean(words)
	if words == "" {
		return
	}
	fmt.Fprintf(&s.words, `<text x="%s" y="%s"`, short(x), short(y))
	if l.side != after {
		fmt.Fprintf(&s.words, ` text-anchor="%s"`, [...]string{"start", "middle", "end"}[l.side])
	}
	if l.size != 0 {
		fmt.Fprintf(&s.words, ` font-size="%g"`, l.size)
	}
	if l.bold {
		s.words.WriteString(` font-weight="bold"`)
	}
	if l.color.A != 0 {
		fmt.Fprintf(&s.words, ` fill="#%02x%02x%02x"`, l.color.R, l.color.G, l.color.B)
	}
	if l.halo {
		s.words.WriteString(` stroke="#ffffff" stroke-width="3" stroke-linejoin="round" paint-order="stroke"`)
	}
	fmt.Fprintf(&s.words, ">%s</text>\n", html.EscapeString(words))
}

// lead is the distance of two baselines.
func (l look) lead() float64 { return l.points() * 1.27 }

// tell writes words in lines of at most w units, the first with its baseline at
// y, and returns the baseline of the line after them.
func (s *sheet) tell(x, y, w float64, words string, l look) float64 {
	for _, line := range wrap(words, w, l) {
		s.say(x, y, line, l)
		y += l.lead()
	}
	return y
}

// short is a coordinate with two decimals at most.
func short(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	return strings.TrimRight(strings.TrimRight(text, "0"), ".")
}

// clean returns words as one line of what may stand in a document: no control
// characters, no marks that turn the direction of what follows.
func clean(words string) string {
	words = strings.Map(func(r rune) rune {
		switch {
		case unicode.IsSpace(r) && r != '\u00a0':
			return ' '
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r), r == unicode.ReplacementChar,
			unicode.Is(unicode.Noncharacter_Code_Point, r), unicode.Is(unicode.Co, r):
			return -1
		}
		return r
	}, strings.ToValidUTF8(words, ""))
	return strings.Join(strings.FieldsFunc(words, func(r rune) bool { return r == ' ' }), " ")
}

// escape returns words as content of an XML element.
func escape(words string) string { return html.EscapeString(clean(words)) }

// How much wider than the font measured here the widest common sans-serif sets
// words, regular and bold: computed from the advance widths of DejaVu Sans.
const (
	broad     = 1.17
	broadBold = 1.25
)

// measure returns about the most that words take in any common sans-serif.
func measure(words string, l look) float64 {
	face, wider := regular(), broad
	if l.bold {
		face, wider = heavy(), broadBold
	}
	width := 0.0
	for _, r := range words {
		width += face.advance(r)
	}
	return width * l.points() * wider
}

// widths are the advance widths of a font's characters, for a size of 1.
type widths struct {
	latin [0x180]float64
}

// The widths are measured when first asked for: most commands draw nothing.
var (
	regular = sync.OnceValue(func() *widths { return newWidths(false) })
	heavy   = sync.OnceValue(func() *widths { return newWidths(true) })
)

func newWidths(bold bool) *widths {
	f := font.Font{Typeface: "Liberation", Variant: "Sans"}
	if bold {
		f.Weight = 3 // golang.org/x/image/font.WeightBold
	}
	face := plot.DefaultTextHandler.Cache().Lookup(f, 100)
	w := &widths{}
	for r := range w.latin {
		w.latin[r] = float64(face.Width(string(rune(r)))) / 100
	}
	return w
}

// advance is the width of a character. Those outside of Latin are taken as wide
// as a capital, those of East Asia as wide as they are high.
func (w *widths) advance(r rune) float64 {
	if int(r) < len(w.latin) {
		return w.latin[r]
	}
	switch ansi.StringWidth(string(r)) {
	case 0:
		return 0
	case 2:
		return 1
	}
	return 0.75
}

// wrap breaks words into lines of at most w units. A word that is longer is
// broken inside.
func wrap(words string, w float64, l look) []string {
	return wrapBy(clean(words), func(line string) bool { return measure(line, l) <= w })
}

// upTo breaks words into n lines at most, the last of them cut.
func upTo(n int, words string, w float64, l look) []string {
	lines := wrap(words, w, l)
	if len(lines) > n {
		lines[n-1] = elide(lines[n-1]+" "+lines[n], w, l)
		lines = lines[:n]
	}
	return lines
}

// wrapBy breaks words into the longest lines that fit.
func wrapBy(words string, fits func(string) bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(words, " ") {
		if joined := strings.TrimSpace(line + " " + word); fits(joined) {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		for !fits(word) && len([]rune(word)) > 1 {
			n := longest(word, fits)
			lines, word = append(lines, word[:n]), word[n:]
		}
		line = word
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// longest returns the length in bytes of the longest beginning of a word that
// fits, one character at least.
func longest(word string, fits func(string) bool) int {
	n := 0
	for i, r := range word {
		end := i + len(string(r))
		if n > 0 && !fits(word[:end]) {
			break
		}
		n = end
	}
	return n
}

// elide returns words cut to w units.
func elide(words string, w float64, l look) string {
	words = clean(words)
	if measure(words, l) <= w {
		return words
	}
	n := longest(words, func(part string) bool { return measure(part+"…", l) <= w })
	return strings.TrimSpace(words[:n]) + "…"
}

package units

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// spelling folds the many ways a unit is typed into the one that the lookup
// uses: "m² · K/W", "m2*K / W" and "m^2 K/W" all become "m2 K/W". Signs of
// multiplication, degree signs and dots after a letter become one space, "per"
// a slash, and the brackets of a denominator go. What does not belong in a unit
// stays, so that it is not found.
type spelling struct {
	buf     [2*maxText + 8]byte
	n       int
	gap     bool // a space is due before the next letter
	product rune // an explicit sign of multiplication that still wants its factor
	bracket bool // inside the brackets of a denominator
}

// spell folds a unit, letters in their own case.
func (s *spelling) spell(unit string) {
	for i := 0; i < len(unit); {
		if (s.n == 0 || s.gap) && wordPer(unit[i:]) {
			s.slash()
			i += len("per")
			continue
		}
		r, size := rune(unit[i]), 1
		if r >= utf8.RuneSelf {
			r, size = utf8.DecodeRuneInString(unit[i:])
		}
		i += size
		s.add(r, unit[i:])
	}
	if s.product != 0 {
		s.put(s.product)
	}
	if s.bracket {
		s.put('(')
	}
}

// key returns the spelling.
func (s *spelling) key() []byte { return s.buf[:s.n] }

// put appends r; a text too long for a value is cut, and so not found.
func (s *spelling) put(r rune) {
	if s.n+utf8.UTFMax <= len(s.buf) {
		s.n += utf8.EncodeRune(s.buf[s.n:], r)
	}
}

// last returns the last byte, or 0.
func (s *spelling) last() byte {
	if s.n == 0 {
		return 0
	}
	return s.buf[s.n-1]
}

// wordPer reports whether s starts with the word "per" and a space.
func wordPer(s string) bool {
	return len(s) > 3 && s[0]|0x20 == 'p' && s[1]|0x20 == 'e' && s[2]|0x20 == 'r' && s[3] == ' '
}

// add takes the next character; rest is what follows it.
func (s *spelling) add(r rune, rest string) {
	switch r {
	case '/':
		s.slash()
	case '.', '·', '⋅', '∙', '*', '×', '-', '‑':
		s.multiply(r)
	case '°', 'º', '˚':
		s.degree(r, rest)
	case '^':
		if rest == "" || rest[0] != '2' && rest[0] != '3' {
			s.letter(r)
		}
	case '(':
		s.open()
	case ')':
		s.close(rest)
	default:
		if isSpace(r) {
			s.gap = true
			return
		}
		s.letter(plainLetter(r))
	}
}

// degree drops a degree sign beside the C, F or K that it belongs to.
func (s *spelling) degree(sign rune, rest string) {
	rest = strings.TrimSpace(rest)
	if rest == "" && isScale(s.last()) || rest != "" && isScale(rest[0]) {
		s.gap = true
		return
	}
	s.letter(sign)
}

func isScale(c byte) bool { return c|0x20 == 'c' || c|0x20 == 'f' || c|0x20 == 'k' }

func (s *spelling) slash() {
	if s.product != 0 {
		s.put(s.product)
	}
	s.put('/')
	s.gap, s.product = false, 0
}

// multiply notes a sign of multiplication, and keeps one that follows nothing.
// The dot of an abbreviation is one that needs no factor.
func (s *spelling) multiply(sign rune) {
	switch {
	case sign == '.' && isLetter(s.last()) && !s.gap:
		s.gap = true
	case s.n == 0 || s.last() == '/' || s.product != 0 || sign == '.':
		s.put(sign)
	default:
		s.gap, s.product = true, sign
	}
}

func (s *spelling) open() {
	if s.last() == '/' && !s.bracket {
		s.bracket = true
		return
	}
	s.letter('(')
}

func (s *spelling) close(rest string) {
	if s.bracket && rest == "" && s.product == 0 {
		s.bracket, s.gap = false, false
		return
	}
	s.letter(')')
}

// letter appends one character of a word, parted from the last by a space where
// one is due or where an exponent or percent sign ended a factor.
func (s *spelling) letter(r rune) {
	last := s.last()
	ended := (last == '%' || isDigit(last)) && unicode.IsLetter(r)
	if last != 0 && last != '/' && (s.gap || ended) {
		s.put(' ')
	}
	s.gap, s.product = false, 0
	s.put(r)
}

// plainLetter returns the character that the lookup uses for r.
func plainLetter(r rune) rune {
	if r < utf8.RuneSelf {
		return r
	}
	switch r {
	case '²', '₂':
		return '2'
	case '³':
		return '3'
	case 'µ', 'μ': // micro sign, Greek mu
		return 'u'
	case 'Ω': // ohm sign
		return 'Ω' // Greek omega
	case '′', '’', '‘', 'ʹ':
		return '\''
	case '″', '”', '“', 'ʺ':
		return '"'
	case '℃':
		return 'C'
	case '℉':
		return 'F'
	}
	return r
}

// fold lowers the letters A to Z of the spelling and returns it.
func (s *spelling) fold() []byte {
	key := s.key()
	for i, c := range key {
		if 'A' <= c && c <= 'Z' {
			key[i] = c + 'a' - 'A'
		}
	}
	return key
}

func isDigit(c byte) bool  { return '0' <= c && c <= '9' }
func isLetter(c byte) bool { return 'a' <= c|0x20 && c|0x20 <= 'z' }

// isSpace reports whether r is a space that people type or paste; a tab or a
// line break is not.
func isSpace(r rune) bool {
	return r == ' ' || r > unicode.MaxASCII && unicode.Is(unicode.Zs, r)
}

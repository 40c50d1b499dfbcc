package templates

import (
	"strings"
	"unicode"
)

// Markdown is text that may stand in a document as it is.
type Markdown string

// Escape returns text that stands in a Markdown document as the words it is and
// as nothing else: it makes no heading, list, table cell, link, HTML or line of
// its own. Control, format and bidirectional characters are gone, and each run
// of white space is one space.
func Escape(text string) Markdown {
	text = plain(text)
	var b strings.Builder
	for i, r := range text {
		switch {
		case r == '&' && (next(text, i) == '#' || letter(next(text, i))):
			b.WriteString("&amp;")
			continue
		case special(text, i, r):
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return Markdown(b.String())
}

// plain is text in one line, without characters that steer a terminal or turn
// the direction of reading round.
func plain(text string) string {
	var b strings.Builder
	space := false
	for _, r := range text {
		switch {
		case unicode.IsSpace(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r):
			space = true
			continue
		case steers(r):
			continue
		}
		if space && b.Len() > 0 {
			b.WriteByte(' ')
		}
		space = false
		b.WriteRune(r) // an invalid byte is U+FFFD here
	}
	return b.String()
}

// steers reports characters that steer a terminal, turn the direction of
// reading round or cannot be seen.
func steers(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) && !joiner(r) || unseen(r)
}

// joiner reports the two format characters that some scripts need to be read.
func joiner(r rune) bool { return r == '\u200c' || r == '\u200d' }

// unseen reports characters that are letters to Unicode and blank to the eye.
func unseen(r rune) bool {
	switch r {
	case '\u115f', '\u1160', '\u3164', '\uffa0', '\u2800', '\u034f', '\u17b4', '\u17b5':
		return true
	}
	return false
}

// special reports whether the character at i would be read as markup.
func special(text string, i int, r rune) bool {
	switch r {
	case '\\', '`', '*', '[', ']', '<', '|', '~', '#', '$', '@':
		return true
	case '_':
		return !(alphanumeric(text, i-1) && alphanumeric(text, i+1))
	case ':':
		return i == 0 || strings.HasPrefix(text[i+1:], "//")
	case '.', ')':
		return i > 0 && numbered(text[:i]) && ends(text, i) || r == '.' && afterWWW(text[:i])
	case '>', '=':
		return i == 0
	case '+', '-':
		return i == 0 && (ends(text, i) || next(text, i) == '-')
	}
	return false
}

func next(text string, i int) byte {
	if i+1 < len(text) {
		return text[i+1]
	}
	return 0
}

// ends reports whether the word ends with the character at i.
func ends(text string, i int) bool { return next(text, i) == 0 || next(text, i) == ' ' }

func alphanumeric(text string, i int) bool {
	return i >= 0 && i < len(text) && (letter(text[i]) || digit(text[i]))
}

func letter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' }

func digit(c byte) bool { return c >= '0' && c <= '9' }

// numbered reports whether before is what a numbered list item begins with.
func numbered(before string) bool {
	return len(before) <= 9 && strings.Trim(before, "0123456789") == ""
}

// afterWWW reports whether a dot here would begin a link.
func afterWWW(before string) bool {
	return len(before) >= 3 && strings.EqualFold(before[len(before)-3:], "www")
}

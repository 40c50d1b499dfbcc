package logs

import (
	"bytes"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/simplifiedchinese"
	utf "golang.org/x/text/encoding/unicode"
)

// Charset is the character set of a file.
type Charset string

// The character sets that are read. A byte order mark is recognised in any
// case; files in UTF-8 are read with and without one. Those below CodePage850
// must be given: by its bytes a file cannot be told from one of those above.
const (
	UTF8        Charset = "utf-8"
	UTF16LE     Charset = "utf-16le"
	UTF16BE     Charset = "utf-16be"
	Windows1252 Charset = "windows-1252"
	CodePage437 Charset = "cp437"
	CodePage850 Charset = "cp850"
	Windows1250 Charset = "windows-1250"
	Windows1251 Charset = "windows-1251"
	Windows1253 Charset = "windows-1253"
	CodePage852 Charset = "cp852"
	CodePage866 Charset = "cp866"
	GB18030     Charset = "gb18030"
	ShiftJIS    Charset = "shift-jis"
)

// charsets are all of them with their decoders, nil for UTF-8.
var charsets = []struct {
	name    Charset
	decoder encoding.Encoding
}{
	{UTF8, nil}, {UTF16LE, utf.UTF16(utf.LittleEndian, utf.IgnoreBOM)}, {UTF16BE, utf.UTF16(utf.BigEndian, utf.IgnoreBOM)},
	{Windows1252, charmap.Windows1252}, {CodePage437, charmap.CodePage437}, {CodePage850, charmap.CodePage850},
	{Windows1250, charmap.Windows1250}, {Windows1251, charmap.Windows1251}, {Windows1253, charmap.Windows1253},
	{CodePage852, charmap.CodePage852}, {CodePage866, charmap.CodePage866},
	{GB18030, simplifiedchinese.GB18030}, {ShiftJIS, japanese.ShiftJIS},
}

// encoding returns how to decode a character set, nil for UTF-8.
func (c Charset) encoding() (encoding.Encoding, error) {
	var known []string
	for _, set := range charsets {
		if set.name == c {
			return set.decoder, nil
		}
		known = append(known, string(set.name))
	}
	return nil, problemf(ErrDialect, "character set %q is not known; known are %s", c, strings.Join(known, ", "))
}

// detectCharset looks at the beginning of a file. whole is the same or more of
// it. The note is not empty when the choice rests on likelihood.
func detectCharset(head, whole []byte) (c Charset, note string, err error) {
	if c := byteOrderMark(head); c != "" {
		return c, "", nil
	}
	if kind := binaryKind(head); kind != "" {
		return "", "", problemf(ErrNotText, "the file is %s, not text; export the log as CSV", kind)
	}
	if c := wideWithoutMark(head); c != "" {
		return c, "no byte order mark: read as " + string(c) + " by the zero bytes", nil
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return "", "", problemf(ErrNotText, "the file has zero bytes and is not text; export the log as CSV")
	}
	if utf8.Valid(whole) {
		return UTF8, "", nil
	}
	if clip := wholeRunes(head); utf8.Valid(clip) && !ascii(clip) {
		return UTF8, "some bytes further down are not utf-8", nil
	}
	c, note = singleByte(whole)
	return c, note, nil
}

// cutMark removes the byte order mark of a character set.
func cutMark(data []byte, c Charset) []byte {
	switch {
	case byteOrderMark(data) != c || c == "":
		return data
	case c == UTF8:
		return data[3:]
	}
	return data[2:]
}

func byteOrderMark(b []byte) Charset {
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		return UTF8
	case bytes.HasPrefix(b, []byte("\xff\xfe")):
		return UTF16LE
	case bytes.HasPrefix(b, []byte("\xfe\xff")):
		return UTF16BE
	}
	return ""
}

// binaryKind recognises files that people take for logger files.
func binaryKind(b []byte) string {
	for _, k := range []struct{ magic, kind string }{
		{"PK\x03\x04", "a spreadsheet or another zip archive"},
		{"\xd0\xcf\x11\xe0", "an old spreadsheet or document"},
		{"%PDF", "a PDF document"},
		{"\x1f\x8b", "compressed with gzip"},
		{"SQLite format 3", "a database"},
		{"\x89PNG", "a picture"},
		{"\xff\xd8\xff", "a picture"},
	} {
		if bytes.HasPrefix(b, []byte(k.magic)) {
			return k.kind
		}
	}
	return ""
}

// wideWithoutMark recognises UTF-16 by zero bytes at every second place: the
// text of a logger is mostly ASCII.
func wideWithoutMark(b []byte) Charset {
	b = b[:min(len(b), 4096)&^1]
	var even, odd int
	for i := 0; i+1 < len(b); i += 2 {
		if b[i] == 0 {
			even++
		}
		if b[i+1] == 0 {
			odd++
		}
	}
	half := len(b) / 2
	switch {
	case half < 8:
		return ""
	case odd*10 >= half*9 && even == 0:
		return UTF16LE
	case even*10 >= half*9 && odd == 0:
		return UTF16BE
	}
	return ""
}

// singleByte picks the code page under which the bytes above 127 look like
// the text of a logger: letters within words, degree signs before C and F.
func singleByte(b []byte) (Charset, string) {
	b = b[:min(len(b), 1<<18)]
	win := plausible(b, charmap.Windows1252)
	dos437, dos850 := plausible(b, charmap.CodePage437), plausible(b, charmap.CodePage850)
	switch {
	case win > max(dos437, dos850):
		return Windows1252, ""
	case dos437 > win && dos437 == dos850 && sameText(b):
		return CodePage437, ""
	case dos850 > win && dos850 > dos437:
		return CodePage850, ""
	case dos437 > win && dos437 > dos850:
		return CodePage437, ""
	}
	return Windows1252, "the character set is not certain: taken as windows-1252; it matters for names only"
}

func plausible(b []byte, m *charmap.Charmap) int {
	score := 0
	for i, c := range b {
		if c < 0x80 {
			continue
		}
		before, after := neighbour(b, i-1), neighbour(b, i+1)
		r := m.DecodeByte(c)
		switch {
		case r == '°' && (strings.IndexByte("CFKc ", after) >= 0 || after == 0):
			score += 4
		case r == 'ø' && !letter(before) && (after == 'C' || after == 'F'):
			score -= 4
		case unicode.IsLetter(r) && r < 0x250 && (letter(before) || letter(after)):
			score += wordScore(r, before)
		case r == '²' || r == 'µ' || r == '\u00a0' || r == '³':
			score++
		default:
			score -= 2
		}
	}
	return score
}

// wordScore is lower for a capital letter that follows a small one.
func wordScore(r rune, before byte) int {
	if unicode.IsUpper(r) && 'a' <= before && before <= 'z' {
		return -1
	}
	return 2
}

func letter(c byte) bool { return c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0x80 }

func neighbour(b []byte, i int) byte {
	if i < 0 || i >= len(b) {
		return 0
	}
	return b[i]
}

// sameText reports whether both DOS code pages give the same text.
func sameText(b []byte) bool {
	for _, c := range b {
		if charmap.CodePage437.DecodeByte(c) != charmap.CodePage850.DecodeByte(c) {
			return false
		}
	}
	return true
}

func ascii(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// wholeRunes cuts an incomplete character off the end.
func wholeRunes(b []byte) []byte {
	for i := 1; i <= 3 && i <= len(b); i++ {
		if c := b[len(b)-i]; utf8.RuneStart(c) {
			if !utf8.FullRune(b[len(b)-i:]) {
				return b[:len(b)-i]
			}
			break
		}
	}
	return b
}

package strict

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

const bom = "\ufeff"

// withoutBOM drops the byte order mark that Windows Notepad writes.
func withoutBOM(data []byte) []byte { return bytes.TrimPrefix(data, []byte(bom)) }

// checkBytes refuses what an editor would not show: bytes that are not UTF-8,
// control characters, and line ends that YAML counts and an editor does not.
// It reports the first of each line.
func checkBytes(file string, data []byte) Errors {
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return Errors{{Pos{file, 1, 1}, "file is written as UTF-16; save it as UTF-8"}}
	}
	var errs Errors
	if !utf8.Valid(data) || hasForbidden(data) || bytes.IndexByte(data, '\t') >= 0 {
		line := 1
		for part := range bytes.Lines(data) {
			if column, text := badCharacter(part); column > 0 {
				errs = append(errs, &Error{Pos{file, line, column}, text})
			}
			line++
		}
	}
	return errs
}

// hasForbidden reports whether data may hold a character that badCharacter
// refuses, tabs and bytes that are not UTF-8 apart. It may say yes in vain.
func hasForbidden(data []byte) bool {
	for i, c := range data {
		switch {
		case c == '\r':
			if i+1 == len(data) || data[i+1] != '\n' {
				return true
			}
		case c < ' ' && c != '\n' && c != '\t', c == 0x7f:
			return true
		case c < utf8.RuneSelf:
		case c == 0xc2 && data[i+1] < 0xa0, // the controls U+0080 to U+009F
			c == 0xe2 && data[i+1] == 0x80 && data[i+2]|1 == 0xa9, // U+2028 and U+2029
			c == 0xef && (data[i+1] == 0xbb || data[i+1] == 0xbf): // U+FEFF, U+FFFE, U+FFFF
			return true
		}
	}
	return false
}

// badCharacter returns the column of the first character of a line that is
// refused, and why; zero if there is none. A tab is refused where it indents:
// YAML takes it for text or for space depending on what stands above.
func badCharacter(line []byte) (column int, text string) {
	indent := true
	rest := line
	for len(rest) > 0 {
		r, size := utf8.DecodeRune(rest)
		column++
		switch {
		case r == utf8.RuneError && size == 1:
			return column, fmt.Sprintf("byte 0x%02x is not UTF-8; save the file as UTF-8", rest[0])
		case r == '\r' && string(rest) != "\r\n":
			return column, "a carriage return stands alone; end lines with a line feed"
		case r == '\t' && indent && len(bytes.TrimSpace(rest)) > 0:
			return column, "a tab is used for indentation; use spaces"
		case forbidden(r):
			return column, fmt.Sprintf("character U+%04X cannot be seen and is not accepted; delete it", r)
		}
		indent = indent && (r == ' ' || r == '\t')
		rest = rest[size:]
	}
	return 0, ""
}

func forbidden(r rune) bool {
	switch {
	case r == '\n', r == '\r', r == '\t':
		return false
	case r < ' ', 0x7f <= r && r < 0xa0:
		return true
	}
	return r == '\u2028' || r == '\u2029' || r == '\ufeff' || r == '\ufffe' || r == '\uffff'
}

// endMarker is YAML's document end, the last line of a file that the program
// writes.
const endMarker = "..."

// checkEnd refuses a file of the program that was cut off. Only the last line
// feed may be missing: without it the file still holds all that was written.
func checkEnd(file string, data []byte) *Error {
	text := strings.TrimSuffix(strings.TrimSuffix(string(data[max(0, len(data)-8):]), "\n"), "\r")
	if strings.HasSuffix(text, "\n"+endMarker) {
		return nil
	}
	lines := bytes.Count(data, []byte("\n"))
	last := data[bytes.LastIndexByte(data, '\n')+1:]
	at := Pos{file, lines + 1, utf8.RuneCount(last) + 1}
	return &Error{at, `file is cut off: its last line is not "..."; restore it from the job's history`}
}

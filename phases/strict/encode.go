package strict

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Field is one key and its value. The key is not empty. The value is a string, Plain, bool, int,
// time.Time, []string, []Field (a map) or [][]Field (a list of maps).
//
// What is empty is not written: text "", a list without items, a map without
// fields. Leaving a key out says that there is nothing; a key without a value
// says that something was forgotten.
type Field struct {
	Key   string
	Value any
}

// Plain is text that stands without quotes although it looks like a number or
// a date, because that is what it is: 5.5, 2026-05-04. It is quoted all the
// same where it would not read back as written.
type Plain string

// Encode writes fields as a file of the program: LF line ends, two spaces of
// indentation, no line folded, and YAML's document end marker "..." as the
// last line. The same fields give the same bytes.
//
// Text reads back exactly as it was: it is quoted where YAML needs it, and
// where another reader would take it for a number, a truth value, a date or
// nothing. Text with lines is written as a block where that is exact. What
// cannot be seen is escaped. Text that is not UTF-8 has each bad run replaced
// by U+FFFD. Encode panics on a value of another type, which is a bug of the
// caller.
func Encode(fields []Field) []byte {
	var e encoder
	if blank(fields) {
		e.write("{}\n")
	}
	e.fields(fields, 0)
	e.write(endMarker + "\n")
	return e.out
}

type encoder struct{ out []byte }

func (e *encoder) write(parts ...string) {
	for _, p := range parts {
		e.out = append(e.out, p...)
	}
}

func (e *encoder) indent(n int) { e.write(strings.Repeat(" ", n)) }

// fields writes a map at an indentation of n spaces.
func (e *encoder) fields(fields []Field, n int) {
	for _, f := range fields {
		if !blank(f.Value) {
			e.indent(n)
			e.field(f, n)
		}
	}
}

// item writes a map as an item of a list, its first field after the dash.
func (e *encoder) item(fields []Field, n int) {
	e.indent(n)
	e.write("- ")
	if blank(fields) {
		e.write("{}\n")
		return
	}
	start := len(e.out)
	e.fields(fields, n+2)
	// The dash has taken the place of the first line's indentation.
	e.out = append(e.out[:start], e.out[start+n+2:]...)
}

// longestKey is how long a key may be before ":" ends it; YAML 1.2.2 section
// 7.4.2 allows 1024 characters.
const longestKey = 1000

func (e *encoder) field(f Field, n int) {
	key := inline(f.Key)
	if len(key) > longestKey {
		e.write("? ", key, "\n")
		e.indent(n)
		key = ""
	}
	e.write(key, ":")
	switch v := f.Value.(type) {
	case []string:
		e.write("\n")
		for _, s := range v {
			if s != "" {
				e.indent(n + 2)
				e.write("- ", text(s, n+4), "\n")
			}
		}
	case []Field:
		e.write("\n")
		e.fields(v, n+2)
	case [][]Field:
		e.write("\n")
		for _, item := range v {
			e.item(item, n+2)
		}
	default:
		e.write(" ", scalar(v, n+2), "\n")
	}
}

// scalar returns a single value; n is the indentation of further lines.
func scalar(value any, n int) string {
	switch v := value.(type) {
	case string:
		return text(v, n)
	case Plain:
		if plainSafe(string(v), false) {
			return string(v)
		}
		return text(string(v), n)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case int:
		return strconv.Itoa(v)
	case time.Time:
		return v.Format(time.RFC3339Nano)
	}
	panic(fmt.Sprintf("strict: a %T cannot be written", value))
}

// blank reports whether a value is left out.
func blank(value any) bool {
	switch v := value.(type) {
	case nil:
		return true
	case string:
		return v == ""
	case Plain:
		return v == ""
	case []string:
		for _, s := range v {
			if s != "" {
				return false
			}
		}
		return true
	case []Field:
		for _, f := range v {
			if !blank(f.Value) {
				return false
			}
		}
		return true
	case [][]Field:
		return len(v) == 0
	}
	return false
}

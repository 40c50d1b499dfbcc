package strict

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// text returns s as YAML that reads back as s; n is the indentation of further
// lines.
func text(s string, n int) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	if blockSafe(s) {
		return block(s, n)
	}
	return inline(s)
}

// inline returns s on one line, in quotes where they are needed.
func inline(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	if plainSafe(s, false) && !typed(s) {
		return s
	}
	return doubleQuoted(s)
}

// plainSafe reports whether s without quotes reads back as s and not as
// nothing. In a flow collection, [a, b], more characters need quotes.
func plainSafe(s string, flow bool) bool {
	if s == "" || nothing(s) || s == "<<" || strings.TrimSpace(s) != s {
		return false
	}
	if strings.ContainsAny(s[:1], "?:,[]{}#&*!|>'\"%@`") {
		return false
	}
	if s == "-" || strings.HasPrefix(s, "- ") || strings.HasPrefix(s, "---") || strings.HasPrefix(s, endMarker) {
		return false
	}
	if strings.Contains(s, ": ") || strings.Contains(s, " #") || strings.HasSuffix(s, ":") {
		return false
	}
	if flow && strings.ContainsAny(s, ",[]{}:") {
		return false
	}
	return visible(s)
}

// visible reports whether s is UTF-8 and every character of it is printed,
// spaces included.
func visible(s string) bool {
	if !utf8.ValidString(s) {
		return false
	}
	for _, r := range s {
		if !unicode.IsPrint(r) {
			return false
		}
	}
	return true
}

// nothing reports whether YAML takes s for null.
func nothing(s string) bool {
	return s == "~" || strings.EqualFold(s, "null")
}

// typed reports whether some YAML reader may take s for something else than
// text: the numbers, truth values and dates of YAML 1.1 and 1.2.
func typed(s string) bool {
	switch strings.ToLower(s) {
	case "y", "n", "yes", "no", "on", "off", "true", "false", "=":
		return true
	}
	return numberLike().MatchString(s)
}

// numberLike is a number or a date to some reader: base 2, 8, 10, 16 and 60,
// exponents, infinity (YAML 1.1 tag repository: int, float, timestamp; YAML
// 1.2.2 section 10.3.2). Its third line takes in "." and "1.2.3", since the
// repository's pattern for float does.
var numberLike = pattern(`^[-+]?((?i:0[xob])[0-9a-fA-F_]+` +
	`|[0-9][0-9_]*(:[0-5]?[0-9])+(\.[0-9_]*)?` +
	`|([0-9_]+\.?|\.)[0-9._]*([eE][-+]?[0-9]+)?` +
	`|(?i:\.inf|\.nan))$` +
	`|^[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}([Tt ]|$)`)

// doubleQuoted returns s in double quotes, with escapes for what cannot be
// seen.
func doubleQuoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case unicode.IsPrint(r):
			b.WriteRune(r)
		case r <= 0xff:
			fmt.Fprintf(&b, `\x%02x`, r)
		case r <= 0xffff:
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			fmt.Fprintf(&b, `\U%08x`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// blockSafe reports whether s has lines and can be written as a literal block
// without loss: nothing invisible, no space where an editor would strip it or
// YAML would take it for indentation, at most one line feed at the end.
func blockSafe(s string) bool {
	body := strings.TrimSuffix(s, "\n")
	if !strings.Contains(s, "\n") || body == "" || strings.HasPrefix(body, " ") ||
		strings.HasPrefix(body, "\n") || strings.HasSuffix(body, "\n") {
		return false
	}
	for line := range strings.SplitSeq(body, "\n") {
		if strings.HasSuffix(line, " ") || !visible(line) {
			return false
		}
	}
	return true
}

// block returns s as a literal block whose lines are indented by n.
func block(s string, n int) string {
	header := "|-"
	if strings.HasSuffix(s, "\n") {
		header = "|"
	}
	var b strings.Builder
	b.WriteString(header)
	for line := range strings.SplitSeq(strings.TrimSuffix(s, "\n"), "\n") {
		b.WriteByte('\n')
		if line != "" {
			b.WriteString(strings.Repeat(" ", n))
			b.WriteString(line)
		}
	}
	return b.String()
}

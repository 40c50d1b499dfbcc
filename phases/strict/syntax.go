package strict

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// syntaxError turns an error of yaml.v3 into one with a position and plain
// words. The line that yaml.v3 gives is often that of the map around the
// problem, and it never gives a column.
func syntaxError(file string, data []byte, err error) *Error {
	message := yamlPrefix().ReplaceAllString(err.Error(), "")
	lines := &lineIndex{data: data}
	line := brokenLine(lines)
	text := lines.text(line)
	at, words := diagnose(text, message)
	return &Error{Pos{file, line, utf8.RuneCountInString(text[:at]) + 1}, words}
}

// The patterns are compiled when the first error needs them, since most runs
// of the program have none.
var (
	yamlPrefix = pattern(`^yaml: (line \d+: )?`)
	// beforeValue is what stands before a value: dashes of a list, a key.
	beforeValue = pattern(`^ *(- +)*(("([^"\\]|\\.)*"|'([^']|'')*'|[^"'\[{#:\s]([^:]|:\S)*?) *:(\s+|$))?`)
	// tightKey is a key whose colon lacks its space.
	tightKey = pattern(`^ *(- +)*[^"'\[{#:\s][^:"]*:\S`)
	// goodEscapes is double-quoted text as far as its escapes are YAML's.
	goodEscapes = pattern(`^"([^"\\]|\\([0abt\tnvfre "/\\N_LP]|x[[:xdigit:]]{2}|u[[:xdigit:]]{4}|U[[:xdigit:]]{8}))*`)
)

func pattern(expr string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(expr) })
}

// diagnose looks for the usual mistakes in the line that yaml.v3 could not
// read, and returns the byte they are at and what to do.
func diagnose(line, message string) (at int, words string) {
	if name, found := strings.CutPrefix(message, "unknown anchor '"); found {
		name = "*" + strings.TrimSuffix(name, "' referenced")
		return max(0, strings.Index(line, name)), `alias "` + name + `" is not accepted; write the value out, or put text that starts with "*" in quotes`
	}
	if strings.Contains(message, "exceeded max depth") {
		return indent(line), "maps and lists are nested more than 20 deep; flatten them"
	}
	if strings.HasPrefix(line[indent(line):], ":") {
		return indent(line), emptyKey
	}
	at = valueStart(line)
	if value := line[at:]; value != "" {
		if i, words := diagnoseValue(value, message); words != "" {
			return at + i, words
		}
	}
	if i := tightColon(line); i >= 0 {
		return i, `no space after the colon; write "key: value"`
	}
	return indent(line), inWords(message)
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

func valueStart(line string) int { return len(beforeValue().FindString(line)) }

// tightColon returns the place of a colon that lacks its space, or −1.
func tightColon(line string) int {
	if loc := tightKey().FindStringIndex(line); loc != nil {
		_, size := utf8.DecodeLastRuneInString(line[:loc[1]])
		return loc[1] - size - 1
	}
	return -1
}

// diagnoseValue explains a value that YAML does not take as a person meant it.
func diagnoseValue(value, message string) (at int, words string) {
	switch first := value[:1]; first {
	case `"`, `'`:
		return diagnoseQuote(value)
	case "?", "@", "`", "%", "*", "&", "!", "|", ">", ",", "]", "}":
		return 0, `text cannot start with "` + first + `"; put it in quotes`
	case "[", "{":
		closing := map[string]string{"[": "]", "{": "}"}[first]
		return 0, `"` + first + `" is not closed, lacks a comma, or is followed by text; end it with "` +
			closing + `", or put text that starts with "` + first + `" in quotes`
	}
	if strings.HasPrefix(value, "- ") && strings.Contains(message, "block sequence") {
		return 0, `a list starts on the line after its key; put "-" there`
	}
	bare, _, _ := strings.Cut(value, " #")
	if i := strings.Index(bare, ": "); i >= 0 && strings.Contains(message, "mapping values") {
		return i, `": " stands in this line twice; put the value in quotes`
	}
	return 0, ""
}

// diagnoseQuote explains a value that starts with a quote.
func diagnoseQuote(value string) (at int, words string) {
	if value[0] == '"' {
		at := len(goodEscapes().FindString(value))
		if rest := []rune(value[at:]); len(rest) > 1 && rest[0] == '\\' {
			return at, `unknown escape "` + string(rest[:2]) + `" in double quotes; use single quotes, or write the backslash twice`
		}
	}
	end := quoteEnd(value)
	if end < 0 {
		return 0, `the quote ` + value[:1] + ` is not closed; close it at the end of the value`
	}
	after, _, _ := strings.Cut(value[end:], " #")
	rest := strings.TrimLeft(after, " \t")
	if rest != "" && !slices.Contains([]byte("#,]}"), rest[0]) {
		all := strings.TrimSpace(value[:end] + after)
		return end + len(after) - len(rest), `text follows the closing quote; put single quotes around all of it: '` +
			strings.ReplaceAll(clip(all), "'", "''") + `'`
	}
	return 0, ""
}

// quoteEnd returns the place after the closing quote of the quoted text that s
// begins with, or −1.
func quoteEnd[T string | []byte](s T) int {
	for i := 1; i < len(s); i++ {
		switch {
		case s[i] == '\\' && s[0] == '"':
			i++
		case s[i] != s[0]:
		case s[0] == '\'' && i+1 < len(s) && s[i+1] == '\'':
			i++
		default:
			return i + 1
		}
	}
	return -1
}

// inWords says what yaml.v3 means.
func inWords(message string) string {
	for _, m := range []struct{ part, words string }{
		{"could not find expected ':'", `this line has no colon; write "key: value", or indent it as part of the value above`},
		{"mapping values", "this line is indented deeper than the key above, which has a value already; align it with its neighbours"},
		{"did not find expected key", "the indentation fits no line above; align the line with its neighbours"},
		{"'-' indicator", `the indentation fits no line above, or "-" is missing; align the line with its neighbours`},
		{"<document start>", "this line belongs to nothing above; check brackets and indentation above it"},
		{"node content", "a value is missing here, or a bracket above is not closed"},
		{"tab character", "a tab is used for indentation; use spaces"},
	} {
		if strings.Contains(message, m.part) {
			return m.words
		}
	}
	return "cannot be read: " + message + "; check quotes, brackets, colons and indentation"
}

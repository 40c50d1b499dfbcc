package main

import (
	"strings"
	"unicode/utf8"
)

// paragraph prints text in lines of the terminal's width, each indented.
func (e *env) paragraph(indent, text string) {
	for _, line := range wrapped(terminalText(text), min(e.width, 100)-len(indent)) {
		e.printf("%s%s\n", indent, line)
	}
}

// wrapped breaks text at spaces into lines of at most width characters; a
// longer word stands alone. A number stays with its unit where the text has a
// space between them.
func wrapped(text string, width int) []string {
	var lines []string
	line := ""
	for _, word := range words(text) {
		switch {
		case line == "":
			line = word
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) <= width:
			line += " " + word
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// words splits text at spaces, but not between a number and what follows it.
func words(text string) []string {
	var all []string
	for _, w := range strings.Fields(text) {
		if n := len(all); n > 0 && endsInNumber(all[n-1]) {
			all[n-1] += " " + w
			continue
		}
		all = append(all, w)
	}
	return all
}

// endsInNumber reports whether a word ends as a number does, "5" or "1/2", so
// that its unit or its fraction may follow.
func endsInNumber(word string) bool {
	if i := strings.LastIndexByte(word, ' '); i >= 0 {
		word = word[i+1:]
	}
	return word != "" && strings.Trim(word, "0123456789./-−+") == "" && strings.ContainsAny(word, "0123456789")
}

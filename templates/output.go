package templates

import (
	"regexp"
	"strings"
)

// Terminal returns text that a terminal shows as the words it is: no escape
// sequence, no control, format or bidirectional character. Line ends and tabs
// stay.
func Terminal(text string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && steers(r) {
			return -1
		}
		return r
	}, text)
}

// CSV returns text for a cell that no spreadsheet takes for a formula. An
// apostrophe goes before a first character that would begin one; a plain number
// with its unit, such as -0.5 K, stays as it is. Quoting is left to
// encoding/csv.
func CSV(text string) string {
	text = plain(text)
	if text == "" || !formula(text) && text[0] != '\'' {
		return text
	}
	return "'" + text
}

// FromCSV returns what CSV was given, for a cell that comes back.
func FromCSV(cell string) string {
	cell = strings.TrimSpace(cell)
	if rest, ok := strings.CutPrefix(cell, "'"); ok && rest != "" && (formula(rest) || rest[0] == '\'') {
		return rest
	}
	return cell
}

// measured is a signed number with an optional unit and nothing to compute.
var measured = regexp.MustCompile(`^[+-][0-9]+([.][0-9]+)?( ?[A-Za-z°%µ²³]+)*$`)

func formula(text string) bool {
	return strings.ContainsRune("=+-@|", rune(text[0])) && !measured.MatchString(text)
}

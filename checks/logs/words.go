package logs

import (
	"fmt"
	"strings"
	"time"
)

// The words by which people and records name the parts of a dialect.
var (
	separatorWords = map[byte]string{',': "comma", ';': "semicolon", '\t': "tab", '|': "bar"}
	markWords      = map[byte]string{'.': "point", ',': "comma", ' ': "space", '\'': "apostrophe"}
)

// SeparatorWord names a separator: comma, semicolon, tab, bar.
func SeparatorWord(b byte) string { return separatorWords[b] }

// ParseSeparator reads a separator's name, or the sign itself.
func ParseSeparator(text string) (byte, error) { return byWord(text, separatorWords, "separator") }

// MarkWord names a mark within numbers: point, comma, space, apostrophe.
func MarkWord(b byte) string { return markWords[b] }

// ParseMark reads the name of a mark between thousands, or the sign itself.
func ParseMark(text string) (byte, error) { return byWord(text, markWords, "thousands mark") }

// ParseDecimal reads a decimal mark: point or comma, or the sign itself.
func ParseDecimal(text string) (byte, error) {
	return byWord(text, map[byte]string{'.': "point", ',': "comma"}, "decimal mark")
}

func byWord(text string, words map[byte]string, what string) (byte, error) {
	var known []string
	for _, b := range []byte(".,;'\t| ") {
		word, ok := words[b]
		if !ok {
			continue
		}
		if text == string(b) || strings.EqualFold(text, word) {
			return b, nil
		}
		known = append(known, word)
	}
	return 0, fmt.Errorf("%s %q is not known; write %s", what, text, strings.Join(known, ", "))
}

// ParseDoubled reads which pass of an hour that comes twice is meant: first or
// second; "" leaves it to the order of the rows.
func ParseDoubled(text string) (Doubled, error) {
	switch d := Doubled(strings.ToLower(text)); d {
	case ByOrder, First, Second:
		return d, nil
	}
	return ByOrder, fmt.Errorf("doubled hour %q is not known; write first or second", text)
}

// DateOrder is which part of a date comes first.
type DateOrder string

// The orders.
const (
	DayFirst   DateOrder = "day-first"
	MonthFirst DateOrder = "month-first"
	YearFirst  DateOrder = "year-first"
)

// OrderOf returns the order of a layout; "" where the month is a word or the
// time is a count of seconds.
func OrderOf(layout string) DateOrder {
	day, month, year := strings.Index(layout, "02"), strings.Index(layout, "01"), strings.Index(layout, "06")
	if day < 0 || month < 0 || year < 0 {
		return ""
	}
	switch first := min(day, month, year); first {
	case day:
		return DayFirst
	case month:
		return MonthFirst
	}
	return YearFirst
}

// Reading returns the reading of a date in an order; false if it has none, or if
// the file mixes two orders, so that no answer makes it right.
func (e *AmbiguousDate) Reading(order DateOrder) (Reading, bool) {
	for _, r := range e.Readings {
		if r.Line == 0 && OrderOf(r.Layout) == order {
			return r, true
		}
	}
	return Reading{}, false
}

// FixedZone reads an offset from UTC, as "-06:00", "UTC+1" or "UTC"; false if
// text is none.
func FixedZone(text string) (*time.Location, bool) {
	text = strings.TrimSpace(text)
	if strings.HasPrefix(text, "+") || strings.HasPrefix(text, "-") {
		text = "UTC" + text
	}
	whole := offsetText.FindString(text)
	zone := offsetIn(text)
	return zone, zone != nil && len(whole) == len(text)
}

// ParseMeaning reads what a column holds, as a person says it: a unit ("°F",
// "% RH", "kWh"), a quantity with its unit ("dew point °C"), "on/off", "text" or
// "leave out".
func ParseMeaning(text string) (Column, error) {
	text = strings.TrimSpace(text)
	switch strings.ToLower(text) {
	case "leave out":
		return Column{Role: Ignored}, nil
	case "on/off":
		return Column{Role: OnOff, Quantity: State}, nil
	case "text":
		return Column{Role: Text}, nil
	}
	for q := range unitOf {
		unit, ok := strings.CutPrefix(strings.ToLower(text), string(q)+" ")
		if !ok {
			continue
		}
		c := Column{Role: Value, Quantity: q, Unit: strings.TrimSpace(text[len(text)-len(unit):])}
		_, err := c.conversion()
		return c, err
	}
	m, ok := meaningOf(text)
	if !ok {
		return Column{}, fmt.Errorf("%q is no unit that is known; write one like °C, °F, %% RH, W, kWh, \"dew point °C\", or on/off, text, leave out", text)
	}
	return Column{Role: Value, Quantity: m.quantity, Unit: m.unit}, nil
}

package units

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
)

// readChain reads a value in two or more units, such as "12 ft 6 in" or
// "1 h 30 min", into the smallest of them. n is its first number.
func (f *family) readChain(text string, n number, rest string) (Quantity, error) {
	total, m, bad := f.chain(n, rest)
	if bad == nil {
		return Quantity{Text: text, Value: total, Unit: f.unit(m)}, nil
	}
	if kinds := kindsOf(rest); len(kinds) > 0 {
		bad = &problem{reason: measures(kinds, f.kind)}
	}
	return Quantity{}, f.refuse(text, *bad)
}

// chain adds up the parts of such a value in the last part's unit.
func (f *family) chain(n number, rest string) (total float64, last *measure, bad *problem) {
	for {
		unit, after := cutUnit(rest)
		m := f.chainUnit(last, unit)
		if m == nil {
			return 0, nil, brokenChain(last, unit)
		}
		if last != nil {
			parts := math.Round(last.base(1) / m.base(1))
			if n.value >= parts {
				return 0, nil, tooMany(n, last, m, parts)
			}
			total *= parts
		}
		total, last = total+n.value, m
		if after == "" {
			return total, m, nil
		}
		if !n.whole || signLength(n.text) > 0 {
			return 0, nil, &problem{reason: "needs a whole number of " + m.symbol}
		}
		if after[0] == '.' {
			return 0, nil, &problem{reason: "has a point that may end " + unit + " or start a number"}
		}
		if n, rest, bad = scanNumber(after); bad != nil {
			return 0, nil, bad
		}
		rest = strings.TrimSpace(rest)
	}
}

// cutUnit parts the unit at the start of s from the number after it, and drops
// the hyphen between the two in 12'-6".
func cutUnit(s string) (unit, after string) {
	i := numberStart(s)
	if i < 0 {
		return s, ""
	}
	unit = strings.TrimSpace(s[:i])
	return strings.TrimSpace(strings.TrimSuffix(unit, "-")), s[i:]
}

// chainUnit returns the unit that text names if it may follow last, else nil.
func (f *family) chainUnit(last *measure, text string) *measure {
	if f.kind == DurationKind && last != nil && text == "m" {
		text = "min" // 1h30m
	}
	s, ok := f.find(text)
	if !ok || s.unit == nil {
		return nil
	}
	for _, chain := range f.chains {
		at := slices.Index(chain, s.unit.symbol)
		if at >= 0 && (last == nil || slices.Contains(chain[:at], last.symbol)) {
			return s.unit
		}
	}
	return nil
}

// tooMany says that the parts after a larger unit would fill it.
func tooMany(n number, larger, m *measure, parts float64) *problem {
	return &problem{reason: fmt.Sprintf("has %s beside %s, and %s make 1 %s",
		m.write(n.text), larger.symbol, m.write(significant(parts, 6)), larger.symbol)}
}

// brokenChain says why unit cannot stand where it does.
func brokenChain(last *measure, unit string) *problem {
	switch {
	case unit == "":
		return &problem{reason: "has a number without a unit"}
	case last == nil:
		return &problem{reason: "is not one number with one unit"}
	}
	return &problem{reason: "cannot have " + unit + " after " + last.symbol}
}

// readRatio reads a slope written as 1:100 or 1 in 100, in percent.
func (f *family) readRatio(text string) (Quantity, bool) {
	rise, rest, bad := scanNumber(text)
	if bad != nil {
		return Quantity{}, false
	}
	rest = strings.TrimSpace(rest)
	run, ok := strings.CutPrefix(rest, ":")
	if !ok {
		run, ok = strings.CutPrefix(rest, "in ")
	}
	over, rest, bad := scanNumber(strings.TrimSpace(run))
	if !ok || bad != nil || rest != "" || over.value <= 0 || signLength(over.text) > 0 {
		return Quantity{}, false
	}
	return Quantity{Text: text, Value: 100 * rise.value / over.value, Unit: f.unit(f.measure("%"))}, true
}

// readCount reads a whole number and the word for what was counted, if any.
func (f *family) readCount(text string) (Quantity, error) {
	n, rest, bad := scanNumber(text)
	if bad != nil {
		return Quantity{}, f.refuse(text, *bad)
	}
	if !n.whole {
		return Quantity{}, f.refuse(text, problem{reason: "is not a whole number"})
	}
	word := afterNumber(rest)
	if !isWord(word) {
		return Quantity{}, f.refuse(text, problem{reason: "is not a whole number with at most a word after it"})
	}
	if kinds := kindsOf(word); len(kinds) > 0 {
		return Quantity{}, f.refuse(text, problem{reason: measures(kinds, CountKind)})
	}
	unit := f.unit(&f.units[0])
	unit.Symbol = word
	return Quantity{Text: text, Value: n.value, Unit: unit}, nil
}

// isWord reports whether s is letters, with single spaces or hyphens between.
func isWord(s string) bool {
	joint := true
	for _, r := range s {
		letter := unicode.IsLetter(r)
		if !letter && (joint || r != ' ' && r != '-') {
			return false
		}
		joint = !letter
	}
	return s == "" || !joint
}

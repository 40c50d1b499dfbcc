package units

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// refuse returns the error for a text: what is wrong with it, then what to write.
func (f *family) refuse(text string, p problem) error {
	if p.advice == "" {
		p.advice = "write it as " + f.kind.Example()
	}
	return fmt.Errorf("%q %s; %s", text, p.reason, p.advice)
}

// possible refuses a value outside what nature allows.
func (f *family) possible(q Quantity) error {
	m, base := q.Unit.of, q.Base()
	slack := 1e-12 // of the bound: what -459.67 °F loses on its way to -273.15 °C
	switch {
	case !finite(base):
		return f.refuse(q.Text, problem{"is not a finite value", "check the number"})
	case base < f.low-slack*math.Abs(f.low):
		return f.refuse(q.Text, problem{"is below " + f.bound(m, f.low, f.lowest, "least"), "check the sign and the unit"})
	case base > f.high+slack*math.Abs(f.high):
		return f.refuse(q.Text, problem{"is above " + f.bound(m, f.high, f.highest, "most"), "check the number and the unit"})
	}
	return nil
}

// bound writes a limit of nature in the unit m, with its name.
func (f *family) bound(m *measure, base float64, name, extreme string) string {
	if name == "" {
		name = "the " + extreme + " for " + string(f.kind)
	}
	if base == 0 {
		return "0, " + name
	}
	return m.write(significant(m.value(base), 6)) + ", " + name
}

// suggestion proposes the person's own number with the unit whose example it is
// nearer to, and the same value in the other system's.
func (f *family) suggestion(n number) string {
	first, second := f.examples()
	if apart(n.value, second.Value) < apart(n.value, first.Value) {
		first, second = second, first
	}
	q := Quantity{Text: n.text, Value: n.value, Unit: first.Unit}
	if f.possible(q) != nil {
		return ""
	}
	advice := "write it as " + first.Unit.of.write(n.text)
	if second.Unit != first.Unit {
		advice += " or " + second.Unit.of.write(significant(second.Unit.of.value(q.Base()), 3))
	}
	return advice
}

// withEitherUnit proposes the person's own number with the unit of each system.
func (f *family) withEitherUnit(n number) string {
	us, si := f.examples()
	return "write it as " + us.Unit.of.write(n.text) + " or " + si.Unit.of.write(n.text)
}

// examples reads the two examples of the family, which its test holds readable.
func (f *family) examples() (us, si Quantity) {
	us, _ = f.read(f.us)
	si, _ = f.read(cmp.Or(f.si, f.us))
	return us, si
}

// apart returns by what factor two numbers differ in size, as a logarithm; it is
// infinite from 0.
func apart(a, b float64) float64 { return math.Abs(math.Log(math.Abs(a / b))) }

// unknownUnit says what is known about a unit that the kind does not have.
func (f *family) unknownUnit(n number, text string) *problem {
	if kinds := kindsOf(text); len(kinds) > 0 {
		return &problem{reason: measures(kinds, f.kind)}
	}
	if !startsUnit(text) {
		return &problem{reason: "is not a number with a unit"}
	}
	advice := ""
	if near := f.near(text); len(near) > 0 {
		advice = "did you mean " + list(near) + "? "
	}
	return &problem{fmt.Sprintf("has the unknown unit %q", text), advice + string(f.kind) + " is written in " + list(f.symbols())}
}

// startsUnit reports whether text may be a unit rather than a broken number.
func startsUnit(text string) bool {
	return isLetter(text[0]) || text[0] >= 0x80 || strings.ContainsRune("%/'\"", rune(text[0]))
}

func (f *family) symbols() []string {
	var symbols []string
	for _, m := range f.units {
		symbols = append(symbols, m.write(""))
	}
	return symbols
}

// measures says that a unit belongs to other kinds than the one asked for.
func measures(kinds []Kind, want Kind) string {
	var words []string
	for _, k := range kinds[:min(3, len(kinds))] {
		words = append(words, string(k))
	}
	return "measures " + list(words) + ", not " + string(want)
}

// near returns the symbols of up to three units spelled like text.
func (f *family) near(text string) []string {
	type match struct {
		symbol string
		apart  int
	}
	var found []match
	var s spelling
	s.spell(text)
	key := string(s.fold())
	limit := min(2, len(key)/2)
	for name, what := range f.spellings.folded {
		if d := edits(key, name); what.unit != nil && d <= limit {
			found = append(found, match{what.unit.write(""), d})
		}
	}
	slices.SortFunc(found, func(a, b match) int {
		return cmp.Or(a.apart-b.apart, strings.Compare(a.symbol, b.symbol))
	})
	var symbols []string
	for _, m := range found {
		if !slices.Contains(symbols, m.symbol) && len(symbols) < 3 {
			symbols = append(symbols, m.symbol)
		}
	}
	return symbols
}

// edits returns the least number of inserted, deleted or changed bytes that turn
// a into b.
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

func unknownKind(kind Kind) error {
	names := make([]string, len(families))
	best, least := "", 4
	for i, f := range families {
		names[i] = string(f.kind)
		if d := edits(string(kind), names[i]); d < least {
			best, least = names[i], d
		}
	}
	if best != "" {
		return fmt.Errorf("unknown kind %q; did you mean %s?", string(kind), best)
	}
	return fmt.Errorf("unknown kind %q; write one of %s", string(kind), strings.Join(names, ", "))
}

// list joins words as prose does: a, b or c.
func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " or " + words[n-1]
	}
	return strings.Join(words, "")
}

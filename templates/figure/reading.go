package figure

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"proveout/checks/units"
)

// Reading is a value at a place of a face or a door, as it is printed, and how it
// was judged.
type Reading struct {
	Place   string // the code or name of the place: "B3", "hinge side low"
	Text    string // "14 %"; empty: not read yet
	Outcome units.Outcome
	Worst   bool // the worst of all, which the verdict rests on
}

// checkReadings returns the first reading that is judged without a value: an
// unknown value is no pass.
func checkReadings(list []Reading) error {
	for _, r := range list {
		if clean(r.Text) == "" && r.Outcome != units.Undecided {
			return fmt.Errorf("place %q is judged %s and has no value", r.Place, r.Outcome)
		}
	}
	return nil
}

// words are the value as printed, or that there is none.
func (r Reading) words() string {
	switch {
	case clean(r.Text) == "":
		return "not read"
	case r.Worst:
		return clean(r.Text) + " worst"
	}
	return clean(r.Text)
}

// sign draws how a reading was judged: a ring for a pass, a crossed square for a
// fail, an open diamond with a question mark for undecided; the worst is circled.
func (s *sheet) sign(o units.Outcome, worst bool, x, y float64) {
	if worst {
		s.circle(pen(ink, 1.8), paper, x, y, 10.5)
	}
	switch o {
	case units.Pass:
		s.mark(ring, green, x, y, 5)
	case units.Fail:
		s.mark(square, red, x, y, 6)
		s.line(pen(paper, 1.6), Point{x - 3, y - 3}, Point{x + 3, y + 3})
		s.line(pen(paper, 1.6), Point{x - 3, y + 3}, Point{x + 3, y - 3})
	default:
		s.mark(openDiamond, soft, x, y, 5.5)
		s.say(x, y+3.4, "?", look{size: 9, bold: true, side: about})
	}
}

// rune is the sign as a character.
func (r Reading) rune() rune {
	switch r.Outcome {
	case units.Pass:
		return 'o'
	case units.Fail:
		return 'X'
	}
	return '?'
}

// outcomes are those among some readings, in the order of a key.
func outcomes(list []Reading) []units.Outcome {
	var found []units.Outcome
	for _, o := range []units.Outcome{units.Pass, units.Fail, units.Undecided} {
		if slices.ContainsFunc(list, func(r Reading) bool { return r.Outcome == o }) {
			found = append(found, o)
		}
	}
	return found
}

// readingKey are the signs of some readings.
func readingKey(list []Reading) []entry {
	var key []entry
	for _, o := range outcomes(list) {
		key = append(key, entry{func(s *sheet, x, y float64) { s.sign(o, false, x+14, y) }, o.String()})
	}
	if slices.ContainsFunc(list, func(r Reading) bool { return r.Worst }) {
		key = append(key, entry{func(s *sheet, x, y float64) { s.circle(pen(ink, 1.8), paper, x+14, y, 7) }, "the worst"})
	}
	return key
}

// tally says how many readings there are and how they were judged.
func tally(list []Reading, limit string) string {
	var parts []string
	for _, o := range outcomes(list) {
		n := 0
		for _, r := range list {
			if r.Outcome == o {
				n++
			}
		}
		parts = append(parts, fmt.Sprintf("%d %s", n, o))
	}
	words := fmt.Sprintf("%d places: %s.", len(list), strings.Join(parts, ", "))
	if clean(limit) != "" {
		words = "Limit: " + clean(limit) + ". " + words
	}
	return words
}

// readingsInWords lists readings for those who do not see the picture.
func readingsInWords(list []Reading) string {
	var parts []string
	for _, r := range list {
		parts = append(parts, fmt.Sprintf("%s: %s, %s.", r.Place, r.words(), r.Outcome))
	}
	return strings.Join(parts, " ")
}

// list adds readings to a page: sign, place, value and verdict, the worst first.
func (p *page) list(readings []Reading) {
	readings = slices.Clone(readings)
	slices.SortStableFunc(readings, func(a, b Reading) int { return cmp.Compare(a.rank(), b.rank()) })
	places, values := []string{}, []string{}
	for _, r := range readings {
		places, values = append(places, r.Place), append(values, r.words())
	}
	value := min(widest(values...), p.width/3)
	place := min(widest(places...), p.width-value-20)
	for _, r := range readings {
		p.columns([]column{{string(r.rune()), 1, false}, {r.Place, place, false}, {r.words(), value, true}}, r.Outcome.String())
	}
}

// rank is the order in which readings ask for attention.
func (r Reading) rank() int {
	switch {
	case r.Worst:
		return 0
	case r.Outcome == units.Fail:
		return 1
	case r.Outcome == units.Undecided:
		return 2
	}
	return 3
}

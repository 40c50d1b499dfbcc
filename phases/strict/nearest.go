package strict

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// mostNear is how many near matches a message lists.
const mostNear = 3

// Nearest returns up to three of the known words that word may have been meant
// for, the best first: those within a third of its length in edits (insert,
// delete, replace, swap two neighbours) and those that begin with it. Case,
// spaces, hyphens and underscores do not count.
func Nearest(word string, known []string) []string {
	type match struct {
		known string
		edits int
	}
	typed := folded(word)
	if len(typed) == 0 || len(typed) > 64 {
		return nil
	}
	var near []match
	for _, k := range known {
		if k == word {
			continue
		}
		meant := folded(k)
		most := max(1, (max(len(typed), len(meant))+1)/3)
		if min(len(typed), len(meant)) < 3 {
			most = min(most, len(typed)-1)
		}
		if d := edits(typed, meant, most); d <= most {
			near = append(near, match{k, d})
		} else if len(typed) >= 3 && strings.HasPrefix(string(meant), string(typed)) {
			near = append(near, match{k, len(meant)})
		}
	}
	slices.SortStableFunc(near, func(a, b match) int { return cmp.Compare(a.edits, b.edits) })
	var words []string
	for _, m := range near[:min(len(near), mostNear)] {
		words = append(words, m.known)
	}
	return words
}

// DidYouMean returns the end of a message about a word that is not known:
// ; did you mean "walls"? with the near matches, or ; known here: with all
// words if there are few, or nothing.
func DidYouMean(word string, known []string) string {
	if near := Nearest(word, known); len(near) > 0 {
		return "; did you mean " + quoted(near, " or ") + "?"
	}
	if n := len(known); 0 < n && n <= few {
		return "; known here: " + quoted(known, ", ")
	}
	return ""
}

func quoted(words []string, between string) string {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = strconv.Quote(w)
	}
	return strings.Join(list, between)
}

// folded returns the letters of a word that count when words are compared.
func folded(word string) []rune {
	letters := make([]rune, 0, 64)
	for _, r := range word {
		if len(letters) > 64 {
			break
		}
		if r != ' ' && r != '-' && r != '_' {
			letters = append(letters, unicode.ToLower(r))
		}
	}
	return letters
}

// edits returns the number of insertions, deletions, replacements and swaps of
// neighbours that turn a into b, or more than most if that is exceeded.
// Optimal string alignment: Damerau, Commun. ACM 7 (1964) 171.
func edits(a, b []rune, most int) int {
	if diff := len(a) - len(b); diff > most || -diff > most {
		return most + 1
	}
	var space [3][66]int
	before, last, row := space[0][:], space[1][:], space[2][:]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		least := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d := min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d = min(d, before[j-2]+1)
			}
			row[j] = d
			least = min(least, d)
		}
		if least > most {
			return most + 1
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

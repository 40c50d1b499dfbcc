package strict

import (
	"fmt"
	"testing"
)

func TestNearest(t *testing.T) {
	keys := []string{"walls", "at least", "at most", "between", "insulation", "instrument", "inspected by", "photo", "hold", "holds", "R-19", "yes"}
	for word, want := range map[string]string{
		"wlals":      "[walls]",
		"wall":       "[walls]",
		"WALLS":      "[walls]",
		"at_least":   "[at least]",
		"at-mots":    "[at most]",
		"insul":      "[insulation]",
		"ins":        "[insulation instrument inspected by]",
		"fotos":      "[]",
		"foto":       "[photo]",
		"hodl":       "[hold holds]",
		"instrumant": "[instrument]",
		"R19":        "[R-19]",
		"y":          "[]",
		"ye":         "[yes]",
		"photo":      "[]",
		"sandwich":   "[]",
		"":           "[]",
		"-":          "[]",
	} {
		if got := fmt.Sprint(Nearest(word, keys)); got != want {
			t.Errorf("Nearest(%q) = %s, want %s", word, got, want)
		}
	}
}

// TestEdits takes the distances from the definition, and the pair of Damerau's
// kind from the property that sets optimal string alignment apart: ca and abc
// are 3 apart, not 2, since a swapped pair is not edited again.
func TestEdits(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"a", "", 1}, {"abc", "abc", 0}, {"abc", "acb", 1}, {"ca", "abc", 3}, {"kitten", "sitting", 3}, {"é", "e", 1}, {"abcdef", "badcfe", 3},
	} {
		for _, most := range []int{tt.want, 9} {
			if got := edits([]rune(tt.a), []rune(tt.b), most); got != tt.want {
				t.Errorf("edits(%q, %q, %d) = %d, want %d", tt.a, tt.b, most, got, tt.want)
			}
			if got := edits([]rune(tt.b), []rune(tt.a), most); got != tt.want {
				t.Errorf("edits(%q, %q, %d) = %d, want %d", tt.b, tt.a, most, got, tt.want)
			}
		}
		if got := edits([]rune(tt.a), []rune(tt.b), tt.want-1); tt.want > 0 && got < tt.want {
			t.Errorf("edits(%q, %q) under the limit %d = %d, want more", tt.a, tt.b, tt.want-1, got)
		}
	}
}

// FuzzNearest wants no panic and only known words back.
func FuzzNearest(f *testing.F) {
	f.Add("wlals", "walls")
	f.Add("\xff\x00", "x")
	f.Fuzz(func(t *testing.T, word, known string) {
		for _, got := range Nearest(word, []string{known, "walls", known + word}) {
			if got != known && got != "walls" && got != known+word || got == word {
				t.Errorf("Nearest(%q) = %q", word, got)
			}
		}
	})
}

package main

import (
	"slices"
	"strings"
	"testing"
)

func TestWrappedKeepsNumbersWithTheirUnits(t *testing.T) {
	for _, tt := range []struct {
		text  string
		width int
		want  []string
	}{
		{"", 10, nil},
		{"one two", 10, []string{"one two"}},
		{"a depth of 5 1/4 in here", 12, []string{"a depth of", "5 1/4 in", "here"}},
		{"margin +0.25 in; 3 of 3 points", 10, []string{"margin", "+0.25 in;", "3 of", "3 points"}},
		{"at least 5.5 W/(m²·K)", 9, []string{"at least", "5.5 W/(m²·K)"}},
		{"a-word-longer-than-the-line x", 10, []string{"a-word-longer-than-the-line", "x"}},
		{"−2 °F below", 6, []string{"−2 °F", "below"}},
	} {
		if got := wrapped(tt.text, tt.width); !slices.Equal(got, tt.want) {
			t.Errorf("wrapped(%q, %d) = %q, want %q", tt.text, tt.width, got, tt.want)
		}
	}
}

func FuzzWrapped(f *testing.F) {
	f.Add("margin +0.25 in; 3 of 3 points", 20)
	f.Fuzz(func(t *testing.T, text string, width int) {
		lines := wrapped(text, width)
		if got, want := strings.Join(strings.Fields(strings.Join(lines, " ")), " "), strings.Join(strings.Fields(text), " "); got != want {
			t.Errorf("wrapped(%q, %d) says %q", text, width, got)
		}
		for _, line := range lines {
			if len([]rune(line)) > width && len(words(line)) > 1 {
				t.Errorf("wrapped(%q, %d) has the line %q", text, width, line)
			}
		}
	})
}

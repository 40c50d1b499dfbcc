package templates

import (
	"slices"
	"testing"
)

func TestComparePlaces(t *testing.T) {
	sorted := []string{"", "east wall", "east wall/bay 2", "east wall/bay 2/1", "east wall/bay 10", "lid", "point 1", "point 9", "point 12", "ä 3", "ä 20"}
	mixed := slices.Clone(sorted)
	slices.Reverse(mixed)
	slices.SortFunc(mixed, comparePlaces)
	if !slices.Equal(mixed, sorted) {
		t.Errorf("sorted = %q, want %q", mixed, sorted)
	}
}

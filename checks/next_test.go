package checks

import (
	"slices"
	"strings"
	"testing"
)

// After an answer that lacks something, the command to type is not the one
// that was typed already: the place has its answer.
func TestNextAfterAnAnswer(t *testing.T) {
	room, q := cellar(t), depth(t)
	q.PhotoEach, q.Sampling.PerFace = true, 1
	attach := `proveout attach insulation depth PHOTO.jpg --at "lid" --by NAME`
	v := judge(room, q, reading(t, "lid", "6 in"))
	if len(v.Next) != 2 || v.Next[0] != attach || !strings.Contains(v.Next[1], `--at "north wall"`) {
		t.Errorf("without its photo: next = %q, want %q, then the north wall", v.Next, attach)
	}
	q.PhotoEach, q.PhotoOne, q.Sampling = false, true, Sampling{}
	v = judge(room, q, reading(t, "point 1", "6 in"))
	if want := []string{"proveout attach insulation depth PHOTO.jpg --by NAME"}; !slices.Equal(v.Next, want) {
		t.Errorf("without the one photo: next = %q, want %q", v.Next, want)
	}
	q.PhotoOne, q.Instrument = false, "caliper"
	v = judge(room, q, reading(t, "point 1", "6 in"))
	if len(v.Next) != 1 || !strings.HasSuffix(v.Next[0], `--by NAME --rework "what was done"`) {
		t.Errorf("without an instrument: next = %q", v.Next)
	}
}

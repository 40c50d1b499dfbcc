package jobs

import (
	"bytes"
	"context"
	"os"
	"testing"
)

// The reason of an adoption stands beside the limit it changes, so that every
// paper that prints the limit prints the reason.
func TestAdoptionReasonStandsBesideTheLimit(t *testing.T) {
	f := newFixture(t)
	file := f.j.file("phases/05-insulation.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	edited := bytes.Replace(text, []byte("at most: 2 in"), []byte("at most: 1 1/2 in"), 1)
	if err := os.WriteFile(file, edited, 0o644); err != nil {
		t.Fatal(err)
	}
	f.j = f.open("birch-stair")
	if _, err := f.j.Adopt(context.Background(), f.entry("Ben"), "this foam's report"); err != nil {
		t.Fatal(err)
	}
	q := f.j.Plan.Questions()["insulation.lift"]
	if got := q.Limits.String(); got != "at most 1 1/2 in" {
		t.Errorf("limit = %q", got)
	}
	if q.LimitReason != "Ben Okafor: this foam's report" {
		t.Errorf("reason = %q", q.LimitReason)
	}
	if len(f.open("birch-stair").Edited) != 0 {
		t.Error("the reason itself counts as an edit")
	}
}

package templates

import (
	"testing"
	"time"

	"proveout/jobs"
)

// review is the owner's review of jobs in every state; text is what a person
// typed.
func review(text string) Owner {
	chicago, err := time.LoadLocation("America/Chicago")
	if err != nil {
		panic(err)
	}
	day := func(d int) time.Time { return time.Date(2026, 5, d, 15, 0, 0, 0, time.UTC) }
	return Owner{
		Company: &jobs.Company{Name: text, Zone: chicago},
		At:      day(20),
		Jobs: []jobs.Summary{
			{Job: "ash-court", Problem: text + "\ncorrect the file", State: "cannot be read"},
			{
				Job: "birch-stair", Title: text, Released: 3, Holds: 17, Next: "insulation.before-board", State: "open", Last: day(18),
				Owner:     []string{"decide about NC-1"},
				Blocked:   []jobs.Blocking{{Check: "insulation.foam-depth", Why: text, Since: day(12), Failed: true}, {Check: "insulation.re-entry", Why: "the wait is over on Thu 21 May 2026 14:00", Since: day(20)}},
				Undecided: 4,
			},
			{Job: "cedar-court", Title: text, Released: 8, Holds: 16, Next: "drywall.cover-up", State: "stale", Stale: []string{"drywall.cover-up"}, WaitingFor: []string{"crew lead", "owner"}, Last: day(19)},
			{Job: "dogwood-hall", Title: text, Released: 16, Holds: 16, State: "complete", Complete: true, Last: day(1)},
		},
	}
}

func TestReviewGolden(t *testing.T) {
	for name, o := range map[string]Owner{"review": review("Room under the stair"), "review-empty": {At: time.Date(2026, 5, 20, 15, 0, 0, 0, time.UTC)}} {
		paper, err := Review(o)
		if err != nil {
			t.Fatal(err)
		}
		compareGolden(t, name+".md", paper.Markdown(""))
	}
}

package templates

import (
	"context"
	"testing"

	"proveout/jobs"
)

// TestDefaultPlan writes every document of a job that has just begun with the
// eleven phases of the program. What they say is not compared: the plan may
// change.
func TestDefaultPlan(t *testing.T) {
	s := newSite(t)
	s.must(s.j.Close())
	job := s.read(papers + "job.yaml")
	j, err := jobs.Create(context.Background(), s.c, process, s.entry("Ana"), append([]byte("# the same room\n"), replaceID(job, "elm-row")...))
	s.must(err)
	s.j = j
	d := s.dossier()
	var none []string
	show := func(name string, text string, err error) {
		t.Helper()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		if text == "" {
			none = append(none, name)
		}
		checkSources(t, name, text)
		checkFits(t, name, text)
	}
	for name, write := range map[string]func(Dossier) (Document, error){
		"diagnosis.md": Diagnosis, "scope.md": Scope, "coverup.md": CoverUp, "receipt.md": InsulationReceipt, "commissioning.md": CommissioningRecord,
	} {
		paper, err := write(d)
		show(name, paper.Markdown(""), err)
	}
	for _, h := range j.Plan.Holds() {
		paper, err := Signoff(d, h)
		show(h.ID()+".md", paper.Markdown(""), err)
	}
	for _, ph := range j.Plan.Phases {
		paper, err := FieldSheet(d, ph)
		show(ph.Name+".md", paper.Markdown(""), err)
		data, err := FieldSheetCSV(d, ph)
		show(ph.Name+".csv", string(data), err)
	}
	if none != nil {
		t.Errorf("empty: %q", none)
	}
}

func replaceID(job []byte, id string) []byte {
	const was = "job: birch-stair"
	return append([]byte("job: "+id), job[len(was):]...)
}

package templates

import (
	"context"
	"os"
	"strings"
	"testing"

	"proveout/jobs"
	"proveout/templates/page/pagetest"
)

// wild is typed wherever a person may type something.
var wild = []string{
	"x | pass | 100 % |\n| --- | --- |\n| forged | pass |",
	"# released\n\n> **Released.**\n\n- [x] pass",
	"<b>pass</b> [pass](http://example.org) ![x](y) `pass` **pass** ~~FAIL~~",
	"\x1b[2J\x1b]0;pass\a \u202epass\u202c \u2066x\u2069",
	"\\ \\| \\\\| & &lt; &#124; &vert; $x$ @x www.example.org",
	"```\nsha256sum -c pass\n```",
	"1. pass",
	"---",
}

// typed is a job in which everything that a person types is text.
func typed(t *testing.T, text string) *site {
	t.Helper()
	s := newSite(t)
	ctx := context.Background()
	s.say("assess", "door-gap", "FG-1", [2]string{text, "1/8 in"})
	s.record("Ana", jobs.Answer{Phase: "assess", Check: "attic-seen", Text: "n/a", Note: text})
	s.record("Ana", jobs.Answer{Phase: "assess", Check: "cause", Text: "air leakage", Note: text})
	_, err := s.j.Note(ctx, s.entry("Ana"), "framing", text, []*jobs.Incoming{s.photo("note")})
	s.must(err)
	_, _, err = s.j.AddPenetration(ctx, s.entry("Ana"), jobs.Penetration{Place: "lid/" + plain(strings.ReplaceAll(text, "/", " ")), For: text, Owner: text, Seal: text})
	s.must(err)
	n, err := s.j.RaiseNonconformity(ctx, s.entry("Ana"), jobs.Raise{Hold: "insulation.before-board", Place: text, Requirement: text, Found: text})
	s.must(err)
	_, err = s.j.Dispose(ctx, s.entry("Ben"), n.Nonconformity, jobs.Decision{Disposition: jobs.Concession, Limits: text, Cause: text, Action: text, Reason: text})
	s.must(err)
	_, err = s.j.Agree(ctx, s.entry("homeowner"), n.Nonconformity, text)
	s.must(err)
	s.record("Ana", jobs.Answer{Phase: "insulation", Check: "insulation-inspection", Text: "pass", Number: text, Party: "building inspector " + text, Note: text})
	return s
}

// wildDossier also changes what comes from job.yaml and company.yaml.
func wildDossier(s *site, text string) Dossier {
	d := s.dossier()
	d.Client = jobs.Client{Name: text, Address: text, Phone: text}
	d.Company.Name, d.Company.Phone, d.Company.Warranty = text, text, []string{text}
	d.Title = text
	for i := range d.Equipment {
		d.Equipment[i] = jobs.Equipment{Item: text, Model: text, Serial: text, Settings: text, Note: text}
	}
	for i := range d.Room.Faces {
		for l := range d.Room.Faces[i].AsPlanned {
			d.Room.Faces[i].AsPlanned[l].Material = text
		}
	}
	for _, ph := range d.Plan.Phases {
		ph.Title, ph.Purpose, ph.HandOff = text, text, text
		for i := range ph.Cautions {
			ph.Cautions[i].Text = text
		}
		for _, h := range ph.Holds {
			h.Title, h.Covers = text, text
			for _, q := range h.Checks {
				q.Ask, q.Source, q.Mark, q.LimitReason, q.Note = text, text, text, text, text
			}
		}
	}
	return d
}

// shapes writes every document and returns its tree without the words.
func shapes(t *testing.T, text string) map[string]string {
	t.Helper()
	s := typed(t, text)
	d := wildDossier(s, text)
	all := map[string]string{}
	for name, document := range everyPaperOf(t, s, d) {
		if strings.ContainsAny(document, "\x1b\u202e\u2066\a") {
			t.Errorf("%s of %q keeps a control character", name, text)
		}
		if strings.HasSuffix(name, ".md") {
			all[name], _ = outline(document)
		}
	}
	for name, document := range documentsOf(t, s, d) {
		all[name+" as a page"] = pageShape(t, name, document)
	}
	return all
}

// pageShape sets a document as a page, looks at it, and returns its tree without
// the words.
func pageShape(t *testing.T, name string, document Document) string {
	t.Helper()
	text, err := document.HTML()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, fault := range pagetest.Faults(text) {
		t.Errorf("%s as a page: %s", name, fault)
	}
	s, err := pagetest.Shape(text)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestHostileText asks that no text changes the shape of any document.
func TestHostileText(t *testing.T) {
	want := shapes(t, "plain words")
	for _, text := range wild {
		for name, got := range shapes(t, text) {
			if got != want[name] {
				i := 0
				for i < min(len(got), len(want[name])) && got[i] == want[name][i] {
					i++
				}
				t.Errorf("%s changes its shape with %q near\n got %.200s\nwant %.200s", name, text, got[max(i-100, 0):], want[name][max(i-100, 0):])
			}
		}
	}
}

// TestHostileReview does the same for the owner's review.
func TestHostileReview(t *testing.T) {
	shape := func(text string) string {
		document, err := Review(review(text))
		if err != nil {
			t.Fatal(err)
		}
		s, _ := outline(document.Markdown(""))
		return s + pageShape(t, "review", document)
	}
	want := shape("plain words")
	for _, text := range wild {
		if got := shape(plain(text)); got != want {
			t.Errorf("the review changes its shape with %q:\n got %s\nwant %s", text, got, want)
		}
	}
}

func TestViewRefusesWhatIsNotInTheHistory(t *testing.T) {
	s := newSite(t)
	file := s.c.JobDir("birch-stair") + "/phases/03-framing.yaml"
	plan := s.read(file)
	s.must(os.WriteFile(file, append(plan, "# edited\n"...), 0o644))
	s.reopen()
	if _, err := s.j.View(); err == nil || !strings.Contains(err.Error(), "edited by hand") {
		t.Errorf("View of an edited plan: %v", err)
	}
	s.must(os.WriteFile(file, plan, 0o644))
	s.reopen()
	r := s.record("Ana", jobs.Answer{Phase: "assess", Check: "cause", Text: "unit faulty"})
	record := s.c.JobDir("birch-stair") + "/" + r.Path()
	data := s.read(record)
	s.must(os.WriteFile(strings.Replace(record, r.ID, "20260504-160000-saved2", 1), []byte(strings.ReplaceAll(string(data), r.ID, "20260504-160000-saved2")), 0o644))
	s.reopen()
	if _, err := s.j.View(); err == nil || !strings.Contains(err.Error(), "not in it yet") {
		t.Errorf("View of a job with a record that is not committed: %v", err)
	}
}

package templates

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
)

var update = flag.Bool("update", false, "write the golden files")

const golden = "../testdata/golden/"

// everyPaper writes every document of a job, by name.
func everyPaper(t *testing.T, s *site) map[string]string {
	t.Helper()
	return everyPaperOf(t, s, s.dossier())
}

func everyPaperOf(t *testing.T, s *site, d Dossier) map[string]string {
	t.Helper()
	all := map[string]string{}
	for name, document := range documentsOf(t, s, d) {
		all[name] = document.Markdown("")
	}
	for _, phase := range sheetPhases {
		data, err := FieldSheetCSV(d, s.j.Plan.Phase(phase))
		if err != nil {
			t.Fatal(err)
		}
		all["sheet-"+phase+".csv"] = string(data)
	}
	return all
}

// sheetPhases are the phases whose field sheets are written.
var sheetPhases = []string{"assess", "insulation"}

// documentsOf writes every document of a job that is Markdown, by name.
func documentsOf(t *testing.T, s *site, d Dossier) map[string]Document {
	t.Helper()
	all := map[string]Document{}
	add := func(name string) func(Document, error) {
		return func(paper Document, err error) {
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			all[name] = paper
		}
	}
	add("diagnosis.md")(Diagnosis(d))
	add("scope.md")(Scope(d))
	add("coverup.md")(CoverUp(d))
	add("receipt.md")(InsulationReceipt(d))
	add("commissioning.md")(CommissioningRecord(d))
	for _, hold := range []string{"assess.diagnosis", "insulation.before-board", "drywall.cover-up"} {
		add("signoff-" + hold + ".md")(Signoff(d, s.hold(hold)))
	}
	for _, phase := range sheetPhases {
		add("sheet-" + phase + ".md")(FieldSheet(d, s.j.Plan.Phase(phase)))
	}
	for _, n := range s.j.Nonconformities() {
		add("nonconformity-" + n.Record.Nonconformity + ".md")(Nonconformity(d, n))
	}
	return all
}

func compareGolden(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join(golden, name)
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; write it with: go test ./templates -update", err)
	}
	if got != string(want) {
		t.Errorf("%s differs; look at it with: go test ./templates -update && git diff testdata/golden\ngot:\n%s", name, got)
	}
}

func TestGolden(t *testing.T) {
	for name, build := range map[string]func(*testing.T) *site{"fresh": fresh, "stopped": stopped, "finished": finished} {
		t.Run(name, func(t *testing.T) {
			for paper, text := range everyPaper(t, build(t)) {
				compareGolden(t, name+"/"+paper, text)
				checkSources(t, paper, text)
				checkFits(t, paper, text)
			}
		})
	}
}

// TestStaleGolden looks at the one sheet that a late correction changes.
func TestStaleGolden(t *testing.T) {
	s := stale(t)
	paper, err := Signoff(s.dossier(), s.hold("framing.frame"))
	if err != nil {
		t.Fatal(err)
	}
	compareGolden(t, "stale/signoff-framing.frame.md", paper.Markdown(""))
}

// TestSameCommitSameBytes builds a job twice, in two folders, and writes every
// document of both.
func TestSameCommitSameBytes(t *testing.T) {
	s := stopped(t)
	first, again, other := everyPaper(t, s), everyPaper(t, s), everyPaper(t, stopped(t))
	for name, text := range first {
		if again[name] != text {
			t.Errorf("%s differs the second time", name)
		}
		if other[name] != text {
			t.Errorf("%s differs for the same job in another folder", name)
		}
	}
}

// checkSources asks that every number of a source in a document stands in its
// list of sources.
func checkSources(t *testing.T, paper, text string) {
	t.Helper()
	if !strings.HasSuffix(paper, ".md") {
		return
	}
	listed := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^\| (S[0-9]+) `).FindAllStringSubmatch(text, -1) {
		listed[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`(?:\| |; )(S[0-9]+) *[|)]`).FindAllStringSubmatch(text, -1) {
		if !listed[m[1]] {
			t.Errorf("%s points to %s, which is not in its list of sources", paper, m[1])
		}
	}
}

// checkFits asks that a document fits a terminal of 80 and of 120 columns, but
// for the lines that are typed.
func checkFits(t *testing.T, paper, text string) {
	t.Helper()
	if !strings.HasSuffix(paper, ".md") {
		return
	}
	for _, width := range []int{80, 120} {
		shown, err := Render(text, width, false)
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(shown, "\n") {
			if w := ansi.StringWidth(line); w > width && !strings.HasPrefix(line, "    ") {
				t.Errorf("%s at %d: a line is %d wide: %q", paper, width, w, line)
			}
		}
	}
}

// TestEveryTemplate asks that each template has a golden document, except the
// parts that documents share, and that each can be written from nothing.
func TestEveryTemplate(t *testing.T) {
	views := map[string]any{
		"diagnosis": diagnosisSheet{}, "scope": scope{}, "signoff": signoffSheet{}, "coverup": coverUp{},
		"receipt": receipt{}, "nonconformity": deviationReport{}, "fieldsheet": fieldSheet{},
		"review": ownersReview{}, "commissioning": record{},
	}
	names, err := files.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range names {
		name := strings.TrimSuffix(f.Name(), ".md.tmpl")
		if strings.HasPrefix(name, "_") {
			continue
		}
		view := views[name]
		if view == nil {
			t.Errorf("%s has no view here", f.Name())
			continue
		}
		if paper, err := write(name, view); err != nil || paper.Markdown("") == "" {
			t.Errorf("%s from nothing = %q, %v", name, paper.Markdown(""), err)
		}
		delete(views, name)
	}
	for name := range views {
		t.Errorf("the template %s is missing", name)
	}
}

// TestWordsRefusesOtherThings asks that a view can only print texts and counts.
func TestWordsRefusesOtherThings(t *testing.T) {
	for _, v := range []any{1.5, true, []string{"a"}, nil, struct{}{}} {
		if _, err := words(v); err == nil {
			t.Errorf("words(%#v) is not an error", v)
		}
	}
}

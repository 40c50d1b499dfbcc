package templates

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"proveout/jobs"
)

const visitedJob = "../testdata/jobs/visited/"

// visited is a room with every reading that a diagnosis takes.
func visited(t testing.TB) *site {
	t.Helper()
	s := newSiteOf(t, visitedJob)
	s.visit(func(string) bool { return true })
	return s
}

// visit enters the readings of the file, but for those left out, and the loggers.
func (s *site) visit(take func(check string) bool) {
	s.t.Helper()
	for _, line := range strings.Split(strings.TrimSpace(string(s.read(visitedJob+"readings.txt"))), "\n") {
		head, list, ok := strings.Cut(line, " = ")
		check, instrument, _ := strings.Cut(head, " ")
		if !ok || strings.HasPrefix(line, "#") || !take(check) {
			continue
		}
		var answers []jobs.Answer
		for _, one := range strings.Split(list, " | ") {
			place, text, _ := strings.Cut(one, ": ")
			answers = append(answers, s.visitAnswer(check, instrument, place, text))
		}
		_, err := s.j.Record(context.Background(), s.c, s.entry("Ana"), answers...)
		s.must(err)
	}
	if !take("baseline-log") {
		return
	}
	for _, place := range []string{"room", "house", "space next to the room"} {
		s.record("Ana", jobs.Answer{Phase: "assess", Check: "baseline-log", Place: place, Files: []*jobs.Incoming{s.baseline(place)}})
	}
}

func (s *site) visitAnswer(check, instrument, place, text string) jobs.Answer {
	a := jobs.Answer{Phase: "assess", Check: check, Place: place, Text: text, Instrument: instrument}
	if strings.Contains(text, "=") {
		a.Text = ""
		for _, pair := range strings.Split(text, "; ") {
			name, value, _ := strings.Cut(pair, "=")
			a.Values = append(a.Values, jobs.NamedText{Name: name, Text: value})
		}
	}
	return a
}

// baseline is a logger's file of three days: the room's dew point goes with the
// house's an hour behind it.
func (s *site) baseline(place string) *jobs.Incoming {
	s.t.Helper()
	swing := func(h float64) float64 { return math.Sin(h / 60 * 2 * math.Pi) }
	var b bytes.Buffer
	b.WriteString("time,temperature °F,relative humidity %\n")
	for i := range 74 * 4 {
		h := float64(i) / 4
		t, rh := 72.0, 75.0
		switch place {
		case "room":
			t, rh = 61.0, 64.5+3.6*swing(h-1)
		case "house":
			t, rh = 75.1, 60+5.5*swing(h)
		}
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", s.now.Add(time.Duration(i)*15*time.Minute-75*time.Hour).In(s.j.Zone).Format("2006-01-02 15:04"), t, rh)
	}
	return s.paper("log-"+slug(place)+".csv", b.String())
}

// TestVisitedGolden writes the diagnosis of a room that was read through and through.
func TestVisitedGolden(t *testing.T) {
	s := visited(t)
	for name, write := range map[string]func(Dossier) (Document, error){"diagnosis.md": Diagnosis} {
		paper, err := write(s.dossier())
		s.must(err)
		compareGolden(t, "visited/"+name, paper.Markdown(""))
		checkSources(t, name, paper.Markdown(""))
		checkFits(t, name, paper.Markdown(""))
	}
}

// TestDiagnosisLacksAReading asks that a missing reading stands on page one, with how
// it is taken, and that no cause is called certain for it.
func TestDiagnosisLacksAReading(t *testing.T) {
	s := newSiteOf(t, visitedJob)
	s.visit(func(check string) bool { return check != "unit-split" })
	paper, err := Diagnosis(s.dossier())
	s.must(err)
	page, _, _ := strings.Cut(paper.Markdown(""), "## Cautions")
	for _, want := range []string{"do not decide yet", "Return air less supply air of the unit: after 15 minutes of running"} {
		if !strings.Contains(page, want) {
			t.Errorf("page one does not say %q:\n%s", want, page)
		}
	}
	if strings.Contains(page, "Why we are sure") {
		t.Errorf("page one is sure:\n%s", page)
	}
}

// BenchmarkDiagnosis is the mapping and the diagnosis of all the visit's records, its
// loggers among them: 50 ms is wanted.
func BenchmarkDiagnosis(b *testing.B) {
	gate := visited(b).dossier().Gate
	b.ReportAllocs()
	for b.Loop() {
		if _, err := gate.Diagnose(); err != nil {
			b.Fatal(err)
		}
	}
}

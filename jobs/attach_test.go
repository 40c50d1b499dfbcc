package jobs

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proveout/checks"
)

// wholePlan is the fixture's job with all eleven default phases.
func (f *fixture) wholePlan(id string) *Job {
	f.t.Helper()
	yaml, err := os.ReadFile(small + "job.yaml")
	if err != nil {
		f.t.Fatal(err)
	}
	text := strings.Replace(string(yaml), "birch-stair", id, 1)
	j, err := Create(context.Background(), f.c, process, f.entry("Ana"), []byte(text))
	if err != nil {
		f.t.Fatal(err)
	}
	f.t.Cleanup(func() { j.Close() })
	return j
}

// photo makes a picture of one colour and reads it as a crew's photo.
func (f *fixture) photo(name string, shade uint8) *Incoming {
	f.t.Helper()
	picture := image.NewGray(image.Rect(0, 0, 40, 30))
	for i := range picture.Pix {
		picture.Pix[i] = color.Gray{shade}.Y
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, picture, nil); err != nil {
		f.t.Fatal(err)
	}
	file := filepath.Join(f.t.TempDir(), name)
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		f.t.Fatal(err)
	}
	in, err := ReadPhoto(file, 400)
	if err != nil {
		f.t.Fatal(err)
	}
	return in
}

func (f *fixture) attach(by string, a Answer) *Record {
	f.t.Helper()
	r, err := f.j.Attach(context.Background(), f.c, f.entry(by), a)
	if err != nil {
		f.t.Fatal(err)
	}
	return r
}

// point is how a check stands at one place.
func (f *fixture) point(phase, check, place string) checks.Point {
	f.t.Helper()
	q := f.j.Plan.Questions()[phase+"."+check]
	for _, v := range f.j.Gate(f.now).Verdicts(f.j.Plan.HoldOf(q.ID()), "") {
		for _, p := range v.Points {
			if v.Check == q.ID() && p.Place == place {
				return p
			}
		}
	}
	return checks.Point{Reason: "no answer"}
}

func TestAttachBeforeTheAnswer(t *testing.T) {
	f := newFixture(t)
	f.j = f.wholePlan("oak-hall")
	at := Answer{Phase: "assess", Check: "as-found-photos", Place: "north wall"}
	at.Photos = []*Incoming{f.photo("a.jpg", 10), f.photo("b.jpg", 20)}
	note := f.attach("Ana", at)
	if note.Kind != NoteRecord || len(note.Photos) != 2 {
		t.Fatalf("Attach without an answer = %s with %d photos", note.Kind, len(note.Photos))
	}
	if p := f.point("assess", "as-found-photos", "north wall"); p.Reason != "no answer" {
		t.Errorf("the photos alone answer the check: %+v", p)
	}
	r := f.record("Ana", Answer{Phase: "assess", Check: "as-found-photos", Place: "north wall", Text: "yes"})
	if len(r.Photos) != 2 || len(r.Supersedes) != 1 || r.Supersedes[0] != note.ID {
		t.Errorf("the answer has %d photos and supersedes %v, want the note's two", len(r.Photos), r.Supersedes)
	}
	if p := f.point("assess", "as-found-photos", "north wall"); p.Outcome != checks.Pass {
		t.Errorf("the answer with the photos does not pass: %+v", p)
	}
}

func TestAttachAfterTheAnswer(t *testing.T) {
	f := newFixture(t)
	f.j = f.wholePlan("oak-hall")
	old := f.record("Ana", Answer{Phase: "assess", Check: "as-found-photos", Place: "north wall", Text: "yes", Measured: f.now})
	if p := f.point("assess", "as-found-photos", "north wall"); p.Reason != "the photo is missing" {
		t.Errorf("without a photo: %+v", p)
	}
	f.now = f.now.Add(time.Hour)
	r := f.attach("Ben", Answer{Phase: "assess", Check: "as-found-photos", Place: "north wall", Photos: []*Incoming{f.photo("a.jpg", 10)}})
	if !r.Measured.Equal(old.Measured) || r.By != "Ana Ruiz" || r.Reason != "files added by Ben Okafor" || f.j.Current(f.j.byID[old.ID]) {
		t.Errorf("with a photo: measured %v by %s, reason %q", r.Measured, r.By, r.Reason)
	}
	if p := f.point("assess", "as-found-photos", "north wall"); p.Outcome != checks.Pass {
		t.Errorf("with the photo it does not pass: %+v", p)
	}
	again := f.record("Ana", Answer{Phase: "assess", Check: "as-found-photos", Place: "north wall", Text: "yes", Rework: "moved the shelf"})
	if len(again.Photos) != 0 {
		t.Errorf("an answer after rework keeps the old photos: %v", again.Photos)
	}
	if f.j.Attached("assess", "as-found-photos", "north wall", f.photo("z.jpg", 10)) {
		t.Errorf("Attached counts a photo of a superseded answer")
	}
	v, err := f.j.Verify()
	if err != nil || !v.Sound() {
		t.Errorf("Verify = %+v, %v", v, err)
	}
}

func TestAttachNamesAnUnknownPlace(t *testing.T) {
	f := newFixture(t)
	f.j = f.wholePlan("oak-hall")
	_, err := f.j.Attach(context.Background(), f.c, f.entry("Ana"), Answer{Phase: "assess", Check: "as-found-photos", Place: "nort wall", Photos: []*Incoming{f.photo("a.jpg", 1)}})
	f.wantError(err, ErrNotFound, "did you mean north wall")
	_, err = f.j.Attach(context.Background(), f.c, f.entry("Ana"), Answer{Phase: "assess", Check: "as-found-photos", Photos: []*Incoming{f.photo("a.jpg", 1)}})
	f.wantError(err, ErrInput, "say where: --at \"north wall\"")
}

func TestAttachPages(t *testing.T) {
	f := newFixture(t)
	f.j = f.wholePlan("oak-hall")
	f.attach("Ana", Answer{Phase: "insulation", Check: "product-sheet", Photos: []*Incoming{f.photo("page 1.jpg", 1)}})
	r := f.attach("Ana", Answer{Phase: "insulation", Check: "product-sheet", Photos: []*Incoming{f.photo("page 2.jpg", 2)}})
	if r.Kind != AnswerRecord || len(r.Files) != 2 || len(r.Photos) != 0 {
		t.Errorf("two pages are a %s with %d files, %d photos", r.Kind, len(r.Files), len(r.Photos))
	}
	if p := f.point("insulation", "product-sheet", r.Place); p.Outcome != checks.Pass {
		t.Errorf("the document does not pass: %+v", p)
	}
}

func TestCorrectKeepsWhatWasNotTyped(t *testing.T) {
	f := newFixture(t)
	old := f.record("Ana", Answer{Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1", Text: "5 in", Instrument: "DG-2"})
	f.c.Instruments = nil // sold since
	correct := func(id string, a Answer) (*Record, error) {
		return f.j.Correct(context.Background(), f.c, f.entry("Ana"), id, a, "typed wrong")
	}
	r, err := correct(old.ShortID(), Answer{Note: "read at the left stud"})
	if err != nil {
		t.Fatal(err)
	}
	if r.Kind != AnswerRecord || r.Value != "5 in" || r.Instrument == nil || r.Instrument.Certificate != "K-1182" || r.Note == "" {
		t.Errorf("a correction of the note alone = %+v", r)
	}
	f.record("Ben", Answer{Phase: "insulation", Check: "lift", Text: "2 in"})
	other, err := correct(r.ShortID(), Answer{Place: "north wall/bay 2", Text: "5 1/4 in"})
	if err != nil || other.Place != "north wall/bay 2" || other.Value != "5 1/4 in" {
		t.Errorf("a correction of place and value = %+v, %v", other, err)
	}
	if void, err := correct(other.ShortID(), Answer{}); err != nil || void.Kind != VoidRecord {
		t.Errorf("a correction without anything = %+v, %v, want it taken back", void, err)
	}
}

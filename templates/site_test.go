package templates

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"proveout/jobs"
	"proveout/jobs/store"
	"proveout/phases"
)

// site is an invented company with one job, for the tests of documents. Its
// plan is small and stands in testdata, so that a change of the default plan
// does not change what the documents are compared with.
type site struct {
	t   testing.TB
	c   *jobs.Company
	j   *jobs.Job
	now time.Time
	rnd *rand.ChaCha8
	dir string
	of  string // the folder of testdata that the job comes from
}

const papers = "../testdata/jobs/papers/"

var process = jobs.Process{Host: "test", PID: os.Getpid()}

// newSite starts the job.
func newSite(t *testing.T) *site { return newSiteOf(t, papers) }

func newSiteOf(t testing.TB, of string) *site {
	t.Helper()
	s := &site{t: t, of: of, now: time.Date(2026, 5, 4, 15, 0, 0, 0, time.UTC), rnd: rand.NewChaCha8([32]byte{7}), dir: t.TempDir()}
	s.must(os.WriteFile(filepath.Join(s.dir, jobs.CompanyFile), s.read(of+"company.yaml"), 0o644))
	c, err := jobs.OpenCompany(s.dir)
	s.must(err)
	s.c = c
	s.create("birch-stair")
	s.j, err = jobs.Open(c.JobDir("birch-stair"), process)
	s.must(err)
	t.Cleanup(func() { s.j.Close() })
	return s
}

// reopen reads the job's folder again.
func (s *site) reopen() {
	s.t.Helper()
	s.must(s.j.Close())
	j, err := jobs.Open(s.c.JobDir("birch-stair"), process)
	s.must(err)
	s.j = j
}

func (s *site) must(err error) {
	s.t.Helper()
	if err != nil {
		s.t.Fatal(err)
	}
}

func (s *site) read(file string) []byte {
	s.t.Helper()
	data, err := os.ReadFile(file)
	s.must(err)
	return data
}

// create writes a job as it is when it starts: its plan, and the record that
// fixes it.
func (s *site) create(id string) {
	s.t.Helper()
	files := map[string][]byte{jobs.JobFile: s.read(s.of + "job.yaml")}
	plan, err := filepath.Glob(s.of + "phases/*.yaml")
	s.must(err)
	for _, file := range plan {
		files["phases/"+filepath.Base(file)] = s.read(file)
	}
	r := &jobs.Record{
		Kind: jobs.AdoptionRecord, ID: "20260504-150000-plan22", Job: id, Phase: "plan",
		By: "Ana Ruiz", Roles: []string{"crew lead"}, Measured: s.now, Entered: s.now, Reason: "the job starts",
	}
	for _, name := range slices.Sorted(maps.Keys(files)) {
		hash := sha256.Sum256(files[name])
		r.Plan = append(r.Plan, jobs.NamedText{Name: name, Text: hex.EncodeToString(hash[:])})
	}
	files[r.Path()] = r.Encode()
	s.must(os.MkdirAll(filepath.Dir(s.c.JobDir(id)), 0o755))
	repo, err := store.Create(s.c.JobDir(id), store.Options{Host: process.Host, PID: process.PID})
	s.must(err)
	op, err := repo.Lock(context.Background(), time.Second)
	s.must(err)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		s.must(op.Create(name, files[name]))
	}
	_, err = op.Commit("job "+id+" starts", store.Author{Name: "Ana Ruiz"}, s.now)
	s.must(err)
	s.must(op.Close())
	s.must(repo.Close())
}

// entry lets a minute pass and says who does something.
func (s *site) entry(name string) jobs.Entry {
	s.t.Helper()
	p, err := s.c.Person(name)
	s.must(err)
	s.now = s.now.Add(time.Minute)
	return jobs.Entry{By: p, Now: s.now, Random: s.rnd}
}

func (s *site) wait(d time.Duration) { s.now = s.now.Add(d) }

// record enters an answer.
func (s *site) record(by string, a jobs.Answer) *jobs.Record {
	s.t.Helper()
	r, err := s.j.Record(context.Background(), s.c, s.entry(by), a)
	s.must(err)
	return r[0]
}

// say answers a check of a phase at places, one value for each.
func (s *site) say(phase, check, with string, values ...[2]string) {
	s.t.Helper()
	q := s.j.Plan.Questions()[phase+"."+check]
	var answers []jobs.Answer
	for _, v := range values {
		a := jobs.Answer{Phase: phase, Check: check, Place: v[0], Text: v[1], Instrument: with}
		if q.PhotoEach || q.PhotoOne || q.Compute == "photos-complete" {
			a.Photos = []*jobs.Incoming{s.photo(check + " " + v[0])}
		}
		answers = append(answers, a)
	}
	_, err := s.j.Record(context.Background(), s.c, s.entry("Ana"), answers...)
	s.must(err)
}

// photo makes a picture whose color comes from its name.
func (s *site) photo(name string) *jobs.Incoming {
	s.t.Helper()
	hash := sha256.Sum256([]byte(name))
	picture := image.NewRGBA(image.Rect(0, 0, 16, 12))
	for x := range 16 {
		for y := range 12 {
			picture.Set(x, y, color.RGBA{hash[0], hash[1], hash[2], 255})
		}
	}
	var b bytes.Buffer
	s.must(png.Encode(&b, picture))
	in, err := jobs.ReadPhoto(s.file(slug(name)+".png", b.Bytes()), 1600)
	s.must(err)
	return in
}

func slug(name string) string {
	return string(bytes.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, []byte(name)))
}

func (s *site) file(name string, data []byte) string {
	s.t.Helper()
	file := filepath.Join(s.dir, name)
	s.must(os.WriteFile(file, data, 0o644))
	return file
}

func (s *site) paper(name, text string) *jobs.Incoming {
	s.t.Helper()
	in, err := jobs.ReadPaper(s.file(name, []byte(text)))
	s.must(err)
	return in
}

// log makes a logger's file: every five minutes from on, warm at first.
func (s *site) log(name string, on time.Time, hours int) *jobs.Incoming {
	s.t.Helper()
	var b bytes.Buffer
	b.WriteString("time,temperature °F,relative humidity %\n")
	for i := range hours*12 + 1 {
		h := float64(i) / 12
		t := 55 + 22*math.Exp(-h/4) + 0.5*math.Sin(h*3)
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", on.Add(time.Duration(i)*5*time.Minute).In(s.j.Zone).Format("2006-01-02 15:04"), t, 58+2*math.Sin(h/4))
	}
	return s.paper(name, b.String())
}

func (s *site) sign(by, hold string, faces ...string) {
	s.t.Helper()
	_, err := s.j.Sign(context.Background(), s.entry(by), hold, faces, "", nil)
	s.must(err)
}

// dossier is the job as its newest commit has it.
func (s *site) dossier() Dossier {
	s.t.Helper()
	view, err := s.j.View()
	s.must(err)
	return Dossier{
		View: view, Company: s.c,
		Client: jobs.Client{Name: "R. Okonjo (invented)", Address: "12 Birch Stair, Nowhere", Phone: "555-0111"},
	}
}

// hold is a hold of the plan.
func (s *site) hold(id string) *phases.Hold {
	s.t.Helper()
	h := s.j.Plan.Hold(id)
	if h == nil {
		s.t.Fatalf("the plan has no hold %s", id)
	}
	return h
}

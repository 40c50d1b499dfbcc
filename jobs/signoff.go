package jobs

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/phases/strict"
)

// Signoff is the release of a hold point by one person in one role. Its list
// names, by SHA-256, the statement itself and every file the release rests on.
type Signoff struct {
	ID        string
	Job       string
	Hold      string // phase.hold
	Title     string
	Faces     []string // nil: the whole hold
	Role      string
	By        string
	Licence   string
	At        time.Time
	Statement string
	// SelfInspection says that the signer also took readings of this hold.
	SelfInspection bool
	Basis          string // SHA-256 of what plan and job asked of this hold
	Checks         []CheckResult
	Concessions    []string
	Upstream       []string // sign-offs of the holds before it, by id
	Replaces       []string // sign-offs that this one renews

	// List holds the files it rests on.
	List []Listed
	// Fingerprint is the SHA-256 of the list, printed on the sign-off sheet.
	Fingerprint string

	sum      string // of the statement file
	listText string
	broken   []string
}

// CheckResult is what was shown for one check when it was signed.
type CheckResult struct {
	Check, Outcome, Value, Limit, Margin, Place, Concession string
	Taken, Planned                                          int
}

// Listed is one line of a sign-off's list.
type Listed struct{ SHA256, Path string }

func (s *Signoff) base() string { return "signoffs/" + s.Hold + "-" + s.ID }

// Path and ListPath are where statement and list are, relative to the job.
func (s *Signoff) Path() string     { return s.base() + ".yaml" }
func (s *Signoff) ListPath() string { return s.base() + ".sha256" }

// ShortFingerprint is the fingerprint as people compare it: 32 hexadecimal
// digits in groups of four.
func (s *Signoff) ShortFingerprint() string {
	var groups []string
	for i := 0; i+4 <= min(len(s.Fingerprint), 32); i += 4 {
		groups = append(groups, s.Fingerprint[i:i+4])
	}
	return strings.Join(groups, " ")
}

func (s *Signoff) encode() []byte {
	var f fields
	f.text("sign-off", s.ID)
	f.text("job", s.Job)
	f.text("hold", s.Hold)
	f.text("title", s.Title)
	f.list("faces", s.Faces)
	f.text("role", s.Role)
	f.text("by", s.By)
	f.text("licence", s.Licence)
	f.time("at", s.At)
	f.text("statement", s.Statement)
	if s.SelfInspection {
		f.text("self-inspection", "yes")
	}
	f.text("basis", s.Basis)
	var list [][]strict.Field
	for _, c := range s.Checks {
		var m fields
		m.text("check", c.Check)
		m.text("outcome", c.Outcome)
		m.text("value", c.Value)
		m.text("limit", c.Limit)
		m.text("margin", c.Margin)
		m.text("place", c.Place)
		m.text("concession", c.Concession)
		m.text("taken", fmt.Sprint(c.Taken))
		m.text("planned", fmt.Sprint(c.Planned))
		list = append(list, m)
	}
	if list != nil {
		f = append(f, strict.Field{Key: "checks", Value: list})
	}
	f.list("concessions", s.Concessions)
	f.list("upstream", s.Upstream)
	f.list("replaces", s.Replaces)
	return strict.Encode(f)
}

func readSignoff(file string, data []byte) (*Signoff, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.RecordLimit, Ended: true})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	s := &Signoff{
		ID: m.Text("sign-off"), Job: m.Text("job"), Hold: m.Text("hold"), Title: m.Text("title"),
		Faces: m.OptionalTexts("faces"), Role: m.Text("role"), By: m.Text("by"),
		Licence: m.OptionalText("licence"), At: m.Time("at"), Statement: m.Text("statement"),
		SelfInspection: yes(m, "self-inspection"), Basis: m.Text("basis"),
		Concessions: m.OptionalTexts("concessions"), Upstream: m.OptionalTexts("upstream"),
		Replaces: m.OptionalTexts("replaces"), sum: sum(data),
	}
	for _, c := range m.OptionalMaps("checks") {
		s.Checks = append(s.Checks, CheckResult{
			Check: c.Text("check"), Outcome: c.Text("outcome"), Value: c.OptionalText("value"),
			Limit: c.OptionalText("limit"), Margin: c.OptionalText("margin"), Place: c.OptionalText("place"),
			Concession: c.OptionalText("concession"), Taken: c.Int("taken"), Planned: c.Int("planned"),
		})
	}
	if s.ID != "" && !strings.HasSuffix(file, s.Hold+"-"+s.ID+".yaml") {
		m.Fail("sign-off", "the file's name does not agree with hold %q and sign-off %q", s.Hold, s.ID)
	}
	return s, doc.Err()
}

// parseList reads a list in the form of sha256sum.
func parseList(file string, data []byte) ([]Listed, error) {
	var list []Listed
	for i, line := range strings.Split(strings.TrimSuffix(string(data), "\n"), "\n") {
		hash, path, ok := strings.Cut(line, "  ")
		if !ok || len(hash) != 64 || path == "" {
			return nil, fmt.Errorf("%s:%d: not a line of a list of SHA-256 sums", file, i+1)
		}
		list = append(list, Listed{hash, path})
	}
	return list, nil
}

func listText(list []Listed) string {
	var b strings.Builder
	for _, l := range list {
		b.WriteString(l.SHA256 + "  " + l.Path + "\n")
	}
	return b.String()
}

func (j *Job) loadSignoffs() error {
	j.Signoffs = nil
	var problems []string
	err := j.repo.Walk("signoffs", func(path string, _ int64) error {
		if !strings.HasSuffix(path, ".yaml") {
			return nil
		}
		s, err := j.loadSignoff(path)
		if err != nil {
			problems = append(problems, err.Error())
			return nil
		}
		j.Signoffs = append(j.Signoffs, s)
		return nil
	})
	if err != nil {
		return err
	}
	if problems != nil {
		return problem(ErrIntegrity, "sign-offs are never edited; put the files back with git and look with: proveout verify", "%s", strings.Join(problems, "\n"))
	}
	for _, s := range j.Signoffs {
		j.inspect(s)
	}
	return nil
}

func (j *Job) loadSignoff(path string) (*Signoff, error) {
	data, err := j.repo.Read(path, maxRecord)
	if err != nil {
		return nil, err
	}
	s, err := readSignoff(j.file(path), data)
	if err != nil {
		return nil, err
	}
	if s.Job != j.ID {
		return nil, fmt.Errorf("%s: this sign-off belongs to job %q, not to %q; it releases nothing here", j.file(path), s.Job, j.ID)
	}
	text, err := j.repo.Read(s.ListPath(), maxPlan)
	if err != nil {
		return nil, fmt.Errorf("%s: its list is missing: %w", j.file(path), err)
	}
	if s.List, err = parseList(j.file(s.ListPath()), text); err != nil {
		return nil, err
	}
	s.listText, s.Fingerprint = string(text), sum(text)
	if !slices.Contains(s.List, Listed{s.sum, s.Path()}) {
		return nil, fmt.Errorf("%s: the statement was changed after it was signed", j.file(path))
	}
	return s, nil
}

// inspect compares what a sign-off rests on with the files as they are, as far
// as they are in memory. Evidence is hashed by verify only.
func (j *Job) inspect(s *Signoff) {
	records, signoffs := map[string]string{}, map[string]string{}
	for _, r := range j.Records {
		records[r.Path()] = r.sum
	}
	for _, o := range j.Signoffs {
		signoffs[o.Path()], signoffs[o.ListPath()] = o.sum, o.Fingerprint
	}
	for _, l := range s.List {
		switch top, _, _ := strings.Cut(l.Path, "/"); top {
		case "records":
			s.compare(l, records[l.Path])
		case "signoffs":
			s.compare(l, signoffs[l.Path])
		case "evidence":
			if !j.exists(l.Path) {
				s.compare(l, "")
			}
		}
	}
}

func (s *Signoff) compare(l Listed, now string) {
	switch now {
	case l.SHA256:
	case "":
		s.broken = append(s.broken, l.Path+" is missing")
	default:
		s.broken = append(s.broken, l.Path+" was changed after it was signed")
	}
}

// Standing reports whether a sign-off is neither withdrawn nor renewed.
func (j *Job) Standing(s *Signoff) bool {
	for _, o := range j.Signoffs {
		if slices.Contains(o.Replaces, s.ID) {
			return false
		}
	}
	return j.withdrawal(s) == nil
}

func (j *Job) withdrawal(s *Signoff) *Record {
	for _, r := range j.Records {
		if r.Kind == WithdrawalRecord && r.Signoff == s.ID && j.Current(r) {
			return r
		}
	}
	return nil
}

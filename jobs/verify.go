package jobs

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"proveout/jobs/store"
)

// Finding is one thing that verify has to say.
type Finding struct {
	Path   string `json:"path,omitempty"`
	Text   string `json:"text"`
	Commit string `json:"commit,omitempty"`
	// Explained says that a reason is on record, so nothing is wrong.
	Explained bool `json:"explained,omitempty"`
}

// Verification is the result of checking a whole job.
type Verification struct {
	Job      string            `json:"job"`
	Findings []Finding         `json:"findings"`
	Files    int               `json:"files"` // hashed
	Commits  int               `json:"commits"`
	Signoffs []VerifiedRelease `json:"sign_offs"`
}

// VerifiedRelease is one sign-off and how many of its files agree.
type VerifiedRelease struct {
	Hold        string `json:"hold"`
	By          string `json:"by"`
	Fingerprint string `json:"fingerprint"`
	Files       int    `json:"files"`
	Differ      int    `json:"differ"`
	Withdrawn   bool   `json:"withdrawn,omitempty"`
}

// Sound reports whether nothing was changed without a reason.
func (v *Verification) Sound() bool {
	return !slices.ContainsFunc(v.Findings, func(f Finding) bool { return !f.Explained })
}

// facts are the folders in which nothing is ever changed or removed.
var factFolders = []string{"records", "evidence", "signoffs"}

// Verify hashes everything again and reads the whole history.
func (j *Job) Verify() (*Verification, error) {
	v := &Verification{Job: j.ID}
	if err := j.repo.Fsck(); err != nil {
		v.add(Finding{Text: "the history is damaged: " + err.Error()})
	}
	changes, err := j.repo.Changes()
	if err != nil {
		return nil, err
	}
	for _, c := range changes {
		v.workTree(c, j.Edited)
	}
	touched, err := j.touched()
	if err != nil {
		return nil, err
	}
	for _, t := range touched {
		v.add(t)
	}
	if err := j.readHistory(v); err != nil {
		return nil, err
	}
	sums := map[string]string{}
	for _, s := range j.Signoffs {
		j.verifySignoff(v, s, sums)
	}
	for _, r := range j.Records {
		for _, e := range slices.Concat(r.Photos, r.Files) {
			j.verifyEvidence(v, r, e, sums)
		}
	}
	v.Files = len(sums)
	return v, nil
}

func (v *Verification) add(f Finding) {
	if !slices.Contains(v.Findings, f) {
		v.Findings = append(v.Findings, f)
	}
}

// workTree reports a file that differs from the newest commit.
func (v *Verification) workTree(c store.Change, edited []string) {
	top, _, _ := strings.Cut(c.Path, "/")
	switch {
	case slices.Contains(factFolders, top) && c.Kind == store.Added:
		v.add(Finding{Path: c.Path, Text: "saved, not yet in the history; the next entry takes it in", Explained: true})
	case slices.Contains(factFolders, top):
		v.add(Finding{Path: c.Path, Text: fmt.Sprintf("%s since the newest commit", c.Kind)})
	case slices.Contains(edited, c.Path):
		v.add(Finding{Path: c.Path, Text: "edited by hand and not adopted yet: proveout adopt"})
	case c.Kind != store.Added:
		v.add(Finding{Path: c.Path, Text: fmt.Sprintf("%s since the newest commit", c.Kind)})
	}
}

// touched lists the commits that changed or removed a fact.
func (j *Job) touched() ([]Finding, error) {
	var all []Finding
	err := j.repo.Touched(factFolders, func(c store.Commit, path string, kind store.ChangeKind) error {
		all = append(all, Finding{
			Path: path, Commit: c.Hash,
			Text: fmt.Sprintf("%s by commit %s of %s (%s), %q", kind, c.Hash[:10], c.Author.Name, c.When.Format("2006-01-02 15:04"), firstLine(c.Message)),
		})
		return nil
	})
	return all, err
}

// tampered is touched, as texts.
func (j *Job) tampered() ([]string, error) {
	touched, err := j.touched()
	var texts []string
	for _, t := range touched {
		texts = append(texts, t.Path+" was "+t.Text)
	}
	return texts, err
}

// readHistory counts the commits and reports time that runs backwards.
func (j *Job) readHistory(v *Verification) error {
	var newer *store.Commit
	return j.repo.Log(func(c store.Commit) error {
		v.Commits++
		if newer != nil && len(newer.Parents) == 1 && newer.Parents[0] == c.Hash && newer.When.Before(c.When.Add(-time.Minute)) {
			v.add(Finding{Commit: newer.Hash, Text: fmt.Sprintf("commit %s is dated %s, before the commit it follows (%s): a clock was wrong", newer.Hash[:10], newer.When.Format("2006-01-02 15:04"), c.When.Format("2006-01-02 15:04"))})
		}
		newer = &c
		return nil
	})
}

// hash returns the SHA-256 of a file of the job, "" when it is not there.
func (j *Job) hash(path string, sums map[string]string) string {
	if s, done := sums[path]; done {
		return s
	}
	s := ""
	if data, err := j.repo.Read(path, maxEvidence); err == nil {
		s = sum(data)
	}
	sums[path] = s
	return s
}

func (j *Job) verifySignoff(v *Verification, s *Signoff, sums map[string]string) {
	r := VerifiedRelease{Hold: s.Hold, By: s.By, Fingerprint: s.ShortFingerprint(), Files: len(s.List), Withdrawn: j.withdrawal(s) != nil}
	basis := ""
	if h := j.Plan.Hold(s.Hold); h != nil {
		basis, _ = j.basis(h)
	}
	for _, l := range s.List {
		now := j.hash(l.Path, sums)
		if now == l.SHA256 {
			continue
		}
		r.Differ++
		f := Finding{Path: l.Path}
		_, plan := j.planSums[l.Path]
		switch {
		case now == "":
			f.Text = fmt.Sprintf("is missing; %s rests on it (signed by %s)", s.Hold, s.By)
		case plan && len(j.Edited) == 0 && basis == s.Basis:
			f.Explained = true
			f.Text = fmt.Sprintf("changed since %s was signed, by adoption (%s); what the hold asks is the same", s.Hold, j.adopted().Reason)
		case plan && len(j.Edited) == 0:
			f.Explained = true
			f.Text = fmt.Sprintf("changed since %s was signed, by adoption (%s); the hold must be signed again", s.Hold, j.adopted().Reason)
		default:
			f.Text = fmt.Sprintf("is not the file that was signed; %s rests on it (signed by %s)", s.Hold, s.By)
		}
		v.add(f)
	}
	v.Signoffs = append(v.Signoffs, r)
}

func (j *Job) verifyEvidence(v *Verification, r *Record, e Evidence, sums map[string]string) {
	switch j.hash(e.Path, sums) {
	case e.SHA256:
	case "":
		v.add(Finding{Path: e.Path, Text: "is missing; record " + shortID(r.ID) + " names it"})
	default:
		v.add(Finding{Path: e.Path, Text: "is not the file that record " + shortID(r.ID) + " names"})
	}
}

// SignoffOf returns the newest standing sign-off of a hold, or nil.
func (j *Job) SignoffOf(hold string) *Signoff {
	var newest *Signoff
	for _, s := range j.Signoffs {
		if s.Hold == hold && j.Standing(s) && (newest == nil || s.At.After(newest.At)) {
			newest = s
		}
	}
	return newest
}

// CopyEvidence writes a file of the evidence to w.
func (j *Job) CopyEvidence(path string, w io.Writer) error {
	data, err := j.repo.Read(path, maxEvidence)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

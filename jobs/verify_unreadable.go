package jobs

import (
	"errors"
	"path/filepath"
	"strings"
	"time"

	"proveout/jobs/store"
)

// verifyUnreadable checks what can be checked without understanding the files.
func verifyUnreadable(dir string, p Process, progress func(done, total int), why error) (*Verification, error) {
	repo, err := store.Open(dir, p.options())
	if err != nil {
		return nil, err
	}
	defer repo.Close()
	j := &Job{Dir: dir, repo: repo, Description: &Description{ID: filepath.Base(dir), Zone: time.UTC}}
	v := &Verification{Job: j.ID, progress: progress}
	for line := range strings.Lines(whatIsWrong(why)) {
		v.add(Finding{Text: strings.TrimSpace(line)})
	}
	if err := j.verifyHistory(v); err != nil {
		return nil, err
	}
	return v, j.verifyLists(v)
}

// whatIsWrong is an error without the advice.
func whatIsWrong(err error) string {
	var p *Problem
	if errors.As(err, &p) {
		return p.What
	}
	return err.Error()
}

// verifyLists compares every list beside the sign-offs with the files.
func (j *Job) verifyLists(v *Verification) error {
	sums := map[string]string{}
	err := j.repo.Walk("signoffs", func(path string, _ int64) error {
		if !strings.HasSuffix(path, ".sha256") {
			return nil
		}
		text, err := j.repo.Read(path, maxPlan)
		if err != nil {
			return err
		}
		list, err := parseList(path, text)
		if err != nil {
			v.add(Finding{Path: path, Text: err.Error()})
			return nil
		}
		j.verifyList(v, path, sum(text), list, sums)
		v.report(sums, len(sums))
		return nil
	})
	v.Files = len(sums)
	return err
}

func (j *Job) verifyList(v *Verification, path, fingerprint string, list []Listed, sums map[string]string) {
	s := &Signoff{Fingerprint: fingerprint}
	r := VerifiedRelease{Hold: strings.TrimSuffix(filepath.Base(path), ".sha256"), List: path, Fingerprint: s.ShortFingerprint(), Files: len(list), Signatures: j.signatures(path)}
	for _, l := range list {
		now := j.hash(l.Path, sums)
		if now == l.SHA256 {
			continue
		}
		r.Differ++
		text := "is not the file that was signed; " + path + " rests on it"
		switch {
		case now == "":
			text = "is missing; " + path + " rests on it"
		case l.Path == JobFile || strings.HasPrefix(l.Path, "phases/"):
			text = "is not the file that was signed; whether by adoption cannot be told until the job can be read; " + path + " rests on it"
		}
		v.add(Finding{Path: l.Path, Text: text})
	}
	v.Signoffs = append(v.Signoffs, r)
}

package jobs

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
)

// adoptedState is plan and room as one adoption fixed them.
type adoptedState struct {
	record *Record
	plan   *phases.Plan
	room   *checks.Room
}

// badAdoptions lists adoptions that this program would not have written: by
// nobody who may, loosening a safety check, or a limit that was measured
// against before. An adoption is a record like others, and a record can be
// written by hand.
func (j *Job) badAdoptions() ([]Finding, error) {
	chain := j.adoptions()
	if len(chain) < 2 {
		return nil, nil
	}
	chain, err := j.fromStart(chain)
	if err != nil || len(chain) < 2 {
		return nil, err
	}
	texts, err := j.adoptedTexts(chain)
	if err != nil {
		return nil, err
	}
	var all []Finding
	was, err := readAdopted(chain[0], texts)
	for _, r := range chain[1:] {
		if err != nil {
			break
		}
		var is adoptedState
		if is, err = readAdopted(r, texts); err == nil {
			all = append(all, j.badAdoption(was, is)...)
			was = is
		}
	}
	if err != nil {
		all = append(all, Finding{Text: err.Error()})
	}
	return all, nil
}

// adoptions returns the adoptions from the first to the one in force.
func (j *Job) adoptions() []*Record {
	var chain []*Record
	for r := j.adopted(); r != nil && !slices.Contains(chain, r); {
		chain = append(chain, r)
		var before *Record
		for _, id := range r.Supersedes {
			if o := j.byID[id]; o != nil && o.Kind == AdoptionRecord {
				before = o
			}
		}
		r = before
	}
	slices.Reverse(chain)
	return chain
}

// fromStart leaves out the adoptions before the one that the first commit put
// in force: a start that was cut off can leave them behind.
func (j *Job) fromStart(chain []*Record) ([]*Record, error) {
	start, err := j.repo.FirstCommit()
	if err != nil {
		return nil, err
	}
	files, err := j.repo.FilesAt(start, "records/plan")
	if err != nil {
		return nil, err
	}
	for len(chain) > 1 && files[chain[1].Path()] != "" {
		chain = chain[1:]
	}
	return chain, nil
}

// adoptedTexts finds the texts that the adoptions name, by their sums, in the
// history. Each version of a file is read once.
func (j *Job) adoptedTexts(chain []*Record) (map[string][]byte, error) {
	wanted := map[string]bool{}
	for _, r := range chain {
		for _, f := range r.Plan {
			wanted[f.Text] = true
		}
	}
	texts := map[string][]byte{}
	keep := func(data []byte) {
		if s := sum(data); wanted[s] {
			texts[s] = data
		}
	}
	for _, data := range j.planFiles {
		keep(data) // saved, perhaps not yet in the history
	}
	done := errors.New("all are found")
	read := map[string]bool{} // git's hashes
	err := j.repo.Log(func(c store.Commit) error {
		if len(texts) == len(wanted) {
			return done
		}
		return j.plansAt(c.Hash, read, keep)
	})
	if errors.Is(err, done) {
		err = nil
	}
	return texts, err
}

// plansAt gives keep the plan files of a commit that were not read before.
func (j *Job) plansAt(commit string, read map[string]bool, keep func([]byte)) error {
	files, err := j.repo.FilesAt(commit, "phases")
	if err != nil {
		return err
	}
	job, err := j.repo.FilesAt(commit, JobFile)
	if err != nil {
		return err
	}
	maps.Copy(files, job)
	for path, hash := range files {
		if read[hash] {
			continue
		}
		read[hash] = true
		data, err := j.repo.FileAt(commit, path)
		if err != nil {
			return err
		}
		keep(data)
	}
	return nil
}

func readAdopted(r *Record, texts map[string][]byte) (adoptedState, error) {
	s := adoptedState{record: r}
	files := map[string][]byte{}
	for _, f := range r.Plan {
		text := texts[f.Text]
		if text == nil {
			return s, fmt.Errorf("adoption %s names a %s that the history does not hold", shortID(r.ID), f.Name)
		}
		if f.Name != JobFile {
			files[f.Name] = text
			continue
		}
		d, err := ReadDescription(f.Name, text)
		if err != nil {
			return s, err
		}
		s.room = d.Room
	}
	if s.room == nil {
		return s, fmt.Errorf("adoption %s names no %s", shortID(r.ID), JobFile)
	}
	var err error
	s.plan, err = phases.ReadPlan(files)
	return s, err
}

// badAdoption judges one step of the chain.
func (j *Job) badAdoption(was, is adoptedState) []Finding {
	r := is.record
	by := Person{Name: r.By, Roles: r.Roles}
	var all []Finding
	bad := func(format string, args ...any) {
		all = append(all, Finding{Path: r.Path(), Text: fmt.Sprintf("adoption of %s by %s: ", r.Entered.Format("2006-01-02 15:04"), r.By) + fmt.Sprintf(format, args...)})
	}
	if !by.Has("owner") && !by.Has("crew lead") {
		bad("%s is neither crew lead nor owner", r.By)
	}
	for _, d := range phases.Compare(was.plan, is.plan, was.room, is.room) {
		switch {
		case !d.Loosens:
		case d.Safety:
			bad("%s: a safety limit may only be tightened", strings.TrimPrefix(d.Check+": "+d.Text, ": "))
		case d.Check != "" && j.answeredBefore(d.Check, was.plan, r.Entered):
			bad("%s: %s: it had a reading already", d.Check, d.Text)
		case !by.Has("owner"):
			bad("%s: it loosens the plan, and %s is not the owner", strings.TrimPrefix(d.Check+": "+d.Text, ": "), r.By)
		}
	}
	return all
}

// answeredBefore reports whether a check, or the one it computes from, was
// answered before a moment.
func (j *Job) answeredBefore(check string, plan *phases.Plan, at time.Time) bool {
	names := []string{check}
	if q := plan.Questions()[check]; q != nil && q.Uses != "" {
		names = append(names, q.UsedID())
	}
	return slices.ContainsFunc(j.Records, func(r *Record) bool {
		return r.Kind == AnswerRecord && r.Entered.Before(at) && slices.Contains(names, r.CheckID())
	})
}

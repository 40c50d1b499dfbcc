package jobs

import (
	"errors"
	"fmt"
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

	progress func(done, total int)
}

// VerifiedRelease is one sign-off and how many of its files agree.
type VerifiedRelease struct {
	Hold        string   `json:"hold"`
	Faces       []string `json:"faces,omitempty"` // of a release of some faces
	By          string   `json:"by,omitempty"`
	List        string   `json:"list"` // the list's path
	Fingerprint string   `json:"fingerprint"`
	Files       int      `json:"files"`
	Differ      int      `json:"differ"`
	Withdrawn   bool     `json:"withdrawn,omitempty"`
	// Signatures are the detached signatures that stand beside the list. They
	// are present; whether they are good is for the tool that made them.
	Signatures []string `json:"signatures,omitempty"`
}

// Sound reports whether nothing was changed without a reason.
func (v *Verification) Sound() bool {
	return !slices.ContainsFunc(v.Findings, func(f Finding) bool { return !f.Explained })
}

// factFolders are the folders in which nothing is ever changed or removed.
var factFolders = []string{"records", "evidence", "signoffs"}

// signatureEndings are those of a detached signature beside a sign-off's list.
// It is somebody's own file: it may come later, be renewed or removed.
var signatureEndings = []string{".sha256.sig", ".sha256.asc"}

// isSignature reports whether a path is that of a detached signature.
func isSignature(path string) bool {
	return strings.HasPrefix(path, "signoffs/") && slices.ContainsFunc(signatureEndings, func(end string) bool { return strings.HasSuffix(path, end) })
}

// Verify checks the job in dir: it hashes everything again and reads the whole
// history. A job whose files cannot be read as a job any more is checked as far
// as its lists and its history go. progress is called as files are hashed; it
// may be nil.
func Verify(dir string, p Process, progress func(done, total int)) (*Verification, error) {
	j, err := Open(dir, p)
	if errors.Is(err, ErrIntegrity) || errors.Is(err, ErrInput) {
		return verifyUnreadable(dir, p, progress, err)
	}
	if err != nil {
		return nil, err
	}
	defer j.Close()
	return j.verify(progress)
}

func (j *Job) verify(progress func(done, total int)) (*Verification, error) {
	v := &Verification{Job: j.ID, progress: progress}
	if err := j.verifyHistory(v); err != nil {
		return nil, err
	}
	bad, err := j.badAdoptions()
	if err != nil {
		return nil, err
	}
	for _, f := range bad {
		v.add(f)
	}
	sums := map[string]string{}
	total := len(j.bound())
	for _, s := range j.Signoffs {
		j.verifySignoff(v, s, sums)
		v.report(sums, total)
	}
	for _, r := range j.Records {
		for _, e := range slices.Concat(r.Photos, r.Files) {
			j.verifyEvidence(v, r, e, sums)
			v.report(sums, total)
		}
	}
	v.Files = len(sums)
	return v, nil
}

func (v *Verification) report(sums map[string]string, total int) {
	if v.progress != nil {
		v.progress(len(sums), max(total, len(sums)))
	}
}

// bound are the files that sign-offs and records name by hash.
func (j *Job) bound() map[string]bool {
	files := map[string]bool{}
	for _, s := range j.Signoffs {
		for _, l := range s.List {
			files[l.Path] = true
		}
	}
	for _, r := range j.Records {
		for _, e := range slices.Concat(r.Photos, r.Files) {
			files[e.Path] = true
		}
	}
	return files
}

// verifyHistory compares the folder with the newest commit, byte by byte, and
// reads all commits.
func (j *Job) verifyHistory(v *Verification) error {
	if err := j.repo.Fsck(); err != nil {
		v.add(Finding{Text: "the history is damaged: " + err.Error()})
	}
	changes, err := j.repo.ChangesByContent()
	if err := v.damage(err); err != nil {
		return err
	}
	for _, c := range changes {
		v.workTree(c, j)
	}
	touched, err := j.touched()
	if err := v.damage(err); err != nil {
		return err
	}
	for _, t := range touched {
		v.add(t)
	}
	return v.damage(j.readHistory(v))
}

// damage turns a damaged history into a finding, so that the rest is checked,
// too.
func (v *Verification) damage(err error) error {
	if !errors.Is(err, store.ErrCorrupt) {
		return err
	}
	v.add(Finding{Text: "the history is damaged: " + err.Error()})
	return nil
}

// signatures returns the detached signatures beside a list.
func (j *Job) signatures(list string) []string {
	var found []string
	for _, end := range signatureEndings {
		path := strings.TrimSuffix(list, ".sha256") + end
		if j.exists(path) {
			found = append(found, path)
		}
	}
	return found
}

func (v *Verification) add(f Finding) {
	if !slices.Contains(v.Findings, f) {
		v.Findings = append(v.Findings, f)
	}
}

// workTree reports a file that differs from the newest commit.
func (v *Verification) workTree(c store.Change, j *Job) {
	top, _, _ := strings.Cut(c.Path, "/")
	switch {
	case isSignature(c.Path):
		v.add(Finding{Path: c.Path, Text: "a detached signature, not yet in the history", Explained: true})
	case slices.Contains(factFolders, top) && c.Kind == store.Added:
		v.add(Finding{Path: c.Path, Text: "saved, not yet in the history; the next entry takes it in", Explained: true})
	case slices.Contains(factFolders, top):
		v.add(Finding{Path: c.Path, Text: fmt.Sprintf("%s since the newest commit", c.Kind)})
	case slices.Contains(j.Edited, c.Path):
		v.add(Finding{Path: c.Path, Text: "edited by hand and not adopted yet: proveout adopt"})
	case j.planSums[c.Path] != "":
		v.add(Finding{Path: c.Path, Text: "is as it was adopted, but the newest commit holds another text; the next entry takes it in", Explained: true})
	case c.Kind != store.Added:
		v.add(Finding{Path: c.Path, Text: fmt.Sprintf("%s since the newest commit", c.Kind)})
	}
}

// touched lists the commits that changed or removed a fact. They are explained
// where the file is again what it was before the first of them.
func (j *Job) touched() ([]Finding, error) {
	var all []Finding
	first := map[string]store.Commit{}
	err := j.repo.Touched(factFolders, func(c store.Commit, path string, kind store.ChangeKind) error {
		if isSignature(path) {
			return nil
		}
		first[path] = c // the newest comes first, so the oldest stays
		all = append(all, Finding{
			Path: path, Commit: c.Hash,
			Text: fmt.Sprintf("%s by commit %s of %s (%s), %q", kind, c.Hash[:10], c.Author.Name, c.When.Format("2006-01-02 15:04"), firstLine(c.Message)),
		})
		return nil
	})
	for i, f := range all {
		if j.isAsBefore(first[f.Path], f.Path) {
			all[i].Explained = true
			all[i].Text += "; the file is again what it was before"
		}
	}
	return all, err
}

// isAsBefore reports whether a file is what each parent of a commit held.
func (j *Job) isAsBefore(c store.Commit, path string) bool {
	for _, parent := range c.Parents {
		data, err := j.repo.FileAt(parent, path)
		if err != nil || sum(data) != j.hash(path, map[string]string{}) {
			return false
		}
	}
	return len(c.Parents) > 0
}

// tampered lists what was changed or removed and not put back, as texts.
func (j *Job) tampered() ([]string, error) {
	touched, err := j.touched()
	var texts []string
	for _, t := range touched {
		if !t.Explained {
			texts = append(texts, t.Path+" was "+t.Text)
		}
	}
	return texts, err
}

// readHistory counts the commits and reports time that runs backwards.
func (j *Job) readHistory(v *Verification) error {
	var newer *store.Commit
	return j.repo.Log(func(c store.Commit) error {
		v.Commits++
		if newer != nil && len(newer.Parents) == 1 && newer.Parents[0] == c.Hash && newer.When.Before(c.When.Add(-time.Minute)) {
			v.add(Finding{Commit: newer.Hash, Explained: j.takenBack(c.When), Text: fmt.Sprintf("commit %s is dated %s, before the commit it follows (%s): a clock was wrong", newer.Hash[:10], newer.When.Format("2006-01-02 15:04"), c.When.Format("2006-01-02 15:04"))})
		}
		newer = &c
		return nil
	})
}

// takenBack reports whether nothing that was entered at a moment stands.
func (j *Job) takenBack(at time.Time) bool {
	entered := func(t time.Time) bool { return t.Unix() == at.Unix() }
	return !slices.ContainsFunc(j.Records, func(r *Record) bool { return entered(r.Entered) && j.Current(r) && r.Kind != VoidRecord }) &&
		!slices.ContainsFunc(j.Signoffs, func(s *Signoff) bool { return entered(s.At) && j.Standing(s) })
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
	r := VerifiedRelease{
		Hold: s.Hold, Faces: s.Faces, By: s.By, List: s.ListPath(), Fingerprint: s.ShortFingerprint(), Files: len(s.List),
		Withdrawn: j.withdrawal(s) != nil, Signatures: j.signatures(s.ListPath()),
	}
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

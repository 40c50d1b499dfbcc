package jobs

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs/store"
	"proveout/phases"
	"proveout/phases/strict"
)

// Job is one room of one client, as its folder holds it.
type Job struct {
	*Description
	Dir      string
	Plan     *phases.Plan
	Records  []*Record // all, in the order of their files
	Signoffs []*Signoff
	// Edited are the plan files and the job file that differ from what was
	// last adopted. Nothing else may happen until they are adopted or put
	// back.
	Edited []string

	repo       *store.Repo
	planSums   map[string]string // SHA-256 by path, of job.yaml and the phase files
	planFiles  map[string][]byte
	edited     map[string][]byte // as they are in the folder, when the plan is an older one: see OpenEdited
	superseded map[string]string // id → the record that supersedes it
	byID       map[string]*Record
	memory     *memory
}

// maxRecord, maxPlan and maxEvidence bound what is read into memory.
const (
	maxRecord   = 256 << 10
	maxPlan     = 1 << 20
	maxEvidence = 512 << 20
)

// Process is who has a job open, for its lock; the zero Process only reads.
type Process struct {
	Host string
	PID  int
}

func (p Process) options() store.Options { return store.Options{Host: p.Host, PID: p.PID} }

// Open reads the job in dir. A problem in any of its files is an error with
// file, line and column. Close the job.
func Open(dir string, p Process) (*Job, error) {
	repo, err := store.Open(dir, p.options())
	if err != nil {
		return nil, err
	}
	j := &Job{Dir: dir, repo: repo, memory: newMemory()}
	if err := j.load(); err != nil {
		return nil, errors.Join(err, repo.Close())
	}
	return j, nil
}

// Close frees the files that the job keeps open.
func (j *Job) Close() error { return j.repo.Close() }

func (j *Job) load() error {
	if err := j.loadPlan(); err != nil {
		return err
	}
	if err := j.loadRecords(); err != nil {
		return err
	}
	if err := j.loadSignoffs(); err != nil {
		return err
	}
	j.Room.Penetrations = j.penetrationPlaces()
	return j.findEdits()
}

// file is the path as messages show it.
func (j *Job) file(path string) string { return filepath.Join(j.Dir, filepath.FromSlash(path)) }

func (j *Job) loadPlan() error {
	j.planSums, j.planFiles = map[string]string{}, map[string][]byte{}
	if err := j.readPlanFile(JobFile); err != nil {
		return err
	}
	var problems []string
	d, err := ReadDescription(j.file(JobFile), j.planFiles[JobFile])
	if err != nil {
		problems = append(problems, err.Error())
	}
	j.Description = d
	names, err := j.repo.List("phases")
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	for _, name := range names {
		if !strings.HasSuffix(name, ".yaml") {
			continue
		}
		if err := j.readPlanFile(name); err != nil {
			return err
		}
		files[j.file(name)] = j.planFiles[name]
	}
	if j.Plan = j.memory.samePlan(j.planSums); j.Plan == nil {
		if j.Plan, err = phases.ReadPlan(files); err != nil {
			problems = append(problems, err.Error())
		}
	}
	if problems == nil {
		j.memory.keepPlan(j.Plan, j.planSums)
	}
	if problems != nil {
		return problem(ErrInput, "correct the file, or put it back: proveout adopt --put-back", "%s", strings.Join(problems, "\n"))
	}
	return nil
}

func (j *Job) readPlanFile(path string) error {
	data, err := j.repo.Read(path, maxPlan)
	if err != nil {
		return err
	}
	j.planSums[path], j.planFiles[path] = sum(data), data
	return nil
}

// exists reports whether a plain file of the job is there.
func (j *Job) exists(path string) bool {
	info, err := os.Lstat(j.file(path))
	return err == nil && info.Mode().IsRegular()
}

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}

func (j *Job) loadRecords() error {
	j.Records, j.byID, j.superseded = nil, map[string]*Record{}, map[string]string{}
	var problems []string
	folders, err := os.ReadDir(j.file("records"))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, f := range folders {
		err := j.repo.Each("records/"+f.Name(), maxRecord, func(path string, data []byte, err error) error {
			r, err := j.readRecord(path, data, err)
			if err != nil {
				problems = append(problems, err.Error())
				return nil
			}
			if first := j.byID[r.ID]; first != nil {
				problems = append(problems, fmt.Sprintf("%s: %s has the id %s, too", j.file(path), j.file(first.Path()), r.ID))
			}
			j.Records = append(j.Records, r)
			j.byID[r.ID] = r
			return nil
		})
		if err != nil {
			return err
		}
	}
	if problems == nil {
		problems = j.link()
	}
	if problems != nil {
		return problem(ErrIntegrity, "records are never edited; put the file back with git, and add a correction: proveout correct", "%s", strings.Join(problems, "\n"))
	}
	return nil
}

func (j *Job) readRecord(path string, data []byte, err error) (*Record, error) {
	if err != nil {
		return nil, err
	}
	s := sum(data)
	if r := j.memory.record(path, s); r != nil && r.Job == j.ID {
		return r, nil
	}
	r, err := ReadRecord(j.file(path), data)
	if err != nil {
		return nil, err
	}
	if r.Job != j.ID {
		return nil, fmt.Errorf("%s: this record belongs to job %q, not to %q", j.file(path), r.Job, j.ID)
	}
	r.path, r.sum = path, s
	j.memory.keep(r)
	return r, nil
}

// link notes which records are superseded.
func (j *Job) link() []string {
	var problems []string
	for _, r := range j.Records {
		for _, id := range r.Supersedes {
			switch of := j.byID[id]; {
			case of == nil:
				problems = append(problems, fmt.Sprintf("%s: it supersedes %s, which is not there", j.file(r.Path()), id))
			case !r.maySupersede(of):
				problems = append(problems, fmt.Sprintf("%s: a record of kind %q cannot supersede %s, which is a %s", j.file(r.Path()), r.Kind, id, of.Describe()))
			}
			j.superseded[id] = r.ID
		}
	}
	adoptions := 0
	for _, r := range j.Records {
		if r.Kind == AdoptionRecord && j.Current(r) {
			adoptions++
		}
	}
	if adoptions > 1 {
		problems = append(problems, fmt.Sprintf("%s: two adoptions of the plan are in force; one must supersede the other", j.file("records/plan")))
	}
	return problems
}

// maySupersede reports whether a record can take the place of another: an
// answer that of the same check, a void one that of any fact.
func (r *Record) maySupersede(of *Record) bool {
	switch r.Kind {
	case VoidRecord:
		return of.Kind != AdoptionRecord && of.Kind != WithdrawalRecord
	case AnswerRecord:
		return (of.Kind == AnswerRecord || of.Kind == NoteRecord) && of.CheckID() == r.CheckID()
	case AdoptionRecord, NoteRecord:
		return of.Kind == r.Kind
	case DispositionRecord:
		return of.Kind == r.Kind && of.Nonconformity == r.Nonconformity
	}
	return false
}

// Current reports whether nobody has superseded the record.
func (j *Job) Current(r *Record) bool { return j.superseded[r.ID] == "" }

// FindRecord finds a record by its id or by the end of it.
func (j *Job) FindRecord(id string) (*Record, error) {
	if r := j.byID[id]; r != nil {
		return r, nil
	}
	var found []*Record
	var ids []string
	for _, r := range j.Records {
		ids = append(ids, r.ShortID())
		if len(id) >= 4 && strings.HasSuffix(r.ID, id) {
			found = append(found, r)
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	next := "see the records: proveout status --records"
	if near := strict.Nearest(id, ids); near != nil {
		next = "did you mean " + strings.Join(near, " or ") + "?"
	}
	return nil, problem(ErrNotFound, next, "there is no record %q", id)
}

// findEdits compares plan and job file with the last adoption.
func (j *Job) findEdits() error {
	adopted := j.adopted()
	if adopted == nil {
		return problem(ErrIntegrity, "bring the folder back from a copy: git clone, or git checkout records", "%s has no adoption record: its plan has never been fixed", j.ID)
	}
	known := map[string]string{}
	for _, f := range adopted.Plan {
		known[f.Name] = f.Text
	}
	for path, s := range j.planSums {
		if known[path] != s {
			j.Edited = append(j.Edited, path)
		}
	}
	for path := range known {
		if j.planSums[path] == "" {
			j.Edited = append(j.Edited, path)
		}
	}
	slices.Sort(j.Edited)
	return nil
}

// adopted returns the adoption in force, or nil.
func (j *Job) adopted() *Record {
	for _, r := range j.Records {
		if r.Kind == AdoptionRecord && j.Current(r) {
			return r
		}
	}
	return nil
}

// Gate prepares the evaluation of the job's holds at a moment.
func (j *Job) Gate(now time.Time) *phases.Gate {
	e := phases.Evidence{
		Room: j.Room, Facts: j.facts(), Nonconformities: j.gateNonconformities(), Now: now,
	}
	g := phases.NewGate(j.Plan, e)
	g.Evidence.Releases = j.releases(g)
	return g
}

// Last returns the moment of the newest entry that stands, which the clock must
// not run behind. One that was corrected or withdrawn may have been entered with
// a wrong clock.
func (j *Job) Last() time.Time {
	var last time.Time
	for _, r := range j.Records {
		if r.Entered.After(last) && j.Current(r) {
			last = r.Entered
		}
	}
	for _, s := range j.Signoffs {
		if s.At.After(last) && j.Standing(s) {
			last = s.At
		}
	}
	return last
}

// Hold finds a hold by phase.hold, or by the phase alone when it has one hold
// that applies.
func (j *Job) Hold(g *phases.Gate, name string) (*phases.Hold, error) {
	if h := j.Plan.Hold(name); h != nil {
		return h, nil
	}
	ph, err := j.Phase(name)
	if err != nil {
		return nil, err
	}
	var holds []*phases.Hold
	var names []string
	for _, h := range ph.Holds {
		if h.When.Holds(g.Decisions) {
			holds, names = append(holds, h), append(names, h.ID())
		}
	}
	if len(holds) == 1 {
		return holds[0], nil
	}
	if len(holds) == 0 {
		return nil, problem(ErrNotFound, "see: proveout status", "no hold of %s applies to this job", ph.Title)
	}
	return nil, problem(ErrInput, "name one of: "+strings.Join(names, ", "), "%s has %d holds", ph.Title, len(holds))
}

// Phase finds a phase by name or number.
func (j *Job) Phase(name string) (*phases.Phase, error) {
	phase, hold, dotted := strings.Cut(name, ".")
	var names []string
	for _, ph := range j.Plan.Phases {
		if ph.Name == phase || fmt.Sprint(ph.Number) == phase {
			if !dotted {
				return ph, nil
			}
			for _, h := range ph.Holds {
				names = append(names, h.ID())
			}
			return nil, Unknown("hold", ph.Name+"."+hold, names, "")
		}
	}
	for _, ph := range j.Plan.Phases {
		names = append(names, ph.Name)
	}
	return nil, Unknown("phase", name, names, "")
}

// Question finds a check of a phase.
func (j *Job) Question(ph *phases.Phase, name string) (*checks.Question, error) {
	var names []string
	for _, h := range ph.Holds {
		for _, q := range h.Checks {
			if q.Name == name {
				return q, nil
			}
			names = append(names, q.Name)
		}
	}
	return nil, Unknown("check of "+ph.Name+" called", name, names, "see: proveout check "+ph.Name)
}

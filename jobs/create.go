package jobs

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"proveout/jobs/store"
	"proveout/phases"
)

//go:embed FORMAT.md
var formatText []byte

// gitAttributes keeps plain git from changing line ends: every byte counts.
const gitAttributes = "* -text\n"

// Create starts a job in the company from the text of its job.yaml: the
// folder, its history, the eleven phase files with the region's and the
// company's limits, and the adoption that fixes them. A start that was cut off
// is begun again.
func Create(ctx context.Context, c *Company, p Process, e Entry, jobYAML []byte) (*Job, error) {
	d, err := ReadDescription(JobFile, jobYAML)
	if err != nil {
		return nil, problem(ErrInput, "", "%v", err)
	}
	files, changes, err := planFor(c, d.Region)
	if err != nil {
		return nil, err
	}
	dir := c.JobDir(d.ID)
	if !free(dir, p) {
		return nil, problem(ErrInput, "choose another id, or go on with that job: proveout status "+d.ID, "the folder of job %q is there already", d.ID)
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return nil, err
	}
	repo, err := store.Create(dir, p.options())
	if err != nil {
		return nil, err
	}
	j := &Job{Dir: dir, repo: repo, Description: d}
	if err := errors.Join(j.firstCommit(ctx, e, files, jobYAML, changes), repo.Close()); err != nil {
		return nil, err
	}
	return Open(dir, p)
}

// free reports whether a job can start in a folder: it is not there, it is
// empty, or an earlier start did not get to its first commit.
func free(dir string, p Process) bool {
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) == 0 {
		return errors.Is(err, fs.ErrNotExist) || err == nil
	}
	repo, err := store.Open(dir, p.options())
	if err == nil {
		err = repo.Close()
	}
	return errors.Is(err, store.ErrUnfinished)
}

func (j *Job) firstCommit(ctx context.Context, e Entry, files map[string][]byte, jobYAML []byte, changes []string) error {
	op, err := j.repo.Lock(ctx, lockWait)
	if err != nil {
		return err
	}
	defer op.Close()
	r, err := j.newRecord(e, AdoptionRecord, "plan")
	if err != nil {
		return err
	}
	r.Reason = "the job starts"
	r.Changes = changes
	if r.Supersedes, err = j.leftOver(op); err != nil {
		return err
	}
	all := map[string][]byte{JobFile: jobYAML, "FORMAT.md": formatText, ".gitattributes": []byte(gitAttributes)}
	r.Plan = append(r.Plan, NamedText{JobFile, sum(jobYAML)})
	for _, name := range slices.Sorted(maps.Keys(files)) {
		all["phases/"+name] = files[name]
		r.Plan = append(r.Plan, NamedText{"phases/" + name, sum(files[name])})
	}
	all[r.Path()] = r.Encode()
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if err := op.Write(name, all[name]); err != nil {
			return err
		}
	}
	_, err = op.Commit("job "+j.ID+" starts", store.Author{Name: e.By.Name}, e.Now)
	return err
}

// leftOver takes the records of a start that was cut off into this one and
// returns their ids.
func (j *Job) leftOver(op *store.Operation) ([]string, error) {
	changes, err := j.repo.Changes("records")
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, c := range changes {
		op.Add(c.Path)
		ids = append(ids, strings.TrimSuffix(path.Base(c.Path), ".yaml"))
	}
	return ids, nil
}

// planFor returns the default phase files with the limits of the region and of
// the company, and what they change.
func planFor(c *Company, region string) (map[string][]byte, []string, error) {
	files := phases.Defaults()
	r, known := phases.RegionNamed(region)
	if r == nil {
		return nil, nil, problem(ErrInput, "known are: "+strings.Join(known, ", "), "there is no region %q", region)
	}
	var changes []string
	for _, l := range r.Limits {
		l.Reason = "region " + region + ": " + l.Reason
		text, err := setLimit(files, l)
		if err != nil {
			return nil, nil, fmt.Errorf("region %s: %w", region, err)
		}
		changes = append(changes, text)
	}
	for _, l := range c.Limits {
		l.Reason = "company: " + l.Reason
		text, err := setLimit(files, l)
		if err != nil {
			return nil, nil, problem(ErrInput, "change or remove this limit", "%s: %v", l.Pos, err)
		}
		changes = append(changes, text)
	}
	return files, changes, nil
}

func setLimit(files map[string][]byte, l phases.LimitChange) (string, error) {
	phase, check, ok := strings.Cut(l.Check, ".")
	if !ok {
		return "", fmt.Errorf("limit %q: write it as phase.check", l.Check)
	}
	for name, data := range files {
		if !isPhaseFile(name, phase) {
			continue
		}
		n := l.NewLimit
		n.Check = check
		out, err := phases.SetLimit(name, data, n)
		if err != nil {
			return "", err
		}
		files[name] = out
		return fmt.Sprintf("%s: %s %s (%s)", l.Check, l.Key, l.Value, l.Reason), nil
	}
	return "", fmt.Errorf("limit %q: there is no phase %q", l.Check, phase)
}

// isPhaseFile reports whether a file called 05-insulation.yaml holds a phase.
func isPhaseFile(name, phase string) bool {
	_, rest, _ := strings.Cut(strings.TrimSuffix(name, ".yaml"), "-")
	return rest == phase
}

// JobDir is the folder of a job.
func (c *Company) JobDir(id string) string { return filepath.Join(c.Dir, "jobs", id) }

package jobs

import (
	"context"
	_ "embed"
	"errors"
	"fmt"
	"maps"
	"os"
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
// company's limits, and the adoption that fixes them.
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
	if _, err := os.Stat(dir); err == nil {
		return nil, problem(ErrInput, "choose another id, or go on with that job: proveout status "+d.ID, "there is a job %q already", d.ID)
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
	all := map[string][]byte{JobFile: jobYAML, "FORMAT.md": formatText, ".gitattributes": []byte(gitAttributes)}
	r.Plan = append(r.Plan, NamedText{JobFile, sum(jobYAML)})
	for _, name := range slices.Sorted(maps.Keys(files)) {
		all["phases/"+name] = files[name]
		r.Plan = append(r.Plan, NamedText{"phases/" + name, sum(files[name])})
	}
	all[r.Path()] = r.Encode()
	for _, path := range slices.Sorted(maps.Keys(all)) {
		if err := op.Create(path, all[path]); err != nil {
			return err
		}
	}
	_, err = op.Commit("job "+j.ID+" starts", store.Author{Name: e.By.Name}, e.Now)
	return err
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
		text, err := setLimit(files, phases.RegionLimit{Check: l.Check, NewLimit: phases.NewLimit{Key: l.Key, Value: l.Value, Reason: "company: " + l.Reason, Source: l.Source, Mark: l.Mark}})
		if err != nil {
			return nil, nil, problem(ErrInput, "change or remove this limit", "%s: %v", l.Pos, err)
		}
		changes = append(changes, text)
	}
	return files, changes, nil
}

func setLimit(files map[string][]byte, l phases.RegionLimit) (string, error) {
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

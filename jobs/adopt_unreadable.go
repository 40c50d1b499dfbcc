package jobs

import (
	"errors"
	"maps"
	"slices"
	"strings"

	"proveout/jobs/store"
	"proveout/phases"
)

// OpenEdited opens a job whose plan or job file cannot be read, with the texts
// of the newest commit that can in their place, so that the edits can be shown
// and put back. unreadable says what is wrong with them; it is nil for a job
// that opens as it is.
func OpenEdited(dir string, p Process) (j *Job, unreadable, err error) {
	j, err = Open(dir, p)
	if err == nil || !errors.Is(err, ErrInput) {
		return j, nil, err
	}
	repo, openErr := store.Open(dir, p.options())
	if openErr != nil {
		return nil, nil, openErr
	}
	old := &Job{Dir: dir, repo: repo}
	if loadErr := old.loadReadable(); loadErr != nil {
		return nil, nil, errors.Join(err, loadErr, repo.Close())
	}
	return old, err, nil
}

// loadReadable loads the job with the plan of the newest commit whose plan can
// be read.
func (j *Job) loadReadable() error {
	found := errors.New("found")
	var last error
	err := j.repo.Log(func(c store.Commit) error {
		if last = j.planAt(c.Hash); last == nil {
			return found
		}
		return nil
	})
	if !errors.Is(err, found) {
		return errors.Join(err, last)
	}
	if err := j.readEdited(); err != nil {
		return err
	}
	if err := j.loadRecords(); err != nil {
		return err
	}
	return j.findEdits()
}

// planAt takes plan and job file from a commit.
func (j *Job) planAt(commit string) error {
	names, err := j.repo.FilesAt(commit, "phases")
	if err != nil {
		return err
	}
	files := map[string][]byte{}
	j.planFiles = map[string][]byte{}
	for _, path := range append(slices.Sorted(maps.Keys(names)), JobFile) {
		data, err := j.repo.FileAt(commit, path)
		if err != nil {
			return err
		}
		j.planFiles[path] = data
		if path != JobFile {
			files[j.file(path)] = data
		}
	}
	if j.Description, err = ReadDescription(j.file(JobFile), j.planFiles[JobFile]); err != nil {
		return err
	}
	j.Plan, err = phases.ReadPlan(files)
	return err
}

// readEdited reads the plan files as they are in the folder, without
// understanding them.
func (j *Job) readEdited() error {
	names, err := j.repo.List("phases")
	if err != nil {
		return err
	}
	j.planSums, j.edited = map[string]string{}, map[string][]byte{}
	for _, path := range append(names, JobFile) {
		if path != JobFile && !strings.HasSuffix(path, ".yaml") {
			continue
		}
		data, err := j.repo.Read(path, maxPlan)
		if err != nil && j.exists(path) {
			return err
		}
		if err == nil {
			j.edited[path], j.planSums[path] = data, sum(data)
		}
	}
	return nil
}

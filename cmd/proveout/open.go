package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

func (e *env) process() jobs.Process { return jobs.Process{Host: e.host, PID: e.pid} }

// path makes a path of the command line absolute.
func (e *env) path(p string) string {
	if filepath.IsAbs(p) {
		return p
	}
	return filepath.Join(e.dir, p)
}

// shown is a path as the person would write it.
func (e *env) shown(p string) string {
	if rel, err := filepath.Rel(e.dir, p); err == nil && !strings.HasPrefix(rel, "..") {
		return rel
	}
	return p
}

// company finds the company of the folder the person is in, or of the job.
func (e *env) company(c *cobra.Command) (*jobs.Company, error) {
	if dir, err := e.jobDir(c); err == nil {
		return jobs.FindCompany(dir)
	}
	return jobs.FindCompany(e.dir)
}

// jobDir finds the job: --job, or the folder the person is in.
func (e *env) jobDir(c *cobra.Command) (string, error) {
	name, err := c.Flags().GetString("job")
	if err != nil {
		return "", err
	}
	if name == "" {
		return e.jobAbove()
	}
	if isJob(e.path(name)) {
		return e.path(name), nil
	}
	company, err := jobs.FindCompany(e.dir)
	if err != nil {
		return "", fmt.Errorf("%w\nthere is no job in %s", err, name)
	}
	return namedJob(company, name)
}

func namedJob(company *jobs.Company, name string) (string, error) {
	if jobs.CheckID(name) == nil && isJob(company.JobDir(name)) {
		return company.JobDir(name), nil
	}
	ids, err := company.JobIDs()
	if err != nil {
		return "", err
	}
	return "", jobs.Unknown("job", name, ids, "start one: proveout new")
}

func isJob(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, jobs.JobFile))
	return err == nil
}

func (e *env) jobAbove() (string, error) {
	for at := e.dir; ; at = filepath.Dir(at) {
		if isJob(at) {
			return at, nil
		}
		if at == filepath.Dir(at) {
			return "", fmt.Errorf("%w: %s is not in a job\ngo to the job's folder, or name it: --job ID", jobs.ErrNotFound, e.dir)
		}
	}
}

// job opens the job. The caller closes it.
func (e *env) job(c *cobra.Command) (*jobs.Job, error) {
	dir, err := e.jobDir(c)
	if err != nil {
		return nil, err
	}
	return jobs.Open(dir, e.process())
}

// both opens the job and its company, which writing needs.
func (e *env) both(c *cobra.Command) (*jobs.Job, *jobs.Company, error) {
	j, err := e.job(c)
	if err != nil {
		return nil, nil, err
	}
	company, err := jobs.FindCompany(j.Dir)
	if err != nil && !errors.Is(err, jobs.ErrNotFound) {
		return nil, nil, errors.Join(err, j.Close())
	}
	if err != nil {
		return nil, nil, errors.Join(fmt.Errorf("%w\na copy of a job alone can be read and verified; writing needs the company's people and instruments", err), j.Close())
	}
	return j, company, nil
}

// entryOf is an entry of this person, now.
func (e *env) entryOf(p jobs.Person) jobs.Entry {
	say := func(note string) { e.sayf("%s\n", terminalText(note)) }
	return jobs.Entry{By: p, Now: e.now(), Random: e.random, Say: say}
}

// entry says who does something now.
func (e *env) entry(company *jobs.Company, by string) (jobs.Entry, error) {
	p, err := company.Person(by)
	return e.entryOf(p), err
}

// addBy adds the flag that names the person.
func addBy(c *cobra.Command) {
	c.Flags().String("by", "", "who does this: a name from company.yaml")
}

// by reads the person's name, or asks for it on a terminal.
func (e *env) by(c *cobra.Command, company *jobs.Company) (jobs.Entry, error) {
	name, err := c.Flags().GetString("by")
	if err != nil {
		return jobs.Entry{}, err
	}
	if name == "" && e.terminal {
		err := e.askUntil("Your name", "", func(text string) error {
			_, err := company.Person(text)
			name = text
			return err
		})
		if err != nil {
			return jobs.Entry{}, err
		}
	}
	if name == "" {
		return jobs.Entry{}, &usageError{"say who does this: --by NAME\npeople: " + peopleOf(company)}
	}
	return e.entry(company, name)
}

// peopleOf lists who may be named.
func peopleOf(company *jobs.Company) string {
	var names []string
	for _, p := range company.People {
		names = append(names, p.Name)
	}
	return strings.Join(append(names, "homeowner"), ", ")
}

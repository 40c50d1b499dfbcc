package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/logs"
	"proveout/jobs"
	"proveout/phases/strict"
)

// logReader reads loggers' files by flags, by a profile, and by what the person
// answers on a terminal.
type logReader struct {
	e        *env
	flags    *readingFlags
	company  *jobs.Company  // nil outside of one
	site     *time.Location // of the job or the company; nil: not known
	siteFrom string
}

// logSource is a file that can be read more than once.
type logSource struct {
	name string // as the person typed it
	head func() ([]byte, error)
	read func(logs.Dialect) (*logs.File, error)
}

// readLog is a file that was read, with what had to be said.
type readLog struct {
	*logs.File
	name     string
	answers  logs.Dialect // of the person, by flags or on the terminal
	profile  string       // used
	fits     []string     // profiles that fit and were not used
	zoneFrom string       // where the zone comes from, when it is the site's

	asked        map[string]bool // columns whose unit was asked
	askedDoubled bool
}

// fileSource is a file on disk, read as a stream.
func (e *env) fileSource(name string) logSource {
	open := func() (*os.File, error) {
		f, err := os.Open(e.path(name))
		if err != nil {
			return nil, fmt.Errorf("%w: cannot read %s\ncheck the path; put quotes round a name with spaces", jobs.ErrNotFound, name)
		}
		return f, nil
	}
	return logSource{
		name: name,
		head: func() ([]byte, error) {
			f, err := open()
			if err != nil {
				return nil, err
			}
			defer f.Close()
			return io.ReadAll(io.LimitReader(f, 1<<20))
		},
		read: func(d logs.Dialect) (*logs.File, error) {
			f, err := open()
			if err != nil {
				return nil, err
			}
			defer f.Close()
			return logs.ReadFrom(f, d)
		},
	}
}

// read reads a file and asks what is open. Off a terminal what is open is an
// error that says what to type.
func (r *logReader) read(from logSource) (*readLog, error) {
	answers, err := r.flags.dialect()
	if err != nil {
		return nil, err
	}
	out := &readLog{name: from.name, answers: answers}
	base, err := r.chooseProfile(from, out)
	if err != nil {
		return nil, err
	}
	order := r.flags.order()
	for {
		d := over(base, out.answers)
		if d.Zone == nil {
			d.Zone, out.zoneFrom = r.site, r.siteFrom
		}
		if out.File, err = from.read(d); err != nil {
			if err = r.settle(out, order, err); err != nil {
				return nil, r.wrong(from.name, err)
			}
			continue
		}
		if err := orderHolds(out.File, order); err != nil {
			return nil, r.wrong(from.name, err)
		}
		again, err := r.askRest(out)
		if err != nil {
			return nil, err
		}
		if !again {
			out.nameColumns()
			return out, nil
		}
	}
}

// nameColumns puts the names of the file to answers that were given by number.
func (l *readLog) nameColumns() {
	for i, c := range l.answers.Columns {
		if c.Name == "" && c.Role != "" && i < len(l.Dialect.Columns) {
			l.answers.Columns[i].Name = l.Dialect.Columns[i].Name
		}
	}
}

// orderHolds reports dates that the file itself shows to be in another order.
func orderHolds(f *logs.File, said logs.DateOrder) error {
	is := logs.OrderOf(f.Dialect.Layout)
	if said == "" || is == "" || is == said {
		return nil
	}
	return &usageError{fmt.Sprintf("--dates says %s, but the file's dates can only be %s: %s", said, is, strings.Join(f.Preview.Notes, "; "))}
}

// wrong is an error of a file with its name, and with the profiles that may help.
func (r *logReader) wrong(name string, err error) error {
	if errors.Is(err, jobs.ErrNotFound) || errors.Is(err, errAborted) || errors.Is(err, os.ErrNotExist) {
		return err
	}
	text := name + ": " + strings.TrimPrefix(err.Error(), name+": ")
	return &jobs.Problem{Kind: jobs.ErrInput, What: text}
}

// logReader reads outside of an entry into a job: with the profiles of the company
// and in the time zone of the job or the company that the person is in.
func (e *env) logReader(c *cobra.Command, f *readingFlags) *logReader {
	r := &logReader{e: e, flags: f}
	company, err := e.company(c)
	switch problems := (strict.Errors)(nil); {
	case err == nil:
		r.company, r.site, r.siteFrom = company, company.Zone, jobs.CompanyFile
	case errors.As(err, &problems):
		e.sayf("%s\n", terminalText(err.Error()))
	}
	if zone := e.jobZone(c); zone != nil {
		r.site, r.siteFrom = zone, jobs.JobFile
	}
	return r
}

// jobZone is the time zone of the job that the person is in or names, nil without
// one.
func (e *env) jobZone(c *cobra.Command) *time.Location {
	dir, err := e.jobDir(c)
	if err != nil {
		return nil
	}
	file := filepath.Join(dir, jobs.JobFile)
	data, err := os.ReadFile(file)
	if err != nil {
		return nil
	}
	d, err := jobs.ReadDescription(e.shown(file), data)
	if err != nil {
		e.sayf("%s\n", terminalText(err.Error()))
		return nil
	}
	return d.Zone
}

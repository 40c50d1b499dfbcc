package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/logs"
	"proveout/jobs"
	"proveout/phases/strict"
)

// readingFlags are what a person says of a logger's file that it may not tell itself.
// They are the same for every command that reads one.
type readingFlags struct {
	zone, dates, decimal, doubled string
	charset, separator, profile   string
	columns                       []string
}

func (f *readingFlags) addFlags(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.zone, "zone", "", "logger file: where its clock belongs, like America/Chicago, or -06:00 if it does not follow summer time")
	s.StringVar(&f.dates, "dates", "", "logger file: day-first, month-first or year-first, or how it writes 2 January 2006, 15:04, like \"02/01/06 15.04\"")
	s.StringVar(&f.decimal, "decimal", "", "logger file: its decimal mark, point or comma")
	s.StringVar(&f.doubled, "doubled-hour", "", "logger file: which pass the hour is that comes twice, first or second, if the rows do not tell")
	s.StringVar(&f.charset, "charset", "", "logger file: its character set, like windows-1250")
	s.StringVar(&f.separator, "separator", "", "logger file: comma, semicolon, tab or bar")
	s.StringArrayVar(&f.columns, "column", nil, "logger file: what a column holds, like \"Temp=°F\", \"3=dew point °C\", \"Probe 2=leave out\"; may be given again")
	s.StringVar(&f.profile, "profile", "", "logger file: read it as this profile of the company says")
}

// readingFlagsOf are the flags of a command that was given them by addFlags.
func readingFlagsOf(c *cobra.Command) (*readingFlags, error) {
	f, s := &readingFlags{}, c.Flags()
	var errs []error
	for flag, to := range map[string]*string{
		"zone": &f.zone, "dates": &f.dates, "decimal": &f.decimal, "doubled-hour": &f.doubled,
		"charset": &f.charset, "separator": &f.separator, "profile": &f.profile,
	} {
		var err error
		*to, err = s.GetString(flag)
		errs = append(errs, err)
	}
	var err error
	f.columns, err = s.GetStringArray("column")
	return f, errors.Join(append(errs, err)...)
}

// given reports whether anything was said.
func (f *readingFlags) given() bool {
	return f.zone+f.dates+f.decimal+f.doubled+f.charset+f.separator+f.profile != "" || f.columns != nil
}

// dialect is what the flags say, apart from the order of dates, which needs the
// file.
func (f *readingFlags) dialect() (d logs.Dialect, err error) {
	d.Charset = logs.Charset(f.charset)
	if f.order() == "" {
		d.Layout = f.dates
	}
	var errs []error
	put := func(flag, text string, read func() error) {
		if text == "" {
			return
		}
		if err := read(); err != nil {
			errs = append(errs, &usageError{"--" + flag + ": " + err.Error()})
		}
	}
	put("zone", f.zone, func() (err error) { d.Zone, err = jobs.ParseZone(f.zone); return err })
	put("decimal", f.decimal, func() (err error) { d.Decimal, err = logs.ParseDecimal(f.decimal); return err })
	put("doubled-hour", f.doubled, func() (err error) { d.Doubled, err = logs.ParseDoubled(f.doubled); return err })
	put("separator", f.separator, func() (err error) { d.Separator, err = logs.ParseSeparator(f.separator); return err })
	for _, text := range f.columns {
		put("column", text, func() error { return addColumn(&d, text) })
	}
	return d, errors.Join(errs...)
}

// order is the order of dates that was said, "" for none or for a whole layout.
func (f *readingFlags) order() logs.DateOrder {
	switch o := logs.DateOrder(strings.ReplaceAll(strings.ToLower(f.dates), " ", "-")); o {
	case logs.DayFirst, logs.MonthFirst, logs.YearFirst:
		return o
	}
	return ""
}

// addColumn takes in what a column holds, by its name or its number.
func addColumn(d *logs.Dialect, text string) error {
	i := strings.LastIndex(text, "=")
	if i < 0 {
		return fmt.Errorf("%q does not say what the column holds; write NAME=UNIT, like \"Temp=°F\"", text)
	}
	c, err := logs.ParseMeaning(text[i+1:])
	if err != nil {
		return err
	}
	name := strings.TrimSpace(text[:i])
	if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= 1000 {
		for len(d.Columns) < n {
			d.Columns = append(d.Columns, logs.Column{})
		}
		d.Columns[n-1] = c
		return nil
	}
	c.Name = name
	d.Columns = append(d.Columns, c)
	return nil
}

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

// over is a profile's dialect with what the person says in its place.
func over(base, said logs.Dialect) logs.Dialect {
	d := base
	if said.Charset != "" {
		d.Charset = said.Charset
	}
	if said.Separator != 0 {
		d.Separator = said.Separator
	}
	if said.Decimal != 0 {
		d.Decimal = said.Decimal
	}
	if said.Layout != "" {
		d.Layout = said.Layout
	}
	if said.Zone != nil {
		d.Zone = said.Zone
	}
	if said.Doubled != logs.ByOrder {
		d.Doubled = said.Doubled
	}
	// Columns without a name count by their place: those come first.
	d.Columns = slices.Clone(said.Columns)
	for _, c := range base.Columns {
		if !slices.ContainsFunc(said.Columns, func(s logs.Column) bool { return s.Name == c.Name }) {
			d.Columns = append(d.Columns, c)
		}
	}
	return d
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

// chooseProfile is the dialect of the profile that was named or that the person
// takes, empty for none. What else fits is noted.
func (r *logReader) chooseProfile(from logSource, out *readLog) (logs.Dialect, error) {
	if r.flags.profile != "" {
		if r.company == nil {
			return logs.Dialect{}, &usageError{"--profile: profiles are kept in a company's folder, and this is none\nsay what the file needs instead: --zone, --dates, --decimal, --column"}
		}
		p, err := r.company.LogProfile(r.flags.profile)
		out.profile = p.Name
		return p.Dialect, err
	}
	if r.company == nil {
		return logs.Dialect{}, nil
	}
	profiles, err := r.company.LogProfiles()
	if err != nil {
		r.e.sayf("%s\n", terminalText(err.Error()))
	}
	if len(profiles) == 0 {
		return logs.Dialect{}, nil
	}
	head, err := from.head()
	if err != nil {
		return logs.Dialect{}, err
	}
	return r.offerProfiles(profiles, head, out)
}

func (r *logReader) offerProfiles(profiles []jobs.LogProfile, head []byte, out *readLog) (logs.Dialect, error) {
	for _, p := range profiles {
		if !p.Fits(head, cmpZone(out.answers.Zone, r.site)) {
			continue
		}
		if r.e.terminal && !r.flags.given() && out.profile == "" {
			yes, err := r.e.askOr(fmt.Sprintf("%s looks like the files of profile %s. Read it so", terminalText(out.name), p.Name), "yes")
			if err != nil {
				return logs.Dialect{}, err
			}
			if strings.HasPrefix(strings.ToLower(yes), "y") {
				out.profile = p.Name
				return p.Dialect, nil
			}
		}
		out.fits = append(out.fits, p.Name)
	}
	return logs.Dialect{}, nil
}

// cmpZone is the first zone that is known; UTC for a file whose zone is not known
// yet, which does not change whether a profile fits.
func cmpZone(zones ...*time.Location) *time.Location {
	for _, z := range zones {
		if z != nil {
			return z
		}
	}
	return time.UTC
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

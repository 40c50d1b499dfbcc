package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/logs"
	"proveout/jobs"
)

// loggerFlags are what is said of a logger's file that goes into a job: how it is
// read, and how its logger hung.
type loggerFlags struct {
	readingFlags
	place, distance        string
	offset, humidityOffset string
	salts                  []string
}

func (f *loggerFlags) addFlags(c *cobra.Command) {
	f.readingFlags.addFlags(c)
	s := c.Flags()
	s.StringVar(&f.place, "logger-at", "", "logger file: where the logger stood, when that is not the place of the answer, like \"room low\", \"supply air\", house or power")
	s.StringVar(&f.distance, "distance", "", "logger file: how far the logger stood from the supply air, like \"4 ft\"")
	s.StringVar(&f.offset, "offset", "", "logger file: what the logger showed more than the reference, like \"0.3 °F\"; it is taken off")
	s.StringVar(&f.humidityOffset, "humidity-offset", "", "logger file: the same for humidity, like \"2 %\"")
	s.StringArrayVar(&f.salts, "salt", nil, "logger file: what it showed over a salt, like \"sodium chloride, 75 °F, 76 %\"; wanted twice")
}

// hung reports whether something was said of the logger beside how to read it.
func (f *loggerFlags) hung() bool {
	return f.place+f.distance+f.offset+f.humidityOffset != "" || f.salts != nil
}

// set takes in one value by its flag's name, from a cell of a sheet; false for a
// name that is none of these.
func (f *loggerFlags) set(name, text string) bool {
	to, ok := map[string]*string{
		"zone": &f.zone, "dates": &f.dates, "decimal": &f.decimal, "doubled-hour": &f.doubled, "charset": &f.charset,
		"separator": &f.separator, "profile": &f.profile, "logger-at": &f.place, "distance": &f.distance,
		"offset": &f.offset, "humidity-offset": &f.humidityOffset,
	}[name]
	switch {
	case ok:
		*to = text
	case name == "salt":
		f.salts = append(f.salts, text)
	case name == "column":
		f.columns = append(f.columns, text)
	default:
		return false
	}
	return true
}

// readLoggers reads the files of an answer that are a logger's, asks what they
// leave open, and notes it with them. A check of logs takes no other files.
func (d *desk) readLoggers(f *loggerFlags, q *checks.Question, files []*jobs.Incoming) error {
	check := checks.ByName(q.Compute)
	if check == nil || !check.Log {
		if !f.given() && !f.hung() {
			return nil
		}
		if len(files) == 0 {
			return &usageError{"flags of a logger file are given, and no file"}
		}
	}
	if len(files) > 1 && f.hung() {
		return &usageError{"where a logger hung and what is wrong with it belongs to one file; attach the files one by one: proveout attach"}
	}
	for _, in := range files {
		if err := d.readLogger(f, in); err != nil {
			return err
		}
	}
	return nil
}

func (d *desk) readLogger(f *loggerFlags, in *jobs.Incoming) error {
	read, err := d.logReader(&f.readingFlags).read(logSource{
		name: in.Name, read: in.Log, head: func() ([]byte, error) { return in.Head(), nil },
	})
	if err != nil {
		return err
	}
	if err := d.usable(read); err != nil {
		return err
	}
	l, err := f.logger(in.Logger)
	if err != nil {
		return err
	}
	l.Reading = jobs.ReadingOf(read.File, read.profile)
	d.tellRead(read)
	return setLogger(in, f.place, l)
}

// setLogger keeps the place that was known when none is said.
func setLogger(in *jobs.Incoming, place string, l jobs.Logger) error {
	if place == "" {
		place = in.Place
	}
	return in.SetLogger(place, l)
}

// logger is what the flags say of the logger, over what was known of it.
func (f *loggerFlags) logger(known *jobs.Logger) (jobs.Logger, error) {
	var l jobs.Logger
	if known != nil {
		l = *known
	}
	for _, v := range []struct {
		text string
		to   *string
	}{{f.distance, &l.Distance}, {f.offset, &l.Offset}, {f.humidityOffset, &l.HumidityOffset}} {
		if v.text != "" {
			*v.to = v.text
		}
	}
	if f.salts != nil {
		l.Salts = nil
	}
	for _, text := range f.salts {
		p, err := jobs.ParseSaltPoint(text)
		if err != nil {
			return l, fmt.Errorf("--salt: %w", err)
		}
		l.Salts = append(l.Salts, p)
	}
	return l, nil
}

// logReader reads in the job's time zone, with the company's profiles.
func (d *desk) logReader(f *readingFlags) *logReader {
	return &logReader{e: d.e, flags: f, company: d.company, site: d.job.Zone, siteFrom: jobs.JobFile}
}

// usable refuses a log that no check can take anything from.
func (d *desk) usable(l *readLog) error {
	var names []string
	for _, s := range l.Columns {
		if s.Quantity != logs.Unknown {
			return nil
		}
		names = append(names, fmt.Sprintf("%q", s.Name))
	}
	return &jobs.Problem{
		Kind: jobs.ErrInput,
		What: fmt.Sprintf("%s: no column says what it measures; there are %s", l.name, strings.Join(names, ", ")),
		Next: "say it: --column \"NAME=°C\"; look at the file: proveout log " + l.name,
	}
}

// mostTold is how many rejected rows are told when a file goes into a job.
const mostTold = 5

// tellRead says beside the result how a file was read, and what of it was not.
func (d *desk) tellRead(l *readLog) {
	say := func(format string, args ...any) { d.e.sayf("%s\n", terminalText(fmt.Sprintf(format, args...))) }
	p := l.Preview
	const layout = "2006-01-02 15:04"
	say("%s: %s, one every %s, %s to %s, time zone %s (%s)", l.name, plural(p.Rows, "row"), seconds(p.Interval.Seconds()),
		p.Start.Format(layout), p.End.Format(layout), l.Dialect.Zone, l.zoneWords())
	var columns []string
	for _, s := range l.Columns {
		unit := s.Unit
		if s.Quantity == logs.Unknown {
			unit = "unit not known, not used"
		}
		columns = append(columns, strings.TrimSuffix(s.Name+", "+unit, ", "))
	}
	say("  columns: %s", strings.Join(columns, "; "))
	for i, r := range l.Rejected {
		if i == mostTold {
			say("  and %d more that could not be read; see: proveout log %s --rejected", len(l.Rejected)-i, l.name)
			break
		}
		say("  not read: %s", logRejection{r.Line, r.Column, r.Text, r.Reason}.words())
	}
	for _, name := range l.fits {
		say("  profile %s fits this file too: --profile %s", name, name)
	}
}

// relogged are the files of a record once more, with what is said anew of their
// logger; nil when nothing is.
func (d *desk) relogged(f *loggerFlags, old *jobs.Record) ([]*jobs.Incoming, error) {
	if !f.given() && !f.hung() {
		return nil, nil
	}
	if len(old.Files) != 1 {
		return nil, &usageError{fmt.Sprintf("%s has %s; what is said of a logger belongs to one\ntake it back and attach the files again", old.ShortID(), plural(len(old.Files), "file"))}
	}
	in, err := d.job.Again(old.Files[0])
	if err != nil {
		return nil, err
	}
	if f.given() || in.Logger == nil || in.Logger.Reading == nil {
		return []*jobs.Incoming{in}, d.readLogger(f, in)
	}
	l, err := f.logger(in.Logger)
	if err != nil {
		return nil, err
	}
	return []*jobs.Incoming{in}, setLogger(in, f.place, l)
}

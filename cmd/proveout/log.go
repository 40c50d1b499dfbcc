package main

import (
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/logs"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/templates/figure"
)

func logCommand(e *env) *cobra.Command {
	l := &logging{}
	c := &cobra.Command{
		Use:   "log FILE…",
		Short: "Look at logger files: what was understood, figures, course",
		Long: `Reads the files of temperature, humidity, power and other loggers as they come:
with comma, semicolon or tab, decimal point or comma, in the character sets and
date formats of many countries. It says what was understood: columns with their
units, time zone, interval, span, gaps, the hour that is missing or comes twice
when the clocks change, and each row or cell that could not be read with its line
and the reason. Then figures weighted with time, and the course as a picture.

Nothing is guessed. Where a file can be read in two ways, day and month above
all, it asks on a terminal; elsewhere it stops and says what to type. The time
zone is that of the job or the company, and said; --zone names another one, or a
fixed offset for a logger whose clock does not follow summer time.

--save NAME keeps the answers as a profile in the company's folder loggers/, for
other files of the same logger: --profile NAME. On a terminal a profile that fits
is offered. Nothing is written otherwise; "proveout record" and "proveout attach"
put a file into a job, with the same flags.`,
		Example: `  proveout log room.csv
  proveout log room.csv --dates day-first --zone -06:00 --save cellar-logger
  proveout log low.csv middle.csv high.csv --profile cellar-logger --from "2026-05-06 00:00"
  proveout log meter.txt --column "Reading=kWh" --column "Note=leave out" --json`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error { return l.run(e, c, args) },
	}
	l.flags.addFlags(c)
	spanFlags(c)
	c.Flags().StringVar(&l.save, "save", "", "keep how this file is read as a profile of the company, under this name")
	c.Flags().StringVar(&l.units, "units", "", "US or SI: the units of figures and picture (default: the company's, or the file's)")
	c.Flags().BoolVar(&l.rejected, "rejected", false, "list every row and cell that could not be read")
	return c
}

// spanFlags name the part of a log that counts.
func spanFlags(c *cobra.Command) {
	c.Flags().String("from", "", "leave out what is before, as \"2026-05-04 14:00\"")
	c.Flags().String("to", "", "leave out what is after, as \"2026-05-05 14:00\"")
}

// logging is what the command line of proveout log says.
type logging struct {
	flags       readingFlags
	save, units string
	rejected    bool
}

func (l *logging) run(e *env, c *cobra.Command, names []string) error {
	if l.save != "" && len(names) > 1 {
		return &usageError{"--save keeps how one file is read; name one file"}
	}
	r := e.logReader(c, &l.flags)
	report := logReport{}
	var panels coursePanels
	for _, name := range names {
		read, err := r.read(e.fileSource(name))
		if err != nil {
			return err
		}
		system, err := l.system(r, read)
		if err != nil {
			return err
		}
		from, to, err := e.logSpan(c, read.Dialect.Zone)
		if err != nil {
			return err
		}
		report.Files = append(report.Files, newLogFile(read, system, from, to))
		panels.add(read, system, from, to, len(names) > 1)
		if err := l.keep(r, read, &report); err != nil {
			return err
		}
	}
	if wantsJSON(c) {
		return e.printJSON(report)
	}
	for _, f := range report.Files {
		f.print(e, l.rejected)
	}
	e.printf("%s", terminalText(panels.text(e.width)))
	if report.Saved != "" {
		e.printf("\nsaved as profile %s in %s\n  proveout log FILE --profile %s\n", l.save, e.shown(report.Saved), l.save)
	}
	return nil
}

// keep saves the profile, when that is asked for.
func (l *logging) keep(r *logReader, read *readLog, report *logReport) error {
	if l.save == "" {
		return nil
	}
	if r.company == nil {
		return &usageError{"--save: profiles are kept in a company's folder, and this is none\nstart one with: proveout new --company"}
	}
	var err error
	report.Saved, err = r.company.SaveLogProfile(jobs.ProfileOf(read.File, read.answers, l.save, r.e.now()))
	return err
}

// system takes the units of the figures: as asked, the company's, or those of the
// file's temperatures.
func (l *logging) system(r *logReader, read *readLog) (units.System, error) {
	switch l.units {
	case "US", "us":
		return units.US, nil
	case "SI", "si":
		return units.SI, nil
	case "":
	default:
		return 0, &usageError{fmt.Sprintf("--units is %q; write US or SI", l.units)}
	}
	if r.company != nil {
		return r.company.Units, nil
	}
	if slices.ContainsFunc(read.Columns, func(s logs.Series) bool { return s.Unit == "°F" }) {
		return units.US, nil
	}
	return units.SI, nil
}

// logSpan is the time that --from and --to name, in the logger's zone.
func (e *env) logSpan(c *cobra.Command, zone *time.Location) (from, to time.Time, err error) {
	if from, err = e.flagMoment(c, "from", zone); err != nil {
		return from, to, err
	}
	to, err = e.flagMoment(c, "to", zone)
	return from, to, err
}

// flagMoment reads the time of a flag in a zone; without the flag it is zero.
func (e *env) flagMoment(c *cobra.Command, flag string, zone *time.Location) (time.Time, error) {
	text, err := c.Flags().GetString(flag)
	if err != nil || text == "" {
		return time.Time{}, err
	}
	t, err := jobs.ParseMoment(text, zone, e.now())
	if err != nil {
		return t, fmt.Errorf("--%s: %w", flag, err)
	}
	return t, nil
}

// coursePanels are the courses of all files, a panel for each quantity.
type coursePanels struct {
	from, to time.Time
	gap      time.Duration
	lines    map[logs.Quantity][]figure.LogLine
	axis     map[logs.Quantity]string
}

// coursed are the quantities with a picture.
var coursed = []logs.Quantity{logs.Temperature, logs.RelativeHumidity}

func (p *coursePanels) add(l *readLog, system units.System, from, to time.Time, many bool) {
	if p.lines == nil {
		p.lines, p.axis = map[logs.Quantity][]figure.LogLine{}, map[logs.Quantity]string{}
	}
	start, end := l.Preview.Start, l.Preview.End
	if from.After(start) {
		start = from
	}
	if !to.IsZero() && to.Before(end) {
		end = to
	}
	if p.from.IsZero() || start.Before(p.from) {
		p.from = start
	}
	if end.After(p.to) {
		p.to = end
	}
	p.gap = max(p.gap, 3*l.Preview.Interval/2)
	for _, q := range coursed {
		for _, s := range l.Find(q) {
			name := s.Name
			if many {
				name = l.name + ": " + s.Name
			}
			p.lines[q] = append(p.lines[q], figure.LogLine{Name: name, Times: s.Times, Values: shownValues(q, s.Values, system)})
			p.axis[q] = fmt.Sprintf("%s, %s", q, shownUnit(q, system))
		}
	}
}

// text is the picture, "" when there is nothing to draw.
func (p *coursePanels) text(width int) string {
	f := figure.Log{From: p.from, To: p.to, Gap: p.gap}
	for _, q := range coursed {
		if p.lines[q] != nil {
			f.Panels = append(f.Panels, figure.LogPanel{Axis: p.axis[q], Lines: p.lines[q]})
		}
	}
	if f.Panels == nil || !p.from.Before(p.to) {
		return ""
	}
	return "\n" + f.Text(min(width, 100))
}

// shownUnit is the unit that values of a quantity are shown in.
func shownUnit(q logs.Quantity, system units.System) string {
	if system == units.US && (q == logs.Temperature || q == logs.DewPoint) {
		return "°F"
	}
	return q.Unit()
}

// shownValues are values in the unit that they are shown in.
func shownValues(q logs.Quantity, values []float64, system units.System) []float64 {
	if shownUnit(q, system) == q.Unit() {
		return values
	}
	shown := make([]float64, len(values))
	for i, v := range values {
		shown[i] = v*9/5 + 32
	}
	return shown
}

// shown is one value with its unit.
func shown(q logs.Quantity, v float64, system units.System) string {
	if math.IsNaN(v) {
		return "none"
	}
	if kind, ok := shownKinds[q]; ok {
		return units.Of(kind, v, system).String()
	}
	return fmt.Sprintf("%.7g %s", v, q.Unit())
}

var shownKinds = map[logs.Quantity]units.Kind{
	logs.Temperature: units.TemperatureKind, logs.DewPoint: units.TemperatureKind, logs.RelativeHumidity: units.HumidityKind,
}

package main

import (
	"fmt"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// mostRejected is how many rejected rows and cells are listed unless all are asked
// for. Their number always stands.
const mostRejected = 10

// print writes what was understood of a file, and its figures.
func (f *logFile) print(e *env, all bool) {
	e.printf("%s\n", e.bold(terminalText(f.File)))
	line := func(name, format string, args ...any) {
		e.printf("  %-13s %s\n", name, terminalText(fmt.Sprintf(format, args...)))
	}
	line("rows", "%d read, %d rejected, %d blank, %s%s", f.Rows, f.Rejected, f.Blank, f.RowsOrder, f.cells())
	line("time", "%s to %s", f.clock(f.Start), f.clock(f.End))
	line("time zone", "%s, %s", f.Zone, f.ZoneFrom)
	f.printSteps(line)
	f.printChanges(line)
	line("dates", "%s", f.dates())
	line("text", "%s", f.textWords())
	if f.Profile != "" {
		line("profile", "%s", f.Profile)
	}
	for _, name := range f.Fits {
		line("profile", "%s fits this file too: --profile %s", name, name)
	}
	for i, text := range f.Preamble {
		line([]string{"above header", ""}[min(i, 1)], "%s", text)
	}
	for i, note := range f.Notes {
		line([]string{"notes", ""}[min(i, 1)], "%s", note)
	}
	f.printColumns(e)
	f.printRejected(e, all)
}

// cells says how many single cells were rejected in rows that were read.
func (f *logFile) cells() string {
	if n := len(f.Rejections) - f.Rejected; n > 0 {
		return fmt.Sprintf("; %s of these rows rejected", number(n, "cell"))
	}
	return ""
}

// clock is a time of the file with its offset, so that both passes of an hour that
// comes twice can be told apart.
func (f *logFile) clock(t time.Time) string { return t.Format("2006-01-02 15:04 -07:00") }

func seconds(s float64) string { return units.Of(units.DurationKind, s, units.US).String() }

func (f *logFile) printSteps(line func(name, format string, args ...any)) {
	text := "one row every " + seconds(f.Interval)
	if f.Interval == 0 {
		text = "not known from one row"
	}
	if f.Gaps > 0 {
		text += fmt.Sprintf("; %s, the longest %s", number(f.Gaps, "gap"), seconds(f.Longest))
	} else {
		text += "; no gaps"
	}
	if f.Same > 0 {
		text += fmt.Sprintf("; %s with the time of the row before", number(f.Same, "row"))
	}
	line("interval", "%s", text)
}

// printChanges tells of the hours that are missing or come twice.
func (f *logFile) printChanges(line func(name, format string, args ...any)) {
	for i, c := range f.Changes {
		name, what := "", "back by %s: an hour comes twice"
		if i == 0 {
			name = "clock change"
		}
		if c.By > 0 {
			what = "forward by %s: an hour is missing"
		}
		line(name, "%s "+what, f.clock(c.At), seconds(max(c.By, -c.By)))
	}
	if f.Doubled > 0 {
		line("", "%s in the hour that comes twice", number(f.Doubled, "row"))
	}
	if f.Open > 0 {
		line("", "%s of the hour that comes twice left out; say which pass they are: --doubled-hour first, or second", number(f.Open, "row"))
	}
	if f.Missing > 0 {
		line("", "%s in the missing hour left out; if the logger does not follow summer time: --zone %s", number(f.Missing, "row"), f.standardOffset())
	}
}

// standardOffset is the offset that a logger keeps which stayed at winter time.
func (f *logFile) standardOffset() string {
	for _, c := range f.Changes {
		if c.By > 0 {
			return c.At.Add(-time.Second).Format("-07:00")
		}
	}
	return f.Start.Format("-07:00")
}

// dates says how dates are read.
func (f *logFile) dates() string {
	words := map[logs.DateOrder]string{logs.DayFirst: "day first", logs.MonthFirst: "month first", logs.YearFirst: "year first"}
	text := words[logs.DateOrder(f.Order)]
	switch {
	case f.Layout == "unix":
		return "seconds since 1970 (Unix time)"
	case f.Layout == "unix ms":
		return "milliseconds since 1970 (Unix time)"
	case text == "":
		text = "month in words"
	}
	return text + ": 2 January 2006, 15:04:05 is " + f.Layout
}

func (f *logFile) textWords() string {
	text := fmt.Sprintf("%s, between columns a %s, decimal %s", f.Charset, f.Separator, f.Decimal)
	if f.Group != "" {
		text += ", thousands " + f.Group
	}
	if f.HeaderLine > 0 {
		return text + fmt.Sprintf(", header in line %d, rows from line %d", f.HeaderLine, f.FirstRow)
	}
	return text + ", no header"
}

// printColumns prints what each column holds, and its figures.
func (f *logFile) printColumns(e *env) {
	for _, c := range f.Columns {
		e.printf("  %d  %s: %s\n", c.Number, terminalText(c.Name), terminalText(c.words()))
		if c.Figures != nil {
			for _, text := range c.figureLines(f.system) {
				e.printf("       %s\n", text)
			}
		}
	}
}

// words say what a column holds.
func (c logColumn) words() string {
	switch {
	case c.Quantity == string(logs.State) || c.Holds == string(logs.OnOff):
		return "on/off"
	case c.Holds != string(logs.Value):
		return c.Holds
	case c.Quantity == "":
		return "kept as written, no figures; " + c.Why
	}
	text := c.Quantity + " in " + c.Written
	if c.Why != "" {
		text += "; " + c.Why
	}
	return text
}

// figureLines are the figures in words.
func (c logColumn) figureLines(system units.System) []string {
	q, g := logs.Quantity(c.Quantity), c.Figures
	seen := fmt.Sprintf("observed %s, %.1f %% of the time", seconds(g.Observed), 100*g.Coverage)
	switch q {
	case logs.State:
		return []string{fmt.Sprintf("on %.1f %% of the time; %s", 100*g.Mean, seen)}
	case logs.Energy:
		return []string{fmt.Sprintf("counted %s, lowest %s, highest %s", shown(q, g.Rise, system), shown(q, g.Min, system), shown(q, g.Max, system)), seen}
	}
	sd := fmt.Sprintf("%.3g %s", g.SD, q.Unit())
	if q == logs.Temperature || q == logs.DewPoint {
		sd = units.Of(units.TemperatureDifferenceKind, g.SD, system).String()
	}
	return []string{
		fmt.Sprintf("mean %s, SD %s, lowest %s, highest %s", shown(q, g.Mean, system), sd, shown(q, g.Min, system), shown(q, g.Max, system)),
		fmt.Sprintf("5, 50, 95 %% of the time below %s, %s, %s", shown(q, g.P5, system), shown(q, g.P50, system), shown(q, g.P95, system)),
		seen,
	}
}

// printRejected lists the rows and cells that were not read.
func (f *logFile) printRejected(e *env, all bool) {
	if len(f.Rejections) == 0 {
		return
	}
	e.printf("  not read, %s:\n", rowsOrCells(len(f.Rejections)))
	for i, r := range f.Rejections {
		if i == mostRejected && !all {
			e.printf("    and %d more; all of them: --rejected\n", len(f.Rejections)-i)
			return
		}
		e.printf("    %s\n", terminalText(r.words()))
	}
}

// words are a rejection in one line.
func (r logRejection) words() string {
	where := fmt.Sprintf("line %d", r.Line)
	if r.Column != "" {
		where += ", " + r.Column
	}
	return where + ": " + strings.TrimSpace(r.Text) + ": " + r.Reason
}

func rowsOrCells(n int) string {
	if n == 1 {
		return "1 row or cell"
	}
	return fmt.Sprintf("%d rows or cells", n)
}

package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks/logs"
	"proveout/jobs"
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

package logs

import (
	"errors"
	"fmt"
	"strings"
	"time"
)

// What keeps a file from being read. Test with errors.Is; the error itself
// says what was found where, and which field of the Dialect answers it.
var (
	ErrEmpty           = errors.New("the file has no rows")
	ErrNotText         = errors.New("the file is not a text file")
	ErrNoTimes         = errors.New("no column of dates and times was found")
	ErrAmbiguousDate   = errors.New("day and month cannot be told apart")
	ErrAmbiguousNumber = errors.New("decimal mark and thousands mark cannot be told apart")
	ErrNoZone          = errors.New("the file names no time zone")
	ErrColumns         = errors.New("header and rows do not have the same columns")
	ErrDialect         = errors.New("the dialect given does not fit")
)

// AmbiguousDate names the readings of a date that the file allows, or the rows
// that contradict each other. It is an ErrAmbiguousDate.
type AmbiguousDate struct {
	Line     int
	Text     string
	Readings []Reading
}

// Reading is one way to read a date.
type Reading struct {
	Layout string    // set Dialect.Layout to this
	Time   time.Time // what the text is then; its zone means nothing

	// A row that this layout alone can read. Line is 0 unless the file mixes
	// two orders of day and month.
	Line int
	Text string
}

func (e *AmbiguousDate) Error() string {
	mixed := len(e.Readings) > 0 && e.Readings[0].Line > 0
	parts := make([]string, len(e.Readings))
	for i, r := range e.Readings {
		date := r.Time.Format("2 January 2006")
		if mixed {
			parts[i] = fmt.Sprintf("line %d: %q can only be %s (layout %q)", r.Line, r.Text, date, r.Layout)
		} else {
			parts[i] = fmt.Sprintf("%s (layout %q)", date, r.Layout)
		}
	}
	if mixed {
		return strings.Join(parts, "; ") + "; a spreadsheet may have rewritten the dates: export them from the logger again"
	}
	return fmt.Sprintf("line %d: %q can be %s; say which layout the logger writes", e.Line, e.Text, strings.Join(parts, " or "))
}

// Is makes errors.Is(err, ErrAmbiguousDate) true.
func (e *AmbiguousDate) Is(target error) bool { return target == ErrAmbiguousDate }

// AmbiguousNumber is a number whose mark can be decimal or thousands.
// It is an ErrAmbiguousNumber.
type AmbiguousNumber struct {
	Line int
	Text string
	Mark byte
}

func (e *AmbiguousNumber) Error() string {
	whole := strings.ReplaceAll(e.Text, string(e.Mark), "")
	return fmt.Sprintf("line %d: %q can be %s or %s; say whether %q is the decimal mark",
		e.Line, e.Text, strings.ReplaceAll(e.Text, string(e.Mark), "."), whole, e.Mark)
}

// Is makes errors.Is(err, ErrAmbiguousNumber) true.
func (e *AmbiguousNumber) Is(target error) bool { return target == ErrAmbiguousNumber }

// problem is a sentinel with what was found.
type problem struct {
	kind error
	text string
}

func (p *problem) Error() string { return p.text }
func (p *problem) Unwrap() error { return p.kind }

func problemf(kind error, format string, args ...any) error {
	return &problem{kind, fmt.Sprintf(format, args...)}
}

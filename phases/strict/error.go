package strict

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Pos is a place in a file. Line and Column count from 1; Column counts
// characters, as an editor does, not bytes. A zero Line means the file as a
// whole.
type Pos struct {
	File         string
	Line, Column int
}

// String returns file:line:column.
func (p Pos) String() string {
	if p.Line == 0 {
		return p.File
	}
	return p.File + ":" + strconv.Itoa(p.Line) + ":" + strconv.Itoa(p.Column)
}

// Error is one problem of a file and where it is.
type Error struct {
	Pos  Pos
	Text string
}

// Error returns the position and the text, such as
// jobs/x/phases/05.yaml:14:9: foam-depth: key "ask" is missing.
func (e *Error) Error() string { return e.Pos.String() + ": " + e.Text }

// Errors are the problems of a file in the order of their positions.
type Errors []*Error

// Error returns one line for each problem.
func (es Errors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap lets errors.As find each problem.
func (es Errors) Unwrap() []error {
	all := make([]error, len(es))
	for i, e := range es {
		all[i] = e
	}
	return all
}

// mostErrors bounds the report on a file that is wrong from end to end.
const mostErrors = 100

// sorted returns the problems in order of position, each once, at most
// mostErrors of them and a line that says how many were left out.
func sorted(es Errors) Errors {
	es = slices.Clone(es)
	slices.SortStableFunc(es, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Column, b.Pos.Column))
	})
	es = slices.CompactFunc(es, func(a, b *Error) bool { return *a == *b })
	if more := len(es) - mostErrors; more > 0 {
		rest := &Error{Pos: es[mostErrors].Pos, Text: fmt.Sprintf("and %d more problems from here on", more)}
		es = append(es[:mostErrors:mostErrors], rest)
	}
	return es
}

// orNil keeps an empty list from becoming an error that is not nil.
func orNil(es Errors) error {
	if len(es) == 0 {
		return nil
	}
	return sorted(es)
}

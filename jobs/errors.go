package jobs

import (
	"errors"
	"fmt"
	"strings"

	"proveout/phases/strict"
)

// Kinds of error that a command answers with its own exit code.
var (
	ErrNotFound  = errors.New("not found")
	ErrInput     = errors.New("bad input")
	ErrShut      = errors.New("hold is shut")
	ErrDecide    = errors.New("a person must decide")
	ErrIntegrity = errors.New("integrity")
)

// Problem is an error with what to type next. Its kind is one of the errors
// above.
type Problem struct {
	Kind error
	What string // what is wrong and why, lower case
	Next string // what to type or do
}

func (p *Problem) Error() string {
	if p.Next == "" {
		return p.What
	}
	return p.What + "\n" + p.Next
}

// Unwrap returns the kind.
func (p *Problem) Unwrap() error { return p.Kind }

func problem(kind error, next, format string, args ...any) error {
	return &Problem{Kind: kind, What: fmt.Sprintf(format, args...), Next: next}
}

// Unknown is the error for a name that nothing has, with near matches.
func Unknown(what, name string, known []string, next string) error {
	text := fmt.Sprintf("there is no %s %q", what, name)
	near := strict.Nearest(name, known)
	switch {
	case len(near) > 0:
		next = "did you mean " + strings.Join(near, " or ") + "?"
	case len(known) > 0 && len(known) <= 12:
		next = "known are: " + strings.Join(known, ", ")
	}
	return &Problem{Kind: ErrNotFound, What: text, Next: next}
}

package main

import (
	"encoding/json"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/templates"
)

// printf writes a result; text from the job goes through terminalText first.
func (e *env) printf(format string, args ...any) { fmt.Fprintf(e.out, format, args...) }

// sayf writes a message beside the results.
func (e *env) sayf(format string, args ...any) { fmt.Fprintf(e.err, format, args...) }

// wantsJSON reports whether data is wanted instead of text.
func wantsJSON(c *cobra.Command) bool {
	on, err := c.Flags().GetBool("json")
	return err == nil && on
}

// printJSON writes v as indented JSON.
func (e *env) printJSON(v any) error {
	enc := json.NewEncoder(e.out)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}

// quietError carries an exit code for a result that is printed already.
type quietError struct{ kind error }

func (q *quietError) Error() string { return q.kind.Error() }
func (q *quietError) Unwrap() error { return q.kind }

func isQuiet(err error) bool {
	var q *quietError
	return errors.As(err, &q)
}

// terminalText makes text from a file safe to print; line ends stay.
func terminalText(text string) string { return templates.Terminal(text) }

// The marks that stand before an outcome, so that colour is never the only
// sign.
var marks = map[checks.Outcome]string{checks.Pass: "pass", checks.Fail: "FAIL", checks.Undecided: "open"}

// colours are ANSI codes; the mark beside them says the same.
var colours = map[checks.Outcome]string{checks.Pass: "\x1b[32m", checks.Fail: "\x1b[31m", checks.Undecided: "\x1b[33m"}

func (e *env) mark(o checks.Outcome) string {
	if !e.color {
		return marks[o]
	}
	return colours[o] + marks[o] + "\x1b[0m"
}

// bold makes a heading stand out where the terminal can.
func (e *env) bold(text string) string {
	if !e.color {
		return text
	}
	return "\x1b[1m" + text + "\x1b[0m"
}

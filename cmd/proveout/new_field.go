package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/units"
	"proveout/phases/strict"
)

// field is one thing that something new has to say: a flag, and the question
// that stands for it on a terminal.
type field struct {
	flag, ask string
	otherwise string // taken when nothing is said
	must      bool   // there is no otherwise: it has to be said
	check     func(text string) error
	to        *string
}

// addFields adds the flags of fields.
func addFields(c *cobra.Command, fields []*field) {
	for _, f := range fields {
		about := strings.ToLower(f.ask[:1]) + f.ask[1:]
		if f.otherwise != "" {
			about += fmt.Sprintf(" (default %s)", f.otherwise)
		}
		c.Flags().StringVar(f.to, f.flag, "", about)
	}
}

// checkFlags checks what flags said, and returns the flags that must still say
// something.
func checkFlags(fields []*field) (missing []string, err error) {
	for _, f := range fields {
		switch {
		case *f.to != "":
			if err := f.accept(*f.to); err != nil {
				return nil, &usageError{fmt.Sprintf("--%s: %v", f.flag, err)}
			}
		case f.must:
			missing = append(missing, "--"+f.flag)
		}
	}
	return missing, nil
}

// accept checks a text and takes it.
func (f *field) accept(text string) error {
	text = strings.TrimSpace(text)
	if f.check != nil {
		if err := f.check(text); err != nil {
			return err
		}
	}
	*f.to = text
	return nil
}

// fill asks for what was not said by a flag, or takes what stands for it.
func (e *env) fill(fields []*field, asking bool) error {
	for _, f := range fields {
		if *f.to != "" {
			continue
		}
		if !asking {
			*f.to = f.otherwise
			continue
		}
		if err := e.askField(f); err != nil {
			return err
		}
	}
	return nil
}

// askField asks until the answer can be taken.
func (e *env) askField(f *field) error {
	question := f.ask
	if !f.must && f.otherwise == "" {
		question += " (empty: later)"
	}
	return e.askUntil(question, f.otherwise, func(text string) error {
		if text == "" && !f.must {
			return nil
		}
		return f.accept(text)
	})
}

// askUntil asks until take accepts the answer; otherwise stands for an empty
// one.
func (e *env) askUntil(question, otherwise string, take func(text string) error) error {
	for {
		answer, err := e.askMaybe(question, otherwise)
		if err != nil {
			return err
		}
		if err = take(answer); err == nil {
			return nil
		}
		e.sayf("  %s\n", terminalText(strings.ReplaceAll(err.Error(), "\n", "\n  ")))
	}
}

// askMaybe is askOr when there is something to offer, ask otherwise.
func (e *env) askMaybe(question, otherwise string) (string, error) {
	if otherwise == "" {
		return e.ask(question)
	}
	return e.askOr(question, otherwise)
}

// The checks of fields.

func notEmpty(text string) error {
	if text == "" {
		return fmt.Errorf("an answer is needed")
	}
	return nil
}

func quantityOf(kind units.Kind) func(string) error {
	return func(text string) error {
		_, err := units.Parse(kind, text)
		return err
	}
}

func oneOf(words []string) func(string) error {
	return func(text string) error {
		if slices.Contains(words, text) {
			return nil
		}
		if near := strict.Nearest(text, words); near != nil {
			return fmt.Errorf("%q is not one of: %s\ndid you mean %s?", text, strings.Join(words, ", "), strings.Join(near, " or "))
		}
		return fmt.Errorf("%q is not one of: %s", text, strings.Join(words, ", "))
	}
}

func aDate(text string) error {
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return fmt.Errorf("%q is not a date; write it as 2026-05-04", text)
	}
	return nil
}

func aYear(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 1600 || n > 2200 {
		return fmt.Errorf("%q is not a year; write it as 1964", text)
	}
	return nil
}

func aCount(text string) error {
	if n, err := strconv.Atoi(text); err != nil || n < 0 {
		return fmt.Errorf("%q is not a number of bottles; write digits alone, like 520", text)
	}
	return nil
}

func aZone(text string) error {
	if _, err := time.LoadLocation(text); err != nil || text == "Local" || text == "" {
		return fmt.Errorf("the time zone %q is not known; write one like America/Chicago or Europe/Berlin", text)
	}
	return nil
}

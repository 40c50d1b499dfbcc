package phases

import (
	"fmt"

	"proveout/checks"
	"proveout/phases/strict"
)

// WithoutReason returns the checks of new whose limit was changed since old
// and whose reason was not.
func WithoutReason(old, new *Plan) []*checks.Question {
	former := old.Questions()
	var all []*checks.Question
	for _, h := range new.Holds() {
		for _, q := range h.Checks {
			was := former[q.ID()]
			if was != nil && limitText(was) != limitText(q) && was.LimitReason == q.LimitReason {
				all = append(all, q)
			}
		}
	}
	return all
}

// SetReason writes why a check's limit differs from the default into its phase
// file and leaves every other byte as it is.
func SetReason(file string, data []byte, check, reason string) ([]byte, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	for _, h := range doc.Map().Maps("holds") {
		for _, c := range h.Maps("checks") {
			if c.Text("check") != check {
				continue
			}
			if old, ok := c.OptionalValue("reason"); ok {
				return strict.Splice(file, data, old.Pos(), old.Exact(), reason)
			}
			return strict.InsertAfter(file, data, c.KeyPos("source"), strict.Field{Key: "reason", Value: reason})
		}
	}
	return nil, fmt.Errorf("%s: there is no check %q", file, check)
}

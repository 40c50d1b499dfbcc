package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

func showNonconformityCommand(e *env) *cobra.Command {
	return &cobra.Command{
		Use:     "show NC-1",
		Short:   "Show one, with all that followed and who may do what next",
		Example: `  proveout nonconformity show NC-1`,
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			j, err := e.job(c)
			if err != nil {
				return err
			}
			defer j.Close()
			n, err := j.Nonconformity(strings.ToUpper(args[0]))
			if err != nil {
				return err
			}
			if wantsJSON(c) {
				return e.printJSON(newNonconformityReport(e, j, n))
			}
			printNonconformity(e, j, n)
			return nil
		},
	}
}

func printNonconformities(e *env, c *cobra.Command, j *jobs.Job) error {
	all := j.Nonconformities()
	if wantsJSON(c) {
		reports := []nonconformityReport{}
		for _, n := range all {
			reports = append(reports, newNonconformityReport(e, j, n))
		}
		return e.printJSON(reports)
	}
	if len(all) == 0 {
		e.printf("No nonconformity was raised in %s.\n", j.ID)
		return nil
	}
	for i, n := range all {
		if i > 0 {
			e.printf("\n")
		}
		r := newNonconformityReport(e, j, n)
		e.printf("%s  %s\n", e.bold(r.Number), r.title())
		e.paragraph("      ", "found: "+r.Found)
		printNext(e, r.Next, "      ")
	}
	return nil
}

// nonconformityReport is one nonconformity as data.
type nonconformityReport struct {
	Number      string      `json:"number"`
	Status      string      `json:"status"`
	Hold        string      `json:"hold"`
	Check       string      `json:"check,omitempty"`
	Place       string      `json:"place,omitempty"`
	Requirement string      `json:"requirement"`
	Found       string      `json:"found"`
	Code        bool        `json:"building_code,omitempty"`
	Photos      []string    `json:"photos,omitempty"`
	History     []happening `json:"history"`
	MustAgree   []string    `json:"must_agree,omitempty"`
	Expired     bool        `json:"expired,omitempty"`
	Next        []jobs.Step `json:"next,omitempty"`
}

// happening is one record of a nonconformity's history.
type happening struct {
	What string `json:"what"`
	By   string `json:"by"`
	On   string `json:"on"`
	Text string `json:"text,omitempty"`
}

func newNonconformityReport(e *env, j *jobs.Job, n *jobs.Nonconformity) nonconformityReport {
	r := nonconformityReport{
		Number: n.Record.Nonconformity, Status: n.Status(), Hold: n.Hold, Place: n.Place,
		Requirement: n.Requirement, Found: n.Found, Code: n.Code,
		MustAgree: n.MustAgree(), Expired: n.Expired(e.now()), Next: j.NextSteps(n),
	}
	if n.Check != "" {
		r.Check = n.CheckID()
	}
	for _, p := range n.Photos {
		r.Photos = append(r.Photos, p.Path)
	}
	r.History = []happening{newHappening("raised", n.Record)}
	if n.Disposition != nil {
		r.History = append(r.History, newHappening("decided: "+n.Disposition.Disposition, n.Disposition))
	}
	for _, a := range n.Agreements {
		r.History = append(r.History, newHappening("agreed", a))
	}
	if n.Closing != nil {
		r.History = append(r.History, newHappening("closed", n.Closing))
	}
	return r
}

func newHappening(what string, r *jobs.Record) happening {
	var texts []string
	add := func(label, text string) {
		if text != "" {
			texts = append(texts, label+text)
		}
	}
	add("", r.Reason)
	add("", r.Note)
	add("limits: ", r.Limits)
	if !r.Until.IsZero() {
		add("until ", r.Until.Format("2 Jan 2006"))
	}
	add("cause: ", r.Cause)
	add("against its coming again: ", r.Action)
	by := r.By
	if !slices.Contains(r.Roles, "homeowner") {
		by += ", " + strings.Join(r.Roles, ", ")
	}
	return happening{What: what, By: by, On: r.Entered.Format("2 Jan 2006 15:04"), Text: strings.Join(texts, "; ")}
}

func (r nonconformityReport) title() string {
	title := r.Status
	if r.Check != "" {
		title += ", " + r.Check
	}
	if r.Place != "" {
		title += " at " + r.Place
	}
	return terminalText(title + "; hold " + r.Hold)
}

func printNonconformity(e *env, j *jobs.Job, n *jobs.Nonconformity) {
	r := newNonconformityReport(e, j, n)
	e.printf("%s  %s\n", e.bold(r.Number), r.title())
	e.paragraph("  ", "required: "+r.Requirement)
	e.paragraph("  ", "found: "+r.Found)
	if r.Code {
		e.printf("  a rule of the building code\n")
	}
	for _, p := range r.Photos {
		e.printf("  photo: %s\n", p)
	}
	for _, h := range r.History {
		e.paragraph("  ", h.What+" by "+h.By+", "+h.On+strings.TrimSuffix(": "+h.Text, ": "))
	}
	if r.Expired {
		e.printf("  its time is over: it accepts nothing any more\n")
	}
	printNext(e, r.Next, "  ")
}

// printNext prints what may be done next, and by whom.
func printNext(e *env, next []jobs.Step, indent string) {
	for _, s := range next {
		e.printf("%snext   %s --by NAME\n%s       by: %s\n", indent, s.Command, indent, terminalText(s.By))
	}
}

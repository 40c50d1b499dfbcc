package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// where is bare proveout: in a job where it stands, in a company the review.
func where(e *env, c *cobra.Command) error {
	if _, err := e.jobDir(c); err == nil {
		return jobStatus(e, c, false)
	}
	if _, err := jobs.FindCompany(e.dir); err == nil {
		return review(e, c)
	}
	return c.Help()
}

func statusCommand(e *env) *cobra.Command {
	var records bool
	c := &cobra.Command{
		Use:   "status [JOB]",
		Short: "Where a job stands, or all jobs of the company",
		Long: `In a job: each hold point, what blocks the next one, and what to type.
In the company's folder: the owner's review of all jobs. A job that cannot be
read is shown with its fault and hides no other.`,
		Example: `  proveout status
  proveout status birch-stair
  proveout status birch-stair --records
  proveout status --json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				if err := c.Flags().Set("job", args[0]); err != nil {
					return err
				}
			}
			if _, err := e.jobDir(c); err != nil && len(args) == 0 && !c.Flags().Changed("job") {
				return review(e, c)
			} else if err != nil {
				return err
			}
			return jobStatus(e, c, records)
		},
	}
	c.Flags().BoolVar(&records, "records", false, "list every record with its id")
	return c
}

func jobStatus(e *env, c *cobra.Command, records bool) error {
	j, err := e.job(c)
	if err != nil {
		return err
	}
	defer j.Close()
	g := j.Gate(e.now())
	if wantsJSON(c) {
		return e.printJSON(newStatusReport(j, g))
	}
	e.printf("%s\n", e.bold(terminalText(fmt.Sprintf("%s: %s", j.ID, j.Title))))
	for _, s := range g.States() {
		e.printf("  %-15s %-32s %s\n", s.State, s.Hold.ID(), terminalText(holdNote(s)))
	}
	if records {
		printRecords(e, j)
	}
	return nextSteps(e, j, g)
}

// holdNote says in a few words what a hold waits for.
func holdNote(s *phases.HoldState) string {
	switch s.State {
	case phases.NotApplicable:
		return ""
	case phases.Blocked:
		return "after " + strings.Join(s.BlockedBy, ", ")
	case phases.Stale:
		return strings.Join(s.Stale, "; ")
	case phases.Signed:
		return signers(s)
	case phases.Ready:
		return "to sign: " + strings.Join(s.WantRoles, ", ")
	}
	return counts(s)
}

func signers(s *phases.HoldState) string {
	var names []string
	for _, r := range s.Signed {
		names = append(names, r.By)
	}
	return strings.Join(names, ", ")
}

// counts says how many checks pass, fail and are open.
func counts(s *phases.HoldState) string {
	n := map[checks.Outcome]int{}
	for _, v := range s.Verdicts {
		n[v.Outcome]++
	}
	text := fmt.Sprintf("%d of %d checks pass", n[checks.Pass], len(s.Verdicts))
	if n[checks.Fail] > 0 {
		text += fmt.Sprintf(", %d fail", n[checks.Fail])
	}
	if len(s.Open) > 0 {
		text += ", open: " + strings.Join(s.Open, ", ")
	}
	if len(s.FacesDone) > 0 {
		text += ", released: " + strings.Join(s.FacesDone, ", ")
	}
	return text
}

// nextSteps prints what blocks the job and the next three commands.
func nextSteps(e *env, j *jobs.Job, g *phases.Gate) error {
	if len(j.Edited) > 0 {
		e.printf("\nEdited by hand, not adopted: %s\n  proveout adopt\n", strings.Join(j.Edited, ", "))
		return &quietError{jobs.ErrDecide}
	}
	s := nextHold(g)
	if s == nil {
		e.printf("\nEvery hold is released. Next: proveout document commissioning\n")
		return nil
	}
	e.printf("\nNext: %s, %s\n", e.bold(s.Hold.ID()), terminalText(s.Hold.Title))
	shown := 0
	for _, v := range s.Verdicts {
		if v.Settled() || shown == 3 {
			continue
		}
		shown++
		e.printf("  %s  %s\n", e.mark(v.Outcome), terminalText(v.Check+": "+strings.Join(v.Reasons, "; ")))
		for _, n := range v.Next {
			e.printf("        %s\n", terminalText(n))
		}
	}
	if s.State == phases.Ready || s.State == phases.Stale && s.Settled() {
		e.printf("  proveout signoff %s\n", s.Hold.ID())
		return nil
	}
	e.printf("All of it: proveout check %s\n", s.Hold.ID())
	return nil
}

// nextHold is the first hold that is not released and not blocked: a stale one
// before all others.
func nextHold(g *phases.Gate) *phases.HoldState {
	var next *phases.HoldState
	for _, s := range g.States() {
		switch s.State {
		case phases.Stale:
			return s
		case phases.NotApplicable, phases.Signed, phases.Blocked:
			continue
		}
		if next == nil {
			next = s
		}
	}
	return next
}

func printRecords(e *env, j *jobs.Job) {
	e.printf("\n")
	for _, r := range j.Records {
		if r.Kind == jobs.AdoptionRecord {
			continue
		}
		state := ""
		if !j.Current(r) {
			state = " (superseded)"
		}
		e.printf("  %s  %s\n", r.ShortID(), terminalText(r.Describe()+": "+r.Shown()+state))
	}
}

// review prints the owner's review of all jobs.
func review(e *env, c *cobra.Command) error {
	company, err := jobs.FindCompany(e.dir)
	if err != nil {
		return err
	}
	all, err := company.Review(e.now())
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return e.printJSON(all)
	}
	if len(all) == 0 {
		e.printf("%s has no job yet. Start one: proveout new\n", terminalText(company.Name))
		return nil
	}
	return printReview(e, company, all)
}

func printReview(e *env, company *jobs.Company, all []jobs.Summary) error {
	e.printf("%s: %d jobs\n", e.bold(terminalText(company.Name)), len(all))
	broken := false
	for _, s := range all {
		e.printf("\n%s  %s\n", e.bold(s.Job), terminalText(s.Title))
		if s.Problem != "" {
			broken = true
			e.printf("  cannot be read: %s\n", terminalText(s.Problem))
			continue
		}
		for _, line := range reviewLines(s) {
			e.printf("  %s\n", terminalText(line))
		}
	}
	if broken {
		return &quietError{errors.Join(jobs.ErrIntegrity)}
	}
	return nil
}

func reviewLines(s jobs.Summary) []string {
	lines := []string{fmt.Sprintf("%d of %d holds released, last entry %s", s.Released, s.Holds, s.Last.Format("2 January 2006"))}
	if s.Complete {
		return append(lines, "complete")
	}
	lines = append(lines, fmt.Sprintf("next: %s (%s)", s.Next, s.State))
	for _, o := range s.Owner {
		lines = append(lines, "owner: "+o)
	}
	for _, b := range s.Blocked {
		lines = append(lines, fmt.Sprintf("blocked by %s since %s: %s", b.Check, b.Since.Format("2 January"), b.Why))
	}
	if len(s.WaitingFor) > 0 {
		lines = append(lines, "waiting for: "+strings.Join(s.WaitingFor, ", "))
	}
	if s.Undecided > 0 {
		lines = append(lines, fmt.Sprintf("%d checks are still open", s.Undecided))
	}
	for _, id := range s.Stale {
		lines = append(lines, "stale: "+id)
	}
	return lines
}

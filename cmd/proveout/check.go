package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

func checkCommand(e *env) *cobra.Command {
	var face string
	var all, explain bool
	c := &cobra.Command{
		Use:   "check [PHASE[.HOLD]]",
		Short: "What a hold still wants: missing, failing, and what to type",
		Long: `Judges every check of a hold point and says, for each that does not pass, what
is missing or failing and the command that answers it. Without an argument: the
next hold of the job. Exits with 3 while the hold is shut.`,
		Example: `  proveout check
  proveout check insulation
  proveout check insulation.before-board --face "north wall"
  proveout check framing --all --explain`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			j, err := e.job(c)
			if err != nil {
				return err
			}
			defer j.Close()
			g := j.Gate(e.now())
			states, err := chosen(j, g, args, face)
			if err != nil {
				return err
			}
			if wantsJSON(c) {
				return printHoldsJSON(e, j, states)
			}
			return printHolds(e, j, states, all, explain)
		},
	}
	c.Flags().StringVar(&face, "face", "", "only this face, where a hold is released face by face")
	c.Flags().BoolVar(&all, "all", false, "show the checks that pass, too")
	c.Flags().BoolVar(&explain, "explain", false, "show each step of a calculation, with formula and source")
	return c
}

// chosen are the holds that the argument names: one, or all of a phase.
func chosen(j *jobs.Job, g *phases.Gate, args []string, face string) ([]*phases.HoldState, error) {
	if len(args) == 0 {
		s := nextHold(g)
		if s == nil {
			return nil, nil
		}
		return []*phases.HoldState{stateOf(g, s.Hold, face)}, nil
	}
	if strings.Contains(args[0], ".") {
		h, err := j.Hold(g, args[0])
		if err != nil {
			return nil, err
		}
		return []*phases.HoldState{stateOf(g, h, face)}, nil
	}
	ph, err := j.Phase(args[0])
	if err != nil {
		return nil, err
	}
	var states []*phases.HoldState
	for _, h := range ph.Holds {
		states = append(states, stateOf(g, h, face))
	}
	return states, nil
}

func stateOf(g *phases.Gate, h *phases.Hold, face string) *phases.HoldState {
	if face != "" {
		return g.FaceState(h, face)
	}
	return g.State(h)
}

func printHoldsJSON(e *env, j *jobs.Job, states []*phases.HoldState) error {
	reports := []holdReport{}
	for _, s := range states {
		reports = append(reports, newHoldReport(s))
	}
	if err := e.printJSON(reports); err != nil {
		return err
	}
	return shutOrEdited(j, states)
}

func printHolds(e *env, j *jobs.Job, states []*phases.HoldState, all, explain bool) error {
	if len(states) == 0 {
		e.printf("Every hold is released.\n")
	}
	for _, s := range states {
		printHold(e, s, all, explain)
	}
	if len(j.Edited) > 0 {
		e.sayf("edited by hand, not adopted: %s; see: proveout adopt\n", strings.Join(j.Edited, ", "))
	}
	return shutOrEdited(j, states)
}

// shutOrEdited is the exit code of a check.
func shutOrEdited(j *jobs.Job, states []*phases.HoldState) error {
	if len(j.Edited) > 0 {
		return &quietError{jobs.ErrDecide}
	}
	for _, s := range states {
		switch s.State {
		case phases.Signed, phases.NotApplicable, phases.Ready:
		case phases.Conflict:
			return &quietError{jobs.ErrDecide}
		default:
			return &quietError{jobs.ErrShut}
		}
	}
	return nil
}

func printHold(e *env, s *phases.HoldState, all, explain bool) {
	title := fmt.Sprintf("%s, %s: %s", s.Hold.ID(), s.Hold.Title, s.State)
	if s.Face != "" {
		title += " (" + s.Face + ")"
	}
	e.printf("%s\n", e.bold(terminalText(title)))
	if s.State == phases.NotApplicable {
		return
	}
	for _, up := range s.BlockedBy {
		e.printf("  blocked  %s must be released first\n", up)
	}
	for _, why := range s.Stale {
		e.printf("  stale    %s\n", terminalText(why))
	}
	for _, n := range s.Open {
		e.printf("  open     %s; see: proveout nonconformity\n", n)
	}
	for _, v := range s.Verdicts {
		if all || !v.Settled() {
			printVerdict(e, v, explain)
		}
	}
	e.printf("  %s\n", terminalText(counts(s)))
	if s.State == phases.Ready {
		e.printf("  ready to sign by: %s\n  proveout signoff %s\n", strings.Join(s.WantRoles, ", "), s.Hold.ID())
	}
}

func printVerdict(e *env, v checks.Verdict, explain bool) {
	e.printf("  %s  %s: %s\n", e.mark(v.Outcome), v.Check, terminalText(v.Ask))
	detail := func(label, text string) {
		if text != "" {
			e.printf("        %-8s %s\n", label, terminalText(text))
		}
	}
	value := v.Value
	if v.Place != "" && v.Place != "point 1" && value != "" {
		value += " at " + v.Place
	}
	if v.Near {
		value += " (within the instrument's uncertainty of the limit)"
	}
	detail("value", value)
	detail("limit", v.Limit)
	detail("changed", v.LimitReason)
	detail("margin", v.Margin)
	if v.Planned > 1 {
		detail("points", fmt.Sprintf("%d of %d taken, %d pass", v.Taken, v.Planned, v.Passed))
	}
	for _, r := range v.Reasons {
		detail("why", r)
	}
	if v.Concedes != "" {
		detail("accepted", "by concession "+v.Concedes)
	}
	detail("source", v.Source+" ("+v.Mark+")")
	for _, n := range v.Next {
		detail("next", n)
	}
	if explain {
		printSteps(e, v.Steps)
	}
}

// printSteps prints a calculation line by line.
func printSteps(e *env, steps []checks.Step) {
	for _, s := range steps {
		line := s.Name + ": "
		if s.Formula != "" {
			line += s.Formula + " = "
		}
		line += s.Value
		if s.Source != "" {
			line += "  [" + s.Source + "]"
		}
		e.printf("          %s\n", terminalText(line))
	}
}

package main

import (
	"github.com/spf13/cobra"

	"proveout/jobs"
)

func withdrawCommand(e *env) *cobra.Command {
	var reason string
	c := &cobra.Command{
		Use:   "withdraw PHASE[.HOLD]",
		Short: "Take a sign-off back, with a reason",
		Long: `Takes back every standing sign-off of a hold. The files stay; a record says who
took them back and why. The hold is shut again, and so is what was built on it.
Each role takes back its own sign-off; the owner may take back any.`,
		Example: `  proveout withdraw insulation.before-board --reason "bay 3 was opened again" --by "Ana Ruiz"`,
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			j, company, err := e.both(c)
			if err != nil {
				return err
			}
			defer j.Close()
			entry, err := e.by(c, company)
			if err != nil {
				return err
			}
			if reason, err = e.reason(reason, "Why is it taken back"); err != nil {
				return err
			}
			taken, err := j.Withdraw(c.Context(), entry, args[0], reason)
			if err != nil {
				return err
			}
			return printWithdrawn(e, c, j, taken)
		},
	}
	c.Flags().StringVar(&reason, "reason", "", "why it is taken back")
	addBy(c)
	return c
}

// reason asks for a missing reason on a terminal.
func (e *env) reason(given, question string) (string, error) {
	if given == "" && e.terminal {
		var err error
		if given, err = e.ask(question); err != nil {
			return "", err
		}
	}
	if given == "" {
		return "", &usageError{"say why: --reason \"…\""}
	}
	return given, nil
}

func printWithdrawn(e *env, c *cobra.Command, j *jobs.Job, taken []*jobs.Signoff) error {
	type withdrawn struct {
		Hold  string   `json:"hold"`
		Faces []string `json:"faces,omitempty"`
		Role  string   `json:"role"`
		By    string   `json:"signed_by"`
		State string   `json:"state"`
	}
	g := j.Gate(e.now())
	all := []withdrawn{}
	for _, s := range taken {
		state := ""
		if h := j.Plan.Hold(s.Hold); h != nil {
			state = string(g.State(h).State)
		}
		all = append(all, withdrawn{s.Hold, s.Faces, s.Role, s.By, state})
	}
	if wantsJSON(c) {
		return e.printJSON(all)
	}
	for _, w := range all {
		e.printf("Withdrawn: %s, signed by %s, %s; the hold is %s\n", w.Hold, terminalText(w.By), w.Role, w.State)
	}
	return nil
}

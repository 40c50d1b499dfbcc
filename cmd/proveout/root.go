package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/phases/strict"
)

// run executes one command line and returns the exit code.
func run(ctx context.Context, e *env, args []string) int {
	root := newRoot(e)
	root.SetArgs(args)
	root.SetIn(e.in)
	root.SetOut(e.out)
	root.SetErr(e.err)
	err := root.ExecuteContext(ctx)
	if err != nil && !isQuiet(err) {
		fmt.Fprintln(e.err, "proveout: "+terminalText(errorText(err)))
	}
	return exitCode(err)
}

const about = `proveout keeps the record of a room that is built or rebuilt: what was
measured, what must still be measured before work may go on, and who released
it. A job is a folder of plain files with a git history.`

func newRoot(e *env) *cobra.Command {
	root := &cobra.Command{
		Use:   "proveout",
		Short: "The job record of a climate-controlled room",
		Long:  about,
		Example: `  proveout demo                       build four invented jobs and look around
  proveout                            in a job: where it stands, what to type next
  proveout check insulation           what the hold still wants
  proveout record insulation foam-depth "5 1/2 in" --at "north wall/bay 3" --with DG-2 --by Ana
  proveout signoff insulation.before-board`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          knownCommand,
		RunE: func(c *cobra.Command, _ []string) error {
			return where(e, c)
		},
	}
	root.PersistentFlags().String("job", "", "job to work on: its id, or its folder (default: the folder you are in)")
	root.PersistentFlags().Bool("json", false, "print data instead of text, where a command prints something")
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return &usageError{fmt.Sprintf("%v\nsee: %s --help", err, c.CommandPath())}
	})
	root.CompletionOptions.HiddenDefaultCmd = false
	root.AddCommand(commands(e)...)
	for _, c := range root.Commands() {
		strictArgs(c)
	}
	return root
}

// knownCommand refuses a word that is no command, with those it may stand for.
func knownCommand(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, sub := range c.Commands() {
		names = append(names, sub.Name())
	}
	return &usageError{fmt.Sprintf("there is no command %q%s\nsee: proveout --help", args[0], strict.DidYouMean(args[0], names))}
}

// strictArgs turns cobra's errors about arguments into ours, with the line to
// type.
func strictArgs(c *cobra.Command) {
	for _, sub := range c.Commands() {
		strictArgs(sub)
	}
	check := c.Args
	if check == nil {
		return
	}
	c.Args = func(c *cobra.Command, args []string) error {
		if err := check(c, args); err != nil {
			return &usageError{fmt.Sprintf("%v\nusage: %s%s", err, c.UseLine(), firstExample(c))}
		}
		return nil
	}
}

func firstExample(c *cobra.Command) string {
	line, _, _ := strings.Cut(strings.TrimSpace(c.Example), "\n")
	if line == "" {
		return ""
	}
	return "\nfor example: " + line
}

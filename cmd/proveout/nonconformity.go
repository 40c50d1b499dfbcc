package main

import (
	"time"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

func nonconformityCommand(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:     "nonconformity",
		Aliases: []string{"nc"},
		Short:   "Requirements that are not met: raise, decide, agree, close",
		Long: `A nonconformity is a requirement that is not met. It keeps its hold shut until
it is dealt with:

  rework      make it conform; decided by the crew lead; closed when it passes
  repair      make it usable; decided by the owner; closed when looked at again
  concession  accept it as it is, within limits; decided by the owner, agreed by
              the homeowner, and where a rule of the building code is touched by
              an engineer or the building inspector

A safety check is never accepted as it is. Without a subcommand: the list.`,
		Example: `  proveout nonconformity
  proveout nonconformity raise --check insulation.foam-depth --by Ana
  proveout nonconformity decide NC-1 rework --reason "top up bay 3" --by Ana
  proveout nonconformity close NC-1 --note "topped up, read again" --by Ana`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			j, err := e.job(c)
			if err != nil {
				return err
			}
			defer j.Close()
			return printNonconformities(e, c, j)
		},
	}
	c.AddCommand(raiseCommand(e), showNonconformityCommand(e), decideCommand(e), agreeCommand(e), closeCommand(e))
	return c
}

// follow opens the job, lets somebody do something about a nonconformity, and
// shows where it stands.
func (e *env) follow(c *cobra.Command, do func(j *jobs.Job, entry jobs.Entry) (*jobs.Record, error)) error {
	j, company, err := e.both(c)
	if err != nil {
		return err
	}
	defer j.Close()
	entry, err := e.by(c, company)
	if err != nil {
		return err
	}
	r, err := do(j, entry)
	if err != nil {
		return err
	}
	n, err := j.Nonconformity(r.Nonconformity)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return e.printJSON(newNonconformityReport(e, j, n))
	}
	printNonconformity(e, j, n)
	return nil
}

func raiseCommand(e *env) *cobra.Command {
	var n jobs.Raise
	var photos []string
	c := &cobra.Command{
		Use:   "raise",
		Short: "Raise one, from a failing check or by hand",
		Long: `From a failing check the requirement and what was found are taken from its worst
point. By hand, name the hold it keeps shut, what was required and what was
found.`,
		Example: `  proveout nonconformity raise --check insulation.foam-depth --by Ana
  proveout nonconformity raise --check insulation.foam-depth --at "north wall/bay 3" --by Ana
  proveout nonconformity raise --hold drywall.cover-up --requirement "no cable within 1 1/4 in of the stud's face" --found "cable at 1 in, bay 2" --by Ana`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if (n.Check == "") == (n.Hold == "") {
				return &usageError{"name the check that is not met, --check PHASE.CHECK, or the hold, --hold PHASE.HOLD"}
			}
			return e.follow(c, func(j *jobs.Job, entry jobs.Entry) (*jobs.Record, error) {
				for _, file := range photos {
					in, err := jobs.ReadPhoto(e.path(file), j.PhotoSize)
					if err != nil {
						return nil, err
					}
					n.Photos = append(n.Photos, in)
				}
				return j.RaiseNonconformity(c.Context(), entry, n)
			})
		},
	}
	c.Flags().StringVar(&n.Check, "check", "", "the check that is not met: phase.check")
	c.Flags().StringVar(&n.Hold, "hold", "", "the hold it keeps shut, when it is not about a check: phase.hold")
	c.Flags().StringVar(&n.Place, "at", "", "the place")
	c.Flags().StringVar(&n.Requirement, "requirement", "", "what was asked")
	c.Flags().StringVar(&n.Found, "found", "", "what was found")
	c.Flags().StringArrayVar(&photos, "photo", nil, "a photo of it; may be given again")
	addBy(c)
	return c
}

func decideCommand(e *env) *cobra.Command {
	var d jobs.Decision
	var until string
	c := &cobra.Command{
		Use:   "decide NC-1 rework|repair|concession",
		Short: "Decide what becomes of it",
		Long: `The crew lead may decide a rework, the owner a repair or a concession. A
concession names its limits, and waits for those who must agree.`,
		Example: `  proveout nonconformity decide NC-1 rework --reason "top up bay 3" --cause "gun ran empty" --by Ana
  proveout nonconformity decide NC-2 concession --limits "bay 3 of the north wall only" --until 2027-06-01 --by Ben`,
		Args: cobra.ExactArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			return e.follow(c, func(j *jobs.Job, entry jobs.Entry) (_ *jobs.Record, err error) {
				d.Disposition = args[1]
				if d.Until, err = untilDay(until, j.Zone); err != nil {
					return nil, err
				}
				return j.Dispose(c.Context(), entry, args[0], d)
			})
		},
	}
	c.Flags().StringVar(&d.Limits, "limits", "", "of a concession: where, how much, for what use")
	c.Flags().StringVar(&until, "until", "", "of a concession: the day it ends, as 2027-06-01")
	c.Flags().StringVar(&d.Reason, "reason", "", "why this was decided")
	c.Flags().StringVar(&d.Cause, "cause", "", "how it came about")
	c.Flags().StringVar(&d.Action, "action", "", "what keeps it from coming again")
	addBy(c)
	return c
}

// untilDay reads the last day of a concession.
func untilDay(text string, zone *time.Location) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.ParseInLocation(time.DateOnly, text, zone)
	if err != nil {
		return t, &usageError{"--until \"" + text + "\" is not a date; write it as 2027-06-01"}
	}
	return t, nil
}

func agreeCommand(e *env) *cobra.Command {
	var note string
	c := &cobra.Command{
		Use:   "agree NC-1",
		Short: "Agree to a concession, as one who must",
		Long: `A concession stands when all who must have agreed: the homeowner always, and an
engineer or the building inspector where a rule of the building code is touched.`,
		Example: `  proveout nonconformity agree NC-2 --note "by letter of 4 May" --by homeowner`,
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return e.follow(c, func(j *jobs.Job, entry jobs.Entry) (*jobs.Record, error) {
				return j.Agree(c.Context(), entry, args[0], note)
			})
		},
	}
	c.Flags().StringVar(&note, "note", "", "how the agreement was given")
	addBy(c)
	return c
}

func closeCommand(e *env) *cobra.Command {
	var note string
	c := &cobra.Command{
		Use:   "close NC-1",
		Short: "Close it when the rework or repair was looked at again",
		Long: `A rework closes only when its check passes at that place. Enter the new reading
first: proveout record … --rework "what was done".`,
		Example: `  proveout nonconformity close NC-1 --note "topped up, 5 1/4 in now" --by Ana`,
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			return e.follow(c, func(j *jobs.Job, entry jobs.Entry) (*jobs.Record, error) {
				return j.CloseNonconformity(c.Context(), entry, args[0], note)
			})
		},
	}
	c.Flags().StringVar(&note, "note", "", "what was done and seen")
	addBy(c)
	return c
}

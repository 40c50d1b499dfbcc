package main

import (
	"errors"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

func adoptCommand(e *env) *cobra.Command {
	var reason string
	var putBack bool
	c := &cobra.Command{
		Use:   "adopt",
		Short: "Show what was edited by hand in plan or job file; keep it or put it back",
		Long: `Plan files (phases/*.yaml) and job.yaml may be edited by hand. Nothing else is
done with the job until the edit is kept with a reason, which makes one entry,
or put back. Without flags this shows each difference, and in plain words what
it changes; it exits with 5 while there is something to decide.

A limit may be loosened by the owner before its check has its first reading, and
never afterwards; a safety limit is only ever tightened.`,
		Example: `  proveout adopt
  proveout adopt --reason "client wants 60 °F" --by "Ana Ruiz"
  proveout adopt --put-back`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			dir, err := e.jobDir(c)
			if err != nil {
				return err
			}
			j, unreadable, err := jobs.OpenEdited(dir, e.process())
			if err != nil {
				return err
			}
			defer j.Close()
			switch {
			case putBack && reason != "":
				return &usageError{"either keep the edit, with --reason, or put the files back, with --put-back"}
			case putBack:
				return putFilesBack(e, c, j)
			case unreadable != nil:
				return showUnreadable(e, c, j, unreadable)
			case reason == "" && !c.Flags().Changed("reason"):
				return showEdits(e, c, j)
			}
			return keepEdits(e, c, j, reason)
		},
	}
	c.Flags().StringVar(&reason, "reason", "", "keep the edit, for this reason")
	c.Flags().BoolVar(&putBack, "put-back", false, "write the adopted files back over the edit")
	addBy(c)
	return c
}

// editReport is what was edited, as data.
type editReport struct {
	Files      []editedFile `json:"files"`
	Changes    []changed    `json:"changes"`
	Unreadable string       `json:"unreadable,omitempty"`
}

type editedFile struct {
	Path string   `json:"path"`
	Diff []string `json:"diff"`
}

type changed struct {
	Check   string `json:"check,omitempty"`
	Text    string `json:"text"`
	Loosens bool   `json:"loosens"`
	Safety  bool   `json:"safety,omitempty"`
	Refused string `json:"refused,omitempty"`
}

func newEditReport(j *jobs.Job) (editReport, error) {
	r := editReport{Files: []editedFile{}, Changes: []changed{}}
	edits, err := j.Edits()
	for _, edit := range edits {
		r.Files = append(r.Files, editedFile{edit.Path, lineDiff(edit.Old, edit.New)})
	}
	return r, err
}

// addChanges adds what the edits mean for the checks.
func (r *editReport) addChanges(j *jobs.Job) error {
	differences, err := j.Differences()
	for _, d := range differences {
		r.Changes = append(r.Changes, changed{d.Check, d.Text, d.Loosens, d.Safety, j.Refusal(d)})
	}
	return err
}

func showEdits(e *env, c *cobra.Command, j *jobs.Job) error {
	r, err := newEditReport(j)
	if err != nil {
		return err
	}
	if len(r.Files) == 0 {
		if wantsJSON(c) {
			return e.printJSON(r)
		}
		e.printf("Nothing was edited: plan and job file are as they were adopted.\n")
		return nil
	}
	if err := r.addChanges(j); err != nil {
		return err
	}
	if wantsJSON(c) {
		err = e.printJSON(r)
	} else {
		r.print(e)
	}
	return firstError(err, &quietError{jobs.ErrDecide})
}

func (r editReport) printDiffs(e *env) {
	for _, f := range r.Files {
		e.printf("%s\n", e.bold(f.Path))
		for _, line := range f.Diff {
			e.printf("  %s\n", e.diffLine(terminalText(line)))
		}
		e.printf("\n")
	}
}

// diffLine colours a line of a comparison; its sign says the same.
func (e *env) diffLine(line string) string {
	if !e.color {
		return line
	}
	switch line[0] {
	case '-':
		return "\x1b[31m" + line + "\x1b[0m"
	case '+':
		return "\x1b[32m" + line + "\x1b[0m"
	}
	return line
}

func (r editReport) print(e *env) {
	r.printDiffs(e)
	if len(r.Changes) == 0 {
		e.printf("No check changes by it.\n")
	} else {
		e.printf("What it changes:\n")
	}
	refused, loosens := false, false
	for _, d := range r.Changes {
		e.paragraph("  ", strings.TrimPrefix(d.Check+": "+d.Text, ": "))
		if d.Refused != "" {
			e.paragraph("    ", "REFUSED: "+d.Refused)
		}
		refused = refused || d.Refused != ""
		loosens = loosens || d.Loosens
	}
	e.printf("\n")
	switch {
	case refused:
		e.printf("This edit cannot be kept. Change it, or put the files back:\n")
	case loosens:
		e.printf("It loosens the plan: only the owner may keep it.\n  proveout adopt --reason \"why\" --by OWNER\nOr put the files back:\n")
	default:
		e.printf("Keep it:\n  proveout adopt --reason \"why\" --by NAME\nOr put the files back:\n")
	}
	e.printf("  proveout adopt --put-back\n")
}

// showUnreadable shows an edit that cannot be understood: only its lines.
func showUnreadable(e *env, c *cobra.Command, j *jobs.Job, why error) error {
	r, err := newEditReport(j)
	if err != nil {
		return errors.Join(why, err)
	}
	if wantsJSON(c) {
		r.Unreadable = why.Error()
		if err := e.printJSON(r); err != nil {
			return err
		}
		return &quietError{jobs.ErrInput}
	}
	r.printDiffs(e)
	return why
}

func putFilesBack(e *env, c *cobra.Command, j *jobs.Job) error {
	back, err := j.PutBack(c.Context())
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return e.printJSON(append([]string{}, back...))
	}
	if len(back) == 0 {
		e.printf("Nothing to put back: plan and job file are as they were adopted.\n")
	}
	for _, path := range back {
		e.printf("put back: %s\n", path)
	}
	return nil
}

func keepEdits(e *env, c *cobra.Command, j *jobs.Job, reason string) error {
	if strings.TrimSpace(reason) == "" {
		return &usageError{"say why the edit is kept: --reason \"client wants 60 °F\""}
	}
	company, err := jobs.FindCompany(j.Dir)
	if err != nil {
		return err
	}
	entry, err := e.by(c, company)
	if err != nil {
		return err
	}
	r, err := j.Adopt(c.Context(), entry, reason)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return e.printJSON(map[string]any{"record": r.Path(), "changes": r.Changes})
	}
	e.printf("Adopted by %s: %s\n  record  %s\n", terminalText(r.By), terminalText(reason), r.Path())
	for _, s := range j.Gate(e.now()).States() {
		if len(s.Stale) > 0 {
			e.printf("  stale   %s: sign it again: proveout signoff %s\n", s.Hold.ID(), s.Hold.ID())
		}
	}
	return nil
}

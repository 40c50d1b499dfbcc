package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

func verifyCommand(e *env) *cobra.Command {
	var all bool
	c := &cobra.Command{
		Use:   "verify [JOB]",
		Short: "Hash everything again and look for facts that were changed",
		Long: `Hashes every file that a sign-off or a record names, compares the folder with
its newest commit byte by byte, and reads the whole history for commits that
changed or removed a record, evidence or a sign-off. Each finding is explained
as far as the job explains it itself, such as a plan that was adopted after a
sign-off. Exits with 6 when something was changed without a reason.

It works on a clone of the job alone. It needs to be believed no more than plain
tools: "sha256sum -c" and "git log" find the same, and FORMAT.md in the job says
how.`,
		Example: `  proveout verify
  proveout verify birch-stair
  proveout verify --all
  proveout verify --json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			dirs, err := e.toVerify(c, args, all)
			if err != nil {
				return err
			}
			return e.verifyAll(c, dirs)
		},
	}
	c.Flags().BoolVar(&all, "all", false, "every job of the company")
	return c
}

// toVerify lists the folders of the jobs to verify.
func (e *env) toVerify(c *cobra.Command, args []string, all bool) ([]string, error) {
	if !all {
		if len(args) == 1 {
			if err := c.Flags().Set("job", args[0]); err != nil {
				return nil, err
			}
		}
		dir, err := e.jobDir(c)
		return []string{dir}, err
	}
	if len(args) > 0 {
		return nil, &usageError{"either one job or --all"}
	}
	company, err := e.company(c)
	if err != nil {
		return nil, err
	}
	ids, err := company.JobIDs()
	var dirs []string
	for _, id := range ids {
		dirs = append(dirs, company.JobDir(id))
	}
	return dirs, err
}

// verifyAll verifies each job; one that cannot be opened hides no other.
func (e *env) verifyAll(c *cobra.Command, dirs []string) error {
	results := []*jobs.Verification{}
	var unsound error
	for _, dir := range dirs {
		v, err := jobs.Verify(dir, e.process(), e.progress())
		e.endProgress()
		if err != nil && len(dirs) == 1 {
			return err
		}
		if err != nil {
			e.sayf("proveout: %s: %s\n", e.shown(dir), terminalText(errorText(err)))
			unsound = errors.Join(unsound, &quietError{err})
			continue
		}
		results = append(results, v)
		if !v.Sound() {
			unsound = errors.Join(unsound, &quietError{jobs.ErrIntegrity})
		}
		if !wantsJSON(c) {
			printVerification(e, v, e.shown(dir))
		}
	}
	if wantsJSON(c) {
		return firstError(e.printVerifications(c, results), unsound)
	}
	return unsound
}

// printVerifications writes one job as an object and all jobs as a list.
func (e *env) printVerifications(c *cobra.Command, results []*jobs.Verification) error {
	if len(results) == 1 && !c.Flags().Changed("all") {
		return e.printJSON(results[0])
	}
	return e.printJSON(results)
}

// progress shows on a terminal how far a long verification is.
func (e *env) progress() func(done, total int) {
	if !e.terminal {
		return nil
	}
	shown := -1
	return func(done, total int) {
		if percent := 100 * done / max(total, 1); percent != shown && total > 50 {
			shown = percent
			e.sayf("\r%d of %d files", done, total)
		}
	}
}

// endProgress clears the line that progress wrote.
func (e *env) endProgress() {
	if e.terminal {
		e.sayf("\r%s\r", strings.Repeat(" ", 40))
	}
}

func printVerification(e *env, v *jobs.Verification, dir string) {
	e.printf("%s: %s, %s, %s\n", e.bold(v.Job), number(v.Files, "file")+" hashed", number(v.Commits, "commit")+" read", number(len(v.Signoffs), "sign-off"))
	var wrong, explained []jobs.Finding
	for _, f := range v.Findings {
		if f.Explained {
			explained = append(explained, f)
		} else {
			wrong = append(wrong, f)
		}
	}
	e.findings("Changed without a reason on record:", wrong)
	e.findings("Differs, and explained:", explained)
	for _, s := range v.Signoffs {
		printVerifiedRelease(e, s)
	}
	if v.Sound() {
		e.printf("Sound: nothing was changed without a reason.\n")
	} else {
		e.printf("NOT SOUND: %s to explain.\n", number(len(wrong), "finding"))
	}
	if dir == "." {
		dir = "this folder"
	}
	e.printf("\nThe same with plain tools, in %s:\n", dir)
	e.printf("  for f in signoffs/*.sha256; do sha256sum -c --quiet \"$f\"; done\n")
	e.printf("  git log --stat -- records evidence signoffs   (each file once, as added)\n  git status --short; git fsck\n")
}

func (e *env) findings(title string, list []jobs.Finding) {
	if list == nil {
		return
	}
	e.printf("\n%s\n", title)
	for _, f := range list {
		if f.Path != "" {
			e.printf("  %s\n", terminalText(f.Path))
		}
		e.paragraph([2]string{"  ", "      "}[min(len(f.Path), 1)], f.Text)
	}
	e.printf("\n")
}

func printVerifiedRelease(e *env, s jobs.VerifiedRelease) {
	state := fmt.Sprintf("%s agree", number(s.Files, "file"))
	if s.Differ > 0 {
		state = fmt.Sprintf("%d of %d files differ", s.Differ, s.Files)
	}
	if s.Withdrawn {
		state += ", withdrawn"
	}
	name := s.Hold
	if s.By != "" {
		name += " by " + s.By
	}
	if s.Faces != nil {
		name += ", only " + strings.Join(s.Faces, ", ")
	}
	e.printf("  %s\n    %s\n", terminalText(name+": "+state), s.Fingerprint)
	for _, path := range s.Signatures {
		e.printf("    detached signature present: %s\n", path)
	}
}

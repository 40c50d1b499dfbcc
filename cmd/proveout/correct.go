package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
)

func correctCommand(e *env) *cobra.Command {
	var f answerFlags
	var reason string
	c := &cobra.Command{
		Use:   "correct ID [ANSWER]",
		Short: "Replace a wrong entry by the right one, or take it back",
		Long: `Enters the right answer in place of a wrong one, with the reason. What is not
said again stays: place, time, instrument, photos. Without an answer and without
a flag that changes something, the entry is taken back. Both stay in the job for
everybody to see.

It is for mistakes of typing or reading. When the work was done again, the new
reading is no correction: proveout record … --rework "what was done".

ID is the end of a record's name, the six letters that record and status print.`,
		Example: `  proveout correct 7kq2mf "5 1/4 in" --reason "read the wrong side of the gauge" --by Ana
  proveout correct 7kq2mf --at "north wall/bay 4" --reason "wrong bay" --by Ana
  proveout correct 7kq2mf --offset "0.3 °F" --reason "the offset was forgotten" --by Ana
  proveout correct 7kq2mf --reason "entered in the wrong job" --by Ana
  proveout status --records`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(c *cobra.Command, args []string) error {
			j, company, err := e.both(c)
			if err != nil {
				return err
			}
			defer j.Close()
			d := &desk{e: e, c: c, job: j, company: company}
			args = append(args, "")
			return d.correct(&f, args[0], args[1], reason)
		},
	}
	f.addFlags(c)
	c.Flags().StringVar(&reason, "reason", "", "why it was wrong")
	addBy(c)
	return c
}

func (d *desk) correct(f *answerFlags, id, text, reason string) error {
	old, err := d.job.FindRecord(id)
	if err != nil {
		return err
	}
	if reason == "" && d.e.terminal {
		d.e.sayf("%s: %s\n", terminalText(old.Describe()), terminalText(old.Shown()))
		if err := d.e.askUntil("Why is it wrong", "", intoNotEmpty(&reason)); err != nil {
			return err
		}
	}
	if reason == "" {
		return &usageError{"say why it is wrong: --reason TEXT"}
	}
	if err := d.sign(); err != nil {
		return err
	}
	a, err := d.correction(f, old, text)
	if err != nil {
		return err
	}
	r, err := d.job.Correct(d.c.Context(), d.company, d.entry, id, a, reason)
	if err != nil {
		return err
	}
	return d.printCorrected(old, r)
}

// intoNotEmpty takes an answer that says something.
func intoNotEmpty(to *string) func(string) error {
	return func(text string) error {
		*to = text
		return notEmpty(text)
	}
}

// correction is what was typed anew; nothing of it takes the entry back.
func (d *desk) correction(f *answerFlags, old *jobs.Record, text string) (jobs.Answer, error) {
	q := d.job.Plan.Questions()[old.CheckID()]
	if q == nil || old.Kind != jobs.AnswerRecord {
		q = &checks.Question{Phase: old.Phase, Name: old.Check, Kind: checks.Observation}
	}
	again := f.logger
	if len(f.files) == 0 {
		f.logger = loggerFlags{} // they are about the file that is there
	}
	a, err := f.answer(d, q, text)
	if err != nil || len(f.files) > 0 {
		return a, err
	}
	a.Files, err = d.relogged(&again, old)
	return a, err
}

// printCorrected shows the old entry and the new one.
func (d *desk) printCorrected(old, r *jobs.Record) error {
	g := d.job.Gate(d.e.now())
	v := verdictOf(g, d.job.Plan.HoldOf(old.CheckID()), old.CheckID())
	if wantsJSON(d.c) {
		return d.e.printJSON(map[string]any{"was": newRecordReport(old), "record": newRecordReport(r), "verdict": v})
	}
	was := d.understood(old)
	if old.Kind != jobs.AnswerRecord {
		was = strings.TrimSpace(strings.Join([]string{old.Nonconformity, old.For, old.Note, old.Found}, " "))
	}
	d.e.printf("was       %s%s: %s  (%s)\n", whatOf(old), atPlace(old.Place), terminalText(was), old.ShortID())
	if r.Kind == jobs.VoidRecord {
		d.e.printf("taken back  (%s)\n", r.ShortID())
	} else {
		d.printRecord("is now  ", r)
		d.printPoint(r, v)
	}
	d.e.printf("  reason: %s\n", terminalText(r.Reason))
	if old.Kind == jobs.AnswerRecord && d.job.Plan.HoldOf(old.CheckID()) != nil {
		d.printCheck(v)
		d.printHoldAfter(g, old.CheckID())
	}
	return nil
}

// whatOf names what an entry is about.
func whatOf(r *jobs.Record) string {
	if r.Check != "" {
		return r.CheckID()
	}
	return fmt.Sprintf("%s of %s", r.Kind, r.Phase)
}

package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

func recordCommand(e *env) *cobra.Command {
	r := &recording{}
	c := &cobra.Command{
		Use:   "record [PHASE [CHECK [ANSWER]]]",
		Short: "Enter a reading, an answer, a document, or a whole sheet of them",
		Long: `Enters the answer to one check at one place. A reading needs its unit; the text
is kept as you type it. Then it prints how the check stands: pass, FAIL or open,
the worst value and its margin, and what is still missing. It exits with 0 when
the entry is saved, also when the check fails; "proveout check" exits with 3.

What ANSWER is, goes by the check: a value with its unit; yes, no or na; pass or
fail with --number; one of the words the plan gives; nothing with --file, --start
or --set. Entries are never changed: "proveout correct" replaces a mistake, and
--rework "what was done" enters the new reading after the work was done again.

Without ANSWER on a terminal it asks for the missing points one by one, of the
check or of the whole phase. Each point is saved when it is answered: "skip" or
an empty line leaves one out, "back" goes back to the one before and corrects
it, "stop" or the end of input ends; what was not answered is not written.

--sheet FILE.csv takes many, from the columns check, place, value, instrument,
photo, by, measured, note (the first and third are needed), as "proveout document
field-sheet PHASE --csv" prints them. All rows are entered in one commit or none. Rows
without a value are left out and counted. Several values in one cell: "airflow=300
cfm; volume=900 ft³"; also number=, party=, start=, end=, file=, and the flags of a
logger file, like "file=room.csv; distance=6 ft; profile=cellar-logger".

A logger file is read on the way in, as "proveout log" shows it. What had to be
said to read it, and how the logger hung, is kept in the record.

Times are the job's: "2026-05-04 14:00", "14:00" for today, or RFC 3339.`,
		Example: `  proveout record insulation foam-depth "5 1/2 in" --at "north wall/bay 3" --with DG-2 --photo IMG_0412.jpg --by Ana
  proveout record insulation foam-depth
  proveout record insulation
  proveout record framing framing-inspection pass --number 26-118 --party "building inspector R. Stone" --by Ana
  proveout record demo cancellation "2026-05-04 14:00" --by Ana
  proveout record assess baseline-log --at room --file room.csv --zone -06:00 --distance "6 ft" --offset "0.3 °F" --by Ana
  proveout record drywall --sheet friday.csv --by Ana
  proveout record --note "Owner asked for a second shelf" --by Ana`,
		Args: cobra.MaximumNArgs(3),
		RunE: func(c *cobra.Command, args []string) error { return r.run(e, c, args) },
	}
	r.addFlags(c)
	c.Flags().StringVar(&r.sheet, "sheet", "", "enter the rows of this CSV file")
	c.Flags().StringVar(&r.rework, "rework", "", "what was done since; the answer replaces the former one")
	addBy(c)
	return c
}

// recording is what the command line of proveout record says.
type recording struct {
	answerFlags
	sheet  string
	rework string
}

func (r *recording) run(e *env, c *cobra.Command, args []string) error {
	j, company, err := e.both(c)
	if err != nil {
		return err
	}
	defer j.Close()
	d := &desk{e: e, c: c, job: j, company: company}
	args = append(args, "", "", "")
	phase, check, text := args[0], args[1], args[2]
	switch {
	case r.sheet != "":
		return d.enterSheet(r, phase, check)
	case check == "" && r.note != "":
		return d.enterNote(r, phase)
	case phase == "":
		return &usageError{"say which phase and check, or what to note: --note TEXT\nfor example: " + exampleFor(j, e)}
	case check == "":
		return d.walkPhase(r, phase)
	}
	return d.enterOne(r, phase, check, text)
}

// desk is where entries are made: a job, its company, and who enters.
type desk struct {
	e       *env
	c       *cobra.Command
	job     *jobs.Job
	company *jobs.Company
	entry   jobs.Entry
}

// sign asks who enters, unless that is known.
func (d *desk) sign() error {
	if d.entry.By.Name != "" {
		return nil
	}
	entry, err := d.e.by(d.c, d.company)
	d.entry = entry
	return err
}

// question finds a check by its phase and name.
func (d *desk) question(phase, check string) (*checks.Question, error) {
	ph, err := d.job.Phase(phase)
	if err != nil {
		return nil, err
	}
	return d.job.Question(ph, check)
}

// enterOne enters one answer, or asks for the missing ones of a check.
func (d *desk) enterOne(r *recording, phase, check, text string) error {
	q, err := d.question(phase, check)
	if err != nil {
		return err
	}
	if !r.answers(q, text) {
		if !d.job.Gate(d.e.now()).Asked(q) {
			return &usageError{fmt.Sprintf("%s is not asked in this job\nits conditions do not hold; see: proveout check %s", q.ID(), q.Phase)}
		}
		if d.e.terminal && r.rework == "" {
			return d.walk(r, q.Phase, q.Name)
		}
		return &usageError{fmt.Sprintf("%s wants %s\n%s", q.ID(), wants(q), d.nextCommand(q))}
	}
	if err := d.sign(); err != nil {
		return err
	}
	a, err := r.answer(d, q, text)
	if err != nil {
		return err
	}
	a.Rework = r.rework
	records, err := d.job.Record(d.c.Context(), d.company, d.entry, a)
	if err != nil {
		return err
	}
	return d.printEntered(records[0])
}

// orSee is the command that answers a question, or where to look when it wants
// no answer.
func orSee(q *checks.Question) string {
	if command := q.Command(""); command != "" {
		return command
	}
	return "see: proveout check " + q.Phase
}

// nextCommand is the command that answers the next missing place.
func (d *desk) nextCommand(q *checks.Question) string {
	v := verdictOf(d.job.Gate(d.e.now()), d.job.Plan.HoldOf(q.ID()), q.ID())
	if len(v.Missing) > 0 && q.Command(v.Missing[0]) != "" {
		return q.Command(v.Missing[0])
	}
	return orSee(q)
}

// wants says what answers a question.
func wants(q *checks.Question) string {
	check := checks.ByName(q.Compute)
	switch q.Kind {
	case checks.Reading:
		return fmt.Sprintf("a value of %s, like %s", q.Measures, q.Measures.Example())
	case checks.Observation:
		if q.NotApplicable {
			return "yes, no or na"
		}
		return "yes or no"
	case checks.Inspection:
		return "pass or fail, with --number"
	case checks.Choice:
		return "one of: " + strings.Join(q.Options, ", ")
	case checks.Paper:
		return "a document: --file FILE"
	case checks.Wait:
		return "the time it began: --start \"2026-05-04 14:00\""
	}
	if check == nil || !q.WantsRecord(nil) {
		return "no answer: it is computed from other records"
	}
	if len(check.Answers) > 0 {
		return "one of: " + strings.Join(check.Answers, ", ")
	}
	return "its values: --set NAME=VALUE"
}

// enterNote enters a remark that answers no check.
func (d *desk) enterNote(r *recording, phase string) error {
	if phase == "" {
		phase = currentPhase(d.job, d.job.Gate(d.e.now()))
	}
	if err := d.sign(); err != nil {
		return err
	}
	photos, err := d.readPhotos(r.photos)
	if err != nil {
		return err
	}
	note, err := d.job.Note(d.c.Context(), d.entry, phase, r.note, photos)
	if err != nil {
		return err
	}
	if wantsJSON(d.c) {
		return d.e.printJSON(map[string]any{"record": newRecordReport(note)})
	}
	d.e.printf("noted in %s: %s  (%s)\n", note.Phase, terminalText(note.Note), note.ShortID())
	return nil
}

// currentPhase is the phase the job is in, the last one when all is released.
func currentPhase(j *jobs.Job, g *phases.Gate) string {
	if s := nextHold(g); s != nil {
		return s.Hold.Phase.Name
	}
	return j.Plan.Phases[len(j.Plan.Phases)-1].Name
}

// exampleFor is a command that would answer something the job waits for.
func exampleFor(j *jobs.Job, e *env) string {
	s := nextHold(j.Gate(e.now()))
	if s == nil {
		return "proveout record --note \"all is done\" --by NAME"
	}
	i := slices.IndexFunc(s.Verdicts, func(v checks.Verdict) bool { return !v.Settled() && len(v.Next) > 0 })
	if i < 0 {
		return "proveout record " + s.Hold.Phase.Name
	}
	return s.Verdicts[i].Next[len(s.Verdicts[i].Next)-1]
}

package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
)

func attachCommand(e *env) *cobra.Command {
	var f answerFlags
	c := &cobra.Command{
		Use:   "attach PHASE CHECK FILE|FOLDER…",
		Short: "Add photos, documents or a logger file to a check",
		Long: `Adds files to a check at a place: photos one by one or a folder at a time, sorted
by name, documents, a logger's file. Photos are kept smaller and without the
place that a phone hides in them; documents and logger files stay as they are. A
photo that is there already is left out and said.

When the place has an answer, the same answer is entered once more with the
files; it keeps who gave it and when it was measured. When it has none yet, the
files wait for it and go with the first answer that is recorded there. A check
that asks for a document or a logger file is answered by it.

A logger file is read on the way in, as "proveout log" shows it, in the job's time
zone unless the file or --zone says otherwise. What had to be said to read it is
kept in the record. Say where the logger hung and what is wrong with it: --distance
from the supply air, --offset less the reference, or two --salt points.`,
		Example: `  proveout attach insulation foam-depth IMG_0412.jpg --at "north wall/bay 3" --by Ana
  proveout attach drywall cover-up-photos photos/friday --at "north wall" --by Ana
  proveout attach insulation product-sheet foam-data-sheet.pdf --by Ana
  proveout attach assess baseline-log room.csv --with LG-7 --distance "6 ft" --offset "0.3 °F" --by Ana`,
		Args: cobra.MinimumNArgs(3),
		RunE: func(c *cobra.Command, args []string) error {
			j, company, err := e.both(c)
			if err != nil {
				return err
			}
			defer j.Close()
			d := &desk{e: e, c: c, job: j, company: company}
			return d.attach(&f, args[0], args[1], args[2:])
		},
	}
	s := c.Flags()
	s.StringVar(&f.at, "at", "", "where: a face, a bay or a named place, like \"north wall/bay 3\"")
	s.StringVar(&f.with, "with", "", "the instrument's id, for a logger file")
	s.StringVar(&f.number, "number", "", "number of the document")
	s.StringVar(&f.party, "party", "", "who gave the document, when somebody else: \"building inspector R. Stone\"")
	s.StringVar(&f.start, "start", "", "of a logger file: leave out what is before, like \"2026-05-04 14:00\"")
	s.StringVar(&f.end, "end", "", "of a logger file: leave out what is after")
	s.StringVar(&f.measured, "at-time", "", "when it was measured (default now)")
	s.StringVar(&f.note, "note", "", "a remark")
	f.logger.addFlags(c)
	addBy(c)
	return c
}

func (d *desk) attach(f *answerFlags, phase, check string, names []string) error {
	q, err := d.question(phase, check)
	if err != nil {
		return err
	}
	files, err := d.findFiles(names, q)
	if err != nil {
		return err
	}
	if err := d.sign(); err != nil {
		return err
	}
	logger := f.logger
	f.logger = loggerFlags{} // the files come below
	a, err := f.answer(d, q, "")
	if err != nil {
		return err
	}
	f.logger = logger
	photos, err := d.readPhotos(files.photos)
	if err != nil {
		return err
	}
	same := 0
	for i, in := range photos {
		if d.job.Attached(q.Phase, q.Name, f.at, in) || slices.ContainsFunc(a.Photos, in.Same) {
			d.e.sayf("%s is attached already; left out\n", terminalText(files.photos[i]))
			same++
			continue
		}
		a.Photos = append(a.Photos, in)
	}
	if a.Files, err = d.newFiles(q, f.at, files.papers, &same); err != nil {
		return err
	}
	if err := d.readLoggers(&f.logger, q, a.Files); err != nil {
		return err
	}
	if len(a.Photos)+len(a.Files) == 0 {
		return d.nothingNew(q, same)
	}
	r, err := d.job.Attach(d.c.Context(), d.company, d.entry, a)
	if err != nil {
		return err
	}
	return d.printAttached(r, len(a.Photos)+len(a.Files), same)
}

// newFiles reads documents and leaves out those that are there already.
func (d *desk) newFiles(q *checks.Question, place string, names []string, same *int) ([]*jobs.Incoming, error) {
	read, err := d.readFiles(names)
	if err != nil {
		return nil, err
	}
	var fresh []*jobs.Incoming
	for i, in := range read {
		if d.job.Attached(q.Phase, q.Name, place, in) || slices.ContainsFunc(fresh, in.Same) {
			d.e.sayf("%s is attached already; left out\n", terminalText(names[i]))
			*same++
			continue
		}
		fresh = append(fresh, in)
	}
	return fresh, nil
}

func (d *desk) nothingNew(q *checks.Question, same int) error {
	if wantsJSON(d.c) {
		return d.e.printJSON(map[string]any{"attached": 0, "left_out": same})
	}
	d.e.printf("nothing new for %s: %s attached already\n", q.ID(), isAre(same))
	return nil
}

func isAre(n int) string {
	if n == 1 {
		return "the file is"
	}
	return fmt.Sprintf("all %d files are", n)
}

// printAttached says where the files went and how the check stands.
func (d *desk) printAttached(r *jobs.Record, n, same int) error {
	g := d.job.Gate(d.e.now())
	v := verdictOf(g, d.job.Plan.HoldOf(r.CheckID()), r.CheckID())
	if wantsJSON(d.c) {
		return d.e.printJSON(map[string]any{"attached": n, "left_out": same, "record": newRecordReport(r), "verdict": v})
	}
	left := ""
	if same > 0 {
		left = fmt.Sprintf("; %d left out, attached already", same)
	}
	d.e.printf("attached  %s to %s%s%s  (%s)\n", plural(n, "file"), r.CheckID(), atPlace(r.Place), left, r.ShortID())
	if r.Kind == jobs.NoteRecord {
		d.e.printf("  there is no answer yet; they go with the first one recorded there\n")
	} else {
		d.printPoint(r, v)
	}
	d.printCheck(v)
	d.printHoldAfter(g, r.CheckID())
	return nil
}

// found are files sorted by what becomes of them.
type found struct{ photos, papers []string }

// findFiles lists the files that were named, those of a folder by name.
func (d *desk) findFiles(names []string, q *checks.Question) (found, error) {
	var all found
	check := checks.ByName(q.Compute)
	papers := q.Kind == checks.Paper || check != nil && check.Log
	for _, name := range names {
		info, err := os.Stat(d.e.path(name))
		if err != nil {
			return all, fmt.Errorf("%w: cannot read %s: it is not there\ncheck the path; put quotes round a name with spaces", jobs.ErrNotFound, name)
		}
		if !info.IsDir() {
			all.add(name)
			continue
		}
		if err := d.findIn(name, papers, &all); err != nil {
			return all, err
		}
	}
	if len(all.photos)+len(all.papers) == 0 {
		return all, &usageError{fmt.Sprintf("there is no photo in %s\nphotos are JPEG or PNG; export others from the phone in that form first", strings.Join(names, ", "))}
	}
	return all, nil
}

// add sorts one named file: a photo, or else a document.
func (f *found) add(name string) {
	if jobs.IsPhoto(name) {
		f.photos = append(f.photos, name)
	} else {
		f.papers = append(f.papers, name)
	}
}

// findIn lists a folder. What is no photo is left out and said, unless the
// check asks for documents.
func (d *desk) findIn(folder string, papers bool, all *found) error {
	entries, err := os.ReadDir(d.e.path(folder))
	if err != nil {
		return err
	}
	slices.SortFunc(entries, func(a, b os.DirEntry) int { return cmp.Compare(a.Name(), b.Name()) })
	for _, entry := range entries {
		name := filepath.Join(folder, entry.Name())
		switch {
		case strings.HasPrefix(entry.Name(), "."):
		case entry.IsDir():
			d.e.sayf("%s is a folder in the folder; left out, name it to attach it\n", terminalText(name))
		case jobs.IsPhoto(name) || papers:
			all.add(name)
		default:
			d.e.sayf("%s is not a JPEG or PNG photo; left out\n", terminalText(name))
		}
	}
	return nil
}

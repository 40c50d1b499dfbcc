package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases/strict"
	"proveout/templates"
)

// entered is a sheet on the way into the job.
type entered struct {
	*desk
	phase, check string // what the command line says of rows that do not
	folder       string // of the sheet: photos are named from there
	rows         []sheetRow
	answers      []jobs.Answer
	photos       []string // of all rows, as read from one list
	photoOf      []int    // the answer each belongs to
	photoAt      []strict.Pos
	blank        int
	problems     []string
}

// enterSheet enters the rows of a CSV file, all or none.
func (d *desk) enterSheet(r *recording, phase, check string) error {
	s := &entered{desk: d, phase: phase, check: check, folder: filepath.Dir(d.e.path(r.sheet))}
	if phase != "" {
		ph, err := d.job.Phase(phase)
		if err != nil {
			return err
		}
		s.phase = ph.Name
	}
	data, err := readSheetFile(d.e.path(r.sheet), r.sheet)
	if err != nil {
		return err
	}
	if s.rows, err = readSheet(r.sheet, data); err != nil {
		return &usageError{err.Error() + "\nnothing was entered; correct these and enter the sheet again"}
	}
	if err := s.signRows(); err != nil {
		return err
	}
	for _, row := range s.rows {
		s.take(row)
	}
	s.readPhotos()
	if s.problems != nil {
		return &retoldError{jobs.ErrInput, strings.Join(s.problems, "\n") + "\nnothing was entered; correct these and enter the sheet again"}
	}
	if s.answers == nil {
		return &usageError{fmt.Sprintf("%s: no row has a value (%s without)\nfill in the column value, and enter it again", r.sheet, plural(s.blank, "row"))}
	}
	records, err := d.job.Record(d.c.Context(), d.company, d.entry, s.answers...)
	if errors.Is(err, jobs.ErrNotFound) {
		return &retoldError{jobs.ErrInput, err.Error()}
	}
	if err != nil {
		return err
	}
	return s.print(r.sheet, records)
}

func readSheetFile(path, typed string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, &retoldError{err, fmt.Sprintf("cannot read %s: %v\ncheck the path; an empty sheet comes from: proveout document field-sheet PHASE --csv", typed, errors.Unwrap(err))}
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, maxSheet+1))
	if err != nil {
		return nil, &retoldError{jobs.ErrInput, fmt.Sprintf("cannot read %s: %v", typed, errors.Unwrap(err))}
	}
	return data, nil
}

// signRows finds who enters: --by, or the one whom the first answered row
// names, when all of them name somebody.
func (s *entered) signRows() error {
	by, err := s.c.Flags().GetString("by")
	if err != nil || by != "" {
		return errors.Join(err, s.sign())
	}
	first := ""
	for _, row := range s.rows {
		if len(templates.SheetValues(row.cells["value"])) == 0 {
			continue
		}
		if row.cells["by"] == "" {
			return s.sign()
		}
		if first == "" {
			first = row.cells["by"]
		}
	}
	if first == "" {
		return nil // nothing will be entered
	}
	if s.entry, err = s.e.entry(s.company, first); err != nil {
		s.entry.Now, s.entry.Random = s.e.now(), s.e.random // take reports it with its place
	}
	return nil
}

// fail notes what is wrong with a cell.
func (s *entered) fail(pos strict.Pos, err error) {
	s.problems = append(s.problems, pos.String()+": "+err.Error())
}

// take makes an answer of a row.
func (s *entered) take(row sheetRow) {
	if len(templates.SheetValues(row.cells["value"])) == 0 {
		s.leaveOut(row)
		return
	}
	q, err := s.questionOf(row.cells["check"])
	if err != nil {
		s.fail(row.where("check"), err)
		return
	}
	f := answerFlags{at: row.cells["place"], with: row.cells["instrument"], measured: row.cells["measured"], note: row.cells["note"]}
	text := f.fromCell(row.cells["value"], s.folder)
	if q.Kind == checks.Paper && text != "" {
		f.files, text = append(f.files, inFolder(s.folder, text)), ""
	}
	a, err := f.answer(s.desk, q, text)
	if err != nil {
		s.failAnswer(row, err)
		return
	}
	if by := row.cells["by"]; by != "" {
		if a.By, err = s.company.Person(by); err != nil {
			s.fail(row.where("by"), err)
			return
		}
	}
	a.Where = func(part string) string { return row.where(part).String() }
	for _, name := range splitCell(row.cells["photo"]) {
		s.photos = append(s.photos, inFolder(s.folder, name))
		s.photoOf, s.photoAt = append(s.photoOf, len(s.answers)), append(s.photoAt, row.where("photo"))
	}
	s.answers = append(s.answers, a)
}

// leaveOut counts a row without a value. One with a photo or a note has
// probably lost its value.
func (s *entered) leaveOut(row sheetRow) {
	for _, column := range []string{"photo", "note"} {
		if row.cells[column] != "" {
			s.fail(row.where(column), &usageError{fmt.Sprintf("there is a %s, and no value", column)})
			return
		}
	}
	if row.cells["check"] != "" {
		s.blank++
	}
}

// failAnswer notes what is wrong with an answer, in the column it is about.
func (s *entered) failAnswer(row sheetRow, err error) {
	if text, ok := strings.CutPrefix(err.Error(), "--at-time: "); ok {
		s.fail(row.where("measured"), &retoldError{err, text})
		return
	}
	s.fail(row.where("value"), err)
}

// questionOf finds the check a cell names: phase.check, or the name alone
// where that is enough.
func (s *entered) questionOf(cell string) (*checks.Question, error) {
	if cell == "" {
		cell = s.check
	}
	if phase, check, ok := strings.Cut(cell, "."); ok {
		return s.question(phase, check)
	}
	if s.phase != "" {
		return s.question(s.phase, cell)
	}
	questions := s.job.Plan.Questions()
	var found, names []string
	for id, q := range questions {
		names = append(names, q.Name)
		if q.Name == cell {
			found = append(found, id)
		}
	}
	slices.Sort(found)
	slices.Sort(names)
	switch len(found) {
	case 1:
		return questions[found[0]], nil
	case 0:
		return nil, jobs.Unknown("check", cell, slices.Compact(names), "see: proveout check")
	}
	return nil, &usageError{fmt.Sprintf("%q is a check of several phases\nwrite one of: %s", cell, strings.Join(found, ", "))}
}

// fromCell sets what a cell of values names, and returns the plain answer.
func (f *answerFlags) fromCell(cell, folder string) string {
	text := ""
	for _, v := range templates.SheetValues(cell) {
		switch v.Name {
		case "":
			text = v.Text
		case "number":
			f.number = v.Text
		case "party":
			f.party = v.Text
		case "start":
			f.start = v.Text
		case "end":
			f.end = v.Text
		case "file":
			f.files = append(f.files, inFolder(folder, v.Text))
		default:
			if !f.logger.set(v.Name, v.Text) {
				f.values = append(f.values, v.Name+"="+v.Text)
			}
		}
	}
	return text
}

func inFolder(folder, name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(folder, filepath.FromSlash(name))
}

// splitCell divides a cell that names several files.
func splitCell(cell string) []string {
	var all []string
	for _, part := range strings.Split(cell, ";") {
		if part = strings.TrimSpace(part); part != "" {
			all = append(all, part)
		}
	}
	return all
}

// readPhotos reads the photos of all rows.
func (s *entered) readPhotos() {
	if s.problems != nil {
		return
	}
	photos, errs := s.shrink(s.photos)
	for i, in := range photos {
		if errs[i] != nil {
			s.fail(s.photoAt[i], asTyped(errs[i], s.photos[i], s.e.shown(s.photos[i])))
			continue
		}
		a := &s.answers[s.photoOf[i]]
		a.Photos = append(a.Photos, in)
	}
}

// print says what was entered and how the checks stand.
func (s *entered) print(file string, records []*jobs.Record) error {
	g := s.job.Gate(s.e.now())
	var ids []string
	var verdicts []checks.Verdict
	reports := []recordReport{}
	for _, r := range records {
		reports = append(reports, newRecordReport(r))
		if !slices.Contains(ids, r.CheckID()) {
			ids = append(ids, r.CheckID())
			verdicts = append(verdicts, verdictOf(g, s.job.Plan.HoldOf(r.CheckID()), r.CheckID()))
		}
	}
	if wantsJSON(s.c) {
		return s.e.printJSON(map[string]any{"records": reports, "without_value": s.blank, "verdicts": verdicts})
	}
	s.e.printf("recorded  %s from %s", plural(len(records), "answer"), terminalText(file))
	if s.blank > 0 {
		s.e.printf("; %s without a value left out", plural(s.blank, "row"))
	}
	s.e.printf("\n")
	for _, v := range verdicts {
		s.printCheck(v)
	}
	return nil
}

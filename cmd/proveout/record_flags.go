package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
)

// answerFlags are the parts of an answer that flags give.
type answerFlags struct {
	at, with, number, party string
	start, end, measured    string
	note                    string
	photos, files, values   []string
	logger                  loggerFlags
}

func (f *answerFlags) addFlags(c *cobra.Command) {
	s := c.Flags()
	s.StringVar(&f.at, "at", "", "where: a face, a bay or a named place, like \"north wall/bay 3\"")
	s.StringVar(&f.with, "with", "", "the instrument's id in company.yaml")
	s.StringArrayVar(&f.photos, "photo", nil, "a photo, kept smaller; may be given again")
	s.StringArrayVar(&f.files, "file", nil, "a document or logger file, kept as it is; may be given again")
	s.StringArrayVar(&f.values, "set", nil, "a value of a computed check, like \"airflow=300 cfm\"; may be given again")
	s.StringVar(&f.number, "number", "", "permit, licence or report number of an inspection")
	s.StringVar(&f.party, "party", "", "who gave it, when somebody else: \"building inspector R. Stone\"")
	s.StringVar(&f.start, "start", "", "when it began: \"2026-05-04 14:00\"")
	s.StringVar(&f.end, "end", "", "when it ended")
	s.StringVar(&f.measured, "at-time", "", "when it was measured (default now)")
	s.StringVar(&f.note, "note", "", "a remark")
	f.logger.addFlags(c)
}

// answers reports whether there is something that can answer the question.
func (f *answerFlags) answers(q *checks.Question, text string) bool {
	check := checks.ByName(q.Compute)
	switch {
	case text != "":
		return true
	case q.Kind == checks.Paper:
		return len(f.files)+len(f.photos) > 0
	case q.Kind == checks.Wait:
		return f.start != ""
	case q.Kind == checks.Computed && check != nil && len(check.Answers) == 0:
		return len(f.values)+len(f.files) > 0 || f.start != ""
	}
	return false
}

// answer makes the answer to a question. A wait may be answered by the time it
// began, and a document by its file.
func (f *answerFlags) answer(d *desk, q *checks.Question, text string) (jobs.Answer, error) {
	start, files := f.start, f.files
	switch {
	case text != "" && q.Kind == checks.Wait && start == "":
		start, text = text, ""
	case text != "" && q.Kind == checks.Paper:
		files, text = append([]string{text}, files...), ""
	case text != "" && q.Kind == checks.Wait, text != "" && q.Kind == checks.Computed && len(checks.ByName(q.Compute).Answers) == 0:
		return jobs.Answer{}, &usageError{fmt.Sprintf("%s is not answered by %q: it wants %s\n%s", q.ID(), text, wants(q), orSee(q))}
	}
	a := jobs.Answer{
		Phase: q.Phase, Check: q.Name, Place: f.at, Text: text, Number: f.number,
		Instrument: f.with, Party: f.party, Note: f.note,
	}
	var err error
	if a.Values, err = f.named(); err != nil {
		return a, err
	}
	for _, t := range []struct {
		flag, text string
		to         *time.Time
	}{{"start", start, &a.Start}, {"end", f.end, &a.End}, {"at-time", f.measured, &a.Measured}} {
		if *t.to, err = d.moment(t.text); err != nil {
			return a, fmt.Errorf("--%s: %w", t.flag, err)
		}
	}
	if a.Photos, err = d.readPhotos(f.photos); err != nil {
		return a, err
	}
	if a.Files, err = d.readFiles(files); err != nil {
		return a, err
	}
	return a, d.readLoggers(&f.logger, q, a.Files)
}

// named reads the values given as NAME=VALUE.
func (f *answerFlags) named() ([]jobs.NamedText, error) {
	var all []jobs.NamedText
	for _, text := range f.values {
		name, value, ok := strings.Cut(text, "=")
		if !ok || strings.TrimSpace(value) == "" {
			return nil, &usageError{fmt.Sprintf("--set: %q has no value; write NAME=VALUE, like \"airflow=300 cfm\"", text)}
		}
		all = append(all, jobs.NamedText{Name: strings.TrimSpace(name), Text: strings.TrimSpace(value)})
	}
	return all, nil
}

// moment reads a time of the job; "" stays zero.
func (d *desk) moment(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return jobs.ParseMoment(text, d.job.Zone, d.e.now())
}

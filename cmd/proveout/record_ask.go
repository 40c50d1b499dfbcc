package main

import (
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
)

// ask asks for all parts of the answer to one question. word is skip, back or
// stop when the person typed that instead.
func (w *walk) ask(q *checks.Question, place string) (a jobs.Answer, word string, err error) {
	flags := w.r.answerFlags
	flags.at = place
	if check := checks.ByName(q.Compute); check == nil || !check.Log {
		flags.logger = loggerFlags{} // they are for the logs among the questions
	}
	text := ""
	if q.Kind != checks.Computed || asksWord(q) {
		if text, err = w.askFirst(q); err != nil || command(text) != "" {
			return a, command(text), err
		}
	}
	if word, err = w.askValues(q, &flags); err != nil || word != "" {
		return a, word, err
	}
	if err := w.askRest(q, &flags, text); err != nil {
		return a, "", err
	}
	if !flags.answers(q, text) {
		return a, "skip", nil
	}
	a, err = flags.answer(w.desk, q, unquoted(text))
	if err != nil && correctable(err) {
		w.e.sayf("  %s\n", terminalText(err.Error()))
		return w.ask(q, place)
	}
	return a, "", err
}

// askFirst asks for the answer itself, until a value can be read.
func (w *walk) askFirst(q *checks.Question) (text string, err error) {
	err = w.e.askUntil("  "+firstQuestion(q), "", func(answer string) error {
		text = chosenWord(answer, wordsOf(q))
		switch {
		case command(text) != "":
			return nil
		case q.Kind == checks.Reading:
			_, err := units.Parse(q.Measures, text)
			return err
		case q.Kind == checks.Paper:
			return w.isThere(unquoted(text))
		}
		return nil
	})
	return text, err
}

// asksWord reports whether a computed question is answered by a word.
func asksWord(q *checks.Question) bool {
	check := checks.ByName(q.Compute)
	return check != nil && len(check.Answers) > 0
}

// wordsOf are the words that answer a question of choice.
func wordsOf(q *checks.Question) []string {
	if asksWord(q) {
		return checks.ByName(q.Compute).Answers
	}
	return q.Options
}

// chosenWord is the word that a number stands for.
func chosenWord(text string, words []string) string {
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(words) {
		return words[n-1]
	}
	return text
}

// command is what an answer asks for, if it is no answer: an empty line skips.
func command(text string) string {
	switch strings.ToLower(text) {
	case "", "skip":
		return "skip"
	case "back", "stop":
		return strings.ToLower(text)
	}
	return ""
}

// firstQuestion asks for the answer itself.
func firstQuestion(q *checks.Question) string {
	switch q.Kind {
	case checks.Reading:
		return "Value (" + unitExample(q.Measures) + ")"
	case checks.Paper:
		return "File of the document"
	case checks.Wait:
		return "When it began (like 2026-05-04 14:00)"
	case checks.Inspection:
		return "Result (pass or fail)"
	case checks.Choice, checks.Computed:
		return "Answer, or its number"
	}
	if q.NotApplicable {
		return "Answer (yes, no, na)"
	}
	return "Answer (yes or no)"
}

// askValues asks for the named values, times and logger file of a computed
// check. The first of them may be answered with skip, back or stop.
func (w *walk) askValues(q *checks.Question, f *answerFlags) (word string, err error) {
	check := checks.ByName(q.Compute)
	if q.Kind != checks.Computed || check == nil {
		return "", nil
	}
	first := !asksWord(q)
	next := func(question string) (string, error) {
		text, err := w.e.ask("  " + question)
		if err == nil && first && command(text) != "" {
			word = command(text)
		}
		first = false
		return text, err
	}
	for _, n := range check.Needs {
		question := strings.ToUpper(n.Name[:1]) + n.Name[1:]
		if n.Doc != "" {
			question += ", " + n.Doc
		}
		if n.Optional {
			question += " (empty: not needed)"
		}
		text, err := next(question + " (" + unitExample(n.Kind) + ")")
		if err != nil || word != "" {
			return word, err
		}
		if text != "" {
			f.values = append(f.values, n.Name+"="+text)
		}
	}
	if check.Log {
		text, err := next("Logger file")
		if err != nil || word != "" {
			return word, err
		}
		f.files = append(f.files, unquoted(text))
	}
	return w.askTimes(check, f, next, &word)
}

func (w *walk) askTimes(check *checks.Check, f *answerFlags, next func(string) (string, error), word *string) (string, error) {
	var err error
	if check.Starts || check.Spans {
		if f.start, err = next("When it began (like 2026-05-04 14:00)"); err != nil || *word != "" {
			return *word, err
		}
	}
	if check.Spans {
		f.end, err = next("When it ended")
	}
	return *word, err
}

// askRest asks for number, party, instrument, reason and photos.
func (w *walk) askRest(q *checks.Question, f *answerFlags, text string) error {
	var err error
	if q.Kind == checks.Inspection && f.number == "" {
		if f.number, err = w.e.ask("  Permit, licence or report number"); err != nil {
			return err
		}
	}
	if w.wantsParty(q) && f.party == "" {
		if f.party, err = w.e.askOr("  Who gave it, role and name", q.By[0]); err != nil {
			return err
		}
	}
	if q.Instrument != "" && f.with == "" {
		if err := w.askInstrument(q.Instrument, f); err != nil {
			return err
		}
	}
	if strings.HasPrefix(strings.ToLower(text), "n") && strings.ToLower(text) != "no" && f.note == "" {
		if f.note, err = w.e.ask("  Why it does not apply"); err != nil {
			return err
		}
	}
	return w.askPhotos(q, f)
}

// wantsParty reports whether the result comes from somebody whose role the
// person does not have.
func (w *walk) wantsParty(q *checks.Question) bool {
	if len(q.By) == 0 || q.Kind != checks.Inspection && q.Kind != checks.Paper {
		return false
	}
	for _, role := range q.By {
		if w.entry.By.Has(role) {
			return false
		}
	}
	return true
}

// askInstrument asks which instrument was used, and offers the last one, or
// the only one there is.
func (w *walk) askInstrument(kind string, f *answerFlags) error {
	var have []string
	for _, i := range w.company.Instruments {
		if i.Kind == kind {
			have = append(have, i.ID)
		}
	}
	otherwise := w.with[kind]
	if otherwise == "" && len(have) == 1 {
		otherwise = have[0]
	}
	question := "  With which " + kind
	if len(have) > 1 {
		question += " (" + strings.Join(have, ", ") + ")"
	}
	answer, err := w.e.askMaybe(question, otherwise)
	f.with = answer
	if slices.Contains(have, answer) {
		w.with[kind] = answer
	}
	return err
}

// askPhotos asks for photos where the plan wants them.
func (w *walk) askPhotos(q *checks.Question, f *answerFlags) error {
	if !q.PhotoEach && (!q.PhotoOne || w.hasPhoto(q)) || q.Kind == checks.Paper {
		return nil
	}
	question := "  Photo (file; empty: attach it later)"
	for done := false; !done; question = "  Another photo (empty: that is all)" {
		err := w.e.askUntil(question, "", func(text string) error {
			if done = text == ""; done {
				return nil
			}
			err := w.isThere(unquoted(text))
			if err == nil {
				f.photos = append(f.photos, unquoted(text))
			}
			return err
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// isThere reports a file that cannot be found, before more is asked.
func (w *walk) isThere(file string) error {
	if info, err := os.Stat(w.e.path(file)); err != nil || info.IsDir() {
		return fmt.Errorf("%s is no file here; type its path, or drop it on the window", file)
	}
	return nil
}

// hasPhoto reports whether an answer to the question has a photo.
func (w *walk) hasPhoto(q *checks.Question) bool {
	return slices.ContainsFunc(w.job.Records, func(r *jobs.Record) bool {
		return r.Check == q.Name && r.Phase == q.Phase && len(r.Photos) > 0 && w.job.Current(r)
	})
}

// unquoted takes off the quotes that a terminal puts round a file dropped on
// it.
func unquoted(text string) string {
	if n := len(text); n > 1 && (text[0] == '\'' || text[0] == '"') && text[n-1] == text[0] {
		return text[1 : n-1]
	}
	return text
}

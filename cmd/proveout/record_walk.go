package main

import (
	"errors"
	"slices"
	"strings"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
)

// point is one place of one check that wants an answer.
type point struct{ check, place string }

// walk asks for the missing points one after the other. Each answer is saved
// before the next question.
type walk struct {
	*desk
	r            *recording
	phase, check string            // check "": the whole phase
	with         map[string]string // the instrument last used, by kind
	done         map[point]bool    // answered or left out in this walk
	entered      map[point]string  // id of the record, of those answered
	path         []point
}

// walkPhase asks for all that a phase misses.
func (d *desk) walkPhase(r *recording, phase string) error {
	ph, err := d.job.Phase(phase)
	if err != nil {
		return err
	}
	if !d.e.terminal {
		return &usageError{"say which check of " + ph.Name + ", and the answer; on a terminal it asks for them one by one\nsee what is missing and what to type: proveout check " + ph.Name}
	}
	return d.walk(r, ph.Name, "")
}

func (d *desk) walk(r *recording, phase, check string) error {
	if err := d.sign(); err != nil {
		return err
	}
	w := &walk{
		desk: d, r: r, phase: phase, check: check,
		with: map[string]string{}, done: map[point]bool{}, entered: map[point]string{},
	}
	if w.left() == nil {
		d.e.printf("nothing is missing that %s can answer; see: proveout check %s\n", d.entry.By.Name, phase)
		return nil
	}
	d.e.sayf("Each answer is saved when it is given. Also: skip, back, stop.\n")
	for {
		points := w.left()
		if points == nil {
			break
		}
		if err := w.one(points[0], len(points)); errors.Is(err, errStop) || errors.Is(err, errAborted) && len(w.entered) > 0 {
			break
		} else if err != nil {
			return err
		}
	}
	w.sum()
	return nil
}

// sum says what came of the walk.
func (w *walk) sum() {
	left := len(w.left()) + len(w.done) - len(w.entered)
	w.e.printf("\n%s saved, %d still missing. See: proveout check %s\n", plural(len(w.entered), "answer"), left, w.phase)
}

// left are the points still to be asked, in the order of the plan.
func (w *walk) left() []point {
	g := w.job.Gate(w.e.now())
	questions := w.job.Plan.Questions()
	var points []point
	for _, h := range w.job.Plan.Phase(w.phase).Holds {
		if !h.When.Holds(g.Decisions) {
			continue
		}
		for _, v := range g.Verdicts(h, "") {
			q := questions[v.Check]
			if w.check != "" && q.Name != w.check || !w.may(q) {
				continue
			}
			for _, place := range v.Missing {
				p := point{v.Check, place}
				if !w.done[p] && (w.r.at == "" || place == w.r.at || checks.FaceOf(place) == w.r.at) {
					points = append(points, p)
				}
			}
		}
	}
	return points
}

// may reports whether the person may answer a question: somebody else's result
// may be entered, somebody else's reading may not.
func (w *walk) may(q *checks.Question) bool {
	if len(q.By) == 0 || q.Kind == checks.Inspection || q.Kind == checks.Paper {
		return true
	}
	return slices.ContainsFunc(q.By, w.entry.By.Has)
}

var errStop = errors.New("stop")

// one asks for one point until it is answered or left out.
func (w *walk) one(p point, left int) error {
	q := w.job.Plan.Questions()[p.check]
	w.show(q, p.place, left)
	for {
		a, word, err := w.ask(q, p.place)
		if err != nil {
			return err
		}
		switch word {
		case "stop":
			return errStop
		case "back":
			w.back()
			return nil
		case "skip":
			w.pass(p)
			return nil
		}
		if err = w.save(p, a); err == nil {
			w.pass(p)
			return nil
		}
		if !correctable(err) {
			return err
		}
		w.e.sayf("  %s\n", terminalText(strings.ReplaceAll(err.Error(), "\n", "\n  ")))
	}
}

// correctable reports whether another answer may help.
func correctable(err error) bool {
	return errors.Is(err, jobs.ErrInput) || errors.Is(err, jobs.ErrNotFound) || errors.Is(err, errUsage)
}

func (w *walk) pass(p point) {
	w.done[p] = true
	w.path = append(w.path, p)
}

// back makes the last point the next one to be asked.
func (w *walk) back() {
	if len(w.path) == 0 {
		w.e.sayf("  this is the first one\n")
		return
	}
	last := w.path[len(w.path)-1]
	w.path = w.path[:len(w.path)-1]
	if id := w.entered[last]; id != "" {
		w.redo(last, id)
		return
	}
	delete(w.done, last)
}

// redo asks again for a point that is saved already: the new answer corrects
// it.
func (w *walk) redo(p point, id string) {
	q := w.job.Plan.Questions()[p.check]
	old, err := w.job.FindRecord(id)
	if err != nil {
		return
	}
	w.show(q, p.place, len(w.left())+1)
	w.e.sayf("  saved was %s; the new answer corrects it, skip keeps it\n", terminalText(old.Shown()))
	for {
		a, word, err := w.ask(q, p.place)
		if err != nil || word != "" {
			break
		}
		a.Place = ""
		r, err := w.job.Correct(w.c.Context(), w.company, w.stamp(), id, a, "typed wrong the first time")
		if err == nil {
			w.entered[p] = r.ID
			w.tell(r)
			break
		}
		w.e.sayf("  %s\n", terminalText(err.Error()))
	}
	w.path = append(w.path, p)
}

// stamp is the entry of this moment.
func (w *walk) stamp() jobs.Entry {
	e := w.entry
	e.Now = w.e.now()
	return e
}

// save enters one answer.
func (w *walk) save(p point, a jobs.Answer) error {
	records, err := w.job.Record(w.c.Context(), w.company, w.stamp(), a)
	if err != nil {
		return err
	}
	w.entered[p] = records[0].ID
	w.tell(records[0])
	return nil
}

// tell prints how the point stands.
func (w *walk) tell(r *jobs.Record) {
	g := w.job.Gate(w.e.now())
	v := verdictOf(g, w.job.Plan.HoldOf(r.CheckID()), r.CheckID())
	outcome, text := v.Outcome, strings.Join(v.Reasons, "; ")
	for _, p := range v.Points {
		if slices.Contains(p.Facts, r.ID) {
			outcome, text = p.Outcome, p.Reason
			if p.Reason == "" && p.Margin != "" {
				text = "margin " + p.Margin + near(p.Near)
			}
		}
	}
	if text != "" {
		text = "  " + text
	}
	w.e.printf("  %s  %s%s: %s  (%s)%s\n", w.e.mark(outcome), r.CheckID(), atPlace(r.Place), terminalText(w.understood(r)), r.ShortID(), terminalText(text))
}

// show prints the question of a point.
func (w *walk) show(q *checks.Question, place string, left int) {
	w.e.sayf("\n%s%s  (%d left)\n", w.e.bold(q.ID()), atPlace(place), left)
	for _, line := range wrapped(terminalText(q.Ask), min(w.e.width, 100)-2) {
		w.e.sayf("  %s\n", line)
	}
	for _, b := range q.Limits.Bounds() {
		text := b.Word + " " + b.Text
		limit, err := b.Resolve(q.Measures, w.job.Room, w.job.Room.Face(checks.FaceOf(place)))
		switch {
		case err != nil:
			text += ": " + err.Error()
		case limit.String() != b.Text:
			text = b.Word + " " + limit.String() + " (" + b.Text + ")"
		}
		w.e.sayf("  limit: %s\n", terminalText(strings.TrimSuffix(text, " ()")))
	}
	if q.RecordOnly {
		w.e.sayf("  no limit: it is recorded only\n")
	}
	for i, word := range wordsOf(q) {
		w.e.sayf("  %d %s\n", i+1, terminalText(word))
	}
	if q.Kind == checks.Wait {
		w.e.sayf("  wait: %s\n", terminalText(q.Wait))
	}
	if q.Note != "" {
		for _, line := range wrapped("note: "+terminalText(q.Note), min(w.e.width, 100)-2) {
			w.e.sayf("  %s\n", line)
		}
	}
}

// unitExample is how a value of a kind is written.
func unitExample(kind units.Kind) string { return "like " + kind.Example() }

package jobs

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs/store"
	"proveout/phases"
)

// Answer is what a person enters for one check at one place.
type Answer struct {
	Phase, Check string
	Place        string
	Text         string // the value or the answer, as typed
	Values       []NamedText
	Number       string
	Start, End   time.Time
	Instrument   string
	Measured     time.Time // zero: now
	Photos       []*Incoming
	Files        []*Incoming
	Note         string
	Party        string // of an inspection or paper: "building inspector R. Stone"
	Rework       string // what was done since; the answer replaces the former one
}

// Record enters answers, all in one commit, and returns their records. Either
// all are entered or none.
func (j *Job) Record(ctx context.Context, c *Company, e Entry, answers ...Answer) ([]*Record, error) {
	var records []*Record
	err := j.change(ctx, e, func(op *store.Operation) (string, error) {
		records = nil
		var problems []string
		gate := j.Gate(e.Now)
		for _, a := range answers {
			r, err := j.answer(c, e, gate, a, records)
			if err != nil {
				problems = append(problems, err.Error())
				continue
			}
			records = append(records, r)
		}
		if len(problems) == 1 && len(answers) == 1 {
			return "", problem(ErrInput, "", "%s", problems[0])
		}
		if problems != nil {
			return "", problem(ErrInput, "nothing was entered; correct these and enter all again", "%s", strings.Join(problems, "\n"))
		}
		return answersMessage(records), j.writeAnswers(op, records, answers)
	})
	return records, err
}

func (j *Job) writeAnswers(op *store.Operation, records []*Record, answers []Answer) error {
	for i, r := range records {
		for _, in := range slices.Concat(answers[i].Photos, answers[i].Files) {
			if err := in.store(j, op); err != nil {
				return err
			}
		}
		if err := r.write(op); err != nil {
			return err
		}
	}
	return nil
}

func answersMessage(records []*Record) string {
	if len(records) == 1 {
		r := records[0]
		text := r.CheckID() + ": " + r.shown()
		if r.Place != "" {
			text += " at " + r.Place
		}
		return text
	}
	return fmt.Sprintf("%s: %d answers", records[0].Phase, len(records))
}

// shown is the record's answer in one line.
func (r *Record) shown() string {
	switch {
	case r.Value != "":
		return r.Value
	case r.Answer != "":
		return strings.TrimSpace(r.Answer + " " + r.Number)
	case len(r.Values) > 0:
		var parts []string
		for _, v := range r.Values {
			parts = append(parts, v.Name+" "+v.Text)
		}
		return strings.Join(parts, ", ")
	case !r.Start.IsZero():
		return "started " + r.Start.Format("2006-01-02 15:04")
	case len(r.Files) > 0:
		return r.Files[0].Name
	}
	return "entered"
}

// Shown is the record's answer in one line, as it was written.
func (r *Record) Shown() string { return r.shown() }

// answer checks what was typed and makes its record. earlier are records of
// the same operation.
func (j *Job) answer(c *Company, e Entry, g *phases.Gate, a Answer, earlier []*Record) (*Record, error) {
	ph, err := j.Phase(a.Phase)
	if err != nil {
		return nil, err
	}
	q, err := j.Question(ph, a.Check)
	if err != nil {
		return nil, err
	}
	if !g.Asked(q) {
		return nil, fmt.Errorf("%s is not asked in this job\nits conditions do not hold; see: proveout check %s", q.ID(), ph.Name)
	}
	r, err := j.newRecord(e, AnswerRecord, ph.Name)
	if err != nil {
		return nil, err
	}
	r.Check, r.Note, r.Number, r.Party = q.Name, a.Note, a.Number, a.Party
	if err := r.fill(j, c, q, a, e.Now); err != nil {
		return nil, fmt.Errorf("%s: %w", q.ID(), err)
	}
	if err := r.setPlace(j, q, a.Place, earlier); err != nil {
		return nil, err
	}
	return r, j.replace(r, q, a.Rework, earlier)
}

// setPlace checks the place, or finds the only one it can be.
func (r *Record) setPlace(j *Job, q *checks.Question, place string, earlier []*Record) error {
	if place == "" {
		place = j.onlyPlace(q, earlier)
	}
	if place == "" {
		expected := q.Expected(j.Room, "")
		return fmt.Errorf("%s: say where: --at %q\nplaces: %s", q.ID(), expected[0], strings.Join(expected, ", "))
	}
	known, err := q.CheckPlace(j.Room, place)
	if err != nil && known != nil {
		return fmt.Errorf("%w\n%s", err, Unknown("place", checks.FaceOf(place), known, "").(*Problem).Next)
	}
	r.Place = place
	return err
}

// onlyPlace is the next free place of a check that is not about faces or named
// places, or the one place it has.
func (j *Job) onlyPlace(q *checks.Question, earlier []*Record) string {
	s := q.Sampling
	if s.OnFaces() || s.Places != nil || s.Each != "" {
		if expected := q.Expected(j.Room, ""); len(expected) == 1 {
			return expected[0]
		}
		return ""
	}
	if s.AtLeast <= 1 {
		return "point 1"
	}
	used := map[string]bool{}
	for _, o := range slices.Concat(j.Records, earlier) {
		if o.Kind == AnswerRecord && o.CheckID() == q.ID() && j.Current(o) {
			used[o.Place] = true
		}
	}
	for n := 1; ; n++ {
		if place := fmt.Sprintf("point %d", n); !used[place] {
			return place
		}
	}
}

// replace handles a place that already has an answer.
func (j *Job) replace(r *Record, q *checks.Question, rework string, earlier []*Record) error {
	for _, o := range earlier {
		if o.CheckID() == r.CheckID() && o.Place == r.Place && !q.Series {
			return fmt.Errorf("%s at %s is answered twice", q.ID(), r.Place)
		}
	}
	if q.Series || q.Kind == checks.Inspection {
		return nil
	}
	for _, o := range j.Records {
		if o.Kind != AnswerRecord || o.CheckID() != r.CheckID() || o.Place != r.Place || !j.Current(o) {
			continue
		}
		if rework == "" {
			return fmt.Errorf("%s at %s has an answer already: %s (%s)\nif the work was done again: --rework \"what was done\"\nif it was a mistake:        proveout correct %s \"the right answer\" --reason \"why\"",
				q.ID(), r.Place, o.shown(), o.Entered.Format("2 Jan 15:04"), shortID(o.ID))
		}
		r.Supersedes, r.Reason = append(r.Supersedes, o.ID), "rework: "+rework
	}
	return nil
}

// shortID is the end of an id that people type.
func shortID(id string) string { return id[strings.LastIndex(id, "-")+1:] }

// ShortID is the end of the record's id that people type.
func (r *Record) ShortID() string { return shortID(r.ID) }

// fill sets the record's answer from what was typed.
func (r *Record) fill(j *Job, c *Company, q *checks.Question, a Answer, now time.Time) error {
	if err := r.setTimes(j, a, now); err != nil {
		return err
	}
	if err := r.setInstrument(c, q, a.Instrument); err != nil {
		return err
	}
	for _, in := range a.Photos {
		r.Photos = append(r.Photos, in.Evidence)
	}
	for _, in := range a.Files {
		r.Files = append(r.Files, in.Evidence)
	}
	if err := r.checkParty(q); err != nil {
		return err
	}
	return r.setAnswer(q, a)
}

// checkParty asks for the role of the person who gave a result, where the plan
// names roles and the one who enters it has none of them.
func (r *Record) checkParty(q *checks.Question) error {
	if r.Party != "" && q.Kind != checks.Inspection && q.Kind != checks.Paper {
		return fmt.Errorf("only an inspection or a document comes from another party; this must be entered by: %s", strings.Join(q.By, " or "))
	}
	if len(q.By) == 0 || partyRole(r.Party, q.By) != "" || slices.ContainsFunc(q.By, func(role string) bool { return slices.Contains(r.Roles, role) }) {
		return nil
	}
	if q.Kind == checks.Inspection || q.Kind == checks.Paper {
		return fmt.Errorf("say who gave it: --party \"%s NAME\" (it must come from: %s)", q.By[0], strings.Join(q.By, " or "))
	}
	return fmt.Errorf("it must be entered by: %s; %s is %s", strings.Join(q.By, " or "), r.By, strings.Join(r.Roles, ", "))
}

// partyRole returns the role that a party's text begins with.
func partyRole(party string, roles []string) string {
	for _, role := range roles {
		if len(party) >= len(role) && strings.EqualFold(party[:len(role)], role) {
			return role
		}
	}
	return ""
}

func (r *Record) setTimes(j *Job, a Answer, now time.Time) error {
	if !a.Measured.IsZero() {
		r.Measured = a.Measured.In(j.Zone)
	}
	if r.Measured.After(now) {
		return fmt.Errorf("%s is still to come", moment(r.Measured, j.Zone))
	}
	if r.Measured.Before(j.Started) {
		return fmt.Errorf("%s is before the job started, on %s", moment(r.Measured, j.Zone), j.Started.Format(time.DateOnly))
	}
	r.Start, r.End = a.Start, a.End
	if !r.Start.IsZero() && r.Start.After(now) {
		return fmt.Errorf("the start, %s, is still to come", moment(r.Start, j.Zone))
	}
	if !r.End.IsZero() && (r.End.Before(r.Start) || r.End.After(now)) {
		return fmt.Errorf("the end, %s, is not between the start and now", moment(r.End, j.Zone))
	}
	return nil
}

func (r *Record) setInstrument(c *Company, q *checks.Question, id string) error {
	if id == "" {
		if q.Instrument != "" {
			return fmt.Errorf("name the %s: --with ID%s", q.Instrument, instrumentsOf(c, q.Instrument))
		}
		return nil
	}
	i, err := c.Instrument(id)
	if err != nil {
		return err
	}
	if q.Instrument != "" && i.Kind != q.Instrument {
		return fmt.Errorf("%s is a %s; this check wants a %s%s", i.ID, i.Kind, q.Instrument, instrumentsOf(c, q.Instrument))
	}
	r.Instrument = &i
	return nil
}

// instrumentsOf lists the company's instruments of a kind.
func instrumentsOf(c *Company, kind string) string {
	var ids []string
	for _, i := range c.Instruments {
		if i.Kind == kind {
			ids = append(ids, i.ID)
		}
	}
	if ids == nil {
		return "; company.yaml has no " + kind + " yet"
	}
	return "; the company has: " + strings.Join(ids, ", ")
}

func (r *Record) setAnswer(q *checks.Question, a Answer) error {
	switch q.Kind {
	case checks.Reading:
		if _, err := units.Parse(q.Measures, a.Text); err != nil {
			return err
		}
		r.Value = strings.TrimSpace(a.Text)
	case checks.Observation:
		return r.setWord(a.Text, []string{"yes", "no", "not applicable"})
	case checks.Inspection:
		return r.setInspection(a)
	case checks.Choice:
		return r.setWord(a.Text, q.Options)
	case checks.Paper:
		if len(r.Files)+len(r.Photos) == 0 {
			return fmt.Errorf("attach the document: --file FILE")
		}
		r.Files = append(r.Files, r.Photos...)
		r.Photos = nil
	case checks.Wait:
		if r.Start.IsZero() {
			return fmt.Errorf("say when it began: --start \"2026-05-04 14:00\"")
		}
	case checks.Computed:
		return r.setComputed(q, a)
	}
	return nil
}

func (r *Record) setInspection(a Answer) error {
	if a.Number == "" {
		return fmt.Errorf("give the permit, licence or report number: --number NUMBER")
	}
	return r.setWord(a.Text, []string{"pass", "fail"})
}

func (r *Record) setWord(text string, known []string) error {
	text = strings.ToLower(strings.TrimSpace(text))
	if text == "n/a" || text == "na" {
		text = "not applicable"
	}
	for _, w := range known {
		if strings.EqualFold(w, text) {
			r.Answer = w
			return nil
		}
	}
	return fmt.Errorf("the answer %q is not one of: %s", text, strings.Join(known, ", "))
}

func (r *Record) setComputed(q *checks.Question, a Answer) error {
	check := checks.ByName(q.Compute)
	if check.Each == nil || q.Uses != "" {
		return fmt.Errorf("it is computed from other records and wants none of its own")
	}
	if len(check.Answers) > 0 {
		if err := r.setWord(a.Text, check.Answers); err != nil {
			return err
		}
	}
	return r.setValues(check, a.Values)
}

func (r *Record) setValues(check *checks.Check, values []NamedText) error {
	for _, v := range values {
		i := slices.IndexFunc(check.Needs, func(n checks.Need) bool { return n.Name == v.Name })
		if i < 0 {
			return fmt.Errorf("%s", Unknown("value", v.Name, needNames(check), ""))
		}
		if _, err := units.Parse(check.Needs[i].Kind, v.Text); err != nil {
			return fmt.Errorf("%s: %w", v.Name, err)
		}
		r.Values = append(r.Values, v)
	}
	for _, n := range check.Needs {
		if !n.Optional && !slices.ContainsFunc(values, func(v NamedText) bool { return v.Name == n.Name }) {
			return fmt.Errorf("%s is missing: --set %q", n.Name, n.Name+"="+n.Kind.Example())
		}
	}
	if check.Log && len(r.Files) == 0 {
		return fmt.Errorf("attach the logger file: --file LOG.csv")
	}
	if check.Starts && r.Start.IsZero() {
		return fmt.Errorf("say when it began: --start \"2026-05-04 14:00\"")
	}
	if check.Spans && (r.Start.IsZero() || r.End.IsZero()) {
		return fmt.Errorf("say when it began and ended: --start \"2026-05-04 14:00\" --end \"2026-05-05 14:10\"")
	}
	return nil
}

func needNames(check *checks.Check) []string {
	names := make([]string, len(check.Needs))
	for i, n := range check.Needs {
		names[i] = n.Name
	}
	return names
}

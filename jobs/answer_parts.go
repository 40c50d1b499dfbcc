package jobs

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/units"
)

// fill sets the record's answer from what was typed.
func (r *Record) fill(j *Job, c *Company, q *checks.Question, a Answer, now time.Time) error {
	if err := r.setTimes(j, a, now); err != nil {
		return wrongPart("measured", err)
	}
	r.Instrument = a.kept
	if a.kept == nil {
		if err := r.setInstrument(c, q, a.Instrument); err != nil {
			return wrongPart("instrument", err)
		}
	}
	for _, in := range a.Photos {
		r.Photos = append(r.Photos, in.Evidence)
	}
	for _, in := range a.Files {
		r.Files = append(r.Files, in.Evidence)
	}
	if err := r.checkParty(q); err != nil {
		return wrongPart("by", err)
	}
	return r.setAnswer(q, a)
}

// checkParty asks for the role of the person who gave a result, where the plan
// names roles and the one who enters it has none of them.
func (r *Record) checkParty(q *checks.Question) error {
	if r.Party != "" && !fromParty(q.Kind) {
		return fmt.Errorf("only an inspection or a document comes from another party; this must be entered by: %s", strings.Join(q.By, " or "))
	}
	if len(q.By) == 0 || partyRole(r.Party, q.By) != "" || slices.ContainsFunc(q.By, func(role string) bool { return slices.Contains(r.Roles, role) }) {
		return nil
	}
	if fromParty(q.Kind) {
		return fmt.Errorf("say who gave it: --party \"%s NAME\" (it must come from: %s)", q.By[0], strings.Join(q.By, " or "))
	}
	return fmt.Errorf("it must be entered by: %s; %s is %s", strings.Join(q.By, " or "), r.By, strings.Join(r.Roles, ", "))
}

// partyRole returns the role that a party's text begins with; a name follows.
func partyRole(party string, roles []string) string {
	for _, role := range roles {
		if len(party) <= len(role) || !strings.EqualFold(party[:len(role)], role) {
			continue
		}
		if name := party[len(role):]; strings.ContainsAny(name[:1], " ,:") && strings.Trim(name, " ,:") != "" {
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
		return fmt.Errorf("%s is still to come\nsay when it was measured; if that is the time, the clock of this computer is behind", moment(r.Measured, j.Zone))
	}
	if r.Measured.Before(j.Started) {
		return fmt.Errorf("%s is before the job started, on %s\nsay when it was measured, or correct started in job.yaml", moment(r.Measured, j.Zone), j.Started.Format(time.DateOnly))
	}
	r.Start, r.End = a.Start, a.End
	if !r.Start.IsZero() && r.Start.After(now) {
		return fmt.Errorf("the start, %s, is still to come\nsay when it began; if that is the time, the clock of this computer is behind", moment(r.Start, j.Zone))
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
		if len(r.Files) == 0 {
			r.Files = r.Photos // a photo of the document is the document
		}
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
	if !q.WantsRecord(nil) {
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
			return fmt.Errorf("%s is missing: --set %q", n.Name, n.Name+"="+n.Sample())
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

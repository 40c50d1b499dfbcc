package jobs

import (
	"slices"

	"proveout/checks"
	"proveout/checks/logs"
	"proveout/checks/units"
	"proveout/phases"
)

// facts returns the current answers by the check they answer.
func (j *Job) facts() checks.Facts { return j.factsFor(j.Plan) }

// factsFor are the current answers as another plan understands them.
func (j *Job) factsFor(plan *phases.Plan) checks.Facts {
	facts := checks.Facts{}
	questions := plan.Questions()
	for _, r := range j.Records {
		if r.Kind != AnswerRecord || !j.Current(r) {
			continue
		}
		q := questions[r.CheckID()]
		if q == nil {
			continue // the plan does not ask any more
		}
		facts[q.ID()] = append(facts[q.ID()], j.fact(r, q))
	}
	return facts
}

// fact is a record as the checks see it. What cannot be understood stays
// unknown, and the check says so.
func (j *Job) fact(r *Record, q *checks.Question) checks.Fact {
	f := checks.Fact{
		ID: r.ID, Check: q.ID(), Place: r.Place, Number: r.Number, Answer: r.Answer,
		By: r.By, Party: r.Party, Roles: r.Roles, Measured: r.Measured, Start: r.Start, End: r.End,
		Photos: j.countPhotos(r), Note: r.Note,
	}
	if role := partyRole(r.Party, q.By); role != "" && fromParty(q.Kind) {
		f.Roles = append(slices.Clone(r.Roles), role)
	}
	if r.Value != "" {
		f.Quantity, _ = units.Parse(q.Measures, r.Value)
	}
	f.Values = values(r, q)
	if r.Instrument != nil {
		f.Instrument = r.Instrument.certified(q.Measures)
	}
	for _, e := range r.Files {
		f.Files = append(f.Files, j.fileOf(e))
	}
	return f
}

// fileOf is a file as the checks see it. Where what the record says of its logger
// cannot be understood it is not read either.
func (j *Job) fileOf(e Evidence) checks.File {
	logger, err := e.Logger.understood()
	return checks.File{
		Path: e.Path, Name: e.Name, SHA256: e.SHA256, Place: e.Place, Logger: logger,
		Log: func() (*logs.File, error) {
			if err != nil {
				return nil, err
			}
			return j.log(e)
		},
	}
}

// fromParty reports whether an answer may come from somebody else than the
// person who enters it.
func fromParty(k checks.Kind) bool { return k == checks.Inspection || k == checks.Paper }

// countPhotos counts the photos of a record that are there.
func (j *Job) countPhotos(r *Record) int {
	n := 0
	for _, e := range r.Photos {
		if j.exists(e.Path) {
			n++
		}
	}
	return n
}

func values(r *Record, q *checks.Question) map[string]units.Quantity {
	check := checks.ByName(q.Compute)
	if check == nil || len(r.Values) == 0 {
		return nil
	}
	all := map[string]units.Quantity{}
	for _, v := range r.Values {
		for _, n := range check.Needs {
			if n.Name == v.Name {
				all[v.Name], _ = units.Parse(n.Kind, v.Text)
			}
		}
	}
	return all
}

// certified is the instrument as the checks see it for one kind of value.
func (i *Instrument) certified(kind units.Kind) *checks.Instrument {
	c := &checks.Instrument{
		ID: i.ID, Kind: i.Kind, NotRequired: i.NotRequired != "",
		Calibrated: i.Calibrated, Due: i.Due, Certificate: i.Certificate,
	}
	if kind == units.TemperatureKind {
		kind = units.TemperatureDifferenceKind
	}
	if i.Uncertainty == "" {
		return c
	}
	var err error
	if c.Uncertainty, err = units.Parse(kind, i.Uncertainty); err != nil {
		// A logger answers for temperatures whatever is computed from them.
		c.Uncertainty, _ = units.Parse(units.TemperatureDifferenceKind, i.Uncertainty)
	}
	return c
}

// penetrationPlaces returns the places of the penetration list.
func (j *Job) penetrationPlaces() []string {
	var places []string
	for _, r := range j.Penetrations() {
		places = append(places, r.Place)
	}
	return places
}

// Penetrations returns the current penetration list.
func (j *Job) Penetrations() []*Record {
	var list []*Record
	for _, r := range j.Records {
		if r.Kind == PenetrationRecord && j.Current(r) {
			list = append(list, r)
		}
	}
	return list
}

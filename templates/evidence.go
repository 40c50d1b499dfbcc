package templates

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs"
)

// evidence is a photo or a file of a job as documents list it.
type evidence struct {
	Link         Markdown
	Name         string // as the person's file was called
	SHA256       string
	Short        string // the first 16 digits
	Original     string // SHA-256 of the file from the camera, when it was shrunk
	About, Place string // check and place it belongs to
	By, Taken    string
	Photo        bool
}

// evidenceOf lists the photos and files of records, each file once for each
// record that names it, in the order of the plan's checks and places.
func (d Dossier) evidenceOf(records []*jobs.Record) []evidence {
	var all []evidence
	for _, r := range d.inOrder(records) {
		for _, e := range r.Photos {
			all = append(all, d.evidence(r, e, true))
		}
		for _, e := range r.Files {
			all = append(all, d.evidence(r, e, false))
		}
	}
	return all
}

// inOrder sorts records by the check they answer, by place, and by time.
func (d Dossier) inOrder(records []*jobs.Record) []*jobs.Record {
	position, expected := map[string]int{}, map[string]int{}
	for _, h := range d.Plan.Holds() {
		for _, q := range h.Checks {
			position[q.ID()] = len(position)
			for i, place := range q.Expected(d.Room, "") {
				expected[q.ID()+" at "+place] = i + 1
			}
		}
	}
	rank := func(r *jobs.Record) int { return expected[r.CheckID()+" at "+r.Place] }
	sorted := slices.Clone(records)
	slices.SortStableFunc(sorted, func(a, b *jobs.Record) int {
		return cmp.Or(
			cmp.Compare(position[a.CheckID()], position[b.CheckID()]),
			cmp.Compare(rank(a), rank(b)), comparePlaces(a.Place, b.Place), a.Measured.Compare(b.Measured),
		)
	})
	return sorted
}

// comparePlaces orders "bay 2" before "bay 10".
func comparePlaces(a, b string) int {
	for a != "" && b != "" {
		x, y := chunk(a), chunk(b)
		if digit(x[0]) && digit(y[0]) && len(x) != len(y) {
			return cmp.Compare(len(x), len(y))
		}
		if c := strings.Compare(x, y); c != 0 {
			return c
		}
		a, b = a[len(x):], b[len(y):]
	}
	return cmp.Compare(len(a), len(b))
}

// chunk is the number that a text begins with, or all before its first number.
func chunk(text string) string {
	i := strings.IndexFunc(text, func(r rune) bool { return digit(byte(r)) != digit(text[0]) || r > 0x7f && digit(text[0]) })
	if i < 0 {
		return text
	}
	return text[:i]
}

func (d Dossier) evidence(r *jobs.Record, e jobs.Evidence, photo bool) evidence {
	about := r.Kind
	if r.Check != "" {
		about = r.CheckID()
	}
	if r.Nonconformity != "" {
		about = r.Nonconformity
	}
	place := r.Place
	if e.Place != "" {
		place = e.Place
	}
	return evidence{
		Link: d.link(e.Path), Name: e.Name, SHA256: e.SHA256, Short: e.SHA256[:min(len(e.SHA256), 16)],
		Original: e.Original, About: about, Place: d.place(d.Plan.Questions()[about], place), By: r.By, Taken: d.moment(r.Measured),
		Photo: photo,
	}
}

// instrument is a measuring instrument as it was certified for the readings
// that were taken with it.
type instrument struct {
	ID, Kind, Uncertainty   string
	Calibrated, Due         string
	Certificate, Used, Note string
}

// instrumentsOf lists the instruments of records, by id and certificate.
func (d Dossier) instrumentsOf(records []*jobs.Record) []instrument {
	type use struct {
		of          jobs.Instrument
		first, last time.Time
		problems    []string
	}
	var uses []*use
	for _, r := range records {
		if r.Instrument == nil {
			continue
		}
		i := slices.IndexFunc(uses, func(u *use) bool { return u.of == *r.Instrument })
		if i < 0 {
			i = len(uses)
			uses = append(uses, &use{of: *r.Instrument, first: r.Measured, last: r.Measured})
		}
		u := uses[i]
		if r.Measured.Before(u.first) {
			u.first = r.Measured
		}
		if r.Measured.After(u.last) {
			u.last = r.Measured
		}
		if problem := expired(u.of, r.Measured); problem != "" && !slices.Contains(u.problems, problem) {
			u.problems = append(u.problems, problem)
		}
	}
	slices.SortStableFunc(uses, func(a, b *use) int { return strings.Compare(a.of.ID, b.of.ID) })
	var all []instrument
	for _, u := range uses {
		all = append(all, instrument{
			ID: u.of.ID, Kind: u.of.Kind, Uncertainty: u.of.Uncertainty,
			Calibrated: date(u.of.Calibrated), Due: date(u.of.Due), Certificate: u.of.Certificate,
			Used: d.period(u.first, u.last), Note: calibrationNote(u.of, u.problems),
		})
	}
	return all
}

func expired(i jobs.Instrument, at time.Time) string {
	c := checks.Instrument{ID: i.ID, NotRequired: i.NotRequired != "", Calibrated: i.Calibrated, Due: i.Due}
	_, why := c.InCalibration(at)
	return why
}

func calibrationNote(i jobs.Instrument, problems []string) string {
	switch {
	case i.NotRequired != "":
		return "no calibration required: " + i.NotRequired
	case problems != nil:
		return strings.Join(problems, "; ")
	}
	return "in calibration"
}

// period prints the days from first to last.
func (d Dossier) period(first, last time.Time) string {
	from, to := d.day(first), d.day(last)
	if from == to {
		return from
	}
	return from + " to " + to
}

// inspection is a third party's result.
type inspection struct {
	About, Ask          string
	By, Licence, Number string
	Result, At, Note    string
}

// inspectionsOf lists the current results of third parties among records.
func (d Dossier) inspectionsOf(records []*jobs.Record) []inspection {
	questions := d.Plan.Questions()
	var all []inspection
	for _, r := range records {
		q := questions[r.CheckID()]
		if r.Kind != jobs.AnswerRecord || !d.Current(r) || q == nil || q.Kind != checks.Inspection {
			continue
		}
		all = append(all, inspection{
			About: r.CheckID(), Ask: q.Inspection, By: party(r), Licence: r.Licence,
			Number: r.Number, Result: r.Answer, At: d.day(r.Measured), Note: r.Note,
		})
	}
	return all
}

// party is who gave a result: the third party, else who entered it.
func party(r *jobs.Record) string {
	if r.Party == "" {
		return who(r)
	}
	return r.Party + " (entered by " + r.By + ")"
}

// wait is time that had to pass.
type wait struct{ Ask, From, Length, Began, Outcome string }

// waitsOf lists the waits of a hold.
func (d Dossier) waitsOf(verdicts []checks.Verdict) []wait {
	questions := d.Plan.Questions()
	var all []wait
	for _, v := range verdicts {
		q := questions[v.Check]
		if q.Kind != checks.Wait {
			continue
		}
		w := wait{Ask: q.Ask, From: q.From, Length: waitText(q, d.Room), Began: "not recorded", Outcome: outcome(v)}
		if r := d.answer(v.Check); r != nil {
			w.Began = d.moment(r.Start)
		}
		if len(v.Reasons) > 0 && v.Waiting {
			w.Outcome = v.Reasons[0]
		}
		all = append(all, w)
	}
	return all
}

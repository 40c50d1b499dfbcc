package templates

import (
	"proveout/checks"
	"proveout/jobs"
)

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

package templates

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

// Dossier is a job at one commit, with what is joined to it when a document is
// printed.
type Dossier struct {
	*jobs.View
	// Company gives the letterhead and the warranty; nil leaves them out, as
	// when a job was cloned without its company.
	Company *jobs.Company
	// Client is kept outside the job; the zero Client leaves lines to fill in.
	Client jobs.Client
	// Folder leads from the document to the job's folder, for links to
	// photos; "" means that the document lies in that folder.
	Folder string
}

// head is what every document of a job begins and ends with.
type head struct {
	Company, Phone              string
	Job, Title                  string
	Client, Address, ClientCall string
	AsOf, Zone, Commit          string
}

func (d Dossier) head() head {
	h := head{
		Job: d.ID, Title: d.Title,
		Client: d.Client.Name, Address: d.Client.Address, ClientCall: d.Client.Phone,
		AsOf: d.moment(d.At), Zone: d.Zone.String(), Commit: d.Commit[:min(len(d.Commit), 10)],
	}
	if d.Company != nil {
		h.Company, h.Phone = d.Company.Name, d.Company.Phone
	}
	return h
}

// day and moment print times in the job's zone; "" when there is none.
func (d Dossier) day(t time.Time) string { return d.print(t, "2 January 2006") }

func (d Dossier) moment(t time.Time) string { return d.print(t, "2 January 2006 15:04") }

func (d Dossier) print(t time.Time, format string) string {
	if t.IsZero() {
		return ""
	}
	return t.In(d.Zone).Format(format)
}

// date prints a date that has no time of day, and so no zone.
func date(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format("2 January 2006")
}

// link points from the document to a file of the job. The program makes the
// names of those files, of letters, digits, hyphens and dots.
func (d Dossier) link(file string) Markdown {
	name := path.Base(file)
	target := path.Join(d.Folder, file)
	if strings.ContainsAny(target, " ()<>\\|\n") {
		return Escape(file)
	}
	return "[" + Escape(name) + "](" + Markdown(target) + ")"
}

// answers are the current answers to a check, in the order of their records.
func (d Dossier) answers(check string) []*jobs.Record {
	var all []*jobs.Record
	for _, r := range d.Records {
		if r.Kind == jobs.AnswerRecord && r.CheckID() == check && d.Current(r) {
			all = append(all, r)
		}
	}
	slices.SortStableFunc(all, func(a, b *jobs.Record) int { return a.Measured.Compare(b.Measured) })
	return all
}

// answer is the newest current answer to a check, or nil.
func (d Dossier) answer(check string) *jobs.Record {
	all := d.answers(check)
	if len(all) == 0 {
		return nil
	}
	return all[len(all)-1]
}

// verdict judges one check of the plan; nil when the plan does not ask it in
// this job.
func (d Dossier) verdict(check string) *checks.Verdict {
	h := d.Plan.HoldOf(check)
	if h == nil {
		return nil
	}
	for _, v := range d.Gate.State(h).Verdicts {
		if v.Check == check {
			return &v
		}
	}
	return nil
}

// cautions are those of a phase that apply to this job.
func (d Dossier) cautions(ph *phases.Phase) []string {
	if ph == nil {
		return nil
	}
	return phases.ForDecisions(ph.Cautions, d.Gate.Decisions)
}

// plan says since when the plan is in force that all is judged by, and why.
func (d Dossier) plan() string {
	for _, r := range d.Records {
		if r.Kind == jobs.AdoptionRecord && d.Current(r) {
			return d.moment(r.Entered) + " (" + r.Reason + ")"
		}
	}
	return ""
}

// signoffs returns the standing sign-offs of a hold as a document shows them.
func (d Dossier) signoffs(hold string) []signature {
	var all []signature
	for _, s := range d.Releases(hold) {
		all = append(all, d.signature(s))
	}
	return all
}

// signature is a sign-off as documents print it.
type signature struct {
	Hold, Name, Role, Licence, At string
	Faces, Statement              string
	Fingerprint, List             string
	Self                          bool
	Results                       []signedCheck // as they were signed
}

func (d Dossier) signature(s *jobs.Signoff) signature {
	faces := "the whole hold"
	if s.Faces != nil {
		faces = strings.Join(s.Faces, ", ")
	}
	return signature{
		Hold: s.Hold, Name: s.By, Role: s.Role, Licence: s.Licence, At: d.moment(s.At),
		Faces: faces, Statement: s.Statement, Fingerprint: s.ShortFingerprint(), List: s.ListPath(),
		Self: s.SelfInspection, Results: signedChecks(s),
	}
}

// signedCheck is the result of a check as it was when somebody signed.
type signedCheck struct{ Check, Outcome, Result, Limit, Margin, Place, Count, Concession string }

func signedChecks(s *jobs.Signoff) []signedCheck {
	var all []signedCheck
	for _, c := range s.Checks {
		all = append(all, signedCheck{
			c.Check, c.Outcome, c.Value, c.Limit, c.Margin, placeText(c.Place),
			fmt.Sprintf("%d of %d", c.Taken, c.Planned), c.Concession,
		})
	}
	return all
}

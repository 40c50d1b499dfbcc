package templates

import (
	"strings"

	"proveout/jobs"
)

// deviation is a nonconformity and all that followed on it.
type deviation struct {
	Number, Status, Check, Hold, Place string
	Raised, RaisedBy                   string
	Requirement, Found                 string
	Photos                             []evidence
	Decision                           *decision
	Agreements                         []agreement
	MustAgree                          []string
	Closed                             *agreement
	Concession, Open                   bool
}

// decision is what was decided about a nonconformity.
type decision struct {
	What, By, At          string
	Reason, Limits, Until string
	Cause, Action         string
}

// agreement is somebody's yes, or the closing of a nonconformity.
type agreement struct{ By, At, Note string }

func (d Dossier) deviation(n *jobs.Nonconformity) deviation {
	v := deviation{
		Number: n.Record.Nonconformity, Status: n.Status(), Hold: n.Hold, Place: placeText(n.Place),
		Raised: d.moment(n.Entered), RaisedBy: n.By, Requirement: n.Requirement, Found: n.Found,
		Photos: d.evidenceOf([]*jobs.Record{n.Record}), MustAgree: n.MustAgree(),
		Concession: n.Disposition != nil && n.Disposition.Disposition == jobs.Concession, Open: n.Open(),
	}
	if n.Check != "" {
		v.Check = n.CheckID()
	}
	if r := n.Disposition; r != nil {
		v.Decision = &decision{
			What: r.Disposition, By: who(r), At: d.moment(r.Entered),
			Reason: r.Reason, Limits: r.Limits, Until: d.day(r.Until), Cause: r.Cause, Action: r.Action,
		}
	}
	for _, r := range n.Agreements {
		v.Agreements = append(v.Agreements, d.agreement(r))
	}
	if n.Closing != nil {
		closed := d.agreement(n.Closing)
		v.Closed = &closed
	}
	return v
}

func (d Dossier) agreement(r *jobs.Record) agreement {
	return agreement{By: who(r), At: d.moment(r.Entered), Note: r.Note}
}

// who names the person of a record with the roles they had.
func who(r *jobs.Record) string {
	roles := strings.Join(r.Roles, ", ")
	if roles == "" || strings.Contains(r.By, roles) {
		return r.By
	}
	return r.By + ", " + roles
}

// deviations lists the nonconformities of a hold; of the whole job when hold
// is "".
func (d Dossier) deviations(hold string) []deviation {
	var all []deviation
	for _, n := range d.Nonconformities() {
		if hold == "" || n.Hold == hold {
			all = append(all, d.deviation(n))
		}
	}
	return all
}

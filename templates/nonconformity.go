package templates

import "proveout/jobs"

// deviationReport is what Nonconformity prints.
type deviationReport struct {
	Head head
	deviation
	Ask, Source, Mark string
	Safety            bool
	Now               string // what the check says now, at that place
	Cautions          []string
	Lines             []signatureLine
}

// Nonconformity writes the report of a requirement that was not met: what was
// required, what was found, what was decided by whom, and what came of it.
func Nonconformity(d Dossier, n *jobs.Nonconformity) (Document, error) {
	return d.write("nonconformity", d.deviationReport(n))
}

func (d Dossier) deviationReport(n *jobs.Nonconformity) deviationReport {
	view := deviationReport{Head: d.head(), deviation: d.deviation(n), Cautions: d.cautions(d.Plan.Phase(n.Phase))}
	if q := d.Plan.Questions()[view.Check]; q != nil {
		view.Ask, view.Source, view.Mark, view.Safety = q.Ask, q.Source, q.Mark, q.Safety
		view.Now = d.now(n)
	}
	view.Lines = []signatureLine{{Role: "crew lead"}, {Role: "owner"}}
	if view.Concession {
		view.Lines = append(view.Lines, signatureLine{Role: "homeowner"})
	}
	return view
}

// now is what the check of a nonconformity says at its place today.
func (d Dossier) now(n *jobs.Nonconformity) string {
	v := d.verdict(n.CheckID())
	if v == nil {
		return "the check is not asked any more"
	}
	for _, p := range v.Points {
		if p.Place == n.Place {
			text := p.Outcome.String() + ": " + d.value(p)
			if p.Limit != "" {
				text += ", limit " + p.Limit
			}
			return text
		}
	}
	return v.Outcome.String()
}

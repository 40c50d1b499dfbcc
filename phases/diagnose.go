package phases

import (
	"proveout/checks"
	"proveout/checks/diagnosis"
)

// Diagnose works out why the room fails from the records that the gate judges.
func (g *Gate) Diagnose() (checks.Diagnosis, error) { return g.records().Diagnose() }

// AsBuilt is a face with what the crew measured in place of the design.
func (g *Gate) AsBuilt(f *checks.Face) (checks.AsBuilt, error) { return g.records().AsBuilt(f) }

// PredictedPullDowns are the courses of the empty and of the full room as designed.
func (g *Gate) PredictedPullDowns() (empty, loaded checks.PullDownCourse, err error) {
	return g.records().PredictedPullDowns()
}

// records is what questions are judged on, without a question.
func (g *Gate) records() checks.Case { return g.judgeCase(nil, "") }

// Answer returns the question that a measurement of the diagnosis is still to be
// answered by, and what to type; both are empty for what stands in job.yaml.
func (g *Gate) Answer(m diagnosis.Measurement) (check, command string) {
	q := g.questions[g.records().Answering(m)]
	if q == nil {
		return "", ""
	}
	v := checks.Judge(g.judgeCase(q, ""))
	place := ""
	if len(v.Missing) > 0 {
		place = v.Missing[0]
	}
	return q.ID(), q.Command(place)
}

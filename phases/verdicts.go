package phases

import (
	"proveout/checks"
)

// CompareVerdicts lists what an edit of plan or job file does to the checks of
// a job that Compare cannot see in the texts: checks that are not asked any
// more, and checks that fail now and would not after the edit. was and is are
// the gates before and after it, with the same facts.
func CompareVerdicts(was, is *Gate) []Difference {
	var all []Difference
	for _, h := range was.Plan.Holds() {
		for _, a := range h.Checks {
			b := is.questions[a.ID()]
			if b != nil && was.asks(h, a) {
				all = append(all, compareVerdict(was, is, a, b)...)
			}
		}
	}
	return all
}

func compareVerdict(was, is *Gate, a, b *checks.Question) []Difference {
	fails := checks.Judge(was.judgeCase(a, "")).Outcome == checks.Fail
	switch asked := is.asks(is.Plan.HoldOf(b.ID()), b); {
	case !asked && (fails || a.Safety):
		return []Difference{{Check: a.ID(), Text: "it is not asked any more", Loosens: true}}
	case !asked:
		return []Difference{{Text: a.ID() + " is not asked any more", Loosens: true}}
	case fails && checks.Judge(is.judgeCase(b, "")).Outcome != checks.Fail:
		return []Difference{{Check: a.ID(), Text: "it fails, and with the edit it would not", Loosens: true, Safety: a.Safety}}
	}
	return nil
}

// asks reports whether a check of a hold is asked in this job.
func (g *Gate) asks(h *Hold, q *checks.Question) bool {
	return h.When.Holds(g.Decisions) && g.Asked(q)
}

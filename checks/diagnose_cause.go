package checks

import (
	"fmt"
	"slices"
	"strings"

	"proveout/checks/diagnosis"
)

// CauseExplained asks whether the causes that a person states are those that the
// diagnosis of the records comes to. A diagnosis that is open keeps the hold shut and
// names the reading that would decide: nothing is built on a guess.
var CauseExplained = &Check{
	Name:    "cause-explained",
	Doc:     "the stated cause agrees with the diagnosis of the records",
	Source:  "heat balance, water balance, vapor profile and the unit's data sheet; each step names its own",
	Figures: []string{"set point", "low humidity", "high humidity", "unit as found", "unit as planned", "use", "outdoor months"},
	Rule:    "the diagnosis is decided and names what a person states",
	Whole:   causeExplained,
}

// The answers to the question for the cause that name none.
const (
	moreThanOne = "more than one"
	noneFound   = "none found, the room is sound"
)

func causeExplained(c Case) []Point {
	d, err := c.Diagnose()
	p := Point{Place: "room", judged: true, Facts: d.Facts, Limit: "stated as the records say"}
	for _, u := range d.Unusable {
		p.Steps = append(p.Steps, Step{Name: "cannot be used", Value: u.String()})
	}
	if err != nil {
		p.Reason = err.Error()
		return []Point{p}
	}
	p.Value = valueOfDiagnosis(d)
	p.Steps = append(p.Steps, Step{Name: "diagnosis of the records", Value: d.Summary, Source: "proveout diagnose --explain"})
	stated, facts, missing := c.stated()
	p.Facts = append(p.Facts, facts...)
	switch {
	case d.Outcome == diagnosis.Undecided:
		p.Reason = "the records do not decide the cause: " + c.wantedText(d.Report)
	case missing != "":
		p.Reason = missing
	case !sameCauses(stated, d.Named()):
		p.Reason = fmt.Sprintf("stated: %s; the records say: %s", causesText(stated), causesText(d.Named()))
	default:
		p.Outcome = Pass
	}
	return []Point{p}
}

func valueOfDiagnosis(d Diagnosis) string {
	if d.Outcome == diagnosis.Undecided {
		return "undecided"
	}
	return causesText(d.Named())
}

// stated returns the causes that a person names, none for a sound room, or what is
// still to answer.
func (c Case) stated() (causes []diagnosis.Cause, facts []string, missing string) {
	v := &visit{c: c}
	defer func() { facts = v.used }()
	switch cause := v.answer("cause"); cause {
	case "":
		return nil, nil, "no cause is stated yet"
	case noneFound:
		return nil, nil, ""
	case moreThanOne:
		for _, f := range v.facts("causes") {
			causes = append(causes, diagnosis.Cause(f.Answer))
		}
		if len(causes) < 2 {
			return nil, nil, "more than one cause is stated, and which ones is still to answer"
		}
		return causes, nil, ""
	default:
		return []diagnosis.Cause{diagnosis.Cause(cause)}, nil, ""
	}
}

func sameCauses(a, b []diagnosis.Cause) bool {
	return slices.Equal(slices.Compact(slices.Sorted(slices.Values(a))), slices.Compact(slices.Sorted(slices.Values(b))))
}

func causesText(causes []diagnosis.Cause) string {
	if len(causes) == 0 {
		return noneFound
	}
	words := make([]string, len(causes))
	for i, cause := range causes {
		words[i] = string(cause)
	}
	return strings.Join(words, " and ")
}

// wantedText names the readings that would decide, the one that settles most first.
func (c Case) wantedText(r diagnosis.Report) string {
	var parts []string
	for _, w := range r.Wanted {
		parts = append(parts, fmt.Sprintf("%s would (%s)", w.Measurement.What(), c.Answering(w.Measurement)))
		if len(parts) == 3 {
			break
		}
	}
	return strings.Join(parts, "; ")
}

// Answering says where a measurement is still to be answered: the first question for
// it that has no answer yet, or job.yaml.
func (c Case) Answering(m diagnosis.Measurement) string {
	questions := QuestionsFor(m)
	for _, name := range questions {
		if q := c.Questions[assess+"."+name]; q != nil && q.When.Holds(c.Decisions) && len(c.Facts[q.ID()]) == 0 {
			return q.ID()
		}
	}
	if questions == nil || m == diagnosis.UnitSheet {
		return "job.yaml" // the data sheet's figures stand there
	}
	return assess + "." + questions[0]
}

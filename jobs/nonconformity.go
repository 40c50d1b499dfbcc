package jobs

import (
	"slices"
	"strconv"
	"time"

	"proveout/phases"
)

// What may be decided about a nonconformity, and who may decide it
// (ISO 9000:2015, 3.12, terms as quoted).
const (
	Rework     = "rework"     // make it conform: the crew lead
	Repair     = "repair"     // make it usable, though it may still not conform: the owner
	Concession = "concession" // accept it as it is, limited: the owner and the homeowner
)

// Dispositions are the decisions there are.
var Dispositions = []string{Rework, Repair, Concession}

// decider is the role that may take each decision.
var decider = map[string]string{Rework: "crew lead", Repair: "owner", Concession: "owner"}

// Nonconformity is a requirement that is not met, with all that followed.
type Nonconformity struct {
	*Record     // as it was raised
	Disposition *Record
	Agreements  []*Record
	Closing     *Record
}

// Nonconformities returns all that are not voided, in the order they were
// raised.
func (j *Job) Nonconformities() []*Nonconformity {
	var all []*Nonconformity
	byNumber := map[string]*Nonconformity{}
	for _, r := range j.Records {
		if r.Kind == NonconformityRec && j.Current(r) {
			n := &Nonconformity{Record: r}
			byNumber[r.Nonconformity] = n
			all = append(all, n)
		}
	}
	for _, r := range j.Records {
		n := byNumber[r.Nonconformity]
		if n == nil || !j.Current(r) {
			continue
		}
		switch r.Kind {
		case DispositionRecord:
			n.Disposition = r
		case AgreementRecord:
			n.Agreements = append(n.Agreements, r)
		case ClosingRecord:
			n.Closing = r
		}
	}
	slices.SortFunc(all, func(a, b *Nonconformity) int {
		return ncNumber(a.Record.Nonconformity) - ncNumber(b.Record.Nonconformity)
	})
	return all
}

func ncNumber(text string) int {
	if len(text) < 4 {
		return 0
	}
	n, _ := strconv.Atoi(text[3:])
	return n
}

// Nonconformity finds one by its number.
func (j *Job) Nonconformity(number string) (*Nonconformity, error) {
	var numbers []string
	for _, n := range j.Nonconformities() {
		if n.Record.Nonconformity == number {
			return n, nil
		}
		numbers = append(numbers, n.Record.Nonconformity)
	}
	return nil, Unknown("nonconformity", number, numbers, "see: proveout nonconformity")
}

// MustAgree returns the roles whose agreement a concession still lacks. One that
// was given to an earlier decision does not count for this one. A
// concession from a rule of the building code also needs the authority or an
// engineer.
func (n *Nonconformity) MustAgree() []string {
	if n.Disposition == nil || n.Disposition.Disposition != Concession {
		return nil
	}
	var missing []string
	if !n.agreed("homeowner") {
		missing = append(missing, "homeowner")
	}
	if n.Code && !n.agreed("engineer") && !n.agreed("building inspector") {
		missing = append(missing, "engineer or building inspector")
	}
	return missing
}

func (n *Nonconformity) agreed(role string) bool {
	return slices.ContainsFunc(n.Agreements, func(a *Record) bool {
		return slices.Contains(a.Roles, role) && slices.Contains(a.Accepts, n.Disposition.ID)
	})
}

// Conceded reports whether it is accepted as it is by all who must agree.
func (n *Nonconformity) Conceded() bool {
	return n.Disposition != nil && n.Disposition.Disposition == Concession && len(n.MustAgree()) == 0
}

// Open reports whether it still keeps its hold shut.
func (n *Nonconformity) Open() bool { return n.Closing == nil && !n.Conceded() }

// Status says where it stands, in plain words.
func (n *Nonconformity) Status() string {
	switch {
	case n.Conceded():
		return "conceded"
	case n.Closing != nil:
		return "closed"
	case n.Disposition == nil:
		return "to decide"
	case len(n.MustAgree()) > 0:
		return "waiting for agreement"
	}
	return "to " + n.Disposition.Disposition
}

// Choices are the decisions that may be taken about n. A safety check is never
// conceded.
func (j *Job) Choices(n *Nonconformity) []string {
	if n.Check != "" && j.safety(n.CheckID()) {
		return []string{Rework, Repair}
	}
	return Dispositions
}

// safety reports whether a check is a safety check; one that the plan does not
// ask any more counts as one.
func (j *Job) safety(check string) bool {
	q := j.Plan.Questions()[check]
	return q == nil || q.Safety
}

// Step is one thing that may be done next, and by whom.
type Step struct {
	Command string `json:"command"`
	By      string `json:"by"`
}

// NextSteps says what may be done about n, and who may do it.
func (j *Job) NextSteps(n *Nonconformity) []Step {
	if !n.Open() {
		return nil
	}
	command, number := "proveout nonconformity ", n.Record.Nonconformity
	var next []Step
	switch {
	case n.Disposition == nil:
		for _, d := range j.Choices(n) {
			s := Step{Command: command + "decide " + number + " " + d, By: decider[d] + " or owner"}
			if decider[d] == "owner" {
				s.By = "owner"
			}
			if d == Concession {
				s.Command += " --limits \"where, how much\""
				s.By += ", then the homeowner agrees"
			}
			next = append(next, s)
		}
	case n.Disposition.Disposition == Concession:
		for _, role := range n.MustAgree() {
			next = append(next, Step{Command: command + "agree " + number, By: role})
		}
	default:
		next = []Step{{Command: command + "close " + number + " --note \"what was done\"", By: "crew lead or owner"}}
	}
	return next
}

func (j *Job) gateNonconformities() []phases.Nonconformity {
	var all []phases.Nonconformity
	for _, n := range j.Nonconformities() {
		g := phases.Nonconformity{
			Number: n.Record.Nonconformity, Hold: n.Hold, Place: n.Place,
			Open: n.Open(), Concession: n.Conceded(),
		}
		if n.Check != "" {
			g.Check = n.CheckID()
		}
		if n.Disposition != nil {
			g.Limits, g.Until, g.Accepts = n.Disposition.Limits, n.Disposition.Until, n.Disposition.Accepts
		}
		all = append(all, g)
	}
	return all
}

// newNumber returns the number the next nonconformity gets.
func (j *Job) newNumber() string {
	highest := 0
	for _, r := range j.Records {
		if r.Kind == NonconformityRec {
			highest = max(highest, ncNumber(r.Nonconformity))
		}
	}
	return "NC-" + strconv.Itoa(highest+1)
}

// Expired reports whether a concession's time is over.
func (n *Nonconformity) Expired(now time.Time) bool {
	return n.Conceded() && !n.Disposition.Until.IsZero() && !now.Before(n.Disposition.Until)
}

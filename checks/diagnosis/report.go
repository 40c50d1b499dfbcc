package diagnosis

import (
	"slices"

	"proveout/checks/units"
)

// Report is what a diagnosis comes to.
type Report struct {
	Outcome Outcome
	// Summary is one sentence for the owner.
	Summary string
	// Causes are those that something speaks for or against, the weightiest first;
	// only the named ones are the answer.
	Causes []Finding
	// Wanted lists the readings that would decide what is open, the one that
	// settles most first.
	Wanted   []Wanted
	Symptoms []Sign
	// Looked says what was looked for and not found.
	Looked []Symptom
	// Unknown says in sentences what the diagnosis does not know and what it took
	// for granted.
	Unknown []string

	// Visit and Summer are nil when too little was read for them.
	Visit, Summer *Balance
	Leak          Leak
	Walls         []Wall
	// Comparison sets the room as found beside the room as planned; empty without
	// a plan.
	Comparison []Line
	// Planned is what stands behind the comparison; nil without a plan.
	Planned   *Planned
	Following *Following // nil without a usable log
	// Months are the loads of a year as found, January first; nil without the months
	// of any side, or while a face or the leak is not known.
	Months []Month
	Steps  []units.Step
}

// Named returns the causes that are the answer.
func (r Report) Named() []Cause {
	var causes []Cause
	for _, f := range r.Causes {
		if f.Named {
			causes = append(causes, f.Cause)
		}
	}
	return causes
}

// Wants reports whether a reading is among those that would decide.
func (r Report) Wants(m Measurement) bool {
	for _, w := range r.Wanted {
		if w.Measurement == m {
			return true
		}
	}
	return false
}

// Planned is the room as planned in the same air.
type Planned struct {
	Visit, Summer *Balance
	Walls         []Wall
	Months        []Month
}

// Finding is a cause with what speaks for and against it.
type Finding struct {
	Cause     Cause
	Named     bool
	Certainty Certainty
	// Share is the part of the shortage of cooling that it accounts for, 0 where
	// that is not what it does.
	Share        units.Percent
	For, Against []Evidence
	// Decides names the readings that would decide while it is open.
	Decides []Measurement

	assumed bool // an assumed value took part
}

// Own returns the evidence that speaks for this cause more than for others.
func (f Finding) Own() []Evidence {
	return slices.DeleteFunc(slices.Clone(f.For), func(e Evidence) bool { return e.shared })
}

// Evidence is one sentence with its numbers, the readings it rests on, and the
// formula or table that it uses.
type Evidence struct {
	Text     string
	Readings []Measurement
	Source   string

	shared bool // it speaks for several causes alike
}

// Wanted is a reading that would decide, between which causes, and why.
type Wanted struct {
	Measurement Measurement
	Between     []Cause
	Because     string
}

// Sign is a symptom that was found, with what explains it.
type Sign struct {
	Symptom   Symptom
	Text      string
	Explained bool
	By        []Cause
	// NoFault says why the sign is none of a fault in room or unit; such a sign
	// counts as explained.
	NoFault string
}

// Leak is the air that came in at the visit with the door shut.
type Leak struct {
	Door, Openings, Rest, Total, Sound units.Airflow
	// By is the measurement that gave the total; empty when nothing did and the
	// total is only what could be seen.
	By Measurement
	// Heat is what it cost at the visit's set point.
	Heat units.Power
}

// Line is one line of the comparison of the room as found and as planned.
type Line struct {
	Name           string
	Found, Planned Quantity
	Limit          string
	// Margin is how much better than its limit the plan is, in the unit of the
	// line; not known without a limit.
	Margin Quantity
}

// Quantity is a value with its kind, that may be unknown.
type Quantity struct {
	Kind  units.Kind
	Base  float64
	Known bool
	Text  string
}

// Package checks asks the questions of a hold point and answers them.
//
// A Question comes from a phase file: what to measure or to look at, the
// limit, how many points, with which instrument, and where the limit comes
// from. Facts come from the job's records. Judge puts the two together and
// returns a Verdict: pass, fail or undecided, with the worst point, the limit,
// the margin, the source and what to do next.
//
// Three rules run through the package. Unknown is shut: whatever is missing,
// not finite, out of range, unconfirmed by an instrument in calibration or
// without its photo is undecided, never a pass. The worst point decides, not
// the mean, unless the question says so. And a check written in Go computes a
// value for each point; comparing it with the limit is the same code for all.
//
// The package reads no files, no clock and no history: they are passed in.
package checks

import "proveout/checks/units"

// Outcome is the answer to a question.
type Outcome = units.Outcome

// The three outcomes.
const (
	Undecided = units.Undecided
	Pass      = units.Pass
	Fail      = units.Fail
)

// Step is one line of a calculation, from the readings to the result.
type Step = units.Step

// Verdict is the answer to one Question. Its texts are ready to print.
type Verdict struct {
	Check   string  `json:"check"` // phase.check
	Ask     string  `json:"ask"`
	Outcome Outcome `json:"outcome"`
	// Value is the deciding value: of the worst point, as it was written.
	Value  string `json:"value,omitempty"`
	Limit  string `json:"limit,omitempty"`
	Margin string `json:"margin,omitempty"`
	Place  string `json:"place,omitempty"` // of the worst point
	Source string `json:"source"`
	Mark   string `json:"mark"`
	// LimitReason says why the limit differs from the default, if it does.
	LimitReason string `json:"limit_reason,omitempty"`

	Planned int `json:"planned"`
	Taken   int `json:"taken"`
	Passed  int `json:"passed"`

	// Near says that the deciding value lies within its instrument's
	// uncertainty of the limit.
	Near     bool     `json:"near_limit,omitempty"`
	Conflict bool     `json:"conflict,omitempty"`
	Waiting  bool     `json:"waiting,omitempty"` // only time is missing
	Reasons  []string `json:"reasons,omitempty"`
	Missing  []string `json:"missing,omitempty"` // places that still want an answer
	Next     []string `json:"next,omitempty"`    // what to type or to do
	Concedes string   `json:"concession,omitempty"`

	Safety bool    `json:"safety,omitempty"`
	Steps  []Step  `json:"steps,omitempty"`
	Points []Point `json:"points,omitempty"`
	// Decision is the value that a deciding check gives to conditions.
	Decision string `json:"decision,omitempty"`
	// Facts are the records the verdict rests on.
	Facts []string `json:"facts,omitempty"`
}

// Settled reports whether the verdict lets its hold open: it passed, or it
// failed and a settled concession accepts it.
func (v Verdict) Settled() bool {
	return v.Outcome == Pass || v.Outcome == Fail && v.Concedes != "" && !v.Safety
}

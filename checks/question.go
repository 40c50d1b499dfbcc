package checks

import (
	"strings"

	"proveout/checks/units"
)

// Kind says how a question is answered.
type Kind string

// The seven kinds of question.
const (
	Reading     Kind = "reading"     // a measured value
	Observation Kind = "observation" // yes, no or not applicable
	Inspection  Kind = "inspection"  // a third party's result
	Wait        Kind = "wait"        // time that must pass
	Choice      Kind = "choice"      // a decision taken on site
	Paper       Kind = "paper"       // a document that must be there
	Computed    Kind = "computed"    // a check of this package
)

// Question is one check of a hold point, as the phase file asks it.
type Question struct {
	Phase, Name string
	Ask         string
	Kind        Kind

	Measures   units.Kind // of a reading, or of a computed value
	RecordOnly bool       // complete, not pass or fail
	Want       string     // observation: "yes" or "no"
	Inspection string     // what is inspected
	Wait       string     // "24 h", "3 business days", "data sheet foam re-entry"
	From       string     // the event a wait starts with
	Options    []string   // choice
	Paper      string     // the document
	Compute    string     // name in All
	Uses       string     // computed: the check whose readings it uses
	Before     string     // computed: a year
	Hold       string     // computed: how long a test must stand

	Limits   Limits
	Sampling Sampling
	Mean     bool // judged by the mean, not the worst point
	Series   bool // the same place is read again; the latest counts

	Instrument    string // kind of instrument that must be named
	PhotoEach     bool
	PhotoOne      bool
	By            []string // roles that may answer
	NotApplicable bool

	Safety, Code bool
	When         Condition
	IfFails      string
	Source, Mark string
	LimitReason  string // why the limit differs from the default
	Note         string
	Pos          string // file:line:column, for messages
}

// ID is the question's full name, phase.check.
func (q *Question) ID() string { return q.Phase + "." + q.Name }

// Decides reports whether the answer is a choice that conditions may ask about:
// the same everywhere. One that is recorded only may differ from place to place.
func (q *Question) Decides() bool { return q.Kind == Choice && !q.RecordOnly }

// UsedID is the full name of the check whose readings it uses, "" for none. A
// name without a phase is one of its own phase.
func (q *Question) UsedID() string {
	if q.Uses == "" || strings.Contains(q.Uses, ".") {
		return q.Uses
	}
	return q.Phase + "." + q.Uses
}

// Reads are the full names of all checks, besides its own, whose records the
// question is answered from: a sign-off rests on them too.
func (q *Question) Reads() []string {
	var names []string
	if q.Uses != "" {
		names = append(names, q.UsedID())
	}
	check := ByName(q.Compute)
	if check == nil {
		return names
	}
	if check.From != "" && q.Uses == "" {
		names = append(names, check.From)
	}
	names = append(names, check.Also...)
	if check.Finding != "" {
		names = append(names, check.Finding)
	}
	if check.Built {
		names = append(names, builtChecks(q.Phase)...)
	}
	return names
}

// Sampling says how many answers are wanted, and where.
type Sampling struct {
	PerFace, PerBay int
	PerArea         units.Quantity // one for each such area
	AtLeast         int
	FloorArea       units.Quantity // one more than AtLeast for each further area of floor
	Places          []string       // named places, one each
	Each            string         // one for each thing of a list of the job: "penetration", "adjoining space", …
	Faces           []string       // kinds of face that count
	OtherSides      []string       // only faces with these other sides
}

// ByFace reports whether each answer belongs to one face: it is asked face by
// face, or at holes, which are in faces.
func (s Sampling) ByFace() bool { return s.OnFaces() || s.Each == "penetration" }

// OnFaces reports whether the answers are given face by face.
func (s Sampling) OnFaces() bool {
	return s.PerFace > 0 || s.PerBay > 0 || s.PerArea.Known()
}

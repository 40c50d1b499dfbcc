package checks

import (
	"errors"
	"fmt"
	"slices"

	"proveout/checks/diagnosis"
)

// Diagnosis says why the room fails, by the current records of the visit.
type Diagnosis struct {
	diagnosis.Report
	// Room is what the records and job.yaml were understood as.
	Room diagnosis.Room
	// Unusable are the answers that are there and cannot be used.
	Unusable []Unusable
	// Facts are the records that the diagnosis rests on, those that cannot be used
	// among them.
	Facts []string
	// Waiting is what it costs to leave the room as it is; nil where it cannot be
	// counted.
	Waiting *Waiting
}

// Unusable is something that is recorded or written in job.yaml and cannot be used.
type Unusable struct {
	Check  string `json:"check"` // phase.check, or job.yaml
	Place  string `json:"place,omitempty"`
	Record string `json:"record,omitempty"`
	Reason string `json:"reason"`
}

func (u Unusable) String() string {
	where := u.Check
	if u.Place != "" && u.Place != "point 1" {
		where += " at " + u.Place
	}
	if u.Record != "" {
		where += " (" + u.Record + ")"
	}
	return where + ": " + u.Reason
}

// Diagnose works out the diagnosis from the records of the assess phase and
// job.yaml. The question of c is not looked at. What was not recorded stays not
// taken, what cannot be used is listed; an error is left for descriptions that
// cannot be at all.
func (c Case) Diagnose() (Diagnosis, error) {
	if !c.Room.SetPoint.Known() {
		return Diagnosis{}, errors.New("job.yaml gives no set point")
	}
	v := &visit{c: c}
	v.room()
	v.surroundings()
	v.plan()
	for _, m := range taken {
		m.take(v)
	}
	slices.Sort(v.used)
	d := Diagnosis{Room: v.out, Unusable: v.unusable, Facts: slices.Compact(v.used)}
	report, err := diagnosis.Diagnose(v.out)
	if err != nil {
		return d, err
	}
	report.Unknown = append(report.Unknown, v.assumed...)
	d.Report = report
	if d.Waiting, err = d.waiting(c.Room.Costs); err != nil {
		d.Unknown = append(d.Unknown, "what leaving the room costs: "+err.Error())
	}
	return d, nil
}

// assess is the phase whose records are diagnosed.
const assess = "assess"

// visit gathers a diagnosis.Room from records and job.yaml.
type visit struct {
	c        Case
	out      diagnosis.Room
	used     []string
	unusable []Unusable
	assumed  []string
}

// assume writes down what was taken for granted.
func (v *visit) assume(format string, args ...any) {
	v.assumed = append(v.assumed, fmt.Sprintf(format, args...))
}

// reject lists a record that cannot be used.
func (v *visit) reject(f Fact, reason string) {
	v.unusable = append(v.unusable, Unusable{Check: f.Check, Place: f.Place, Record: f.ID, Reason: reason})
}

// rejectJob lists something of job.yaml that cannot be used.
func (v *visit) rejectJob(place string, err error) {
	v.unusable = append(v.unusable, Unusable{Check: "job.yaml", Place: place, Reason: err.Error()})
}

// facts returns the usable answers to a question of the assess phase, in order. One
// that the plan does not ask in this job has none.
func (v *visit) facts(name string) []Fact {
	q := v.c.Questions[assess+"."+name]
	if q == nil || !q.When.Holds(v.c.Decisions) {
		return nil
	}
	all := v.c.Facts[q.ID()]
	var usable []Fact
	for _, f := range all {
		v.used = append(v.used, f.ID)
		if why := v.whyNot(q, f, all); why != "" {
			v.reject(f, why)
			continue
		}
		usable = append(usable, f)
	}
	return usable
}

// whyNot says why an answer cannot be used, or "".
func (v *visit) whyNot(q *Question, f Fact, all []Fact) string {
	c := v.c
	c.Question = q
	if why := c.problem(f); why != "" {
		return why
	}
	if q.Kind == Reading && f.Quantity.Kind() != q.Measures {
		return fmt.Sprintf("%s is no %s", f.Quantity, q.Measures)
	}
	if q.Kind == Choice && !slices.Contains(q.Options, f.Answer) {
		return fmt.Sprintf("%q is not one of the answers", f.Answer)
	}
	for _, o := range all {
		if o.ID != f.ID && (o.Place == f.Place || q.Decides() && o.Answer != f.Answer) {
			return "it has another answer as well, " + o.ID + "; supersede the wrong one: proveout correct"
		}
	}
	return ""
}

// values returns the usable records of a computed check with all their values.
func (v *visit) values(name string, check *Check) []Fact {
	return slices.DeleteFunc(v.facts(name), func(f Fact) bool {
		why := missingNeeds(check, f)
		if why != "" {
			v.reject(f, why)
		}
		return why != ""
	})
}

// answer returns the one answer to a choice or an observation, "" without one.
func (v *visit) answer(name string) string {
	if facts := v.facts(name); len(facts) > 0 {
		return facts[0].Answer
	}
	return ""
}

// yesNo is the answer to a question of yes and no; anything else was not answered.
func (v *visit) yesNo(name string) diagnosis.Answer {
	switch v.answer(name) {
	case "yes":
		return diagnosis.Yes
	case "no":
		return diagnosis.No
	}
	return diagnosis.NotAsked
}

// numbers returns the usable readings of a question that lie within a range, in its
// base unit: beyond it the reading is of something else, or wrong.
func (v *visit) numbers(name string, low, high float64) []Fact {
	return slices.DeleteFunc(v.facts(name), func(f Fact) bool {
		q := f.Quantity
		if b := q.Base(); b >= low && b <= high {
			return false
		}
		v.reject(f, fmt.Sprintf("%s is out of range; read or enter it again", q))
		return true
	})
}

// one returns the mean of a question's readings within a range.
func one[T ~float64](v *visit, name string, low, high float64) diagnosis.Reading[T] {
	facts := v.numbers(name, low, high)
	if len(facts) == 0 {
		return diagnosis.Reading[T]{}
	}
	sum := 0.0
	for _, f := range facts {
		sum += f.Quantity.Base()
	}
	return diagnosis.Read(T(sum / float64(len(facts))))
}

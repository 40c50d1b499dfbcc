package main

import (
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/units"
)

// checkQuestion asks what a record of a computed check carries, and answers as the
// check judges it. Values that are not its own may be given to its room by fill.
func checkQuestion(q question, check *checks.Check, own []input, fill func(*asking, *checks.Room)) *question {
	q.inputs = append(needsOf(check), own...)
	if check.Result != "" {
		q.inputs = append(q.inputs,
			input{flag: "at-least", kind: check.Result, doc: "least that is wanted", optional: true},
			input{flag: "at-most", kind: check.Result, doc: "most that is allowed", optional: true})
	}
	q.answer = func(a *asking) (*answer, error) {
		room := &checks.Room{Units: a.system, Values: map[string]string{}}
		if fill != nil {
			fill(a, room)
		}
		p := check.Each(checks.Case{Question: &checks.Question{}, Room: room}, checks.Fact{Values: needed(a, check)})
		return a.pointAnswer(check, p), nil
	}
	return &q
}

func needsOf(check *checks.Check) []input {
	var all []input
	for _, n := range check.Needs {
		all = append(all, input{flag: flagNamed(n.Name), kind: n.Kind, doc: n.Doc, optional: n.Optional})
	}
	return all
}

// flagNamed writes the name of a value as a flag.
func flagNamed(name string) string { return strings.ReplaceAll(name, " ", "-") }

// needed are the values of the question under the names of the check.
func needed(a *asking, check *checks.Check) map[string]units.Quantity {
	values := map[string]units.Quantity{}
	for _, n := range check.Needs {
		if q, ok := a.values[flagNamed(n.Name)]; ok {
			values[n.Name] = q
		}
	}
	return values
}

// pointAnswer prints what a check found: its value against a limit that was given,
// or its own verdict.
func (a *asking) pointAnswer(check *checks.Check, p checks.Point) *answer {
	r := &answer{Steps: p.Steps}
	if p.Value != "" {
		r.addText(strings.ReplaceAll(check.Name, "-", " "), p.Value)
	} else if p.Quantity.Known() {
		r.add(strings.ReplaceAll(check.Name, "-", " "), p.Quantity)
	}
	switch {
	case !p.Quantity.Known():
		r.Outcome, r.Reason = p.Outcome.String(), p.Reason
	default:
		a.within(r, p.Quantity)
	}
	r.note("Source: %s.", check.Source)
	return r
}

// within judges a value by --at-least and --at-most, where they were given.
func (a *asking) within(r *answer, q units.Quantity) {
	if limit, ok := a.values["at-least"]; ok {
		r.judge(units.AtLeast(q, limit), q.String()+", wanted at least "+limit.String())
	}
	if limit, ok := a.values["at-most"]; ok && r.Outcome != checks.Fail.String() {
		r.judge(units.AtMost(q, limit), q.String()+", allowed at most "+limit.String())
	}
}

var slabQuestion = checkQuestion(question{
	use:   "slab",
	short: "Whether a hole in a slab is a test, and its humidity",
	long: `A hole ends at 40 % of the thickness of a slab that dries from one side, 20 % of
one that dries from two, and its probe rests a day. The maker of the floor gives
the limit; where it gives none 75 % RH is the default of ASTM F710 (quoted).`,
	example: `  proveout calc slab --humidity "74 % RH" --hole-depth "1.6 in" --slab-thickness "4 in" --rest "26 h" --at-most "75 % RH"`,
}, checks.SlabHumidity, nil, nil)

var liftsQuestion = checkQuestion(question{
	use:   "foam-lifts",
	short: "Whether the lifts of a foam agree with its report and with its depth",
	long: `The product's report gives the greatest lift and the wait between two; without a
wait of its own 15 min are taken (trade texts, quoted).`,
	example: `  proveout calc foam-lifts --lifts 3 --thickest-lift "1 3/4 in" --shortest-wait "20 min" --depth "5 1/4 in" --lift-limit "2 in"`,
}, checks.FoamLifts, []input{
	{flag: "lift-limit", kind: units.LengthKind, doc: "greatest lift of the product's report"},
	{flag: "wait-limit", kind: units.DurationKind, doc: "wait of the product's report", optional: true},
}, func(a *asking, room *checks.Room) {
	room.Values[checks.DataSheet+"foam lift"] = a.values["lift-limit"].String()
	if q, ok := a.values["wait-limit"]; ok {
		room.Values[checks.DataSheet+"foam lift wait"] = q.String()
	}
})

var battsQuestion = checkQuestion(question{
	use:     "batts",
	short:   "Grade of batts by voids and squeezed places",
	long:    `Grade I has no void, at most 2 % squeezed, and loses less than 30 % of the thickness there.`,
	example: `  proveout calc batts --voids "0 %" --squeezed "1.5 %" --loss "20 %"`,
}, checks.BattGrade, nil, nil)

var insulationQuestion = checkQuestion(question{
	use:   "insulation-resistance",
	short: "Insulation resistance of a circuit against the least for its voltage",
	long: `1 MΩ at 500 V DC, and 0.5 MΩ at 250 V for circuits of up to 50 V from a safety
driver (BS 7671 Table 64, quoted). The reading is taken as it is, without a
correction for temperature. A licensed electrician decides.`,
	example: `  proveout calc insulation-resistance --nominal-voltage "230 V" --test-voltage "500 V" --resistance "550 MΩ"`,
}, checks.CircuitInsulation, nil, nil)

var anchorQuestion = checkQuestion(question{
	use:     "anchor",
	short:   "How far inside its blocking an anchor sits",
	long:    `By the blocking map of the framing. How much is enough the engineer or the screw's maker says.`,
	example: `  proveout calc anchor --anchor-height "81 in" --blocking-bottom "78 in" --blocking-top "83 1/2 in" --at-least "3/4 in"`,
}, checks.AnchorEdge, nil, nil)

var pullsQuestion = checkQuestion(question{
	use:     "anchor-pulls",
	short:   "Whether enough anchors of a wall were pulled, and held",
	long:    `All sit in blocking, one in ten and at least two of a wall are pulled, and all of those hold (common practice).`,
	example: `  proveout calc anchor-pulls --anchors 24 --in-blocking 24 --pulled 3 --held 3`,
}, checks.AnchorPulls, nil, nil)

// texts are the values of a flag that may be given again.
func (a *asking) texts(flag string) ([]string, error) { return a.c.Flags().GetStringArray(flag) }

func repeated(flag, doc string) func(*cobra.Command) {
	return func(c *cobra.Command) { c.Flags().StringArray(flag, nil, doc) }
}

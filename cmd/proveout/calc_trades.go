package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/racks"
	"proveout/checks/units"
	"proveout/checks/wiring"
	"proveout/jobs"
	"proveout/phases"
)

var moldTierQuestion = &question{
	use:   "mold-tier",
	short: "The tier of a mold scheme, from the areas of the patches",
	long: `Tiers choose the method of work, containment and protection; they are not limits
of health. Without --scheme every scheme is asked. From a --sketch of rectangles
overlaps count once, and those of one face that touch are one patch.`,
	example: `  proveout calc mold-tier --patch "6 ft²" --patch "9 ft²"
  proveout calc mold-tier --sketch "north wall: 0 in, 10 in, 24 in, 36 in" --sketch "north wall: 24 in, 0 in, 12 in, 18 in"
  proveout calc mold-tier --patch "2 m²" --scheme epa`,
	flags: func(c *cobra.Command) {
		c.Flags().StringArray("patch", nil, "area of one patch, such as 6 ft²; may be given again")
		c.Flags().StringArray("sketch", nil, "a rectangle round mold, \"face: from the left, from the floor, width, height\"; may be given again")
		c.Flags().String("scheme", "", "a scheme's name (default: all)")
	},
	answer: moldTierAnswer,
}

func moldTierAnswer(a *asking) (*answer, error) {
	r := &answer{}
	facts, err := a.patches(r)
	if err != nil {
		return nil, err
	}
	names, err := a.schemes()
	if err != nil {
		return nil, err
	}
	q := &checks.Question{Phase: "calc", Name: "patch"}
	for _, name := range names {
		scheme, _ := phases.Scheme(name)
		p := checks.MoldTier.Whole(checks.Case{
			Question: q, Room: &checks.Room{Scheme: scheme, Units: a.system}, Facts: checks.Facts{q.ID(): facts},
		})[0]
		if p.Reason != "" {
			return nil, fmt.Errorf("%s", p.Reason)
		}
		r.addText(name, p.Value)
		r.addTier(scheme, p)
	}
	r.note("Tiers choose the method of work. They are not limits of health.")
	return r, nil
}

func (r *answer) addTier(s *checks.Scheme, p checks.Point) {
	for _, t := range s.Tiers {
		if t.Name == p.Decision {
			r.note("%s: %s", s.Name, t.Needs)
		}
	}
	for _, step := range p.Steps {
		step.Source = strings.TrimPrefix(step.Source+"; "+s.Source+" ("+s.Mark+")", "; ")
		r.Steps = append(r.Steps, step)
	}
}

// schemes are the names that were asked for: one, or all there are.
func (a *asking) schemes() ([]string, error) {
	name, err := a.c.Flags().GetString("scheme")
	if err != nil {
		return nil, err
	}
	_, known := phases.Scheme("")
	if name == "" {
		return known, nil
	}
	if !slices.Contains(known, name) {
		return nil, jobs.Unknown("mold scheme", name, known, "")
	}
	return []string{name}, nil
}

var hazardsQuestion = &question{
	use:   "hazards",
	short: "Whether lead and asbestos rules apply, by the year the house was built",
	long: `What the default plan asks: lead rules for a house built before 1978, asbestos
presumed in one built before 1981, until an accepted finding says otherwise. The
exemption for small areas does not reach work that strips painted walls.`,
	example: `  proveout calc hazards --built 1964`,
	inputs:  []input{{flag: "built", kind: units.CountKind, doc: "year the house was built"}},
	answer:  hazardsAnswer,
}

func hazardsAnswer(a *asking) (*answer, error) {
	plan, err := phases.ReadPlan(phases.Defaults())
	if err != nil {
		return nil, err
	}
	r := &answer{}
	for _, q := range plan.Questions() {
		check := checks.ByName(q.Compute)
		if check != checks.LeadPath && check != checks.AsbestosPath {
			continue
		}
		p := check.Whole(checks.Case{Question: q, Room: &checks.Room{YearBuilt: a.values["built"].Count(), Units: a.system}})[0]
		if p.Reason != "" {
			return nil, fmt.Errorf("%s", p.Reason)
		}
		r.addText(check.Decides, p.Value)
		r.Steps = append(r.Steps, stepOf(check.Decides, p.Limit, p.Value, q.Source+" ("+q.Mark+")"))
	}
	slices.SortFunc(r.Results, func(a, b result) int { return cmp.Compare(a.Name, b.Name) })
	slices.SortFunc(r.Steps, func(a, b units.Step) int { return cmp.Compare(a.Name, b.Name) })
	r.note("Before anything is cut, the rules of the place decide, not this year alone.")
	return r, nil
}

var airChangesQuestion = &question{
	use:     "air-changes",
	short:   "Air changes an hour, from fan flow and volume",
	example: `  proveout calc air-changes --airflow "500 cfm" --volume "1200 ft³" --at-least 4`,
	inputs: []input{
		{flag: "airflow", kind: units.AirflowKind, doc: "measured at the fan"},
		{flag: "volume", kind: units.VolumeKind, doc: "volume of the space"},
		{flag: "at-least", kind: units.AirChangeKind, doc: "air changes wanted", optional: true},
	},
	answer: func(a *asking) (*answer, error) {
		p := checks.AirChanges.Each(checks.Case{Room: &checks.Room{Units: a.system}}, checks.Fact{Values: a.values})
		if p.Reason != "" {
			return nil, fmt.Errorf("%s", p.Reason)
		}
		r := &answer{Steps: p.Steps}
		r.add("air changes", p.Quantity)
		if limit, ok := a.values["at-least"]; ok {
			r.judge(units.AtLeast(p.Quantity, limit), p.Quantity.String()+", wanted at least "+limit.String())
		}
		return r, nil
	},
}

var voltageQuestion = &question{
	use:   "voltage-drop",
	short: "Voltage lost in a circuit, and the size that keeps it small",
	long: `The share of the supply voltage that a circuit loses on its way, the thinnest
size whose loss is at most --limit, and the longest run at which --size keeps it.
Copper; direct current or single phase, or --three-phase with the voltage between
two phases. It says nothing of what current a wire may carry: a
licensed electrician decides.`,
	example: `  proveout calc voltage-drop --voltage "120 V" --current "12 A" --length "60 ft" --size "12 AWG"
  proveout calc voltage-drop --voltage "230 V" --current "8 A" --length "25 m" --units SI --explain`,
	inputs: []input{
		{flag: "length", kind: units.LengthKind, doc: "length of the cable, one way"},
		{flag: "voltage", kind: units.VoltageKind, doc: "supply at the panel"},
		{flag: "current", kind: units.CurrentKind, doc: "current of the load, from its nameplate"},
		{flag: "size", kind: units.WireSizeKind, doc: "size of the conductor", optional: true},
		{flag: "limit", kind: units.PercentKind, doc: "loss that is accepted", otherwise: "3 %"},
	},
	flags: func(c *cobra.Command) {
		c.Flags().Bool("three-phase", false, "a balanced load on three phases")
	},
	answer: voltageAnswer,
}

func voltageAnswer(a *asking) (*answer, error) {
	c := wiring.Circuit{Supply: a.values["voltage"].Voltage(), Current: a.values["current"].Current(), Length: a.values["length"].Length()}
	three, err := a.c.Flags().GetBool("three-phase")
	if err != nil {
		return nil, err
	}
	c.ThreePhase = three
	limit := a.values["limit"]
	r := &answer{Of: fmt.Sprintf("%s at %s over %s, loss at most %s", a.values["current"], a.values["voltage"], a.values["length"], limit)}
	if size, ok := a.values["size"]; ok {
		if err := a.addDrop(r, c, size, limit); err != nil {
			return nil, err
		}
	}
	sizes := wiring.AWG()
	if a.system == units.SI {
		sizes = wiring.Metric()
	}
	first, drop, err := c.FirstSize(limit.Percent(), sizes)
	if err != nil {
		r.note("no size: %v", err)
	} else {
		r.addText("first size that meets it", fmt.Sprintf("%s, loss %s", first.Name, a.of(units.PercentKind, float64(drop.Share))))
	}
	if r.Steps == nil {
		r.Steps = drop.Steps
	}
	r.note("This is the loss alone: breaker, insulation, bundling and terminals are the electrician's.")
	return r, nil
}

// addDrop adds the loss of the size that was asked about.
func (a *asking) addDrop(r *answer, c wiring.Circuit, named, limit units.Quantity) error {
	size, err := wiring.SizeNamed(named.String())
	if err != nil {
		return err
	}
	c.Size = size
	drop, err := c.Drop()
	if err != nil {
		return err
	}
	share := a.of(units.PercentKind, float64(drop.Share))
	r.add("voltage lost", a.of(units.VoltageKind, float64(drop.Volts)))
	r.add("share lost", share)
	r.add("left at the load", a.of(units.VoltageKind, float64(drop.Load)))
	longest, err := c.LongestRun(limit.Percent())
	if err != nil {
		return err
	}
	r.add("longest run of "+size.Name, a.of(units.LengthKind, float64(longest)))
	r.Steps = drop.Steps
	r.judge(units.AtMost(share, limit), size.Name+" loses "+share.String()+", accepted are "+limit.String())
	return nil
}

var racksQuestion = &question{
	use:   "racks",
	short: "What full racks put on the floor",
	long: `The mass of full racks, the load under them, and the load averaged over the
floor, which is what a code's uniform load compares with. Beyond the allowance,
or where the framing is unknown, an engineer decides.`,
	example: `  proveout calc racks --bottles 900 --length "30 ft" --depth "14 in" --rack-mass "12 lb/ft" --floor "80 ft²"`,
	inputs: []input{
		{flag: "length", kind: units.LengthKind, doc: "length of all racks together"},
		{flag: "bottles", kind: units.CountKind, doc: "bottles in all of them"},
		{flag: "depth", kind: units.LengthKind, doc: "depth of the footprint"},
		{flag: "rack-mass", kind: units.LineLoadKind, doc: "mass of the empty rack along its length"},
		{flag: "floor", kind: units.AreaKind, doc: "area of the room's floor"},
		{flag: "bottle-mass", kind: units.MassKind, doc: "one full bottle; 1.3 kg is common practice", otherwise: "1.3 kg"},
		{flag: "at-most", kind: units.AreaLoadKind, doc: "load that the floor is built for", optional: true},
	},
	answer: racksAnswer,
}

func racksAnswer(a *asking) (*answer, error) {
	length := a.values["length"].Length()
	load, err := racks.Racks{
		PerMetre: a.values["bottles"].Base() / float64(length), Bottle: a.values["bottle-mass"].Mass(),
		Rack: units.Mass(a.values["rack-mass"].Base()), Depth: a.values["depth"].Length(), Length: length, Floor: a.values["floor"].Area(),
	}.Load()
	if err != nil {
		return nil, err
	}
	r := &answer{Steps: load.Steps}
	average := a.of(units.AreaLoadKind, float64(load.Average))
	r.add("mass of all racks, full", a.of(units.MassKind, float64(load.Total)))
	r.add("load averaged over the floor", average)
	r.add("load under the racks", a.of(units.AreaLoadKind, float64(load.Footprint)))
	for _, allowed := range racks.Allowances() {
		r.addText("for comparison, "+allowed.Use, a.of(units.AreaLoadKind, float64(allowed.Load)).String()+"  ["+allowed.Source+"]")
	}
	if limit, ok := a.values["at-most"]; ok {
		r.judge(units.AtMost(average, limit), "average "+average.String()+", allowed is "+limit.String())
	}
	return r, nil
}

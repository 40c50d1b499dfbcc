package main

import (
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/checks/wiring"
)

var circuitQuestion = &question{
	use:   "circuit",
	short: "Current a wire may carry as it lies, and a unit's plate against its circuit",
	long: `What a copper wire may carry with other conductors beside it and in the air round
it, by an edition of the wiring rules. With --minimum and --maximum of the unit's
plate and --breaker, whether wire and breaker suit the unit. The figures of all
NEC editions listed are the same. A licensed electrician decides, by the edition
the place has adopted.`,
	example: `  proveout calc circuit --size "12 AWG" --together 2 --air "120 °F" --minimum "18.2 A" --maximum "30 A" --breaker "20 A"
  proveout calc circuit --size "2.5 mm²" --together 4 --air "30 °C" --surrounded --explain`,
	inputs: []input{
		{flag: "size", kind: units.WireSizeKind, doc: "of the conductor"},
		{flag: "air", kind: units.TemperatureKind, doc: "hottest air along the cable", otherwise: "86 °F"},
		{flag: "together", kind: units.CountKind, doc: "current-carrying conductors without space between their cables, or buried together", otherwise: "2"},
		{flag: "column", kind: units.TemperatureKind, doc: "temperature column of the terminals: 60 °C for cable in walls, or 75 °C", otherwise: "60 °C"},
		{flag: "minimum", kind: units.CurrentKind, doc: "minimum circuit ampacity of the plate", optional: true},
		{flag: "maximum", kind: units.CurrentKind, doc: "maximum overcurrent device of the plate", optional: true},
		{flag: "breaker", kind: units.CurrentKind, doc: "rating of breaker or fuse", optional: true},
	},
	flags: func(c *cobra.Command) {
		c.Flags().String("edition", "", "edition of the rules (default: the newest of the size's family): "+editionNames())
		c.Flags().Bool("surrounded", false, "insulation or foam lies all round it for more than half a metre; metric sizes")
		c.Flags().Bool("motor-rule", false, "an electrician takes a breaker above that of thin wire under NEC 240.4(G)")
	},
	answer: circuitAnswer,
}

func editionNames() string {
	var names []string
	for _, e := range wiring.Editions() {
		names = append(names, e.Name)
	}
	return strings.Join(names, ", ")
}

func circuitAnswer(a *asking) (*answer, error) {
	size, err := wiring.SizeNamed(a.values["size"].String())
	if err != nil {
		return nil, err
	}
	edition, err := a.edition(size)
	if err != nil {
		return nil, err
	}
	run := wiring.Run{Size: size.Name, Loaded: a.values["together"].Count(), Ambient: a.values["air"].Temperature(), Column: a.values["column"].Temperature()}
	if run.Surrounded, err = a.c.Flags().GetBool("surrounded"); err != nil {
		return nil, err
	}
	ampacity, err := run.Ampacity(edition)
	if err != nil {
		return nil, err
	}
	r := &answer{Of: size.Name + " by " + edition.Name, Steps: ampacity.Steps}
	r.add("from the table", a.of(units.CurrentKind, float64(ampacity.Table)))
	r.add("corrected for bundle and air", a.of(units.CurrentKind, float64(ampacity.Corrected)))
	r.add("may carry", a.of(units.CurrentKind, float64(ampacity.Allowed)))
	if err := a.addPlate(r, run, edition); err != nil {
		return nil, err
	}
	if edition.Outdoor != "" {
		r.note("Ground-fault protection of outdoor units by this edition: %s.", edition.Outdoor)
	}
	r.note("A licensed electrician decides: terminals, splices, other heat nearby and the edition in force are not known here.")
	return r, nil
}

func (a *asking) edition(size wiring.Size) (wiring.Edition, error) {
	name, err := a.c.Flags().GetString("edition")
	if err != nil {
		return wiring.Edition{}, err
	}
	if name != "" {
		return wiring.EditionNamed(name)
	}
	return wiring.EditionOf(size)
}

// addPlate judges the circuit by the unit's plate, when that was given.
func (a *asking) addPlate(r *answer, run wiring.Run, edition wiring.Edition) error {
	given := 0
	for _, flag := range []string{"minimum", "maximum", "breaker"} {
		if _, ok := a.values[flag]; ok {
			given++
		}
	}
	switch given {
	case 0:
		return nil
	case 3:
	default:
		return &usageError{"--minimum, --maximum and --breaker go together: the plate's two figures and the breaker\nsee: " + a.c.CommandPath() + " --help"}
	}
	motor, err := a.c.Flags().GetBool("motor-rule")
	if err != nil {
		return err
	}
	findings, _, err := wiring.Dedicated{
		Plate: wiring.Nameplate{MinimumAmpacity: a.values["minimum"].Current(), MaximumOvercurrent: a.values["maximum"].Current()},
		Run:   run, Breaker: a.values["breaker"].Current(), Edition: edition, MotorRule: motor,
	}.Judge()
	if err != nil {
		return err
	}
	r.Outcome = checks.Pass.String()
	var wrong []string
	for _, f := range findings {
		r.addText(f.Name, f.Outcome.String()+": "+f.Text)
		r.Steps = append(r.Steps, stepOf(f.Name, "", f.Text, f.Source))
		if f.Outcome != units.Pass {
			r.Outcome = checks.Fail.String()
			wrong = append(wrong, f.Name+" "+f.Text)
		}
	}
	r.Reason = strings.Join(wrong, "; ")
	return nil
}

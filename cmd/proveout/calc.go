package main

import (
	"cmp"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases/strict"
)

func calcCommand(e *env) *cobra.Command {
	c := &cobra.Command{
		Use:   "calc",
		Short: "The questions of computed checks, without a job",
		Long: `Asks one question of building physics or of the trades, with the same code that
judges a job. Values carry their unit, US or SI; the answer comes in the units of
the question unless --units says otherwise. --explain prints each step with its
formula and source. In place of flags a YAML file may give the values, with the
flags' names as keys and spaces for hyphens: temp: 24 °C.`,
		Example: `  proveout calc air --temp "24 °C" --rh "60 %"
  proveout calc surface --temp 75F --rh 60% --surface 58F
  proveout calc wall --layer "gypsum board, 1/2 in" --layer "closed-cell spray foam, 3 in, insulation, framing 25 %"
  proveout calc voltage-drop --voltage "120 V" --current "12 A" --length "60 ft" --explain`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.PersistentFlags().String("units", "", "US or SI: the units of the answer (default: those of the question)")
	c.PersistentFlags().Bool("explain", false, "print each step, with formula and source")
	for _, q := range questions {
		c.AddCommand(q.command(e))
	}
	return c
}

// questions are all that calc answers, in the order of a job.
var questions = []*question{
	airQuestion, surfaceQuestion, materialsQuestion, wallQuestion, retarderQuestion, moldQuestion, hazardsQuestion, moldTierQuestion, woodQuestion,
	airChangesQuestion, containmentQuestion, dryingQuestion, datesQuestion, slabQuestion, liftsQuestion, battsQuestion,
	voltageQuestion, circuitQuestion, insulationQuestion,
	suctionQuestion, liquidQuestion, lineInsulationQuestion, drainTrapQuestion, nitrogenQuestion, oxygenQuestion, evacuationQuestion,
	riseQuestion, saturationQuestion, superheatQuestion, addedChargeQuestion, roomChargeQuestion,
	compoundQuestion, labelQuestion, glassQuestion, doorGapQuestion, fanQuestion, racksQuestion, anchorQuestion, pullsQuestion,
	loadQuestion, yearQuestion, humidityQuestion, pullDownModelQuestion, bottleQuestion, pullDownQuestion, logQuestion, analysisQuestion, followUpQuestion,
}

// question is one subcommand of calc.
type question struct {
	use, short, long, example string
	also                      []string // other words that people try
	inputs                    []input
	files                     string // "" values at most, "values" and more, "one", "many"
	flags                     func(*cobra.Command)
	answer                    func(*asking) (*answer, error)
}

// input is one value that a question wants.
type input struct {
	flag      string
	kind      units.Kind
	doc       string
	otherwise string // taken when it is not given
	optional  bool
}

func (q *question) command(e *env) *cobra.Command {
	c := &cobra.Command{
		Use: q.use, Aliases: q.also, Short: q.short, Long: q.long, Example: q.example, Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, args []string) error { return q.run(e, c, args) },
	}
	switch {
	case q.files == "one" || q.takesFile():
		c.Args = cobra.MaximumNArgs(1)
	case q.files == "many":
		c.Args = cobra.MinimumNArgs(1)
	}
	if q.files == "" && q.takesFile() {
		c.Use += " [FILE.yaml]"
	}
	for _, in := range q.inputs {
		doc := in.doc
		if in.otherwise == "" {
			doc += ", such as " + in.kind.Example()
		}
		c.Flags().String(in.flag, in.otherwise, doc)
	}
	if q.flags != nil {
		q.flags(c)
	}
	return c
}

func (q *question) run(e *env, c *cobra.Command, args []string) error {
	a := &asking{env: e, c: c, question: q, files: args, values: map[string]units.Quantity{}}
	if err := a.read(); err != nil {
		return err
	}
	result, err := q.answer(a)
	if err != nil {
		return inputProblem(err)
	}
	result.Question = c.Name()
	explain, err := c.Flags().GetBool("explain")
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		err = e.printJSON(result)
	} else {
		result.print(e, explain)
	}
	return firstError(err, result.exit())
}

// inputProblem marks an error that the physics or a file gives as one of the
// input.
func inputProblem(err error) error {
	if exitCode(err) != exitBug {
		return err
	}
	return &jobs.Problem{Kind: jobs.ErrInput, What: err.Error()}
}

// asking is one question with the values that were given.
type asking struct {
	*question
	env    *env
	c      *cobra.Command
	files  []string
	values map[string]units.Quantity
	system units.System
	open   bool // nothing typed has decided the system yet
	doc    *strict.Document
}

// takeSystem takes the units of the answer from what was read after the flags.
func (a *asking) takeSystem(q units.Quantity) {
	if s := q.Unit.System(); a.open && s != 0 {
		a.system, a.open = s, false
	}
}

// read reads all values and reports all that is wrong with them.
func (a *asking) read() error {
	if err := a.openFile(); err != nil {
		return err
	}
	if a.doc != nil {
		a.fromFile()
	}
	var problems []string
	for _, in := range a.inputs {
		text, err := a.c.Flags().GetString(in.flag)
		_, filed := a.values[in.flag]
		switch {
		case filed:
			continue
		case err != nil:
			return err
		case text == "" && in.optional:
			continue
		case text == "":
			problems = append(problems, fmt.Sprintf("--%s is missing: %s; write it as --%s %q", in.flag, in.doc, in.flag, in.kind.Sample()))
			continue
		}
		q, err := units.Parse(in.kind, text)
		if err != nil {
			problems = append(problems, fmt.Sprintf("--%s: %v", in.flag, err))
			continue
		}
		a.values[in.flag] = q
		if a.system == 0 && a.given(in.flag) {
			a.system = q.Unit.System()
		}
	}
	if a.doc != nil && a.files != nil && a.question.files == "" {
		if err := a.doc.Err(); err != nil {
			return err
		}
	}
	if problems != nil {
		return &usageError{strings.Join(problems, "\n") + "\nsee: " + a.c.CommandPath() + " --help"}
	}
	return a.setSystem()
}

// setSystem takes the units of the answer: as asked, as in the question, or US.
func (a *asking) setSystem() error {
	text, err := a.c.Flags().GetString("units")
	if err != nil {
		return err
	}
	switch strings.ToUpper(text) {
	case "US":
		a.system = units.US
	case "SI":
		a.system = units.SI
	case "":
		a.open = a.system == 0
		a.system = cmp.Or(a.system, units.US)
	default:
		return &usageError{fmt.Sprintf("--units is %q; write US or SI", text)}
	}
	return nil
}

// given reports whether a flag was typed.
func (a *asking) given(flag string) bool { return a.c.Flags().Changed(flag) }

// of is a computed value in the units of the answer.
func (a *asking) of(kind units.Kind, base float64) units.Quantity {
	return units.Of(kind, base, a.system)
}

// answer is what a question is answered with.
type answer struct {
	Question string       `json:"question"`
	Of       string       `json:"of,omitempty"` // what it was asked about, in words
	Results  []result     `json:"results"`
	Outcome  string       `json:"outcome,omitempty"` // pass, fail or undecided, where a limit was given
	Reason   string       `json:"reason,omitempty"`
	Notes    []string     `json:"notes,omitempty"`
	Steps    []units.Step `json:"steps,omitempty"`
}

// result is one value of an answer. Base is the number in BaseUnit.
type result struct {
	Of       string   `json:"of,omitempty"` // what it is a part of
	Name     string   `json:"name"`
	Value    string   `json:"value"`
	Base     *float64 `json:"base,omitempty"`
	BaseUnit string   `json:"base_unit,omitempty"`

	depth int
}

// shown is the name as it is printed, indented below what it is a part of.
func (x result) shown() string { return strings.Repeat("  ", x.depth) + terminalText(x.Name) }

// below says what the newest result is a part of.
func (r *answer) below(of ...string) {
	x := &r.Results[len(r.Results)-1]
	x.Of, x.depth = strings.Join(of, ", "), len(of)
}

func (r *answer) add(name string, q units.Quantity) {
	r.addNumber(name, q.String(), q.Base(), q.Kind().BaseUnit())
}

// addNumber adds a value with a text of its own.
func (r *answer) addNumber(name, value string, base float64, unit string) {
	r.Results = append(r.Results, result{Name: name, Value: value, Base: &base, BaseUnit: unit})
}

func (r *answer) addText(name, value string) {
	r.Results = append(r.Results, result{Name: name, Value: value})
}

func (r *answer) note(format string, args ...any) {
	r.Notes = append(r.Notes, fmt.Sprintf(format, args...))
}

// exit is the exit code of an answer that judges: 3 unless it passes.
func (r *answer) exit() error {
	if r.Outcome == "" || r.Outcome == checks.Pass.String() {
		return nil
	}
	return &quietError{jobs.ErrShut}
}

func (r *answer) print(e *env, explain bool) {
	if r.Of != "" {
		e.printf("%s\n", e.bold(terminalText(r.Of)))
	}
	wide := 0
	for _, x := range r.Results {
		wide = max(wide, columns(x.shown()))
	}
	for _, x := range r.Results {
		e.printf("  %s%s  %s\n", x.shown(), strings.Repeat(" ", wide-columns(x.shown())), terminalText(x.Value))
	}
	if r.Outcome != "" {
		e.paragraph("  ", strings.TrimSuffix(r.Outcome+": "+r.Reason, ": "))
	}
	for _, n := range r.Notes {
		e.paragraph("  ", n)
	}
	if explain {
		e.printf("\nstep by step:\n")
		r.printSteps(e)
	}
}

// printSteps prints a calculation with its formula and its source.
func (r *answer) printSteps(e *env) {
	for _, s := range r.Steps {
		e.printf("  %s: %s\n", terminalText(s.Name), terminalText(s.Value))
		if s.Formula != "" {
			e.paragraph("      ", s.Formula)
		}
		if s.Source != "" {
			e.paragraph("      ", "["+s.Source+"]")
		}
	}
}

// columns counts the characters of a text that has no wide ones.
func columns(text string) int { return len([]rune(text)) }

func stepOf(name, formula, value, source string) units.Step {
	return units.Step{Name: name, Formula: formula, Value: value, Source: source}
}

package main

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/jobs"
	"proveout/phases"
)

func penetrationCommand(e *env) *cobra.Command {
	var p jobs.Penetration
	c := &cobra.Command{
		Use:   "penetration [PLACE]",
		Short: "The list of holes through retarder and insulation",
		Long: `Without PLACE: the list, with which holes are found sealed. With PLACE it adds a
hole, planned or found: where, for what, who owns it, how it is sealed. Each hole
of the list is asked for when the retarder is released. A hole that is added
after that release raises a nonconformity by itself.

A hole that is not made after all comes off the list with "proveout correct".`,
		Example: `  proveout penetration
  proveout penetration "north wall/line set" --for "line set" --owner "refrigeration technician" --seal "sleeve, sealant both sides" --by Ana`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 && !flagsSaid(c, "for", "owner", "seal") {
				return listPenetrations(e, c)
			}
			if len(args) == 1 {
				p.Place = args[0]
			}
			return addPenetration(e, c, p)
		},
	}
	f := c.Flags()
	f.StringVar(&p.For, "for", "", "what goes through")
	f.StringVar(&p.Owner, "owner", "", "who makes it and answers for it")
	f.StringVar(&p.Seal, "seal", "", "how it is sealed")
	addBy(c)
	return c
}

func flagsSaid(c *cobra.Command, names ...string) bool {
	return slices.ContainsFunc(names, c.Flags().Changed)
}

func addPenetration(e *env, c *cobra.Command, p jobs.Penetration) error {
	j, company, err := e.both(c)
	if err != nil {
		return err
	}
	defer j.Close()
	fields := []*field{
		{flag: "PLACE", ask: "Where, like north wall/line set", must: true, check: notEmpty, to: &p.Place},
		{flag: "for", ask: "What goes through", must: true, check: notEmpty, to: &p.For},
		{flag: "owner", ask: "Who owns it", must: true, check: notEmpty, to: &p.Owner},
		{flag: "seal", ask: "How it is sealed", must: true, check: notEmpty, to: &p.Seal},
	}
	if missing, err := checkFlags(fields); err != nil {
		return err
	} else if missing != nil && !e.terminal {
		return &usageError{fmt.Sprintf("a hole needs its place, for, owner and seal; missing: %s\nfor example: proveout penetration \"north wall/line set\" --for \"line set\" --owner electrician --seal \"sleeve and sealant\"", strings.ReplaceAll(strings.Join(missing, ", "), "--PLACE", "PLACE"))}
	}
	entry, err := e.by(c, company)
	if err != nil {
		return err
	}
	if err := e.fill(fields, true); err != nil {
		return err
	}
	hole, raised, err := j.AddPenetration(c.Context(), entry, p)
	if err != nil {
		return err
	}
	return printHole(e, c, j, hole, raised)
}

func printHole(e *env, c *cobra.Command, j *jobs.Job, hole, raised *jobs.Record) error {
	if wantsJSON(c) {
		number := ""
		if raised != nil {
			number = raised.Nonconformity
		}
		return e.printJSON(map[string]string{"id": hole.ID, "place": hole.Place, "for": hole.For, "owner": hole.Owner, "seal": hole.Seal, "nonconformity": number})
	}
	e.printf("on the list  %s: %s, %s, %s  (%s)\n", terminalText(hole.Place), terminalText(hole.For), terminalText(hole.Owner), terminalText(hole.Seal), hole.ShortID())
	if raised != nil {
		e.printf("  %s is released already, so this raised %s\n  proveout nonconformity %s\n", raised.Hold, raised.Nonconformity, raised.Nonconformity)
	}
	for _, q := range holeQuestions(j, j.Gate(e.now())) {
		e.printf("  next  %s\n", terminalText(q.Command(hole.Place)))
	}
	return nil
}

// holeQuestions are the checks that ask about each hole.
func holeQuestions(j *jobs.Job, g *phases.Gate) []*checks.Question {
	var all []*checks.Question
	for _, h := range j.Plan.Holds() {
		for _, q := range h.Checks {
			if q.Sampling.Each == "penetration" && g.Asked(q) {
				all = append(all, q)
			}
		}
	}
	return all
}

// holeReport is one line of the list.
type holeReport struct {
	ID     string            `json:"id"`
	Place  string            `json:"place"`
	For    string            `json:"for"`
	Owner  string            `json:"owner"`
	Seal   string            `json:"seal"`
	Checks map[string]string `json:"checks"` // outcome of each check of the hole
}

func listPenetrations(e *env, c *cobra.Command) error {
	j, err := e.job(c)
	if err != nil {
		return err
	}
	defer j.Close()
	g := j.Gate(e.now())
	var verdicts []checks.Verdict
	for _, q := range holeQuestions(j, g) {
		verdicts = append(verdicts, verdictOf(g, j.Plan.HoldOf(q.ID()), q.ID()))
	}
	holes := j.Penetrations()
	switch {
	case wantsJSON(c):
		return e.printJSON(holeReports(holes, verdicts))
	case len(holes) == 0:
		e.printf("The list is empty: no hole through retarder or insulation is planned.\n  proveout penetration \"PLACE\" --for WHAT --owner WHO --seal HOW --by NAME\n")
		return nil
	}
	return printHoles(e, holes, verdicts)
}

// printHoles prints the list, with a column for each check of the holes.
func printHoles(e *env, holes []*jobs.Record, verdicts []checks.Verdict) error {
	w := tabwriter.NewWriter(e.out, 0, 0, 2, ' ', 0)
	head := "place\tfor\towner\tseal"
	for _, v := range verdicts {
		head += "\t" + v.Check
	}
	fmt.Fprintln(w, head+"\tid")
	for _, h := range holes {
		line := strings.Join([]string{cellText(h.Place), cellText(h.For), cellText(h.Owner), cellText(h.Seal)}, "\t")
		for _, v := range verdicts {
			line += "\t" + marks[outcomeAt(v, h.Place)]
		}
		fmt.Fprintln(w, line+"\t"+h.ShortID())
	}
	return w.Flush()
}

// cellText keeps a text in its cell of a table.
func cellText(text string) string {
	return strings.Join(strings.Fields(terminalText(text)), " ")
}

func holeReports(holes []*jobs.Record, verdicts []checks.Verdict) []holeReport {
	list := []holeReport{}
	for _, r := range holes {
		h := holeReport{ID: r.ID, Place: r.Place, For: r.For, Owner: r.Owner, Seal: r.Seal, Checks: map[string]string{}}
		for _, v := range verdicts {
			h.Checks[v.Check] = outcomeAt(v, r.Place).String()
		}
		list = append(list, h)
	}
	return list
}

// outcomeAt is how a check stands at one place; undecided without an answer.
func outcomeAt(v checks.Verdict, place string) checks.Outcome {
	i := slices.IndexFunc(v.Points, func(p checks.Point) bool { return p.Place == place })
	if i < 0 {
		return checks.Undecided
	}
	return v.Points[i].Outcome
}

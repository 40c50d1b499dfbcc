package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/diagnosis"
	"proveout/jobs"
	"proveout/phases"
)

func diagnoseCommand(e *env) *cobra.Command {
	var explain bool
	c := &cobra.Command{
		Use:   "diagnose [JOB]",
		Short: "Why the room fails, by what was read, and what would decide",
		Long: `Works out from the records of the assess phase and from job.yaml why the room
fails: the causes with the readings for and against each and how certain they are,
the heat that comes in at the set point against what the unit can take out, the
room as found beside the room as planned, and what nobody knows yet.

A cause is named only on a reading. Where the reading that would tell two causes
apart is missing, the answer is "undecided", and that reading stands first under
"read next", with the line to type. What is recorded and cannot be used (an
instrument out of calibration, two answers, a value that cannot be) is listed with
its record.

certainty   high: the deciding reading and another one agree
            medium: the deciding reading stands alone, or a value was assumed
            low: possible; the reading that would decide is missing

Exits with 0 when the causes are named or the room is sound, with 3 while it is
undecided. The check assess.cause-explained asks the same at the hold point.`,
		Example: `  proveout diagnose
  proveout diagnose birch-stair
  proveout diagnose --explain          each step with formula and source
  proveout diagnose --json             the same for another program
  proveout document diagnosis          for the homeowner and for an engineer`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 1 {
				if err := c.Flags().Set("job", args[0]); err != nil {
					return err
				}
			}
			return diagnose(e, c, explain)
		},
	}
	c.Flags().BoolVar(&explain, "explain", false, "show each step of the calculation, with formula and source")
	return c
}

func diagnose(e *env, c *cobra.Command, explain bool) error {
	j, err := e.job(c)
	if err != nil {
		return err
	}
	defer j.Close()
	g := j.Gate(e.now())
	d, err := g.Diagnose()
	if err != nil {
		return &retoldError{jobs.ErrInput, fmt.Sprintf("%v\ncorrect job.yaml, or the record that says so: proveout correct ID", err)}
	}
	if wantsJSON(c) {
		if err := e.printJSON(newDiagnosisReport(j.ID, g, d)); err != nil {
			return err
		}
	} else {
		p := diagnosisPrinter{e: e, g: g, d: d}
		p.print(j)
		if explain {
			p.explain()
		}
	}
	if d.Outcome == diagnosis.Undecided {
		return &quietError{jobs.ErrShut}
	}
	return nil
}

// diagnosisReport is a diagnosis as JSON. Powers are in W, flows in m³/s.
type diagnosisReport struct {
	Job        string            `json:"job"`
	Outcome    string            `json:"outcome"`
	Summary    string            `json:"summary"`
	Causes     []causeReport     `json:"causes"`
	Wanted     []wantedReport    `json:"wanted"`
	Signs      []signReport      `json:"signs"`
	NotFound   []string          `json:"signs_not_found"`
	Balances   []balanceReport   `json:"balances"`
	Comparison []lineReport      `json:"as_found_as_planned"`
	Unusable   []checks.Unusable `json:"unusable"`
	Unknown    []string          `json:"unknown"`
	Steps      []checks.Step     `json:"steps"`
}

type causeReport struct {
	Cause     string           `json:"cause"`
	Named     bool             `json:"named"`
	Certainty string           `json:"certainty"`
	Share     float64          `json:"share_percent"`
	For       []evidenceReport `json:"for"`
	Against   []evidenceReport `json:"against"`
	Decides   []string         `json:"would_decide"`
}

type evidenceReport struct {
	Text     string   `json:"text"`
	Readings []string `json:"readings"`
	Source   string   `json:"source"`
}

type wantedReport struct {
	Measurement string   `json:"measurement"`
	What        string   `json:"what"`
	How         string   `json:"how"`
	Because     string   `json:"because"`
	Between     []string `json:"between"`
	Check       string   `json:"check,omitempty"`
	Command     string   `json:"command,omitempty"`
}

type signReport struct {
	Sign      string   `json:"sign"`
	Text      string   `json:"text"`
	Explained bool     `json:"explained"`
	By        []string `json:"by"`
	NoFault   string   `json:"no_fault,omitempty"`
}

type balanceReport struct {
	When    string             `json:"when"`
	Load    float64            `json:"load"`
	Sound   float64            `json:"load_of_a_sound_room"`
	Able    *float64           `json:"capacity"`
	Items   map[string]float64 `json:"items"`
	Shares  map[string]float64 `json:"shares"`
	Counted bool               `json:"everything_counted"`
}

type lineReport struct {
	Name    string `json:"name"`
	Found   string `json:"as_found"`
	Planned string `json:"as_planned"`
	Limit   string `json:"limit,omitempty"`
	Margin  string `json:"margin,omitempty"`
}

func newDiagnosisReport(job string, g *phases.Gate, d checks.Diagnosis) diagnosisReport {
	r := diagnosisReport{
		Job: job, Outcome: d.Outcome.String(), Summary: d.Summary, NotFound: texts(d.Looked),
		Causes: []causeReport{}, Wanted: []wantedReport{}, Signs: []signReport{}, Balances: []balanceReport{}, Comparison: []lineReport{},
		Unusable: append([]checks.Unusable{}, d.Unusable...), Unknown: append([]string{}, d.Unknown...), Steps: append([]checks.Step{}, d.Steps...),
	}
	for _, f := range d.Causes {
		r.Causes = append(r.Causes, causeReport{
			Cause: string(f.Cause), Named: f.Named, Certainty: f.Certainty.String(), Share: float64(f.Share),
			For: evidenceReports(f.For), Against: evidenceReports(f.Against), Decides: texts(f.Decides),
		})
	}
	for _, w := range d.Wanted {
		check, command := g.Answer(w.Measurement)
		r.Wanted = append(r.Wanted, wantedReport{string(w.Measurement), w.Measurement.What(), w.Measurement.How(), w.Because, texts(w.Between), check, command})
	}
	for _, s := range d.Symptoms {
		r.Signs = append(r.Signs, signReport{string(s.Symptom), s.Text, s.Explained, texts(s.By), s.NoFault})
	}
	for _, b := range []*diagnosis.Balance{d.Visit, d.Summer} {
		if b != nil {
			r.Balances = append(r.Balances, newBalanceReport(b))
		}
	}
	for _, l := range d.Comparison {
		line := lineReport{Name: l.Name, Found: l.Found.Text, Planned: l.Planned.Text, Limit: l.Limit}
		if l.Margin.Known {
			line.Margin = l.Margin.Text
		}
		r.Comparison = append(r.Comparison, line)
	}
	return r
}

func newBalanceReport(b *diagnosis.Balance) balanceReport {
	r := balanceReport{
		When: b.When, Load: float64(b.Found.Total()), Sound: float64(b.Ordinary.Total()), Counted: b.Known,
		Items: map[string]float64{}, Shares: map[string]float64{},
	}
	if b.Rates {
		able := float64(b.Able)
		r.Able = &able
	}
	for _, i := range b.Found.Items {
		r.Items[i.Name] += float64(i.Sensible + i.Latent)
	}
	for _, s := range b.Shares {
		if s.Known {
			r.Shares[string(s.Cause)] = float64(s.Power)
		}
	}
	return r
}

func evidenceReports(list []diagnosis.Evidence) []evidenceReport {
	all := []evidenceReport{}
	for _, e := range list {
		all = append(all, evidenceReport{e.Text, texts(e.Readings), e.Source})
	}
	return all
}

// texts turns words of a type of their own into plain ones; an empty list, not none.
func texts[T ~string](words []T) []string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = string(w)
	}
	return all
}

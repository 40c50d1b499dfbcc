package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"proveout/jobs"
	"proveout/phases"
	"proveout/templates"
)

// paper is one kind of document.
type paper struct {
	name, arg, about string
	// write makes the document; arg is "" for a kind without one.
	write func(d templates.Dossier, arg string) (templates.Document, error)
	// each lists the arguments that "all" writes it for; nil means once.
	each func(d templates.Dossier) []string
}

// papers are the documents of a job, in the order of the work.
var papers = []paper{
	{"diagnosis", "", "what was found and why the room fails (assess)", plain(templates.Diagnosis), nil},
	{"scope", "", "what will be done, with inspection and test plan", plain(templates.Scope), nil},
	{"field-sheet", "PHASE", "what is to be measured in a phase, to fill in on site; --csv for record --sheet", fieldSheet, phaseNames},
	{"signoff", "PHASE.HOLD", "sign-off sheet of a hold, with the fingerprint", signoffSheet, holdNames},
	{"cover-up", "", "photo record of what board and paint hide", plain(templates.CoverUp), nil},
	{"insulation-receipt", "", "what was installed, for the homeowner and the inspector", plain(templates.InsulationReceipt), nil},
	{"nonconformity", "NC-1", "report of one nonconformity", nonconformityPaper, nonconformityNumbers},
	{"commissioning", "", "the homeowner's record, with care guide and whom to call", plain(templates.CommissioningRecord), nil},
}

func plain(write func(templates.Dossier) (templates.Document, error)) func(templates.Dossier, string) (templates.Document, error) {
	return func(d templates.Dossier, _ string) (templates.Document, error) { return write(d) }
}

func fieldSheet(d templates.Dossier, arg string) (templates.Document, error) {
	ph, err := d.Phase(arg)
	if err != nil {
		return templates.Document{}, err
	}
	return templates.FieldSheet(d, ph)
}

func signoffSheet(d templates.Dossier, arg string) (templates.Document, error) {
	h, err := d.Hold(d.Gate, arg)
	if err != nil {
		return templates.Document{}, err
	}
	return templates.Signoff(d, h)
}

func nonconformityPaper(d templates.Dossier, arg string) (templates.Document, error) {
	n, err := d.Nonconformity(strings.ToUpper(arg))
	if err != nil {
		return templates.Document{}, err
	}
	return templates.Nonconformity(d, n)
}

func phaseNames(d templates.Dossier) (names []string) {
	for _, ph := range d.Plan.Phases {
		names = append(names, ph.Name)
	}
	return names
}

func holdNames(d templates.Dossier) (names []string) {
	for _, s := range d.Gate.States() {
		if s.State != phases.NotApplicable {
			names = append(names, s.Hold.ID())
		}
	}
	return names
}

func nonconformityNumbers(d templates.Dossier) (numbers []string) {
	for _, n := range d.Nonconformities() {
		numbers = append(numbers, n.Record.Nonconformity)
	}
	return numbers
}

// printing is one call of the command.
type printing struct {
	to, browser              string
	force                    bool
	csv, markdown, html, pdf bool
	form                     form
}

func documentCommand(e *env) *cobra.Command {
	p := &printing{}
	c := &cobra.Command{
		Use:   "document KIND [ARGUMENT]",
		Short: "Print a document of the job: for the client, the crew, the inspector",
		Long: `Documents are computed from the job's newest commit: the same commit gives the
same bytes. On a terminal they are shown there; otherwise, and with -o, they are
Markdown, with their figures as files beside them. With --html, or where the file
of -o ends so, a document is one HTML file that stands alone, with photos and
figures in it: read it on a screen, send it, print it from any browser. With
--pdf an installed browser prints it. Kinds:

` + kindList() + `
  review                        the owner's review of all jobs
  all                           every document of the job, into the folder of -o`,
		Example: `  proveout document commissioning
  proveout document signoff insulation.before-board
  proveout document field-sheet insulation -o sheet.csv
  proveout document commissioning -o record.md
  proveout document commissioning -o record.html
  proveout document commissioning -o record.pdf
  proveout document commissioning -o record.pdf --browser "C:\Tools\chrome.exe"
  proveout document all -o papers/
  proveout document all -o papers/ --pdf`,
		Args: cobra.RangeArgs(0, 2),
		RunE: func(c *cobra.Command, args []string) error { return p.run(e, c, args) },
	}
	c.Flags().StringVarP(&p.to, "output", "o", "", "write to this file, or into this folder")
	c.Flags().BoolVar(&p.force, "force", false, "replace a file that is there")
	c.Flags().BoolVar(&p.csv, "csv", false, "a field sheet as CSV, for record --sheet")
	c.Flags().BoolVar(&p.markdown, "markdown", false, "Markdown on a terminal, too")
	c.Flags().BoolVar(&p.html, "html", false, "one HTML file that stands alone")
	c.Flags().BoolVar(&p.pdf, "pdf", false, "PDF, printed by an installed browser; its profile is empty and removed again")
	c.Flags().StringVar(&p.browser, "browser", "", "the browser that prints (default: looks for one)")
	return c
}

// kindList lists the kinds of document.
func kindList() string {
	var b strings.Builder
	for _, p := range papers {
		fmt.Fprintf(&b, "  %-28s  %s\n", strings.TrimSpace(p.name+" "+p.arg), p.about)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

func (p *printing) run(e *env, c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return &usageError{"say which document:\n" + kindList() + "\n  review\n  all"}
	}
	if err := p.chooseForm(e); err != nil {
		return err
	}
	if args[0] == "review" {
		return p.review(e, c)
	}
	j, err := e.job(c)
	if err != nil {
		return err
	}
	defer j.Close()
	d, err := e.dossier(j)
	if err != nil {
		return err
	}
	if args[0] == "all" {
		return p.all(c.Context(), e, d)
	}
	kind, err := paperNamed(args[0])
	if err != nil {
		return err
	}
	arg, err := kind.argument(d, args[1:])
	if err != nil {
		return err
	}
	return p.one(c.Context(), e, kind, d, arg)
}

func paperNamed(name string) (paper, error) {
	var names []string
	for _, k := range papers {
		if k.name == name {
			return k, nil
		}
		names = append(names, k.name)
	}
	return paper{}, jobs.Unknown("document", name, append(names, "review", "all"), "")
}

// argument is the argument of a kind: none, or one that it needs.
func (k paper) argument(d templates.Dossier, args []string) (string, error) {
	switch {
	case k.arg == "" && len(args) > 0:
		return "", &usageError{fmt.Sprintf("document %s takes no argument, %q", k.name, args[0])}
	case k.arg != "" && len(args) == 0:
		text := fmt.Sprintf("say which: proveout document %s %s", k.name, k.arg)
		if known := k.each(d); len(known) > 0 {
			text += "\nknown are: " + strings.Join(known, ", ")
		}
		return "", &usageError{text}
	case k.arg == "":
		return "", nil
	}
	return args[0], nil
}

// dossier is the job at its newest commit, with company and client where they
// are at hand.
func (e *env) dossier(j *jobs.Job) (templates.Dossier, error) {
	view, err := j.View()
	if err != nil {
		return templates.Dossier{}, err
	}
	d := templates.Dossier{View: view}
	company, err := jobs.FindCompany(j.Dir)
	if err != nil {
		return d, nil // a copy of a job alone has no letterhead
	}
	d.Company = company
	d.Client, err = company.Client(j.ID)
	return d, err
}

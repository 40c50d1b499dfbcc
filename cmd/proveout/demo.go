package main

import (
	"context"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"proveout/jobs"
)

//go:embed demodata
var demoFiles embed.FS

func demoCommand(e *env) *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "Build an invented company with four jobs to look around in",
		Long: `Builds, by the program's own operations, an invented company with four jobs:
one just diagnosed, one stopped in the middle, one waiting at the cover-up, one
finished with its loggers' files. Everything in it is invented. DIR must not
exist yet, or be empty; without DIR it is made in the folder proveout-demo.`,
		Example: `  proveout demo
  proveout demo /tmp/look-around`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			dir := "proveout-demo"
			if len(args) == 1 {
				dir = args[0]
			}
			return buildDemo(c.Context(), e, e.path(dir))
		},
	}
}

// demoJob is one of the four jobs and how far it is taken.
type demoJob struct {
	site   demoSite
	client jobs.Client
	days   int // started so many days ago
	story  func(*crew) error
	about  string
}

var demoJobs = []demoJob{
	{
		site:   demoSite{ID: "alder-lane", Title: "Wine room in the basement", YearBuilt: 1994, Retarder: "film", Bottles: 700, Serial: "X-2041", ceiling: "house"},
		client: jobs.Client{Name: "R. Okonjo-Vale (invented)", Address: "12 Alder Lane, Nowhere", Phone: "555-0111"},
		days:   6, story: justDiagnosed,
		about: "just diagnosed: the cause is named, nothing is cut yet",
	},
	{
		site:   demoSite{ID: "birch-stair", Title: "Wine room under the stair", YearBuilt: 1958, Retarder: "film", Bottles: 520, Serial: "X-1977", ceiling: "house"},
		client: jobs.Client{Name: "L. Marchetti-Dunn (invented)", Address: "4 Birch Stair, Nowhere", Phone: "555-0122"},
		days:   34, story: stoppedInTheMiddle,
		about: "stopped: a retarder on the wrong side and a stud too wet",
	},
	{
		site:   demoSite{ID: "cedar-court", Title: "Wine room beside the kitchen", YearBuilt: 1987, Retarder: "foam", Bottles: 840, Serial: "X-2102", ceiling: "attic"},
		client: jobs.Client{Name: "T. Abernathy-Sol (invented)", Address: "9 Cedar Court, Nowhere", Phone: "555-0133"},
		days:   42, story: waitingAtCoverUp,
		about: "waiting at the cover-up: two walls may be boarded, the rest lacks its photos",
	},
	{
		site:   demoSite{ID: "dogwood-hall", Title: "Wine room off the hall", YearBuilt: 2003, Retarder: "foam", Bottles: 900, Serial: "X-1850", ceiling: "house"},
		client: jobs.Client{Name: "P. and S. Quennell-Roe (invented)", Address: "31 Dogwood Hall, Nowhere", Phone: "555-0144"},
		days:   118, story: finished,
		about: "finished: every hold released, with the loggers' files and the homeowner's record",
	},
}

func buildDemo(ctx context.Context, e *env, dir string) error {
	if err := emptyFolder(dir); err != nil {
		return err
	}
	company, err := demoCompany(dir, e.now())
	if err != nil {
		return err
	}
	for i, d := range demoJobs {
		e.sayf("%d of %d: %s, %s\n", i+1, len(demoJobs), d.site.ID, d.about)
		if err := d.build(ctx, e, company); err != nil {
			return fmt.Errorf("demo job %s: %w", d.site.ID, err)
		}
	}
	e.printf(demoDone, e.shown(dir))
	return nil
}

const demoDone = `
The invented company Thistledown Vane stands in %[1]s with four jobs.
Go there, and try these in order:

  cd %[1]s
  proveout status                                  the owner's review of all four jobs
  proveout diagnose alder-lane                     why the room failed, by what was read
  proveout --job birch-stair                       the job that is stopped, and what to type
  proveout --job birch-stair check vapor-retarder  why its hold stays shut
  proveout --job birch-stair signoff vapor-retarder --by Marek
                                                   try to sign it all the same: it is refused
  proveout --job cedar-court check drywall.cover-up --face "east wall"
                                                   what this wall still wants before board
  proveout --job dogwood-hall document commissioning
                                                   the homeowner's record of the finished room
  proveout --job dogwood-hall verify               has anything been changed since it was signed?
  git -C jobs/dogwood-hall log --oneline           its history, in plain git

Not installed yet? Type  go run ./cmd/proveout  in place of  proveout,  with the
full path after --job. Everything here is invented; delete the folder when done.
`

// emptyFolder makes the folder, or accepts one that is empty.
func emptyFolder(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if len(entries) > 0 {
		return &usageError{fmt.Sprintf("%s is not empty; name a folder that does not exist yet: proveout demo DIR", dir)}
	}
	return os.MkdirAll(dir, 0o755)
}

// demoCompany writes the company, its certificates in date around now.
func demoCompany(dir string, now time.Time) (*jobs.Company, error) {
	text, err := fillDemo("company.yaml.tmpl", map[string]string{
		"Calibrated": now.AddDate(-1, 0, 0).Format(time.DateOnly), "Due": now.AddDate(1, 0, 0).Format(time.DateOnly),
	})
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(dir, jobs.CompanyFile), text, 0o644); err != nil {
		return nil, err
	}
	return jobs.OpenCompany(dir)
}

func (d demoJob) build(ctx context.Context, e *env, company *jobs.Company) error {
	now := e.now()
	begin := now.AddDate(0, 0, -d.days)
	begin = time.Date(begin.Year(), begin.Month(), begin.Day(), 8, 0, 0, 0, company.Zone)
	k := &crew{ctx: ctx, e: e, company: company, now: begin, end: now, answers: demoAnswers(d.site)}
	text, err := d.site.yaml(begin)
	if err != nil {
		return err
	}
	lead, err := k.entry("Marek Doyle")
	if err != nil {
		return err
	}
	if k.j, err = jobs.Create(ctx, company, e.process(), lead, text); err != nil {
		return err
	}
	defer k.j.Close()
	if err := company.SaveClient(d.site.ID, d.client); err != nil {
		return err
	}
	return d.story(k)
}

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"proveout/jobs"
	"proveout/phases"
)

// flagOf is a flag of a command.
type flagOf = pflag.Flag

// companyOutline is a new company on the way from flags and answers to its
// company.yaml.
type companyOutline struct {
	jobs.CompanyOutline
	roles string
}

func newCompanyOutline() *companyOutline { return &companyOutline{} }

func (o *companyOutline) addFlags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&o.Name, "name", "", "with --company: the company's name")
	f.StringVar(&o.Phone, "phone", "", "with --company: its phone")
	f.StringVar(&o.Person, "person", "", "with --company: your name")
	f.StringVar(&o.roles, "roles", "", "with --company: your roles, like \"owner, crew lead\"")
	f.StringVar(&o.Licence, "licence", "", "with --company: your licence")
}

// create writes company.yaml into the folder the person is in.
func (o *companyOutline) create(e *env, c *cobra.Command) error {
	if at, err := jobs.FindCompany(e.dir); err == nil {
		return &usageError{fmt.Sprintf("there is a company here already: %s in %s\nadd to that file with an editor, or start a job: proveout new", at.Name, e.shown(filepath.Join(at.Dir, jobs.CompanyFile)))}
	}
	if err := o.complete(e, c); err != nil {
		return err
	}
	for _, role := range strings.Split(o.roles, ",") {
		if role = strings.TrimSpace(role); role != "" {
			o.Roles = append(o.Roles, role)
		}
	}
	company, err := jobs.CreateCompany(e.dir, o.YAML(e.now()))
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return e.printJSON(map[string]string{"company": company.Name, "file": filepath.Join(company.Dir, jobs.CompanyFile)})
	}
	e.printf("%s\n  %s  people, instruments, own limits: edit it\n  jobs/  where jobs will be\n", e.bold(terminalText(company.Name)), jobs.CompanyFile)
	e.printf("\nAdd your people and instruments to %s first. Then:\n  proveout new\n  proveout new --example >job.yaml\n  proveout new --from job.yaml --by %s\n", jobs.CompanyFile, strings.Fields(o.Person)[0])
	return nil
}

// complete reads the flags that a company shares with a job, and asks for the
// rest.
func (o *companyOutline) complete(e *env, c *cobra.Command) error {
	for name, to := range map[string]*string{"units": &o.Units, "zone": &o.Zone, "region": &o.Region, "scheme": &o.Scheme} {
		text, err := c.Flags().GetString(name)
		if err != nil {
			return err
		}
		*to = text
	}
	_, regions := phases.RegionNamed("")
	first := []*field{
		{flag: "name", ask: "Name of the company", must: true, check: notEmpty, to: &o.Name},
		{flag: "region", ask: "Region whose limits apply (" + strings.Join(regions, ", ") + ")", otherwise: "us", check: oneOf(regions), to: &o.Region},
	}
	rest := []*field{
		{flag: "zone", ask: "Time zone", otherwise: localZone(e.terminal), must: true, check: aZone, to: &o.Zone},
		{flag: "person", ask: "Your name", must: true, check: notEmpty, to: &o.Person},
		{flag: "roles", ask: "Your roles", otherwise: "owner, crew lead", check: notEmpty, to: &o.roles},
		{flag: "licence", ask: "Your licence", to: &o.Licence},
		{flag: "phone", ask: "Phone of the company", to: &o.Phone},
	}
	missing, err := checkFlags(append(first, rest...))
	if err != nil {
		return err
	}
	asking := missing != nil && e.terminal
	if missing != nil && !asking {
		return &usageError{fmt.Sprintf("these are missing: %s\nfor example: proveout new --company --name \"Hollow Oak Cellar Rooms\" --person \"Ana Ruiz\" --zone America/Chicago", strings.Join(missing, ", "))}
	}
	if err := e.fill(first, asking); err != nil {
		return err
	}
	byRegion := o.ofRegion()
	if _, err := checkFlags(byRegion); err != nil {
		return err
	}
	if err := e.fill(byRegion, asking); err != nil {
		return err
	}
	return e.fill(rest, asking)
}

// ofRegion are the fields for which the region has an answer.
func (o *companyOutline) ofRegion() []*field {
	r, _ := phases.RegionNamed(o.Region)
	_, schemes := phases.Scheme("")
	return []*field{
		{flag: "units", ask: "Units shown first (US or SI)", otherwise: r.Units, check: oneOf([]string{"US", "SI"}), to: &o.Units},
		{flag: "scheme", ask: "Mold area scheme (" + strings.Join(schemes, ", ") + ")", otherwise: r.Scheme, check: oneOf(schemes), to: &o.Scheme},
	}
}

// localZone is the time zone this computer is set to, to offer on a terminal;
// "" when it does not say.
func localZone(offer bool) string {
	name := os.Getenv("TZ")
	if name == "" {
		target, _ := os.Readlink("/etc/localtime")
		_, name, _ = strings.Cut(target, "zoneinfo/")
	}
	if _, err := time.LoadLocation(name); err != nil || !offer || name == "" || strings.HasSuffix(name, "UTC") {
		return ""
	}
	return name
}

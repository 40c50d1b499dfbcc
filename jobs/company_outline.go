package jobs

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"proveout/jobs/store"
	"proveout/phases/strict"
)

// CompanyOutline is a company as its first file says it.
type CompanyOutline struct {
	Name, Phone     string
	Units, Zone     string
	Region, Scheme  string
	Person, Licence string
	Roles           []string
}

// YAML writes the company.yaml of an outline: what was said, and in comments
// what else belongs there.
func (o CompanyOutline) YAML(today time.Time) []byte {
	p := &page{}
	p.say("This file describes the company. Edit it with any editor.\nJobs keep a copy of what they use, so a change here changes no job.")
	p.put("company", o.Name)
	p.set("", "phone", o.Phone, "555-0100", "stands on documents")
	p.set("", "units", o.Units, "", "shown first, US or SI; values may be typed in any unit")
	p.set("", "time zone", o.Zone, "", "of the sites")
	p.set("", "region", o.Region, "", "whose limits new jobs start with")
	p.set("", "mold scheme", o.Scheme, "", "whose area steps decide how mold work is done")
	p.set("", "acceptance", "", "guard band", "a value within its instrument's uncertainty of the limit stays open")
	p.set("", "photo size", "", strconv.Itoa(DefaultPhotoSize), "longest side in pixels of a kept photo")
	p.people(o)
	p.instruments(today)
	p.gap()
	p.say(`Limits that differ from the defaults, each with its reason. They go into jobs
that start from now on. A safety limit may only become tighter.
limits:
  - {limit: insulation.substrate-moisture, at most: 14 %%, reason: our meters read low in cold wood}`)
	p.products(nil)
	p.gap()
	p.say("What the handover says of the warranty, one line each.\nwarranty:\n  - Work on walls, retarder and insulation, 5 years from handover.")
	return p.b.Bytes()
}

func (p *page) people(o CompanyOutline) {
	p.gap()
	p.say(`Everybody who records or signs. Roles: owner, crew lead, electrician,
refrigeration technician, certified renovator, engineer, and those that the
phases name. A licence stands on sign-offs.`)
	var f fields
	f.text("name", o.Person)
	f.list("roles", o.Roles)
	f.text("licence", o.Licence)
	p.items("people", [][]strict.Field{f}, nil)
	p.say("  - {name: Jo Example, roles: [electrician], licence: E-1234}")
}

func (p *page) instruments(today time.Time) {
	due := today.AddDate(1, 0, 0).Format(time.DateOnly)
	day := today.Format(time.DateOnly)
	p.gap()
	p.say(`Every instrument that a check asks for by its kind. A reading counts while its
instrument is in calibration; one near the limit is judged with the uncertainty.
instruments:
  - {id: TH-1, kind: thermo-hygrometer, uncertainty: 0.5 °F, calibrated: %s, due: %s, certificate: C-0001}
  - {id: PM-1, kind: pin meter, uncertainty: 1 %%, calibrated: %s, due: %s, certificate: C-0002}
  - {id: DG-1, kind: depth gauge, uncertainty: 1/16 in, calibrated: %s, due: %s, certificate: C-0003}
  - {id: FG-1, kind: feeler gauge, calibration not required: solid steel blades}
Further kinds: contact probe, thermometer, manometer, multimeter, clamp meter,
voltage tester, insulation tester, torque driver, caliper, gypsum meter, pressure
gauge, vacuum gauge, slab probe, logger, scale.`, day, due, day, due, day, due)
}

// CreateCompany writes a company's first file into a folder. It refuses a
// folder that is a company already, or lies in one.
func CreateCompany(dir string, text []byte) (*Company, error) {
	at, err := FindCompany(dir)
	if err == nil {
		return nil, problem(ErrInput, "add to that file with an editor, or start a job: proveout new", "there is a company here already: %s in %s", at.Name, filepath.Join(at.Dir, CompanyFile))
	}
	if !errors.Is(err, ErrNotFound) {
		return nil, err
	}
	if _, err := readCompany(CompanyFile, dir, text); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Join(dir, "jobs"), 0o755); err != nil {
		return nil, err
	}
	if err := store.WriteFile(dir, CompanyFile, text); err != nil {
		return nil, err
	}
	return OpenCompany(dir)
}

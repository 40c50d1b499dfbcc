package jobs

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"proveout/checks/units"
	"proveout/phases"
	"proveout/phases/strict"
)

// CompanyFile is the file that makes a folder a company.
const CompanyFile = "company.yaml"

// Company is the contractor: people, instruments, units, limits of its own.
type Company struct {
	Dir         string
	Name        string
	Phone       string
	Units       units.System
	Zone        *time.Location
	Region      string
	Scheme      string // mold area scheme; "" takes the region's
	GuardBand   bool
	PhotoSize   int // longest side in pixels
	People      []Person
	Instruments []Instrument
	Limits      []phases.LimitChange
	Warranty    []string
	Products    []Product
}

// Person is somebody who records or signs.
type Person struct {
	Name    string
	Roles   []string
	Licence string
}

// Has reports whether the person has a role.
func (p Person) Has(role string) bool { return slices.Contains(p.Roles, role) }

// Homeowner is the client of any job. The name stays out of the job's history.
var Homeowner = Person{Name: "the homeowner", Roles: []string{"homeowner"}}

// Instrument is one measuring instrument of the company.
type Instrument struct {
	ID, Kind    string
	Uncertainty string // expanded, k = 2, as written
	NotRequired string // why it needs no calibration, "" when it does
	Calibrated  time.Time
	Due         time.Time
	Certificate string
}

// DefaultPhotoSize is the longest side of a kept photo in pixels: the display
// of a meter stays readable, and three hundred photos stay a small job.
const DefaultPhotoSize = 1280

// OpenCompany reads the company whose folder is dir.
func OpenCompany(dir string) (*Company, error) {
	file := filepath.Join(dir, CompanyFile)
	data, err := os.ReadFile(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("%w: no %s in %s; start one with: proveout new --company", ErrNotFound, CompanyFile, dir)
	}
	if err != nil {
		return nil, err
	}
	return readCompany(file, dir, data)
}

// FindCompany looks for the company upwards from dir.
func FindCompany(dir string) (*Company, error) {
	for at := dir; ; at = filepath.Dir(at) {
		if _, err := os.Stat(filepath.Join(at, CompanyFile)); err == nil {
			return OpenCompany(at)
		}
		if at == filepath.Dir(at) {
			return nil, fmt.Errorf("%w: no %s in %s or above it", ErrNotFound, CompanyFile, dir)
		}
	}
}

func readCompany(file, dir string, data []byte) (*Company, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	c := &Company{
		Dir: dir, Name: m.Text("company"), Phone: m.OptionalText("phone"),
		Units: readSystem(m), Zone: readZone(m),
		Region: m.OptionalText("region"), Scheme: m.OptionalText("mold scheme"),
		GuardBand: readAcceptance(m), PhotoSize: DefaultPhotoSize,
		Warranty: m.OptionalTexts("warranty"),
	}
	if size, ok := m.OptionalInt("photo size"); ok {
		c.PhotoSize = size
		if size < 400 || size > 8000 {
			m.Fail("photo size", "photo size %d is not between 400 and 8000 pixels", size)
		}
	}
	for _, p := range m.OptionalMaps("people") {
		c.People = append(c.People, Person{Name: p.Text("name"), Roles: p.Texts("roles"), Licence: p.OptionalText("licence")})
	}
	for _, i := range m.OptionalMaps("instruments") {
		c.Instruments = append(c.Instruments, readInstrument(i))
	}
	for _, l := range m.OptionalMaps("limits") {
		c.Limits = append(c.Limits, phases.ReadLimitChange(l))
	}
	c.Products = readProducts(m)
	c.twice(m)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return c, nil
}

// twice reports people and instruments that stand twice.
func (c *Company) twice(m *strict.Map) {
	names := map[string]bool{strings.ToLower(Homeowner.Name): true}
	for _, p := range c.People {
		if p.Has("homeowner") {
			m.Fail("people", "%s has the role homeowner; only the client has it, and signs with --by homeowner", p.Name)
		}
		if key := strings.ToLower(p.Name); names[key] {
			m.Fail("people", "two people are called %q; sign-offs could not tell them apart", p.Name)
		} else {
			names[key] = true
		}
	}
	ids := map[string]bool{}
	for _, i := range c.Instruments {
		if ids[i.ID] {
			m.Fail("instruments", "two instruments have the id %q", i.ID)
		}
		ids[i.ID] = true
	}
}

func readSystem(m *strict.Map) units.System {
	switch text := m.Text("units"); text {
	case "US":
		return units.US
	case "SI":
		return units.SI
	case "":
	default:
		m.Fail("units", "units is %q; write US or SI", text)
	}
	return units.US
}

func readZone(m *strict.Map) *time.Location {
	name := m.Text("time zone")
	if name == "" {
		return time.UTC
	}
	zone, err := time.LoadLocation(name)
	if err != nil || name == "Local" {
		m.Fail("time zone", "time zone %q is not known; write one like America/Chicago or Europe/Berlin", name)
		return time.UTC
	}
	return zone
}

func readAcceptance(m *strict.Map) bool {
	switch text := m.OptionalText("acceptance"); text {
	case "", "simple":
		return false
	case "guard band":
		return true
	default:
		m.Fail("acceptance", "acceptance is %q; write simple or guard band", text)
		return false
	}
}

func readInstrument(m *strict.Map) Instrument {
	i := Instrument{
		ID: m.Text("id"), Kind: m.Text("kind"), Uncertainty: m.OptionalText("uncertainty"),
		NotRequired: m.OptionalText("calibration not required"), Certificate: m.OptionalText("certificate"),
	}
	i.Calibrated, i.Due = m.OptionalDate("calibrated"), m.OptionalDate("due")
	switch {
	case i.NotRequired != "":
	case !m.Has("calibrated") || !m.Has("due"):
		m.Fail("id", "instrument %s lacks the day it was calibrated or falls due; add calibrated: 2026-05-04 and due: 2027-05-04, or calibration not required: and why", i.ID)
	case i.Due.Before(i.Calibrated) && !i.Due.IsZero():
		m.Fail("due", "instrument %s falls due before it was calibrated", i.ID)
	}
	return i
}

// Person finds somebody by name or by a part of the name that only one has.
func (c *Company) Person(name string) (Person, error) {
	if strings.EqualFold(name, "homeowner") || strings.EqualFold(name, Homeowner.Name) {
		return Homeowner, nil
	}
	var found []Person
	var names []string
	for _, p := range c.People {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
		for _, part := range strings.Fields(p.Name) {
			if strings.EqualFold(part, name) {
				found = append(found, p)
				break
			}
		}
	}
	if len(found) == 1 {
		return found[0], nil
	}
	if len(found) > 1 {
		return Person{}, fmt.Errorf("%w: %q could be %s or %s; type the full name", ErrNotFound, name, found[0].Name, found[1].Name)
	}
	if near := c.nearPeople(name); near != nil {
		return Person{}, problem(ErrNotFound, "did you mean "+strings.Join(near, " or ")+"?", "there is no person %q", name)
	}
	return Person{}, Unknown("person", name, names, "add people in company.yaml")
}

// nearPeople are the people one of whose names is nearly this one.
func (c *Company) nearPeople(name string) []string {
	var near []string
	for _, p := range c.People {
		if strict.Nearest(name, strings.Fields(p.Name)) != nil {
			near = append(near, p.Name)
		}
	}
	return near
}

// Instrument finds an instrument by its id.
func (c *Company) Instrument(id string) (Instrument, error) {
	var ids []string
	for _, i := range c.Instruments {
		if strings.EqualFold(i.ID, id) {
			return i, nil
		}
		ids = append(ids, i.ID)
	}
	return Instrument{}, Unknown("instrument", id, ids, "add it in company.yaml")
}

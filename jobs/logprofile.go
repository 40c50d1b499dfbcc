package jobs

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/jobs/store"
	"proveout/phases/strict"
)

// LogProfile is how the files of one kind of logger are read, kept by the company
// under a name. Jobs do not need it: a record holds how its file was read.
type LogProfile struct {
	Name    string
	Saved   time.Time // the day
	Header  []string  // the columns of the file it was made from; none: they have no names
	Columns int
	Dialect logs.Dialect
}

// profileFolder is where a company's profiles are.
const profileFolder = "loggers"

// ProfileOf is the profile of a file that was read. answers are what a person said
// of it: a column that was left out stays so, and the time zone is kept only when
// it was said of the logger, for it is that of the site otherwise.
func ProfileOf(f *logs.File, answers logs.Dialect, name string, day time.Time) LogProfile {
	p := LogProfile{Name: name, Saved: day, Columns: len(f.Dialect.Columns), Dialect: f.Dialect.Profile()}
	for _, c := range f.Dialect.Columns {
		if f.Dialect.Header > 0 {
			p.Header = append(p.Header, c.Name)
		}
	}
	p.Dialect.Columns = slices.Clone(p.Dialect.Columns)
	for i := range p.Dialect.Columns {
		p.Dialect.Columns[i].Decimals = 0
	}
	for _, c := range answers.Columns {
		if c.Role == logs.Ignored || c.Role == logs.Text {
			p.Dialect.Columns = append(p.Dialect.Columns, c)
		}
	}
	if answers.Zone == nil {
		p.Dialect.Zone = nil
	}
	return p
}

// Fits reports whether a file looks like those that the profile is for: it can be
// read so, and has the same columns. zone is that of the site.
func (p LogProfile) Fits(data []byte, zone *time.Location) bool {
	d, _, err := logs.Detect(data, p.In(zone))
	if err != nil || len(d.Columns) != p.Columns || d.Header > 0 != (p.Header != nil) {
		return false
	}
	return d.Header < 0 || slices.EqualFunc(d.Columns, p.Header, func(c logs.Column, name string) bool { return c.Name == name })
}

// In is the profile's dialect with the site's zone where it names none.
func (p LogProfile) In(zone *time.Location) logs.Dialect {
	d := p.Dialect
	if d.Zone == nil {
		d.Zone = zone
	}
	return d
}

// LogProfiles are the company's profiles by name.
func (c *Company) LogProfiles() ([]LogProfile, error) {
	files, err := os.ReadDir(filepath.Join(c.Dir, profileFolder))
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var all []LogProfile
	var problems []error
	for _, f := range files {
		if f.IsDir() || strings.HasPrefix(f.Name(), ".") || !strings.HasSuffix(f.Name(), ".yaml") {
			continue
		}
		p, err := readProfile(filepath.Join(c.Dir, profileFolder, f.Name()))
		if err != nil {
			problems = append(problems, err)
			continue
		}
		all = append(all, p)
	}
	return all, errors.Join(problems...)
}

// LogProfile finds a profile by its name.
func (c *Company) LogProfile(name string) (LogProfile, error) {
	all, err := c.LogProfiles()
	if err != nil {
		return LogProfile{}, err
	}
	var names []string
	for _, p := range all {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		names = append(names, p.Name)
	}
	return LogProfile{}, Unknown("logger profile", name, names, "make one: proveout log FILE --save NAME")
}

func readProfile(file string) (LogProfile, error) {
	data, err := readFile(file)
	if err != nil {
		return LogProfile{}, err
	}
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return LogProfile{}, err
	}
	m := doc.Map()
	p := LogProfile{Name: m.Text("profile"), Saved: m.OptionalDate("saved"), Header: m.OptionalTexts("header")}
	p.Columns, p.Dialect = len(p.Header), readDialect(m)
	if p.Header == nil {
		p.Columns, p.Dialect.Header = m.Int("number of columns"), -1
	}
	if want := strings.TrimSuffix(filepath.Base(file), ".yaml"); p.Name != "" && p.Name != want {
		m.Fail("profile", "profile is %q in a file called %s; the two must agree", p.Name, filepath.Base(file))
	}
	return p, doc.Err()
}

const profileHead = `# How proveout reads the files of one kind of logger. Made by: proveout log FILE
# --save %NAME%. Edit it with any editor, delete it when it is not needed any more;
# jobs keep what they used.
# header: the columns as the logger names them; a file with the same is offered
#   this profile.
# date and time: how the logger writes 2 January 2006, 15:04:05.
# time zone: of the logger's clock, if it is not that of the site.
# columns: what a column holds, with quantity and unit.
`

// encode writes a profile's file.
func (p LogProfile) encode() []byte {
	var f fields
	f.text("profile", p.Name)
	f.date("saved", p.Saved)
	f.list("header", p.Header)
	if p.Header == nil {
		f = append(f, strict.Field{Key: "number of columns", Value: p.Columns})
	}
	f = append(f, dialectFields(p.Dialect)...)
	return append([]byte(strings.Replace(profileHead, "%NAME%", p.Name, 1)), strict.Encode(f)...)
}

// SaveLogProfile writes a profile into the company's folder and returns its file.
// It replaces none.
func (c *Company) SaveLogProfile(p LogProfile) (string, error) {
	if p.Name == "" || safe(p.Name) != p.Name || len(p.Name) > 40 {
		return "", problem(ErrInput, "write it in lower-case letters, digits and hyphens, like cellar-logger", "%q is no name for a profile", p.Name)
	}
	name := filepath.Join(profileFolder, p.Name+".yaml")
	file := filepath.Join(c.Dir, name)
	if _, err := os.Stat(file); err == nil {
		return "", problem(ErrInput, "take another name, or delete that file first", "there is a profile %s already, in %s", p.Name, file)
	}
	return file, store.WriteFile(c.Dir, filepath.ToSlash(name), p.encode())
}

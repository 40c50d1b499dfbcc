package phases

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"

	"proveout/phases/strict"
)

//go:embed regions/*.yaml
var regions embed.FS

// Region is what differs from the defaults in one country or state.
type Region struct {
	Name, Title string
	Units       string // US or SI
	Scheme      string // mold area scheme
	Limits      []LimitChange
	Notes       []string
}

// LimitChange is a limit that a region or a company changes, with its reason.
type LimitChange struct {
	Check string // phase.check
	NewLimit
	Pos string
}

// limitKeys are the keys of a check that a region or a company may change.
var limitKeys = []string{"at least", "at most", "above", "below", "wait", "before", "hold"}

// RegionNamed returns the region of that name, or nil and the names there are.
func RegionNamed(name string) (*Region, []string) {
	files, err := fs.Glob(regions, "regions/*.yaml")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var names []string
	for _, file := range files {
		names = append(names, strings.TrimSuffix(path.Base(file), ".yaml"))
	}
	if !slices.Contains(names, name) {
		return nil, names
	}
	file := "regions/" + name + ".yaml"
	data, err := regions.ReadFile(file)
	if err != nil {
		panic(err) // embedded files can be read
	}
	r, err := readRegion(file, data)
	if err != nil {
		panic(err) // the embedded files are tested
	}
	return r, names
}

func readRegion(file string, data []byte) (*Region, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	m := doc.Map()
	r := &Region{
		Name: m.Text("region"), Title: m.Text("title"), Units: m.Text("units"),
		Scheme: m.Text("scheme"), Notes: m.OptionalTexts("notes"),
	}
	for _, l := range m.OptionalMaps("limits") {
		r.Limits = append(r.Limits, ReadLimitChange(l))
	}
	return r, doc.Err()
}

// ReadLimitChange reads one changed limit of a region or a company.
func ReadLimitChange(m *strict.Map) LimitChange {
	l := LimitChange{Check: m.Text("limit"), Pos: m.Pos().String()}
	l.Reason, l.Source, l.Mark = m.Text("reason"), m.OptionalText("source"), m.OptionalText("mark")
	for _, key := range limitKeys {
		if text := m.OptionalText(key); text != "" {
			if l.Key != "" {
				m.Fail(key, "a limit changes one thing at a time; %s is already given", l.Key)
			}
			l.Key, l.Value = key, text
		}
	}
	if l.Key == "" {
		m.Fail("limit", "limit %q gives no new value; add one of: %s", l.Check, strings.Join(limitKeys, ", "))
	}
	return l
}

package phases

import (
	_ "embed"
	"slices"
	"sync"

	"proveout/checks"
	"proveout/checks/units"
	"proveout/phases/strict"
)

//go:embed schemes.yaml
var schemesFile []byte

// Scheme returns the mold area scheme of that name, or nil and the names there
// are.
func Scheme(name string) (*checks.Scheme, []string) {
	all := allSchemes()
	i := slices.IndexFunc(all, func(s *checks.Scheme) bool { return s.Name == name })
	if i >= 0 {
		return all[i], nil
	}
	names := make([]string, len(all))
	for i, s := range all {
		names[i] = s.Name
	}
	return nil, names
}

// allSchemes are the embedded schemes, read on first use. Nobody changes them.
var allSchemes = sync.OnceValue(func() []*checks.Scheme {
	all, err := readSchemes("schemes.yaml", schemesFile)
	if err != nil {
		panic(err) // the embedded file is tested
	}
	return all
})

func readSchemes(file string, data []byte) ([]*checks.Scheme, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	var all []*checks.Scheme
	for _, m := range doc.Map().Maps("schemes") {
		s := &checks.Scheme{
			Name: m.Text("scheme"), Title: m.Text("title"), Source: m.Text("source"), Mark: m.Text("mark"),
			LargestPatch: m.Text("counts") == "largest patch",
		}
		for _, t := range m.Maps("tiers") {
			s.Tiers = append(s.Tiers, checks.Tier{
				Name: t.Text("tier"), Needs: t.Text("needs"),
				Below: area(t, "below"), UpTo: area(t, "up to"),
			})
		}
		all = append(all, s)
	}
	return all, doc.Err()
}

func area(m *strict.Map, key string) units.Quantity {
	text := m.OptionalText(key)
	if text == "" {
		return units.Quantity{}
	}
	q, err := units.Parse(units.AreaKind, text)
	if err != nil {
		m.Fail(key, "%v", err)
	}
	return q
}

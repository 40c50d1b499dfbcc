package main

import (
	"os"
	"strings"

	"proveout/checks/units"
	"proveout/phases/strict"
)

// takesFile reports whether the question's values may come from a YAML file in
// place of flags.
func (q *question) takesFile() bool { return q.files == "" && len(q.inputs) > 0 || q.files == "values" }

// openFile reads the YAML file that gives the values, if one is named.
func (a *asking) openFile() error {
	if !a.takesFile() || len(a.files) == 0 {
		return nil
	}
	file := a.env.path(a.files[0])
	data, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	a.doc, err = strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	return err
}

// fromFile takes the values that the file gives under the flags' names, with
// spaces for hyphens. What is typed as a flag beats the file.
func (a *asking) fromFile() {
	m := a.doc.Map()
	for _, in := range a.inputs {
		key := strings.ReplaceAll(in.flag, "-", " ")
		text := m.OptionalText(key)
		if text == "" || a.given(in.flag) {
			continue
		}
		q, err := units.Parse(in.kind, text)
		if err != nil {
			m.Fail(key, "%v", err)
			continue
		}
		a.values[in.flag] = q
		if a.system == 0 {
			a.system = q.Unit.System()
		}
	}
}

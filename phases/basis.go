package phases

import (
	"fmt"
	"slices"
	"strings"

	"proveout/phases/strict"
)

// Basis returns what a plan file asks at a hold, as sorted lines "path=text".
// Comments, order of keys and everything outside the hold do not count, so a
// sign-off is stale when, and only when, its own hold was changed.
func Basis(file string, data []byte, hold string) ([]string, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	var lines []string
	for _, m := range doc.Map().Maps("holds") {
		if m.Text("hold") == hold {
			lines = flattenMap(lines, "", m)
		}
	}
	slices.Sort(lines)
	return lines, nil
}

// Flatten returns a file's whole content as sorted lines "path=text", without
// the keys named in leave.
func Flatten(file string, data []byte, leave ...string) ([]string, error) {
	doc, err := strict.Read(file, data, strict.Options{MaxBytes: strict.PlanLimit})
	if err != nil {
		return nil, err
	}
	var lines []string
	for _, p := range doc.Map().Pairs() {
		if !slices.Contains(leave, p.Key) {
			lines = flatten(lines, p.Key, p.Value)
		}
	}
	slices.Sort(lines)
	return lines, nil
}

func flatten(lines []string, path string, v strict.Value) []string {
	switch v.Kind() {
	case strict.MapKind:
		return flattenMap(lines, path, v.Map())
	case strict.ListKind:
		for i, item := range v.List() {
			lines = flatten(lines, fmt.Sprintf("%s/%d", path, i+1), item)
		}
		return lines
	}
	return append(lines, path+"="+strings.Join(strings.Fields(v.Text()), " "))
}

func flattenMap(lines []string, path string, m *strict.Map) []string {
	for _, p := range m.Pairs() {
		lines = flatten(lines, path+"/"+p.Key, p.Value)
	}
	return lines
}

package envelope

import (
	_ "embed" // the generic materials
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"sync"

	"proveout/checks/units"
)

//go:embed materials.csv
var genericCSV string

// generic is parsed once, on first use; its test reads every row.
var generic = sync.OnceValues(func() ([]Material, error) { return readMaterials(strings.NewReader(genericCSV)) })

// Library is the generic materials with a company's own products before them.
type Library struct {
	products []Material
	generic  []Material
}

// NewLibrary returns the generic materials together with a company's products.
// A product beats a generic material of the same name or alias. Each product
// must name its data sheet; all that is wrong with the list is reported.
func NewLibrary(products ...Material) (*Library, error) {
	materials, err := generic()
	if err != nil {
		return nil, err
	}
	lib := &Library{generic: materials}
	var problems []error
	for _, p := range products {
		p.Product = true
		problems = append(problems, p.check())
		if _, taken := find(lib.products, p.Name); taken {
			problems = append(problems, fmt.Errorf("product %q is listed twice; give each its own name", p.Name))
		}
		lib.products = append(lib.products, p)
	}
	if err := errors.Join(problems...); err != nil {
		return nil, err
	}
	return lib, nil
}

// Materials lists all materials, the company's products first.
func (lib *Library) Materials() []Material { return slices.Concat(lib.products, lib.generic) }

// Find returns the material of a name or alias, upper and lower case alike. The
// error for an unknown one lists names near it.
func (lib *Library) Find(name string) (Material, error) {
	if m, ok := find(lib.products, name); ok {
		return m, nil
	}
	if m, ok := find(lib.generic, name); ok {
		return m, nil
	}
	near := lib.near(name)
	if len(near) == 0 {
		return Material{}, fmt.Errorf("no material %q; add it as a product with its data sheet", name)
	}
	return Material{}, fmt.Errorf("no material %q; near it: %s", name, strings.Join(near, ", "))
}

func find(materials []Material, name string) (Material, bool) {
	name = strings.Join(strings.Fields(name), " ")
	if name == "" {
		return Material{}, false
	}
	for _, m := range materials {
		if strings.EqualFold(m.Name, name) || slices.ContainsFunc(m.Aliases, func(a string) bool { return strings.EqualFold(a, name) }) {
			return m, true
		}
	}
	return Material{}, false
}

// near lists up to five quoted names that share a word with the one asked for.
func (lib *Library) near(name string) []string {
	var found []string
	for _, word := range strings.Fields(strings.ToLower(name)) {
		if len(word) < 3 {
			continue
		}
		for _, m := range lib.Materials() {
			all := strings.ToLower(m.Name + " " + strings.Join(m.Aliases, " "))
			quoted := strconv.Quote(m.Name)
			if strings.Contains(all, word[:min(len(word), 5)]) && !slices.Contains(found, quoted) {
				found = append(found, quoted)
			}
		}
	}
	return found[:min(len(found), 5)]
}

var materialColumns = strings.Fields("name aliases thickness_mm conductivity resistance mu sd_m perm perm_in storage density thermal_source thermal_mark vapor_source vapor_mark note")

// readMaterials reads the table of generic materials.
func readMaterials(r io.Reader) ([]Material, error) {
	in := csv.NewReader(r)
	in.Comment = '#'
	head, err := in.Read()
	if err != nil {
		return nil, fmt.Errorf("materials: %w", err)
	}
	if !slices.Equal(head, materialColumns) {
		return nil, fmt.Errorf("materials: columns %q; want %q", head, materialColumns)
	}
	var materials []Material
	for {
		row, err := in.Read()
		if errors.Is(err, io.EOF) {
			return materials, nil
		}
		if err != nil {
			return nil, fmt.Errorf("materials: %w", err)
		}
		m, err := readMaterial(func(name string) string { return row[slices.Index(materialColumns, name)] })
		if err != nil {
			line, _ := in.FieldPos(0)
			return nil, fmt.Errorf("materials, line %d: %w", line, err)
		}
		materials = append(materials, m)
	}
}

func readMaterial(cell func(string) string) (Material, error) {
	m := Material{Name: cell("name"), Note: cell("note"),
		Thermal:     Reference{cell("thermal_source"), Mark(cell("thermal_mark"))},
		VaporSource: Reference{cell("vapor_source"), Mark(cell("vapor_mark"))},
	}
	if a := cell("aliases"); a != "" {
		m.Aliases = strings.Split(a, ";")
	}
	var problems []error
	number := func(name string) float64 {
		if cell(name) == "" {
			return 0
		}
		v, err := strconv.ParseFloat(cell(name), 64)
		problems = append(problems, err)
		return v
	}
	m.Thickness = units.Length(number("thickness_mm") / 1000)
	m.Conductivity = units.Conductivity(number("conductivity"))
	m.Resistance = units.ThermalResistance(number("resistance"))
	m.Storage.Density = number("density")
	kind, known := storageKinds[cell("storage")]
	if !known {
		problems = append(problems, fmt.Errorf("storage %q is unknown", cell("storage")))
	}
	m.Storage.Kind = kind
	vapor, err := readVapor(cell)
	m.Vapor = vapor
	problems = append(problems, err, m.check())
	return m, errors.Join(problems...)
}

var storageKinds = map[string]StorageKind{"": TakesNone, "absorbs": Absorbs, "solid wood": SolidWood, "wood panel": WoodPanel}

// readVapor reads whichever of the four vapor columns is filled.
func readVapor(cell func(string) string) (Vapor, error) {
	for _, c := range []struct {
		name    string
		make    func(...VaporPoint) Vapor
		convert func(float64) float64
	}{
		{"mu", VariableMu, func(v float64) float64 { return v }},
		{"sd_m", VariableSD, func(v float64) float64 { return v }},
		{"perm", VariableSD, func(v float64) float64 { return OfPerms(v).points[0].Value }},
		{"perm_in", VariableMu, func(v float64) float64 { return OfPermInches(v).points[0].Value }},
	} {
		if cell(c.name) == "" {
			continue
		}
		points, err := readPoints(cell(c.name))
		return c.make(pairs(points, c.convert)...), err
	}
	return Vapor{}, nil
}

// readPoints reads "8.3" or "0:700 50:200 100:20".
func readPoints(text string) ([]VaporPoint, error) {
	var points []VaporPoint
	for _, field := range strings.Fields(text) {
		at, value, varies := strings.Cut(field, ":")
		if !varies {
			at, value = "0", field
		}
		rh, err1 := strconv.ParseFloat(at, 64)
		v, err2 := strconv.ParseFloat(value, 64)
		if err := errors.Join(err1, err2); err != nil {
			return nil, err
		}
		points = append(points, VaporPoint{units.RelativeHumidity(rh), v})
	}
	return points, nil
}

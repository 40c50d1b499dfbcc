package wiring

import (
	"fmt"
	"strings"
)

// Edition names the places of one edition of the wiring rules. The figures taken
// from them here are the same in all editions listed; what moved is the clause.
type Edition struct {
	Name     string
	Metric   bool
	Ampacity string // table of current-carrying capacities
	Ambient  string // correction by the air's temperature
	Bundling string // adjustment by the number of loaded conductors
	Cable    string // rule on cables in insulation or foam
	Small    string // greatest overcurrent device of thin wire; "" where there is no such list
	// Outdoor is what the edition says of ground-fault protection of outdoor
	// units; "" where residual current devices are asked for in another way.
	Outdoor string
	Mark    string
}

// Editions returns the editions known, the newest of each family first. The
// edition that a place has adopted decides, and an electrician reads it.
func Editions() []Edition {
	return []Edition{
		necEdition("NEC 2023", "Table 310.16", "Table 310.15(B)(1)(1)", "Table 310.15(C)(1)", "210.8(F): up to 50 A (quoted)"),
		necEdition("NEC 2020", "Table 310.16", "Table 310.15(B)(1)", "Table 310.15(C)(1)", "210.8(F): up to 50 A (quoted)"),
		necEdition("NEC 2017", "Table 310.15(B)(16)", "Table 310.15(B)(2)(a)", "Table 310.15(B)(3)(a)", ""),
		{
			Name: "IEC 60364-5-52:2009", Metric: true, Ampacity: "Table B.52.2, method A2; Table B.52.4, method C",
			Ambient: "Table B.52.14", Bundling: "Table B.52.17, item 1", Cable: "method A2 in an insulated wall; surrounded over 0.5 m: half of method C (BS 7671, 523.9)",
			Mark: "from memory",
		},
	}
}

func necEdition(name, ampacity, ambient, bundling, outdoor string) Edition {
	return Edition{
		Name: name, Ampacity: ampacity, Ambient: ambient, Bundling: bundling,
		Cable: "334.80: from the 90 °C column, never above the 60 °C column (quoted)", Small: "240.4(D)", Outdoor: outdoor, Mark: "from memory",
	}
}

// EditionNamed returns the edition of that name.
func EditionNamed(name string) (Edition, error) {
	var known []string
	for _, e := range Editions() {
		if strings.EqualFold(e.Name, strings.TrimSpace(name)) {
			return e, nil
		}
		known = append(known, e.Name)
	}
	return Edition{}, fmt.Errorf("edition %q is not in the tables; write one of %s", name, strings.Join(known, ", "))
}

// EditionOf returns the newest edition that has a size; it is an error where none has.
func EditionOf(size Size) (Edition, error) {
	for _, e := range Editions() {
		if e.Has(size) {
			return e, nil
		}
	}
	return Edition{}, fmt.Errorf("%s has no current-carrying capacity in the tables", size.Name)
}

// Has reports whether a size belongs to the edition's family of sizes and has a
// current-carrying capacity there.
func (e Edition) Has(size Size) bool {
	if e.Metric {
		_, ok := metricAmpacities[size.Name]
		return ok
	}
	_, ok := ampacities[size.Name]
	return ok
}

package refrigerant

import (
	"fmt"
	"strings"
)

// Fluid is a refrigerant with its tables.
type Fluid struct {
	Name     string // R513A
	Parts    string // composition by mass, "pure" for one
	Group    SafetyGroup
	GroupSet string // where the group is from, with its mark

	saturated []saturated // one a kelvin from lowestSaturated
	vapor     []superheated
}

// SafetyGroup is a class of ASHRAE Standard 34: letter for toxicity, number for
// flammability.
type SafetyGroup string

// The groups of the refrigerants here.
const (
	A1  SafetyGroup = "A1"  // no flame propagates
	A2L SafetyGroup = "A2L" // burns slowly
	A3  SafetyGroup = "A3"  // burns like fuel gas
)

// Burns reports whether a leak can ignite.
func (g SafetyGroup) Burns() bool { return g != A1 }

// FluidNamed returns the refrigerant of a name as plates write it: R513A, R-513A,
// 513a. The error for an unknown one lists those there are.
func FluidNamed(name string) (*Fluid, error) {
	all, err := fluids()
	if err != nil {
		return nil, err
	}
	wanted := plain(name)
	for _, f := range all {
		if plain(f.Name) == wanted {
			return f, nil
		}
	}
	return nil, fmt.Errorf("refrigerant %q is not in the tables; there are %s", name, strings.Join(FluidNames(), ", "))
}

var spacing = strings.NewReplacer("-", "", " ", "")

// plain is a name without the dash and the leading R.
func plain(name string) string {
	return strings.TrimPrefix(strings.ToUpper(spacing.Replace(name)), "R")
}

// FluidNames lists the refrigerants of the tables.
func FluidNames() []string {
	all, _ := fluids() // its test reads every row
	names := make([]string, len(all))
	for i, f := range all {
		names[i] = f.Name
	}
	return names
}

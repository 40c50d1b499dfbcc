package units

import "strings"

// Sample is one value of the kind as a person writes it, for a line that is
// typed: the first of those that Example names.
func (k Kind) Sample() string {
	first, _, _ := strings.Cut(k.Example(), " or ")
	return first
}

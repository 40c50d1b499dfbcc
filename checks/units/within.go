package units

import "fmt"

// Within returns an error unless lo ≤ x ≤ hi, which no NaN is. The error names the
// value as the calculation calls it, quotes the number and gives the range, all in
// the unit.
func Within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%.4g %s", x, unit), lo, hi, unit)
}

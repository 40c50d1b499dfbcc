package logs

import (
	"math"
	"strings"
	"testing"
	"time"
)

// −0.02 in. w.c. is −4.98 Pa (NIST SP 811; computed). Tolerance: half the last digit.
func TestPressureColumns(t *testing.T) {
	for _, header := range []string{"Pressure (in. w.c.)", "Pressure [inH2O]", "dP in WC", "Pressure (Pa)"} {
		value, want := "-0.02", -4.98
		if strings.Contains(header, "Pa") {
			value = "-4.98"
		}
		var b strings.Builder
		b.WriteString("Time," + header + "\n")
		for i := range 5 {
			b.WriteString(time.Date(2026, 5, 4, 8, i, 0, 0, time.UTC).Format("2006-01-02T15:04:05Z") + "," + value + "\n")
		}
		f, err := Read([]byte(b.String()), Dialect{Zone: time.UTC})
		if err != nil {
			t.Errorf("%s: %v", header, err)
			continue
		}
		found := f.Find(Pressure)
		if len(found) != 1 || len(found[0].Values) != 5 || math.Abs(found[0].Values[0]-want) > 0.005 {
			t.Errorf("%s: %+v", header, f.Columns)
		}
	}
}

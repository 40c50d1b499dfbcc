package envelope

import (
	"strings"
	"testing"
)

// FuzzReadMaterials: whatever the table says, there is an error or materials
// that pass their own check, never a panic.
func FuzzReadMaterials(f *testing.F) {
	f.Add(genericCSV)
	f.Add("name,aliases\nx,y\n")
	f.Add(strings.Join(materialColumns, ",") + "\nboard,,12,0.16,,8.3,,,,,,table,read,table,read,\n")
	f.Add(strings.Join(materialColumns, ",") + "\nboard,,NaN,1e999,,0:1 0:2,,,,wood,,,,,,\n")
	f.Fuzz(func(t *testing.T, text string) {
		materials, err := readMaterials(strings.NewReader(text))
		if err != nil {
			return
		}
		for _, m := range materials {
			if err := m.check(); err != nil {
				t.Errorf("accepted, but %v", err)
			}
		}
	})
}

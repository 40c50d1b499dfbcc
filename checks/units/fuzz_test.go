package units

import (
	"math"
	"slices"
	"testing"
)

// FuzzParse holds that no text panics, and that a value which is read is known,
// possible, and read again from its own text and from its prints.
func FuzzParse(f *testing.F) {
	kinds := Kinds()
	for _, tt := range accepted {
		f.Add(byte(slices.Index(kinds, tt.kind)), tt.text)
	}
	for _, tt := range rejected {
		f.Add(byte(max(slices.Index(kinds, tt.kind), 0)), tt.text)
	}
	f.Fuzz(func(t *testing.T, n byte, text string) {
		kind := kinds[int(n)%len(kinds)]
		q, err := Parse(kind, text)
		if err != nil {
			if err.Error() == "" || q != (Quantity{}) {
				t.Errorf("Parse(%s, %q) = %v, %q", kind, text, q, err)
			}
			return
		}
		low, high := q.Kind().Plausible()
		if base := q.Base(); !q.Known() || base < low-1e-9*math.Abs(low) || base > high || q.Kind() != kind || len(q.Text) > maxText {
			t.Fatalf("Parse(%s, %q) = %v %s, base %v", kind, text, q.Value, q.Unit.Symbol, base)
		}
		if again, err := Parse(q.Kind(), q.String()); err != nil || again != q {
			t.Errorf("Parse(%s, %q) = %v, %v the second time", kind, q.String(), again, err)
		}
		if !AtLeast(q, q) || !AtMost(q, q) || Difference(q, q).Value != 0 {
			t.Errorf("%q does not equal itself", text)
		}
		if a := math.Abs(q.Base()); q.Kind() != CountKind && 1e-14 < a && a < 1e9 {
			comesBack(t, q)
		}
	})
}

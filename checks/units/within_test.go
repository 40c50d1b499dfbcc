package units

import (
	"math"
	"testing"
)

func TestWithin(t *testing.T) {
	for _, x := range []float64{1, 2, 3} {
		if err := Within("depth", x, 1, 3, "m"); err != nil {
			t.Error(err)
		}
	}
	for _, x := range []float64{0.999, 3.001, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if err := Within("depth", x, 1, 3, "m"); err == nil {
			t.Errorf("%v is within 1 to 3", x)
		}
	}
	if err := Within("depth", 4, 1, 3, "m"); err.Error() != `depth "4 m" is outside 1 to 3 m; read or enter it again` {
		t.Error(err)
	}
}

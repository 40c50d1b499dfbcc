package cooling

import (
	"math"
	"testing"

	"proveout/checks/units"
)

// By hand: 100 W for 4380 h into 18 °C (condensing at 30 °C, COP 0.35·277.65/25.5 =
// 3.811) are 438 kWh of heat and 114.9 kWh; 300 W for 4380 h into 33 °C (45 °C, COP
// 2.399) are 1314 kWh and 547.6 kWh.
func TestSpend(t *testing.T) {
	y, err := good.Spend([]Stretch{{4380, 100, 18}, {4380, 300, 33}})
	if err != nil || y.Hours != 8760 || math.Abs(y.Heat.KilowattHours()-1752) > 1e-9 || math.Abs(y.Electricity.KilowattHours()-662.5) > 0.1 {
		t.Errorf("%v h, %v kWh of heat, %v kWh, %v; want 8760, 1752, 662.5", y.Hours, y.Heat.KilowattHours(), y.Electricity.KilowattHours(), err)
	}
}

// A condenser outdoors and a demand that follows the weather: the same as Year, which
// is held against the bins of a weather file.
func TestSpendAgreesWithYear(t *testing.T) {
	var stretches []Stretch
	year := ohare(t)
	for _, h := range year {
		stretches = append(stretches, Stretch{h.Hours, found().At(h.Outdoor), h.Outdoor})
	}
	want, err := found().Year(year, poor, nil)
	got, errGot := poor.Spend(stretches)
	if err != nil || errGot != nil || math.Abs(float64(got.Electricity/want.Electricity)-1) > 1e-12 || math.Abs(got.MeanCOP-want.MeanCOP) > 1e-9 {
		t.Errorf("Spend = %v at %v, %v; Year = %v at %v, %v", got.Electricity, got.MeanCOP, errGot, want.Electricity, want.MeanCOP, err)
	}
}

func TestSpendRefuses(t *testing.T) {
	nan := units.Power(math.NaN())
	for _, year := range [][]Stretch{nil, {{0, 100, 20}}, {{8760, -1, 20}}, {{8760, nan, 20}}, {{9000, 100, 20}}, {{8760, 100, 200}}} {
		if y, err := good.Spend(year); err == nil {
			t.Errorf("Spend(%v) = %+v, want an error", year, y)
		}
	}
	if _, err := (Efficiency{}).Spend([]Stretch{{8760, 100, 20}}); err == nil {
		t.Error("no share of Carnot is accepted")
	}
}

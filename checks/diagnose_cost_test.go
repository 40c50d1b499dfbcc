package checks

import (
	"math"
	"strings"
	"testing"

	"proveout/checks/diagnosis"
	"proveout/checks/units"
)

// By hand, with a coil at 4.5 °C and air of 18 °C to give the heat to: COP
// 0.30·277.65/25.5 = 3.2665. As found the room wants 500 W and its unit gives 200 W,
// as planned 100 W: 1752 and 876 kWh of heat are 536.4 and 268.2 kWh. At 0.20 a kWh
// and half a unit of 2000 a year that is 53.6 and 1000.
func TestWaiting(t *testing.T) {
	months := func(load, able units.Power) []diagnosis.Month {
		year := make([]diagnosis.Month, 12)
		for i := range year {
			year[i] = diagnosis.Month{Load: load, Able: diagnosis.Read(able), Rejects: 18}
		}
		return year
	}
	d := Diagnosis{Room: diagnosis.Room{Set: 13}}
	d.Months, d.Planned = months(500, 200), &diagnosis.Planned{Months: months(100, 600)}
	prices := Costs{Currency: "€", Electricity: 0.20, CoolingUnit: 2000, UnitsPerYear: 0.5}
	w, err := d.waiting(prices)
	if err != nil || w == nil {
		t.Fatalf("waiting = %v, %v", w, err)
	}
	if got := w.Extra.KilowattHours(); math.Abs(got-268.2) > 0.05 || math.Abs(float64(w.PerYear)-1053.6) > 0.05 {
		t.Errorf("%v kWh and %v more a year, want 268.2 and 1053.6", got, w.PerYear)
	}
	if said := strings.Join(w.Sentences(), " "); !strings.Contains(said, "about 268 kWh a year more than the room as planned, € 54.") || !strings.Contains(said, "Together about € 1054 a year.") {
		t.Errorf("said: %s", said)
	}
}

// What is not known is not counted.
func TestWaitingUnknown(t *testing.T) {
	for _, d := range []Diagnosis{{}, {Report: diagnosis.Report{Months: make([]diagnosis.Month, 12)}}} {
		for _, prices := range []Costs{{}, {Electricity: 0.2}, {Electricity: math.NaN()}} {
			if w, err := d.waiting(prices); w != nil || err != nil {
				t.Errorf("waiting = %+v, %v, want none", w, err)
			}
		}
	}
}

package proof

import (
	"math"
	"testing"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/mold"
	"proveout/checks/units"
)

// The invented days of line_test with a unit of 540 W and a design day of 20 K
// (computed): duty 0.69882, upper 0.73901, margin 0.26099.
func TestHoldWorked(t *testing.T) {
	l, err := FitLine(workedX, workedY)
	if err != nil {
		t.Fatal(err)
	}
	s := Signature{Line: l, model: model{duty: true, heat: true, capacity: 1, designCap: 540, conductances: []float64{1}, design: []float64{33}, designRoom: 13}}
	h, ok := s.Hold()
	if !ok {
		t.Fatal("no prediction")
	}
	check(t, []figure{
		{"duty", h.Duty.Value, 0.69882, 0.5e-5}, {"upper", h.Duty.High, 0.73901, 0.5e-5},
		{"margin", h.Margin, 0.26099, 0.5e-5}, {"beyond", h.Beyond, 0.92, 0.005},
	})
	if h.Outcome != units.Pass || h.Marginal || !h.Provisional {
		t.Errorf("%+v, want a provisional pass: the day lies 0.92 spans beyond", h)
	}
}

func TestHoldRule(t *testing.T) {
	for _, tt := range []struct {
		name                  string
		low, high, span, x    float64 // x0 in K above the warmest day
		outcome               units.Outcome
		marginal, provisional bool
	}{
		{"holds", 0.5, 0.75, 6, 1, units.Pass, false, false},
		{"just marginal", 0.5, 0.76, 6, 1, units.Pass, true, false},
		{"marginal at its end", 0.7, 0.90, 6, 0, units.Pass, true, false},
		{"straddles", 0.7, 0.91, 6, 0, units.Undecided, false, false},
		{"fails", 0.91, 1.1, 6, 0, units.Fail, false, false},
		{"narrow, and the day outside", 0.5, 0.6, 2, 1, units.Undecided, false, true},
		{"narrow, but the day inside", 0.5, 0.6, 2, -0.5, units.Pass, false, false},
		{"warned", 0.5, 0.6, 4, 3, units.Pass, false, true},
		{"refused", 0.5, 0.6, 4, 6.5, units.Undecided, false, true},
		{"not a number", math.NaN(), 0.6, 4, 0, units.Undecided, false, false},
	} {
		l := Line{N: 9, MinX: 10, MaxX: 10 + tt.span}
		s := Signature{Line: l}
		h := Hold{Duty: Estimate[float64]{(tt.low + tt.high) / 2, tt.low, tt.high}}
		h.Beyond = s.beyond(l.MaxX + tt.x)
		h.judge(l)
		if h.Outcome != tt.outcome || h.Marginal != tt.marginal || h.Provisional != tt.provisional || h.Reason == "" {
			t.Errorf("%s: %v marginal %v provisional %v (%s)", tt.name, h.Outcome, h.Marginal, h.Provisional, h.Reason)
		}
	}
}

// The two-node room of two-node-warm-up.csv: its slow time constant is 68.858 h
// (computed from the roots of its equations); straight lines through the logarithm
// read 45.8 h from 0 to 6 h, 68.83 h from 3 to 24 h. Stepped here by Euler.
func TestDecayOfTwoNodes(t *testing.T) {
	const ca, cp, h, ua = 438.26e3, 2830.8e3, 171.94, 14.0
	air, bottles := 13.0, 13.0
	var d decayData
	d.step = 600
	for k := 0; k <= 24*360; k++ { // steps of 10 s
		if k >= 3*360 && k%60 == 0 {
			d.room, d.outside = append(d.room, air), append(d.outside, 24)
		}
		qa, qp := ua*(24-air)-h*(air-bottles), h*(air-bottles)
		air, bottles = air+10/ca*qa, bottles+10/cp*qp
	}
	λ, _, _, err := d.solve()
	if err != nil {
		t.Fatal(err)
	}
	// 3 h leave 0.5 % of the fast mode: the line through the logarithm is 0.03 h off.
	check(t, []figure{{"τ h", 1 / λ / hour, 68.858, 0.05}})
}

// A pull-down of the room of round numbers, stepped by Euler with a thermostat: the
// fit finds H 200, UA 20 and C_a 400 kJ/K again.
func TestFitOfTwoNodes(t *testing.T) {
	p := pulled{ua: math.Log(16), uaU: 0.3, light: math.Log(500e3)}
	p.base.Bottles, p.base.Source, p.base.Inside = 3.0e6, 25, 50
	p.base.Capacity, p.base.PerKelvin, p.base.Set, p.base.Air, p.base.Contents = 600, 20, 13, 25, 25
	air, bottles := 25.0, 25.0
	for k := range 60 * 720 { // 60 h in steps of 5 s
		if k%120 == 60 {
			p.after = append(p.after, time.Duration(k)*5*time.Second)
			// A ripple in place of noise, no part of the model.
			p.air = append(p.air, air+0.02*math.Sin(float64(k)))
			p.bottle = append(p.bottle, bottles+0.02*math.Cos(float64(k)))
		}
		cold := 600 + 20*(air-13)
		need := 20*(25-air) + 200*(bottles-air) + 50
		if air <= 13 {
			cold = min(cold, need) // held at the set point
		}
		qp := 200 * (air - bottles)
		air, bottles = air+5/400e3*(need-cold), bottles+5/3.0e6*qp
	}
	x, f, err := p.solve([3]float64{math.Log(120), p.ua, p.light})
	if err != nil {
		t.Fatal(err)
	}
	check(t, []figure{{"H", math.Exp(x[0]), 200, 1}, {"UA", math.Exp(x[1]), 20, 0.2}, {"C_a", math.Exp(x[2]) / 1000, 400, 4}})
	for j := range 3 {
		if sd := f.sd(j); !(sd > 0 && sd < 0.02) {
			t.Errorf("parameter %d: relative standard deviation %v", j, sd)
		}
	}
	r, err := p.result(x, f, [3]float64{})
	if err != nil {
		t.Fatal(err)
	}
	full := r.Full(2, 30, 800)
	if full.Bottles != 2*p.base.Bottles || math.Abs(float64(full.Coupling/r.Model.Coupling)-2) > 1e-12 || full.Source != 30 || full.Capacity != 800 {
		t.Errorf("Full: %+v", full)
	}
}

// MgCl2 and NaCl at 13 °C, 33.38 and 75.65 % (Greenspan 1977, computed from its
// coefficients); a sensor that shows 31.4 and 78.1 there.
func TestSaltCorrection(t *testing.T) {
	p := SaltPoints{SaltPoint{humidair.MagnesiumChloride, 13, 31.4}, SaltPoint{humidair.SodiumChloride, 13, 78.1}}
	gain, offset, err := p.Correction()
	if err != nil {
		t.Fatal(err)
	}
	check(t, []figure{
		{"low", gain*31.4 + offset, 33.38, 0.005}, {"high", gain*78.1 + offset, 75.65, 0.005},
		{"between", gain*60 + offset, 33.38 + (60-31.4)*(75.65-33.38)/(78.1-31.4), 0.01},
	})
	for _, bad := range []SaltPoints{
		{SaltPoint{humidair.SodiumChloride, 13, 75}, SaltPoint{humidair.PotassiumChloride, 13, 86}}, // 11 % apart
		{SaltPoint{humidair.MagnesiumChloride, 13, 50}, SaltPoint{humidair.SodiumChloride, 13, 55}}, // dead
		{SaltPoint{0, 13, 33}, SaltPoint{humidair.SodiumChloride, 13, 75}},
	} {
		if _, _, err := bad.Correction(); err == nil {
			t.Errorf("%v gave a correction", bad)
		}
	}
}

// Steady air of 13 °C and 90 % on a medium resistant surface: index 0.6191 after a
// year (Hukka and Viitanen 1999 with the classes of 2010, computed by hourly steps in
// another program).
func TestGrowthOfAYear(t *testing.T) {
	temps, damps := make([]float64, 100), make([]float64, 100)
	for i := range temps {
		temps[i], damps[i] = 13, 90
	}
	r, err := Growth(temps, damps, 2, mold.MediumResistant, mold.AlmostNoDecline)
	if err != nil {
		t.Fatal(err)
	}
	check(t, []figure{{"after a year", float64(r.Year), 0.6191, 0.5e-4}})
	if r.Outcome != units.Pass || !(r.Worst > r.Year && r.Log < r.Year) {
		t.Errorf("%+v, want a pass", r)
	}
	// On paper-faced board, 97 %: visible after 96.5 days in that program.
	for i := range damps {
		damps[i] = 97
	}
	if r, err = Growth(temps, damps, 2, mold.Sensitive, mold.AlmostNoDecline); err != nil || r.Outcome != units.Fail {
		t.Errorf("at 97 %%: %+v, %v, want a failure", r, err)
	}
	// Missing hours count like the damper beside them, and too many prove nothing.
	for i := 20; i < 35; i++ {
		damps[i] = math.NaN()
	}
	for i := 35; i < 100; i++ {
		damps[i] = 60
	}
	ft, fh, bridged := bridge(temps, damps)
	if bridged != 15 || len(ft) != 100 || fh[34] != 97 || fh[35] != 60 {
		t.Errorf("bridged %d of %d, hour 34 at %v", bridged, len(ft), fh[34])
	}
	if r, _ = Growth(temps, damps, 2, mold.Sensitive, mold.AlmostNoDecline); r.Outcome != units.Undecided {
		t.Errorf("with 15 %% missing: %v, want undecided", r.Outcome)
	}
}

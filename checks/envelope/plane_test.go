package envelope_test

import (
	"math"
	"testing"

	"proveout/checks/envelope"
)

// The cold plane of the retarder sweep's wall, by hand: temperature by the straight
// line through the resistances, vapor pressure by that through s_d (ISO 13788:2012,
// 6.3), saturation by Annex E, eq. E.7 (from memory).
func TestPlaneByHand(t *testing.T) {
	house, room := air(t, 24, 60), air(t, 13, 60)
	b, err := envelope.Year(vaporWall(1, true), envelope.Face{Kind: envelope.Wall, Other: envelope.House}, envelope.SteadyYear(house, room))
	if err != nil {
		t.Fatal(err)
	}
	months, err := b.Plane(b.Wettest.Place)
	if err != nil || len(months) != 12 {
		t.Fatalf("%d months, %v", len(months), err)
	}
	beyond := 0.019/0.115 + 0.13
	θ := 13 + 11*beyond/(0.13+2*0.0127/0.16+1.94+beyond)
	sat := func(θ float64) float64 { return 610.5 * math.Exp(17.269*θ/(237.3+θ)) }
	cold := 150 * 0.019
	sd := 0.2 + 2*8.3*0.0127 + 2e-10/57.2135e-12 + 1.2543*0.089 + cold
	φ := 100 * (0.6*sat(13) + (0.6*sat(24)-0.6*sat(13))*cold/sd) / sat(θ)
	for _, m := range months {
		if !near(float64(m.Temperature), θ, 1e-9) || !near(float64(m.Humidity), φ, 1e-4) {
			t.Errorf("%s: %v °C, %v %%, want %v, %v", m.Name, m.Temperature, m.Humidity, θ, φ)
		}
	}
	T, RH := envelope.Hours(months)
	if len(T) != 8760 || len(RH) != 8760 {
		t.Errorf("%d and %d hours, want 8760", len(T), len(RH))
	}
}

// In months that end with condensate the plane is as damp as the year says, and a wet
// surface tells nothing.
func TestPlaneWet(t *testing.T) {
	b, err := envelope.Year(outerRetarder(), outsideWall, winterWall(t))
	if err != nil || len(b.Planes) == 0 {
		t.Fatalf("%v with %d planes: the wall must condense", err, len(b.Planes))
	}
	months, err := b.Plane(b.Planes[0].Place)
	if err != nil {
		t.Fatal(err)
	}
	wet := 0
	for i, m := range months {
		if b.Planes[0].Mass[i] > 0 {
			wet++
			if !near(float64(m.Humidity), 100, 1e-6) {
				t.Errorf("%s: %v %% with %v kg/m² in the plane", m.Name, m.Humidity, b.Planes[0].Mass[i])
			}
		}
	}
	if wet == 0 || wet == 12 {
		t.Errorf("%d wet months: the case tells nothing", wet)
	}
	for _, bad := range []envelope.YearBalance{{}, {Verdict: envelope.SurfaceWet}} {
		if _, err := bad.Plane(envelope.Place{}); err == nil {
			t.Errorf("%v has planes", bad.Verdict)
		}
	}
	if _, err := b.Plane(envelope.Place{Layer: 9, Part: 1, Parts: 1}); err == nil {
		t.Error("a plane that is not there has months")
	}
}

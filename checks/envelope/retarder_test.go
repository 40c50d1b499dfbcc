package envelope_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"proveout/checks/envelope"
	"proveout/checks/units"
)

// Placement by the year's vapor pressures. Ontario Building Code appendix
// B-5.5.1.2.(1) (read) takes the warm side of a room below outdoor temperature
// to be the outside and asks for a whole year; cold-storage practice (read)
// puts the retarder outside the insulation in warm climates and finds either
// direction in mixed ones. The climates are invented.
func TestRetarderSide(t *testing.T) {
	room := air(t, 13, 60)
	attic := func(months []envelope.Month) []envelope.Month {
		hot := slices.Clone(months)
		for i := range hot { // an attic's own temperature with outdoor vapor
			hot[i].Other.Temperature += 10
		}
		return hot
	}
	for _, tt := range []struct {
		name     string
		months   []envelope.Month
		side     envelope.Side
		reverses bool
		inward   int
		outward  int
	}{
		{"house partition, 24/50", envelope.SteadyYear(air(t, 24, 50), room), envelope.OtherSideOf, false, 12, 0},
		{"house partition, 26/65", envelope.SteadyYear(air(t, 26, 65), room), envelope.OtherSideOf, false, 12, 0},
		{"dry house, 20/40", envelope.SteadyYear(air(t, 20, 40), room), envelope.NeitherSide, false, 0, 0},
		{"arctic wall", envelope.SteadyYear(air(t, -10, 80), room), envelope.RoomSideOf, false, 0, 12},
		{"tropical wall", seasons(t, 27, 3, 80, room), envelope.OtherSideOf, false, 12, 0},
		{"outside wall with cold winters", seasons(t, 10, 13, 75, room), envelope.OtherSideOf, true, 5, 5},
		{"ceiling under an attic, cold winters", attic(seasons(t, 5, 16, 75, room)), envelope.RoomSideOf, true, 3, 5},
	} {
		got, err := envelope.RetarderSide(tt.months)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got.Side != tt.side || got.Reverses != tt.reverses || len(got.Inward) != tt.inward || len(got.Outward) != tt.outward {
			t.Errorf("%s: %s, reverses %v, inward %v, outward %v; want %s, %v, %d, %d", tt.name, got.Side, got.Reverses, got.Inward, got.Outward, tt.side, tt.reverses, tt.inward, tt.outward)
		}
		if tt.reverses != (strings.Contains(got.Advice, "reverses in") && strings.Contains(got.Advice, "foam")) || len(got.Steps) != 12 {
			t.Errorf("%s: advice %q with %d steps", tt.name, got.Advice, len(got.Steps))
		}
	}
}

// The side that RetarderSide names keeps the partition dry over the year and the
// other does not: the two calculations share only the saturation
// pressure.
func TestRetarderSideAgreesWithTheYear(t *testing.T) {
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	months := envelope.SteadyYear(air(t, 26, 65), air(t, 13, 60))
	inside := vaporWall(0, false)
	inside.Layers = slices.Insert(slices.Clone(inside.Layers), 3, envelope.Layer{Name: "retarder", Kind: envelope.Film, Vapor: envelope.OfPerms(0.06)})
	for name, tt := range map[string]struct {
		a    envelope.Assembly
		want bool
	}{
		"house side": {vaporWall(0.06, false), true},
		"room side":  {inside, false},
	} {
		b, err := envelope.Year(tt.a, house, months)
		if err != nil || b.Verdict.Passes() != tt.want {
			t.Errorf("retarder on the %s: %v, %v, want passing %v", name, b.Verdict, err, tt.want)
		}
	}
}

func TestRetarderSideRefuses(t *testing.T) {
	months := envelope.SteadyYear(air(t, 24, 50), air(t, 13, 60))
	nan := slices.Clone(months)
	nan[3].Other.VaporPressure = units.Pressure(math.NaN())
	days := slices.Clone(months)
	days[3].Days = math.Inf(1)
	for name, m := range map[string][]envelope.Month{"none": nil, "NaN": nan, "endless month": days} {
		if got, err := envelope.RetarderSide(m); err == nil {
			t.Errorf("%s: %v, want an error", name, got.Side)
		}
	}
}

// Every verdict can be said and shown.
func TestYearReport(t *testing.T) {
	house := envelope.Face{Kind: envelope.Wall, Other: envelope.House}
	room := air(t, 13, 60)
	pane := solid("glass", 6, 1)
	pane.Vapor = envelope.SD(envelope.ImpermeableSD)
	for _, tt := range []struct {
		name   string
		a      envelope.Assembly
		face   envelope.Face
		months []envelope.Month
		want   []string
	}{
		{"dry", vaporWall(0.06, true), house, envelope.SteadyYear(air(t, 26, 65), room), []string{"no condensation", "January"}},
		{"wet", vaporWall(10, true), house, envelope.SteadyYear(air(t, 26, 65), room), []string{"stays wet", "between batt and gypsum", "more each year"}},
		{"winter", painted(outerRetarder()), outsideWall, winterWall(t), []string{"dries out", "between retarder and wool", "limit 0.500"}},
		{"glass", envelope.Assembly{Layers: []envelope.Layer{pane}}, house, envelope.SteadyYear(air(t, 26, 70), room), []string{"surface condensation", "March on the other side"}},
	} {
		b, err := envelope.Year(tt.a, tt.face, tt.months)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		for _, want := range tt.want {
			if !strings.Contains(b.Summary(), want) {
				t.Errorf("%s: summary %q lacks %q", tt.name, b.Summary(), want)
			}
		}
		steps := b.Steps()
		if len(steps) != 13+len(b.Planes) {
			t.Errorf("%s: %d steps, want 13 and one a plane", tt.name, len(steps))
		}
		for _, s := range steps {
			if s.Name == "" || s.Formula == "" || s.Value == "" || s.Source == "" {
				t.Errorf("%s: step %+v is not complete", tt.name, s)
			}
		}
	}
	if got := (envelope.YearBalance{}).Summary(); !strings.Contains(got, "undecided") {
		t.Errorf("summary of nothing = %q, want undecided", got)
	}
}

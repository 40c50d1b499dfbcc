package checks

import (
	"math"
	"strings"
	"testing"
	"time"

	"proveout/checks/proof"
	"proveout/checks/units"
)

// runOf is the case of a room whose loggers' files are the given records.
func runOf(room *Room, keeping ...Fact) Case {
	q := &Question{Phase: "commissioning", Name: "log-duration", Kind: Computed, Compute: "log-duration"}
	return Case{Room: room, Now: noon, Facts: Facts{q.ID(): keeping}, Questions: map[string]*Question{q.ID(): q}}
}

// stood is a logger's record whose file is known by its sum.
func stood(place string, values []float64) Fact {
	f := logged(place, csv(5*time.Minute, values...))
	f.Files[0].SHA256 = "sum of " + place
	f.Start, f.End = began.Add(time.Hour), began.Add(70*time.Hour)
	return f
}

// The tutorial's faces are 0.28 W/(m²·K) · 113 m² = 31.64 W/K with 30 °C beyond
// (chart of a refrigeration tutorial, read); by hand with 4 K of sun on them 34 °C.
func TestCommissioningDesign(t *testing.T) {
	room := tutorialRoom(t)
	room.Faces[0].Sun = quantity(t, units.TemperatureDifferenceKind, "4 K")
	_, l, err := runOf(room, stood("room low", steady(900, 0.2)), stood("room high", steady(900, 0.3))).CommissioningProof(false)
	if err != nil {
		t.Fatal(err)
	}
	sides := l.Input.Room.Sides
	if len(sides) != 1 || sides[0].Name != "house" || math.Abs(float64(sides[0].Conductance)-31.64) > 0.005 {
		t.Errorf("sides %+v, want house with 31.64 W/K; %v", sides, l.Notes)
	}
	if day := l.Input.Design; day == nil || math.Abs(float64(day.Sides["house"])-34) > 1e-9 || day.Intake != 35 {
		t.Errorf("design day %+v, want house at 34 °C, intake 35 °C", day)
	}
	if s := l.Input.Steady; !s.From.Equal(began.Add(time.Hour)) || !s.To.Equal(began.Add(70*time.Hour)) {
		t.Errorf("steady %v, not as recorded", s)
	}
	if c := l.Input.Unit.Capacity; c == nil {
		t.Error("no capacity of the unit")
	}
}

// A file is counted once, at its own place before the record's, with the logger's own
// instrument; what names no place of a logger is left out and said.
func TestCommissioningLogs(t *testing.T) {
	low, twice, shelf, house := stood("room low", steady(900, 0.2)), stood("room low", steady(900, 0.2)), stood("shelf", steady(900, 0.2)), stood("house", steady(900, 0.2))
	own := &Instrument{ID: "LG-1", Uncertainty: quantity(t, units.TemperatureDifferenceKind, "0.3 K")}
	house.Files[0].Logger = &Logger{Instrument: own, Distance: quantity(t, units.LengthKind, "1 m"), Offset: quantity(t, units.TemperatureDifferenceKind, "0.5 K")}
	a, l, err := runOf(tutorialRoom(t), low, twice, shelf, house).CommissioningProof(false)
	if err != nil || a == nil {
		t.Fatal(err)
	}
	if len(l.Placed) != 2 || l.Placed[0].Place != proof.RoomLow || l.Placed[1].Side != "house" || l.Placed[1].Instrument != own {
		t.Errorf("placed: %+v", l.Placed)
	}
	in := l.Input.Loggers[1]
	if in.Uncertainty != 0.3 || in.Distance != 1 || math.Abs(in.Series[0].Values[0]-12.5) > 1e-3 {
		t.Errorf("%v K, %v m, first value %v; want 0.3, 1 and 13 less 0.5", in.Uncertainty, in.Distance, in.Series[0].Values[0])
	}
	if len(l.Left) != 1 || !strings.Contains(l.Left[0].Why, `"shelf" is no place`) {
		t.Errorf("left: %+v", l.Left)
	}
	c := runOf(tutorialRoom(t), low)
	c.Now = began
	if _, l, err := c.CommissioningProof(false); err == nil || len(l.Left) != 1 {
		t.Errorf("a log of the future: %v, left %+v", err, l.Left)
	}
	room := tutorialRoom(t)
	room.UnitAsPlanned = nil
	a, l, err = runOf(room, low).CommissioningProof(false)
	if err != nil || len(l.Notes) != 1 || a.Hold != nil {
		t.Errorf("without a unit: %v, notes %v, hold %v", err, l.Notes, a.Hold)
	}
}

package checks

import (
	"encoding/json"
	"slices"
	"testing"

	"proveout/checks/units"
)

// whole is a room of which job.yaml says everything: a wall to the house, one outdoors,
// a door, months, use and a unit.
func whole(t testing.TB) *Room {
	room := tutorialRoom(t)
	room.SetPoint = quantity(t, units.TemperatureKind, "13 °C")
	room.UnitAsPlanned.Room = room.SetPoint
	room.UnitAsFound = &Unit{Model: "old", Refrigerant: "R134a", Capacity: quantity(t, units.PowerKind, "500 W"), Room: room.SetPoint, Outdoor: room.UnitAsPlanned.Outdoor, Rejects: "house"}
	room.PullDownLoad, room.Bottles = "empty", 300
	film := layer(t, "polyethylene 6 mil", "", "")
	film.Retarder = true
	layers := []Layer{layer(t, "gypsum board", "12.7 mm", ""), film, filling(t, layer(t, "mineral-fiber batt R-13", "89 mm", ""), "25 %", ""), layer(t, "gypsum board", "12.7 mm", "")}
	area := quantity(t, units.AreaKind, "12 m²")
	room.Faces = []Face{
		{Name: "inner", Kind: "wall", OtherSide: "house", Area: area, AsPlanned: layers, Design: map[string]units.Quantity{}},
		{Name: "outer", Kind: "wall", OtherSide: "outdoors", Area: area, AsPlanned: layers, Design: map[string]units.Quantity{}},
	}
	for i := range 12 {
		room.Months = append(room.Months, Month{Name: string(rune('A' + i)), Temperature: quantity(t, units.TemperatureKind, []string{"8 °C", "24 °C"}[i/6]), Humidity: quantity(t, units.HumidityKind, "70 %")})
	}
	return room
}

// parts are what a check may read of job.yaml beyond the parts that always count for a
// sign-off; each is changed so that whoever reads it notices.
var parts = map[string]func(testing.TB, *Room){
	"outdoor months": func(t testing.TB, r *Room) {
		for i := range r.Months {
			r.Months[i].Temperature = quantity(t, units.TemperatureKind, "26 °C")
		}
	},
	"use":             func(t testing.TB, r *Room) { r.Use.Appliances[0].Power = quantity(t, units.PowerKind, "90 W") },
	"unit as planned": func(t testing.TB, r *Room) { r.UnitAsPlanned.Capacity = quantity(t, units.PowerKind, "900 W") },
	"unit as found":   func(t testing.TB, r *Room) { r.UnitAsFound.Capacity = quantity(t, units.PowerKind, "300 W") },
}

// A check that another job.yaml makes say something else lists that part in Figures:
// sign-offs on it would not go stale otherwise.
func TestFiguresNameWhatIsRead(t *testing.T) {
	noticed := map[string]int{}
	for _, check := range All {
		q := &Question{Phase: "assess", Name: check.Name, Kind: Computed, Compute: check.Name, Measures: check.Result, Sampling: Sampling{PerFace: 1}}
		var facts []Fact
		if len(check.Answers) > 0 && len(check.Needs) == 0 && !check.Log {
			facts = []Fact{answered("inner", check.FirstAnswer()), answered("outer", check.FirstAnswer())}
		}
		says := func(spoil func(testing.TB, *Room)) string {
			room := whole(t)
			if spoil != nil {
				spoil(t, room)
			}
			text, err := json.Marshal(judge(room, q, facts...))
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
		before := says(nil)
		for part, spoil := range parts {
			if says(spoil) == before {
				continue
			}
			noticed[part]++
			if !slices.Contains(check.Figures, part) {
				t.Errorf("%s reads %q of job.yaml and does not name it in Figures", check.Name, part)
			}
		}
	}
	for _, part := range []string{"outdoor months", "use", "unit as planned"} {
		if noticed[part] < 3 {
			t.Errorf("only %d checks notice another %s: the room lacks something", noticed[part], part)
		}
	}
}

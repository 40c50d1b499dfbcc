package figure

import (
	"fmt"
	"math"

	"proveout/checks/units"
)

var exampleMap = func() FaceMap {
	f := FaceMap{
		Title: "Moisture of the studs, north wall, before the board",
		Width: 12, Height: 8, WidthText: "12 ft", HeightText: "8 ft", View: "seen from the room",
		Limit:    "at most 15 %",
		Openings: []Opening{{"old vent", 9.5, 5.5, 1.2, 1.2}},
	}
	for i := range 9 {
		for j := range 3 {
			v := 10 + (i*7+j*5)%5
			r := MapReading{Reading{fmt.Sprintf("%c%d", 'A'+i, j+1), fmt.Sprintf("%d %%", v), units.Pass, false}, 0.67 + 1.333*float64(i), 1 + 3*float64(j)}
			f.Readings = append(f.Readings, r)
		}
	}
	f.Readings[3].Text, f.Readings[3].Outcome, f.Readings[3].Worst = "19 %", units.Fail, true
	f.Readings[6].Text, f.Readings[6].Outcome = "16 %", units.Fail
	f.Readings[17].Text, f.Readings[17].Outcome = "", units.Undecided
	return f
}()

var listMap = FaceMap{
	Title: "Foam depth, ceiling", Width: 300, Height: 240, WidthText: "3.00 m", HeightText: "2.40 m", Limit: "at least 90 mm", Columns: 3,
	Readings: []MapReading{
		{Reading{"bay 1", "96 mm", units.Pass, false}, math.NaN(), math.NaN()},
		{Reading{"bay 2", "93 mm", units.Pass, false}, math.NaN(), math.NaN()},
		{Reading{"bay 3", "91 mm", units.Pass, true}, math.NaN(), math.NaN()},
		{Reading{"bay 4", "99 mm", units.Pass, false}, math.NaN(), math.NaN()},
		{Reading{"bay 5, behind the beam", "102 mm", units.Pass, false}, math.NaN(), math.NaN()},
	},
}

var exampleDoor = func() Door {
	f := Door{Title: "Gap between door and stop", Width: 32, Height: 80, WidthText: "32 in", HeightText: "80 in",
		View: "seen from the room", Limit: "at most 1/8 in, paper drags everywhere"}
	values := []string{"1/16 in", "1/16 in", "3/32 in", "0 in", "1/32 in", "1/16 in", "1/8 in", "3/32 in", "5/32 in", "1/8 in", "1/8 in", ""}
	for i, v := range values {
		g := DoorGap{Reading{[]string{"low", "middle", "high"}[i%3], v, units.Pass, false}, doorSides[i/3], []float64{0.1, 0.5, 0.9}[i%3]}
		if g.Side == Head || g.Side == Sill {
			g.Place = []string{"hinge end", "middle", "latch end"}[i%3]
		}
		f.Gaps = append(f.Gaps, g)
	}
	f.Gaps[8].Outcome, f.Gaps[8].Worst = units.Fail, true
	f.Gaps[11].Outcome = units.Undecided
	return f
}()

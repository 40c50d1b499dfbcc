package figure

import (
	"fmt"
	"math"
	"testing"
	"time"

	"proveout/checks/units"
)

// crowd are pictures with more in them than usual.
func crowd() map[string]picture {
	wall := Section{Title: "Fifteen layers, nothing computed", Other: AirSide{Name: "Attic"}, Room: AirSide{Name: "Room"}}
	for i := range 15 {
		wall.Layers = append(wall.Layers, Layer{fmt.Sprintf("layer %d", i+1), []float64{0.006, 0.5, 3.5}[i%3], "1/2 in", Material(i % 6)})
	}
	for i := range 5 {
		wall.Wet = append(wall.Wet, WetPlane{float64(i), "97 % RH", "near"})
	}
	load := Load{Title: "Items", Total: LoadItem{"All", Amount{5, "5 kW"}, Amount{4.9, "4.9 kW"}}, Capacity: Mark{5.02, "capacity 5.02 kW"}}
	for i := range 14 {
		load.Items = append(load.Items, LoadItem{fmt.Sprintf("item %d", i), Amount{float64(i) / 3, "x kW"}, Amount{-0.2, "−0.2 kW"}})
	}
	log := Log{Title: "Nine loggers, thirty excursions", From: exampleLog.From, To: exampleLog.From.AddDate(0, 5, 0)}
	panel := LogPanel{Axis: "Temperature, °C", Band: Band{math.Inf(-1), 14, "below 14 °C"}}
	for i := range 9 {
		var times []int64
		var values []float64
		for d := range 150 * 4 {
			times = append(times, log.From.Add(time.Duration(d)*6*time.Hour).UnixMilli())
			values = append(values, 13+math.Sin(float64(d*(i+1))))
		}
		panel.Lines = append(panel.Lines, LogLine{fmt.Sprintf("logger %d", i+1), times, values})
	}
	for i := range 30 {
		at := log.From.AddDate(0, 0, 5*i)
		panel.Excursions = append(panel.Excursions, Excursion{at, at.Add(time.Hour), 14.5, "warm"})
	}
	log.Panels = []LogPanel{panel}
	for i := range 6 {
		log.Moments = append(log.Moments, Moment{log.From.AddDate(0, i, 0).Add(-time.Hour), "monthly visit by the same person"})
	}
	face := FaceMap{Title: "Eighty readings", Width: 20, Height: 8, WidthText: "20 ft", HeightText: "8 ft"}
	for i := range 80 {
		face.Readings = append(face.Readings, MapReading{Reading{fmt.Sprintf("p%d", i), fmt.Sprintf("%d/16 in", i%9), units.Outcome(i % 3), i == 4},
			10 + 9.9*math.Sin(float64(i)*1.7), 4 + 3.9*math.Cos(float64(i)*2.3)})
	}
	door := Door{Title: "Seven places a side", Width: 36, Height: 84}
	for i := range 28 {
		door.Gaps = append(door.Gaps, DoorGap{Reading{fmt.Sprintf("n %d", i), "1/16 in", units.Outcome(i % 3), i == 9}, DoorSide(i / 7), float64(i%7) / 6})
	}
	shares := Signature{Title: "In shares of the running unit", X: "K", Y: "Duty", Design: Mark{4, "design day, colder than any day logged"}, Beyond: "3 K colder"}
	for i := range 9 {
		shares.Days = append(shares.Days, SignatureDay{Point{7 + float64(i), 0.2 + 0.03*float64(i)}, false})
	}
	return map[string]picture{"layers": wall, "items": load, "loggers": log, "readings": face, "gaps": door, "shares": shares}
}

// Crowded pictures keep their words apart too.
func TestCrowded(t *testing.T) {
	for name, p := range crowd() {
		svg, err := p.SVG()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		apartIn(t, name, read(t, svg))
	}
}

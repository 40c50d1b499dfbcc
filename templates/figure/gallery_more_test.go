package figure

import "math"

var exampleLoad = Load{
	Title: "What heats the room on the design day",
	Items: []LoadItem{
		{"Walls and ceiling", Amount{410, "410 W"}, Amount{122, "122 W"}},
		{"Glass in the door", Amount{96, "96 W"}, Amount{48, "48 W"}},
		{"Leaks, with the water they bring", Amount{265, "265 W"}, Amount{18, "18 W"}},
		{"Door openings", Amount{22, "22 W"}, Amount{22, "22 W"}},
		{"Lights", Amount{60, "60 W"}, Amount{12, "12 W"}},
		{"Fan of the unit", Amount{45, "45 W"}, Amount{45, "45 W"}},
		{"Floor over the garage", Amount{}, Amount{0, "0 W"}},
	},
	Total:           LoadItem{"All together, with 10 % to spare", Amount{988, "988 W"}, Amount{294, "294 W"}},
	Capacity:        Mark{640, "the unit found can do 640 W on that day"},
	PlannedCapacity: Mark{560, "the unit planned can do 560 W on that day"},
	Notes:           []string{"Design day: 95 °F outdoors, 55 °F in the room."},
}

// cooling is an exponential for the tests' pictures.
func cooling(from, to, hours, end, step float64) []Point {
	var list []Point
	for h := 0.0; h <= end; h += step {
		list = append(list, Point{h, to + (from-to)*math.Exp(-h/hours)})
	}
	return list
}

var examplePullDown = PullDown{
	Title: "From house temperature to 13 °C",
	Axis:  "Temperature, °C",
	Hours: "Hours after the unit was switched on",
	Air:   cooling(22, 12.6, 3.5, 48, 0.25), Bottle: cooling(22, 12.8, 10, 48, 0.25),
	SetPoint: Mark{13, "set point 13 °C"}, Goal: Mark{14, "arrived at 14 °C"},
	Limit: Mark{36, "limit 36 h"}, Arrival: Mark{20.4, "predicted 20 h"},
}

var measuredPullDown = func() PullDown {
	f := examplePullDown
	f.Title = "From house temperature to 13 °C: predicted and measured"
	f.MeasuredBottle = cooling(22.4, 12.9, 11, 44, 1.0/60)
	for _, p := range cooling(22.4, 12.7, 3, 44, 1.0/60) {
		p.Y += 0.35*math.Sin(p.X*17) + 0.1*math.Sin(p.X*111)
		if p.X > 26 && p.X < 27.5 {
			p.Y = math.NaN()
		}
		f.MeasuredAir = append(f.MeasuredAir, p)
	}
	f.Proven = Mark{24.5, "proven after 24 h 30 min"}
	return f
}()

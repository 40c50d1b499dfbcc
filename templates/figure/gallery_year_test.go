package figure

import "math"

var exampleSignature = func() Signature {
	f := Signature{
		Title: "Will it hold on the design day?",
		X:     "Outside minus room, mean of the day, K", Y: "Cooling, mean of the day, W",
		Level:     "95 %",
		Design:    Mark{22, "design day 22 K"},
		Predicted: Interval{402, Range{352, 452}, "402 W (352 to 452 W)"},
		Capacity:  Mark{560, "the unit can do 560 W on that day"},
		Beyond:    "the design day lies 7 K beyond the warmest day logged: provisional until a summer log",
	}
	for i := range 14 {
		x := 8 + 7*math.Abs(math.Sin(float64(i)*1.3))
		f.Days = append(f.Days, SignatureDay{Point{x, 60 + 15.5*x + 14*math.Sin(float64(i*i))}, i == 5})
	}
	for x := 7.0; x <= 23; x++ {
		d := math.Abs(x - 11.5)
		f.Fit = append(f.Fit, FitPoint{x, 60 + 15.55*x, Range{60 + 15.55*x - 6 - 2*d, 60 + 15.55*x + 6 + 2*d}, Range{60 + 15.55*x - 30 - 2*d, 60 + 15.55*x + 30 + 2*d}})
	}
	return f
}()

var oneDay = Signature{Title: "One day", X: "Outside minus room, K", Y: "Cooling, W", Days: []SignatureDay{{Point{9, 200}, false}}}

var year = []string{"Oct", "Nov", "Dec", "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep"}

var exampleMonths = Months{
	Title: "Water between foam and polyethylene, north wall",
	Axis:  "Water that gathers (up) and dries (down) in the month, g/m²",
	Names: year,
	Series: []MonthSeries{
		{"as found", []float64{-40, -22, 0, 0, 0, 0, 18, 64, 130, 158, 121, 30}, nil},
		{"as planned", []float64{0, 0, 0, 0, 0, 0, 0, 0, 3, 5, -6, -2}, nil},
	},
	Sum:   &MonthSeries{Name: "gathered by the end of the month, as found", Values: []float64{481, 459, 459, 459, 459, 459, 477, 541, 671, 829, 950, 980}},
	Limit: Mark{500, "limit 500 g/m²"},
}

var loadMonths = Months{
	Title: "Load in each month", Axis: "Mean load, W", Names: year,
	Series: []MonthSeries{
		{"as found", []float64{420, 350, 300, 280, 310, 380, 450, 560, 690, 760, math.NaN(), 600}, []string{"", "", "", "", "", "", "", "", "", "760 W"}},
		{"as planned", []float64{120, 100, 90, 85, 92, 110, 130, 160, 190, 210, 205, 170}, []string{"", "", "", "", "", "", "", "", "", "210 W"}},
	},
}

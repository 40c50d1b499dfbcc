package drying

import (
	"fmt"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"

	"proveout/checks/units"
)

var start = time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)

// daily are readings a day apart.
func daily(moisture ...float64) []Reading {
	var log []Reading
	for i, m := range moisture {
		log = append(log, Reading{start.AddDate(0, 0, i), units.Percent(m)})
	}
	return log
}

// A log made from the law itself, 10 % + 18 %·e^(−0.3 t), gives back its rate and
// the day on which it passes 16 %: ln 3/0.3 = 3.662 days. A stud above 25 % that is
// below 16 % within 3 to 10 days is common practice.
func TestExactLog(t *testing.T) {
	var log []Reading
	for i := range 4 {
		x := float64(i)
		log = append(log, Reading{start.Add(time.Duration(x * 24 * float64(time.Hour))), units.Percent(10 + 18*math.Exp(-0.3*x))})
	}
	got, err := Mark{Readings: log, Goal: 16, Balance: 10}.Trend()
	if err != nil {
		t.Fatal(err)
	}
	days := got.DryOn.Sub(start).Hours() / 24
	if math.Abs(got.Rate-0.3) > 1e-9 || math.Abs(days-math.Log(3)/0.3) > 1e-9 || got.Course != Falling {
		t.Errorf("rate %v, dry after %v days, %v", got.Rate, days, got.Course)
	}
}

// The line of a log with scatter is gonum's.
func TestLine(t *testing.T) {
	log := daily(27, 22.5, 20, 17, 16.5)
	var x, y []float64
	for i, r := range log {
		x, y = append(x, float64(i)), append(y, math.Log(float64(r.Moisture)-11))
	}
	a, b := stat.LinearRegression(x, y, nil, false)
	got, err := Mark{Readings: log, Goal: 16, Balance: 11}.Trend()
	want := (math.Log(5) - a) / b
	if days := got.DryOn.Sub(start).Hours() / 24; err != nil || math.Abs(got.Rate+b) > 1e-9 || math.Abs(days-want) > 1e-9 {
		t.Errorf("rate %v, %v days, %v, want %v, %v", got.Rate, days, err, -b, want)
	}
}

func TestCourse(t *testing.T) {
	for _, tt := range []struct {
		log  []Reading
		want Course
	}{
		{daily(24), Unclear},
		{[]Reading{{start, 24}, {start.Add(2 * time.Hour), 14}}, Unclear},
		{daily(24, 20), Falling},
		{daily(24, 20, 21), Rising},
		{daily(24, 20, 20), Falling},
		{daily(24, 20, 16), Once},
		{daily(24, 16, 15), Dry},
		{daily(24, 15, 16), Dry}, // within the goal both days; Rose says that it rose
		{daily(24, 15, 17), Rising},
		{append(daily(24, 20, 16), Reading{start.AddDate(0, 0, 2).Add(time.Hour), 15}), Once},
	} {
		got, err := Mark{Readings: tt.log, Goal: 16, Balance: 10}.Trend()
		if err != nil || got.Course != tt.want {
			t.Errorf("%v: %v, %v, want %v", tt.log, got.Course, err, tt.want)
		}
	}
	// The order in which they were entered does not matter.
	log := daily(24, 20, 16)
	log[0], log[2] = log[2], log[0]
	if got, err := (Mark{Readings: log, Goal: 16}).Trend(); err != nil || got.Course != Once || got.Fell != 8 {
		t.Errorf("%+v, %v", got, err)
	}
}

// A log that rises, or tends to a balance above the goal, has no dry date.
func TestNoDate(t *testing.T) {
	for _, m := range []Mark{
		{Readings: daily(18, 20, 22), Goal: 16, Balance: 10},
		{Readings: daily(24, 22, 21), Goal: 16, Balance: 17},
		{Readings: daily(24), Goal: 16, Balance: 10},
		{Readings: daily(24, 23.9999), Goal: 16},
	} {
		if got, err := m.Trend(); err != nil || !got.DryOn.IsZero() {
			t.Errorf("%v: dry on %v, %v", m, got.DryOn, err)
		}
	}
}

func TestRefuses(t *testing.T) {
	for _, m := range []Mark{
		{Goal: 16}, {Readings: daily(24, 20)}, {Readings: daily(24, math.NaN()), Goal: 16}, {Readings: daily(24, 2), Goal: 16},
		{Readings: []Reading{{time.Time{}, 20}}, Goal: 16}, {Readings: []Reading{{start, 20}, {start, 21}}, Goal: 16},
		{Readings: daily(24, 20), Goal: 16, Balance: units.Percent(math.Inf(1))},
	} {
		if got, err := m.Trend(); err == nil {
			t.Errorf("%v: %v, want an error", m, got.Course)
		}
	}
}

func ExampleMark_Trend() {
	t, err := Mark{Readings: daily(26, 21, 18), Goal: 16, Balance: 11}.Trend()
	fmt.Println(t.Course, t.DryOn.Format("2 January"), err)
	// Output: falling 7 May <nil>
}

func BenchmarkTrend(b *testing.B) {
	m := Mark{Readings: daily(27, 22.5, 20, 17, 16.5, 16, 15.5, 15, 14, 14, 13), Goal: 16, Balance: 11}
	for b.Loop() {
		if _, err := m.Trend(); err != nil {
			b.Fatal(err)
		}
	}
}

package foam

import (
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/stat"

	"proveout/checks/units"
)

// Trade body's default: at most 1½ in a lift and 15 min between lifts (quoted).
func TestLifts(t *testing.T) {
	good := Lifts{Number: 4, Thickest: 1.5 * inch, Shortest: 15 * time.Minute, Depth: 5.5 * inch, Limit: DefaultLift, Wait: DefaultWait}
	for i, tt := range []struct {
		change func(*Lifts)
		want   units.Outcome
	}{
		{func(*Lifts) {}, units.Pass},
		{func(l *Lifts) { l.Thickest = 1.51 * inch }, units.Fail},
		{func(l *Lifts) { l.Shortest = 15*time.Minute - time.Second }, units.Fail},
		{func(l *Lifts) { l.Number = 3 }, units.Undecided}, // 4.5 in do not make 5.5
		{func(l *Lifts) { l.Number, l.Depth, l.Shortest = 1, 1.5*inch, 0 }, units.Pass},
		{func(l *Lifts) { l.Thickest, l.Limit = 2*inch, 2*inch }, units.Pass},
	} {
		l := good
		tt.change(&l)
		if f, err := l.Judge(); err != nil || f.Outcome != tt.want {
			t.Errorf("case %d: %v, %v, want %v", i, f, err, tt.want)
		}
	}
	for i, spoil := range []func(*Lifts){
		func(l *Lifts) { l.Number = 0 }, func(l *Lifts) { l.Thickest = units.Length(math.NaN()) },
		func(l *Lifts) { l.Depth = units.Length(math.Inf(1)) }, func(l *Lifts) { l.Limit = 0 }, func(l *Lifts) { l.Shortest = -1 },
	} {
		l := good
		spoil(&l)
		if f, err := l.Judge(); err == nil {
			t.Errorf("case %d: %v, want an error", i, f)
		}
	}
}

// Mean and standard deviation against gonum's.
func TestSummary(t *testing.T) {
	inches := []float64{5.125, 5.25, 5, 5.1875, 4.75, 5.25}
	var readings []units.Length
	for _, x := range inches {
		readings = append(readings, units.Length(x*inch))
	}
	d, err := Summary(readings, 5*inch)
	if err != nil {
		t.Fatal(err)
	}
	mean, sd := stat.MeanStdDev(inches, nil)
	if math.Abs(float64(d.Mean)/inch-mean) > 1e-12 || math.Abs(float64(d.Deviation)/inch-sd) > 1e-12 {
		t.Errorf("mean %v, deviation %v, want %v, %v", d.Mean, d.Deviation, mean, sd)
	}
	if d.Least != readings[4] || d.LeastAt != 4 || d.Most != readings[1] || d.BelowDesign != 1 || d.Count != 6 || math.Abs(d.ShareOfLeast-0.95) > 1e-12 {
		t.Errorf("%+v", d)
	}
	if d, err := Summary(readings[:1], 0); err != nil || d.Deviation != 0 {
		t.Errorf("%+v, %v", d, err)
	}
	for _, bad := range [][]units.Length{nil, {units.Length(math.NaN())}, {-0.1}, {0.1, 2}} {
		if d, err := Summary(bad, 0); err == nil {
			t.Errorf("%v: %+v, want an error", bad, d)
		}
	}
}

// RESNET grade I (quoted), II and III (from memory).
func TestGrade(t *testing.T) {
	for _, tt := range []struct {
		batt Batt
		want Grade
	}{
		{Batt{}, 1}, {Batt{0, 2, 29}, 1}, {Batt{0, 2, 30}, 3}, {Batt{0, 2.1, 10}, 2}, {Batt{0.1, 0, 0}, 2}, {Batt{2, 10, 20}, 2},
		{Batt{2.1, 10, 20}, 3}, {Batt{5, 0, 0}, 3}, {Batt{5.1, 0, 0}, 0}, {Batt{0, 11, 10}, 0},
	} {
		if g, err := tt.batt.Grade(); err != nil || g != tt.want {
			t.Errorf("%+v: %v, %v, want %v", tt.batt, g, err, tt.want)
		}
	}
	for _, b := range []Batt{{-1, 0, 0}, {0, 5, 0}, {0, 0, 5}, {60, 60, 10}, {units.Percent(math.NaN()), 0, 0}} {
		if g, err := b.Grade(); err == nil {
			t.Errorf("%+v: %v, want an error", b, g)
		}
	}
}

func BenchmarkSummary(b *testing.B) {
	readings := make([]units.Length, 60)
	for b.Loop() {
		if _, err := Summary(readings, 0.1); err != nil {
			b.Fatal(err)
		}
	}
}

package proof

import (
	"encoding/csv"
	"errors"
	"math"
	"os"
	"strconv"
	"testing"
)

// columns reads the columns of a table of numbers.
func columns(t *testing.T, name string) map[string][]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatal(len(lines), err)
	}
	all := map[string][]float64{}
	for _, line := range lines[1:] {
		for i, head := range lines[0] {
			v, err := strconv.ParseFloat(line[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			all[head] = append(all[head], v)
		}
	}
	return all
}

type figure struct {
	name            string
	got, want, last float64 // tolerance
}

func check(t *testing.T, figures []figure) {
	t.Helper()
	for _, f := range figures {
		if !(math.Abs(f.got-f.want) <= f.last) {
			t.Errorf("%s = %.15g, want %.15g ± %.2g", f.name, f.got, f.want, f.last)
		}
	}
}

// NIST Statistical Reference Datasets, Norris: certified values (from memory).
func TestLineNorris(t *testing.T) {
	c := columns(t, "nist-strd-norris.csv")
	l, err := FitLine(c["x"], c["y"])
	if err != nil {
		t.Fatal(err)
	}
	const ν34 = 2.0322445093177 // t(0.975, 34), Python scipy.stats (from memory)
	check(t, []figure{
		{"B0", l.Intercept, -0.262323073774029, 1e-9},
		{"B1", l.Slope, 1.00211681802045, 1e-9},
		{"s", l.S, 0.884796396144373, 1e-9},
		{"R²", l.R2, 0.999993745883712, 1e-9},
		{"SD of B1 without autocorrelation", math.Sqrt(l.c11) / l.inflation(), 0.429796848199937e-3, 1e-11},
		{"SD of B0 without autocorrelation", math.Sqrt(l.c00) / l.inflation(), 0.232818234301152, 1e-9},
		{"t", student95(34), ν34, 1e-9},
	})
}

// NIST StRD NoInt1, a line through the origin: x 60 to 70, y 130 to 140; certified B1
// 2.07438016528926, standard deviation 0.165289256198347e-1 (from memory). Held at
// 0 ± 1e-9, the slope is that of the line through the origin. Its spread is not:
// NIST takes the scatter about that line, here it stays that of the points.
func TestLineNoInt1(t *testing.T) {
	var x, y []float64
	for i := range 11 {
		x, y = append(x, 60+float64(i)), append(y, 130+float64(i))
	}
	// The points lie on y = x + 70 exactly; a ripple orthogonal to 1 and x and to
	// x·ripple gives them scatter and leaves all sums as they are.
	for i, r := range []float64{1, -2, 1, 0, 0, 0, 0, 0, 1, -2, 1} {
		y[i] += r
	}
	l, err := FitLine(x, y)
	if err != nil {
		t.Fatal(err)
	}
	check(t, []figure{
		{"free slope", l.Slope, 1, 1e-12}, {"free intercept", l.Intercept, 70, 1e-10},
		{"slope through 0", l.Anchor(0, 1e-9).Slope, 2.07438016528926, 1e-10},
		{"intercept", l.Anchor(0, 1e-9).Intercept, 0, 1e-10},
		{"its spread", math.Sqrt(l.Anchor(0, 1e-9).c11) / (l.S * l.inflation()), 0.165289256198347e-1 / 3.56753034006338, 1e-9},
	})
}

// t(0.975) of a table (computed with another program), and 4 digits from memory in
// every book of statistics.
func TestStudent(t *testing.T) {
	for ν, want := range map[float64]float64{5: 2.5706, 8: 2.3060, 10: 2.2281, 12: 2.1788, 13: 2.1604, 20: 2.0860, 30: 2.0423} {
		check(t, []figure{{"t", student95(ν), want, 0.5e-4}})
	}
}

// Fourteen days of an invented room with the true line 95 + 14·x, worked with a
// general statistics program (computed).
var workedX = []float64{9.0, 10.2, 11.5, 12.1, 8.4, 7.9, 10.8, 13.0, 14.2, 12.7, 11.0, 9.6, 8.8, 10.1}
var workedY = []float64{225, 231, 259, 273, 208, 208, 240, 285, 291, 265, 254, 230, 216, 242}

func TestLineWorked(t *testing.T) {
	l, err := FitLine(workedX, workedY)
	if err != nil {
		t.Fatal(err)
	}
	check(t, []figure{
		{"x̄", l.MeanX, 10.664286, 0.5e-6}, {"Sxx", l.Sxx, 45.672143, 0.5e-6},
		{"b1", l.Slope, 14.201060, 0.5e-6}, {"b0", l.Intercept, 93.341549, 0.5e-6},
		{"± b1", l.SlopeHalf(), 1.860561, 0.5e-6}, {"± b0", l.InterceptHalf(), 20.124125, 0.5e-6},
		{"s", l.S, 5.770982, 0.5e-6}, {"R²", l.R2, 0.958415, 0.5e-6}, {"CV %", 100 * l.CV, 2.3576, 0.5e-4},
		{"ρ1", l.Lag1, -0.453375, 0.5e-6}, {"DW", l.DurbinWatson, 2.801300, 0.5e-6}, {"n′", l.Effective, 14, 0},
		{"at 20 K", l.At(20), 377.3628, 0.5e-4}, {"± mean", l.MeanHalf(20), 17.6918, 0.5e-4}, {"± next", l.NextHalf(20), 21.7049, 0.5e-4},
		{"at 16 K", l.At(16), 320.5585, 0.5e-4}, {"± mean", l.MeanHalf(16), 10.4808, 0.5e-4}, {"± next", l.NextHalf(16), 16.3692, 0.5e-4},
	})
}

// An anchor is one more observation: the closed form must be that of weighted
// least squares with the point (0, B) of weight s²/u² put in by hand.
func TestAnchorIsAnObservation(t *testing.T) {
	l, err := FitLine(workedX, workedY)
	if err != nil {
		t.Fatal(err)
	}
	const b, u = 110.0, 12.0
	w := l.S * l.S / (u * u)
	sw, sx, sy, sxx, sxy := w, 0.0, w*b, 0.0, 0.0
	for i, x := range workedX {
		sw, sx, sy, sxx, sxy = sw+1, sx+x, sy+workedY[i], sxx+x*x, sxy+x*workedY[i]
	}
	slope := (sw*sxy - sx*sy) / (sw*sxx - sx*sx)
	a := l.Anchor(b, u)
	check(t, []figure{{"slope", a.Slope, slope, 1e-9}, {"intercept", a.Intercept, (sy - slope*sx) / sw, 1e-8},
		// Its variance is that of the 15 observations: s²/(Sxx of all).
		{"variance", a.c11 + a.a1*a.a1, l.S * l.S * sw / (sw*sxx - sx*sx), 1e-9}})
	if !a.Anchored || l.Anchored {
		t.Error("the anchored line says so, and the other does not")
	}
}

func TestLineRefuses(t *testing.T) {
	for _, tt := range []struct{ x, y []float64 }{
		{[]float64{1, 2}, []float64{1, 2}}, {[]float64{1, 1, 1}, []float64{1, 2, 3}}, {nil, nil},
	} {
		if _, err := FitLine(tt.x, tt.y); !errors.Is(err, ErrTooLittle) {
			t.Errorf("FitLine(%v, %v) = %v, want ErrTooLittle", tt.x, tt.y, err)
		}
	}
	if _, err := FitLine([]float64{1, 2, math.NaN()}, []float64{1, 2, 3}); err == nil {
		t.Error("FitLine took a NaN")
	}
}

package compound

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"
	"time"

	"proveout/checks/units"
)

// The chart's other points (from memory), from the one that C is taken from.
func TestChart(t *testing.T) {
	f, err := os.Open("../../testdata/tables/joint-compound-drying.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		var x [3]float64
		for i := range x {
			if x[i], err = strconv.ParseFloat(row[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		d, err := Coat{Temperature: units.Temperature((x[0] - 32) / 1.8), Humidity: units.RelativeHumidity(x[1]), Thickness: ChartCoat}.Dry()
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Time.Hours() / margin; math.Abs(got/x[2]-1) > 0.16 {
			t.Errorf("%v °F, %v %%: %.1f h, want %v", x[0], x[1], got, x[2])
		}
		if d.Time.Hours() < x[2] {
			t.Errorf("%v °F, %v %%: %.1f h with the margin, shorter than the chart's %v", x[0], x[1], d.Time.Hours(), x[2])
		}
	}
}

func ExampleCoat_Dry() {
	d, err := Coat{Temperature: 18, Humidity: 60, Thickness: ChartCoat}.Dry()
	fmt.Println(d.Time.Round(time.Hour), err)
	// Output: 31h0m0s <nil>
}

// Colder, damper and thicker never dries sooner; a thin coat is not counted as
// faster than the chart's.
func TestMonotone(t *testing.T) {
	dry := func(c Coat) time.Duration {
		d, err := c.Dry()
		if err != nil {
			t.Fatal(err)
		}
		return d.Time
	}
	base := Coat{20, 50, ChartCoat}
	for _, c := range []Coat{{19, 50, ChartCoat}, {20, 51, ChartCoat}, {20, 50, ChartCoat * 1.1}} {
		if dry(c) <= dry(base) {
			t.Errorf("%+v dries sooner than %+v", c, base)
		}
	}
	if dry(Coat{20, 50, ChartCoat / 4}) != dry(base) {
		t.Error("a thin coat has another time than the chart's")
	}
	if got, want := dry(Coat{20, 50, 2 * ChartCoat}), 4*dry(base); math.Abs(float64(got-want)) > 10 {
		t.Errorf("twice the thickness: %v, want %v", got, want)
	}
}

func TestRefuses(t *testing.T) {
	nan := math.NaN()
	for _, c := range []Coat{
		{}, {-1, 50, ChartCoat}, {41, 50, ChartCoat}, {20, 86, ChartCoat}, {20, -1, ChartCoat}, {20, 50, 0.02},
		{units.Temperature(nan), 50, ChartCoat}, {20, units.RelativeHumidity(nan), ChartCoat}, {20, 50, units.Length(math.Inf(1))},
	} {
		if d, err := c.Dry(); err == nil {
			t.Errorf("%+v: %v, want an error", c, d.Time)
		}
	}
}

func BenchmarkDry(b *testing.B) {
	for b.Loop() {
		if _, err := (Coat{18, 60, ChartCoat}).Dry(); err != nil {
			b.Fatal(err)
		}
	}
}

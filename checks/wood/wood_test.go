package wood

import (
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

func near(t *testing.T, what string, got units.Percent, err error, want, tolerance float64) {
	t.Helper()
	if err != nil || !(math.Abs(float64(got)-want) <= tolerance) {
		t.Errorf("%s = %v, %v; want %v ± %v", what, got, err, want, tolerance)
	}
}

func TestWoodHandbookTable(t *testing.T) {
	f, err := os.Open("../../testdata/tables/wood-handbook-table4-2-emc.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil || len(lines) != 1+4*13 {
		t.Fatalf("%d lines, %v", len(lines), err)
	}
	for _, line := range lines[1:] {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(line[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		got, err := EquilibriumMoisture(celsius(v[0]), units.RelativeHumidity(v[1]))
		near(t, fmt.Sprintf("%v °F, %v %%", v[0], v[1]), got, err, v[2], 0.06)
	}
}

func celsius(f float64) units.Temperature { return units.Temperature((f - 32) / 1.8) }

// The handbook's Fahrenheit coefficients of eq. 4-5 (from memory) describe the
// same wood. Both sets have two to four digits; they agree within 0.02 %.
func TestFahrenheitCoefficients(t *testing.T) {
	for T := 30.0; T <= 158; T += 4 {
		W := 330 + 0.452*T + 0.00415*T*T
		K := 0.791 + 0.000463*T - 0.000000844*T*T
		K1 := 6.34 + 0.000775*T - 0.0000935*T*T
		K2 := 1.09 + 0.0284*T - 0.0000904*T*T
		for rh := units.RelativeHumidity(5); rh <= 95; rh += 5 {
			k := K * rh.Fraction()
			want := 1800 / W * (k/(1-k) + (K1*k+2*K1*K2*k*k)/(1+K1*k+K1*K2*k*k))
			got, err := EquilibriumMoisture(celsius(T), rh)
			near(t, fmt.Sprintf("%v °F, %v %%", T, rh), got, err, want, 0.02)
		}
	}
}

// Humidity in equilibrium with a moisture content at 13, 20 and 24 °C, computed
// apart from this code by bisection on eq. 4-5; half the last digit.
func TestEquilibriumHumidity(t *testing.T) {
	tests := []struct {
		mc   units.Percent
		want [3]float64
	}{
		{10, [3]float64{53.45, 54.41, 55.11}},
		{12, [3]float64{64.06, 65.02, 65.70}},
		{14, [3]float64{72.52, 73.39, 73.99}},
		{15, [3]float64{76.03, 76.84, 77.40}},
		{16, [3]float64{79.15, 79.89, 80.41}},
		{17, [3]float64{81.91, 82.59, 83.07}},
		{18, [3]float64{84.37, 84.99, 85.42}},
		{19, [3]float64{86.57, 87.14, 87.53}},
		{20, [3]float64{88.55, 89.06, 89.41}},
	}
	for _, tt := range tests {
		for i, θ := range []units.Temperature{13, 20, 24} {
			got, err := EquilibriumHumidity(θ, tt.mc)
			near(t, fmt.Sprintf("%v %% at %v °C", tt.mc, θ), units.Percent(got), err, tt.want[i], 0.005)
		}
	}
}

func TestEquilibriumComesBack(t *testing.T) {
	for θ := coldest; θ <= hottest; θ += 0.7 {
		last := units.Percent(-1)
		for rh := units.RelativeHumidity(0); rh <= wettest; rh += 0.5 {
			mc, err := EquilibriumMoisture(θ, rh)
			if err != nil || mc <= last {
				t.Fatalf("EquilibriumMoisture(%v, %v) = %v, %v after %v", θ, rh, mc, err, last)
			}
			last = mc
			back, err := EquilibriumHumidity(θ, mc)
			near(t, fmt.Sprintf("back to %v at %v °C", rh, θ), units.Percent(back), err, float64(rh), 1e-9)
		}
	}
}

// Computed apart from this code with the published form (from memory).
func TestMeterMoisture(t *testing.T) {
	tests := []struct {
		reading units.Percent
		at      units.Temperature
		want    float64
	}{
		{15, 5, 17.041}, {15, 10, 16.436}, {15, 13, 16.085}, {15, 20, 15.295},
		{15, 22, 15.077}, {15, 30, 14.239}, {19, 13, 20.307},
	}
	for _, tt := range tests {
		got, err := MeterMoisture(tt.reading, tt.at, DouglasFir)
		near(t, fmt.Sprintf("%v at %v", tt.reading, tt.at), got, err, tt.want, 0.0005)
	}
	// Another species only shifts and stretches the scale.
	got, err := MeterMoisture(15, 13, Species{A: 0.8, B: 2})
	near(t, "other species", got, err, (16.085-2)/0.8, 0.0007)
}

// A meter reads low in wood colder than at its calibration, near 22 °C, and high
// in warmer wood; a higher reading always means more moisture.
func TestMeterMonotone(t *testing.T) {
	for r := units.Percent(6); r < 30; r += 0.5 {
		last := units.Percent(100)
		for θ := units.Temperature(0); θ <= 40; θ++ {
			mc, err := MeterMoisture(r, θ, DouglasFir)
			more, err2 := MeterMoisture(r+0.5, θ, DouglasFir)
			if err != nil || err2 != nil || mc >= last || more <= mc {
				t.Fatalf("MeterMoisture(%v, %v) = %v, %v after %v; %v at +0.5", r, θ, mc, err, last, more)
			}
			last = mc
		}
		mc, err := MeterMoisture(r, 22.5, DouglasFir)
		near(t, "at calibration", mc, err, float64(r), 0.15)
	}
}

func TestRanges(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, v := range []float64{nan, inf, -inf, -1e9, 1e9, -1.2, 95.1} {
		_, e1 := EquilibriumMoisture(units.Temperature(v), 60)
		_, e2 := EquilibriumMoisture(13, units.RelativeHumidity(v))
		_, e3 := EquilibriumHumidity(units.Temperature(v), 12)
		_, e4 := EquilibriumHumidity(13, units.Percent(v))
		_, e5 := MeterMoisture(units.Percent(v), 13, DouglasFir)
		_, e6 := MeterMoisture(15, units.Temperature(v), DouglasFir)
		_, e7 := MeterMoisture(15, 13, Species{v, 0})
		_, e8 := MeterMoisture(15, 13, Species{1, v * 10})
		for i, err := range []error{e1, e2, e3, e4, e5, e6, e7, e8} {
			var e *humidair.RangeError
			if !errors.As(err, &e) {
				t.Errorf("call %d with %v: %v, want a range error", i+1, v, err)
			}
		}
	}
	if _, err := MeterMoisture(15, 13, Species{}); err == nil {
		t.Error("a species without constants gave a number")
	}
	if rh, err := EquilibriumHumidity(13, 25); err == nil || rh != 0 {
		t.Errorf("EquilibriumHumidity(13, 25) = %v, %v; want an error", rh, err)
	}
	if _, err := EquilibriumMoisture(celsius(30), 95); err != nil {
		t.Error(err)
	}
}

// A stud at 19 %, the most a building code allows at close-up, makes the air of
// a tight bay at 13 °C mold-damp; 15 % does not (humidities computed).
func ExampleEquilibriumHumidity() {
	for _, mc := range []units.Percent{15, 19} {
		rh, err := EquilibriumHumidity(13, mc)
		fmt.Printf("%v %%: %.1f %% RH %v\n", mc, rh, err)
	}
	// Output:
	// 15 %: 76.0 % RH <nil>
	// 19 %: 86.6 % RH <nil>
}

func TestNoAllocation(t *testing.T) {
	n := testing.AllocsPerRun(100, func() {
		EquilibriumMoisture(13, 60)
		EquilibriumHumidity(13, 15)
		MeterMoisture(15, 13, DouglasFir)
	})
	if n != 0 {
		t.Errorf("allocates %v times", n)
	}
}

func BenchmarkEquilibriumMoisture(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		EquilibriumMoisture(13, 60)
	}
}

func BenchmarkEquilibriumHumidity(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		EquilibriumHumidity(13, 15)
	}
}

func BenchmarkMeterMoisture(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		MeterMoisture(15, 13, DouglasFir)
	}
}

package racks

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/units"
)

// wall is a wall of single-depth racks 2.4 m high in a room of 3.0 by 2.5 m.
func wall() Racks {
	return Racks{PerMetre: 240, Bottle: Bottle, Rack: 38, Depth: 0.34, Length: 5.5, Floor: 7.5}
}

// The worked case by hand: 240 · 1.3 + 38 = 350 kg/m; 350/0.34 = 1029 kg/m²;
// 350 · 5.5/7.5 = 257 kg/m²; 1 kg/m² = 9.80665 Pa = 0.20482 psf (NIST SP 811).
// Tolerance: half the last printed digit.
func TestLoad(t *testing.T) {
	l, err := wall().Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name                 string
		got, want, tolerance float64
	}{
		{"per metre kg", float64(l.PerMetre), 350, 0.5},
		{"footprint kg/m²", float64(l.Footprint) / gravity, 1029, 0.5},
		{"footprint kPa", float64(l.Footprint) / 1000, 10.1, 0.05},
		{"footprint psf", float64(l.Footprint) / psf, 211, 0.5},
		{"average kg/m²", float64(l.Average) / gravity, 257, 0.5},
		{"average kPa", float64(l.Average) / 1000, 2.52, 0.005},
		{"average psf", float64(l.Average) / psf, 52.6, 0.05},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
}

// 40 psf is 1.915 kPa and 195 kg/m² (NIST SP 811).
func TestAllowance(t *testing.T) {
	living := Allowances()[0].Load
	if math.Abs(float64(living)-1915) > 0.5 || math.Abs(float64(living)/gravity-195) > 0.5 {
		t.Errorf("40 psf = %v Pa, want 1915 Pa, 195 kg/m²", living)
	}
	l, err := wall().Load()
	if err != nil {
		t.Fatal(err)
	}
	if ok, margin := l.Within(living); ok || margin >= 0 {
		t.Errorf("Within(40 psf) = %v, %v, want an overload", ok, margin)
	}
	if ok, margin := l.Within(l.Average); !ok || margin != 0 {
		t.Errorf("Within(its own load) = %v, %v, want true, 0", ok, margin)
	}
	if ok, _ := l.Within(units.Pressure(math.NaN())); ok {
		t.Error("Within(NaN) = true")
	}
}

func TestRefuses(t *testing.T) {
	for i, spoil := range []func(*Racks){
		func(r *Racks) { r.PerMetre = math.NaN() },
		func(r *Racks) { r.Bottle = 0 },
		func(r *Racks) { r.Rack = -1 },
		func(r *Racks) { r.Depth = 0 },
		func(r *Racks) { r.Length = units.Length(math.Inf(1)) },
		func(r *Racks) { r.Floor = 0 },
		func(r *Racks) { r.Floor = 1.5 },
	} {
		r := wall()
		spoil(&r)
		if l, err := r.Load(); err == nil {
			t.Errorf("case %d: %v, want an error", i, l.Average)
		}
	}
}

func ExampleRacks_Load() {
	l, err := wall().Load()
	if err != nil {
		panic(err)
	}
	for _, s := range l.Steps {
		fmt.Println(s.Name+":", s.Value)
	}
	// Output:
	// bottles per metre: 240 of 1.30 kg (2.87 lb)
	// load per metre: 350 kg/m (235 lb/ft)
	// all racks, full: 1925 kg (4244 lb)
	// under the racks: 10.10 kPa = 1029 kg/m² (210.8 psf)
	// averaged over the floor: 2.52 kPa = 257 kg/m² (52.6 psf)
}

func BenchmarkLoad(b *testing.B) {
	r := wall()
	for b.Loop() {
		if _, err := r.Load(); err != nil {
			b.Fatal(err)
		}
	}
}

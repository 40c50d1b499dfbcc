package cooling

import (
	"math"
	"strings"
	"testing"

	"proveout/checks/units"
)

// rated is 600 W at 13 °C in the room and 35 °C outdoors, slopes 0.041 and 0.0145 per
// kelvin, coil difference 8.5 K.
func rated() Rating {
	return Rating{Capacity: 600, Room: 13, Outdoor: 35, Difference: 8.5, Slopes: Slopes{0.041, 0.0145}}
}

func TestRatingSlopes(t *testing.T) {
	values := named(t, "bottles-and-slopes.csv")
	r := rated()
	warmer, err := r.At(14, 35)
	hotter, errHot := r.At(13, 36)
	if err != nil || errHot != nil {
		t.Fatal(err, errHot)
	}
	values["room slope %/K"].want("value", 100*float64(warmer/r.Capacity-1))
	values["outdoor slope %/K"].want("value", 100*float64(hotter/r.Capacity-1))
	r.Difference = 9
	perKelvin, err := r.PerKelvin()
	if err != nil {
		t.Fatal(err)
	}
	values["q1 of 600 W W/K"].want("value", float64(perKelvin))
}

// The correction is the balance of a compressor Q0·(1 + a·ΔT_evap − b·ΔT_cond) and a
// coil K·(T_r − T_evap): both give the same heat.
func TestRatingBalances(t *testing.T) {
	r := rated()
	k := float64(r.Capacity) / float64(r.Difference)
	for _, room := range []float64{8, 13, 20, 27} {
		for _, outdoor := range []float64{15, 35, 45} {
			q, err := r.At(units.Temperature(room), units.Temperature(outdoor))
			if err != nil {
				t.Fatal(err)
			}
			evaporating := room - float64(q)/k
			rise := evaporating - (13 - 8.5)
			compressor := 600 * (1 + 0.041*rise - 0.0145*(outdoor-35))
			if math.Abs(compressor-float64(q)) > 1e-9 {
				t.Errorf("At(%v, %v) = %v, compressor gives %v", room, outdoor, q, compressor)
			}
		}
	}
}

// A table written from the rating's straight line gives its slopes back.
func TestTableReturnsRating(t *testing.T) {
	r := rated()
	var points []RatedPoint
	for _, room := range []units.Temperature{10, 13, 18} {
		for _, outdoor := range []units.Temperature{25, 35, 43} {
			q, err := r.At(room, outdoor)
			if err != nil {
				t.Fatal(err)
			}
			points = append(points, RatedPoint{room, outdoor, q})
		}
	}
	table, err := NewTable(points)
	if err != nil {
		t.Fatal(err)
	}
	perKelvin, err := r.PerKelvin()
	if err != nil || math.Abs(float64(table.PerRoom-perKelvin)) > 1e-9 || table.Worst > 1e-9 {
		t.Errorf("slope %v, worst %v, want %v, 0", table.PerRoom, table.Worst, perKelvin)
	}
	want, err := r.At(15, 40)
	got, errTable := table.At(15, 40)
	if err != nil || errTable != nil || math.Abs(float64(got-want)) > 1e-9 {
		t.Errorf("At(15, 40) = %v, want %v (%v, %v)", got, want, err, errTable)
	}
	if q, err := table.At(15, 60); err == nil {
		t.Errorf("At(15, 60) = %v, want an error", q)
	}
}

func TestTableRefuses(t *testing.T) {
	for i, points := range [][]RatedPoint{
		nil,
		{{13, 35, 600}, {15, 35, 640}},
		{{13, 35, 600}, {15, 35, 640}, {17, 35, 680}},
		{{13, 35, 600}, {15, 35, 640}, {17, 40, units.Power(math.NaN())}},
		{{13, 35, 600}, {15, units.Temperature(math.Inf(1)), 640}, {17, 40, 600}},
	} {
		if table, err := NewTable(points); err == nil {
			t.Errorf("case %d: %+v, want an error", i, table)
		}
	}
}

func TestRefrigerantSlopes(t *testing.T) {
	// CoolProp at 4 and 45 °C (computed).
	if s, err := RefrigerantSlopes("R513A"); err != nil || s != (Slopes{0.0414, 0.0145}) {
		t.Errorf("RefrigerantSlopes(R513A) = %v, %v", s, err)
	}
	if s, err := RefrigerantSlopes("R12"); err == nil {
		t.Errorf("RefrigerantSlopes(R12) = %v, want an error", s)
	}
}

func TestRequired(t *testing.T) {
	l := Load{Sensible: 250, Latent: 50}
	// 1.10 · 300 · 24/18, by hand.
	if got, err := DefaultSizing.Required(l); err != nil || math.Abs(float64(got)-440) > 1e-9 {
		t.Errorf("Required = %v, %v, want 440", got, err)
	}
	if got, err := DefaultSizing.Required(Load{Sensible: -40}); err != nil || got != 0 {
		t.Errorf("Required of a gainless room = %v, %v, want 0", got, err)
	}
	for _, s := range []Sizing{{}, {0.9, 18}, {1.1, 0}, {1.1, 25}, {math.NaN(), 18}} {
		if got, err := s.Required(l); err == nil {
			t.Errorf("%+v: %v, want an error", s, got)
		}
	}
	if got, err := DefaultSizing.Required(Load{Sensible: units.Power(math.NaN())}); err == nil {
		t.Errorf("Required(NaN) = %v, want an error", got)
	}
}

func TestSelect(t *testing.T) {
	sized := func(name string, q units.Power) Unit {
		r := rated()
		r.Capacity = q
		return Unit{name, r}
	}
	choice := []Unit{sized("large", 900), sized("medium", 500), sized("small", 430)}
	l, at := Load{Sensible: 250, Latent: 50}, Condition{13, 35}
	j, err := DefaultSizing.Select(choice, l, at)
	if err != nil || j.Name != "medium" || math.Abs(j.Duty-0.6) > 1e-12 {
		t.Errorf("Select = %q, duty %v, %v, want medium, 0.6", j.Name, j.Duty, err)
	}
	small, err := DefaultSizing.Judge(choice[2], l, at)
	if err != nil || small.Enough {
		t.Errorf("430 W for 440 W: %v, %v, want not enough", small.Enough, err)
	}
	l.Sensible = 2000
	if j, err := DefaultSizing.Select(choice, l, at); err == nil || !strings.Contains(err.Error(), "900.0 W") {
		t.Errorf("Select = %q, %v, want an error naming the largest", j.Name, err)
	}
	if j, err := DefaultSizing.Select(choice, l, Condition{13, 70}); err == nil {
		t.Errorf("Select at 70 °C = %q, want an error", j.Name)
	}
}

func TestRatingRefuses(t *testing.T) {
	for i, spoil := range []func(*Rating){
		func(r *Rating) { r.Capacity = 0 },
		func(r *Rating) { r.Room = units.Temperature(math.NaN()) },
		func(r *Rating) { r.Difference = 0 },
		func(r *Rating) { r.Slopes = Slopes{} },
		func(r *Rating) { r.Outdoor = units.Temperature(math.Inf(1)) },
	} {
		r := rated()
		spoil(&r)
		if q, err := r.At(13, 35); err == nil {
			t.Errorf("case %d: %v, want an error", i, q)
		}
		if q, err := r.PerKelvin(); err == nil {
			t.Errorf("case %d: %v W/K, want an error", i, q)
		}
	}
	if q, err := rated().At(30, 35); err == nil {
		t.Errorf("17 K from the rating: %v, want an error", q)
	}
}

func BenchmarkSelect(b *testing.B) {
	r := rated()
	choice := []Unit{{"a", r}, {"b", r}, {"c", r}}
	l := Load{Sensible: 250, Latent: 50}
	for b.Loop() {
		if _, err := DefaultSizing.Select(choice, l, Condition{13, 35}); err != nil {
			b.Fatal(err)
		}
	}
}

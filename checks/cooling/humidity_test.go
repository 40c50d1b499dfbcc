package cooling

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

func TestSteadyHumidity(t *testing.T) {
	house := state(24, 50)
	for _, r := range table(t, "steady-humidity.csv") {
		coil := Coil{units.Temperature(r.number("adp")), units.Power(r.number("sensible"))}
		s, err := coil.SteadyHumidity(Moisture{Exchange: airflow.MassRate(r.number("M"))}, house, 13)
		if err != nil {
			t.Fatal(err)
		}
		r.want("R", coil.flow(13))
		r.want("W_r", 1000*float64(s.Ratio))
		r.want("rh", float64(s.Humidity))
		r.want("condensate", float64(s.Condensate.PerDay()))
		r.wantWithin("shr", s.SensibleHeat, 4e-5)
	}
}

// A room at 13 °C and 60 % (dew point 5.43 °C) has a sensible heat ratio of 0.814 with
// an apparatus dew point of 3 °C, 0.898 with 4.5 °C, 1 above its dew point (worked by
// hand).
func TestSensibleHeatRatio(t *testing.T) {
	for adp, want := range map[units.Temperature]float64{3: 0.814, 4.5: 0.898, 5.43: 1, 9: 1} {
		got, err := Coil{adp, 100}.SensibleHeatRatio(state(13, 60))
		if err != nil || math.Abs(got-want) > 0.0005 {
			t.Errorf("SensibleHeatRatio(%v) = %v, %v, want %v", adp, got, err, want)
		}
	}
}

// 60 % in the rebuilt room needs an apparatus dew point of 4.74 °C; a perfectly tight
// room one of 5.425 °C, the dew point of its own air (worked by hand).
func TestDewPointFor(t *testing.T) {
	for _, tt := range []struct {
		exchange airflow.MassRate
		want     float64
	}{{0.00283, 4.74}, {1e-7, 5.425}} {
		got, err := Coil{Sensible: 335}.DewPointFor(Moisture{Exchange: tt.exchange}, state(24, 50), 13, 60)
		if err != nil || math.Abs(float64(got)-tt.want) > 0.005 {
			t.Errorf("DewPointFor with %v kg/s = %v, %v, want %v", tt.exchange, got, err, tt.want)
		}
	}
	if got, err := (Coil{Sensible: 335}).DewPointFor(Moisture{Exchange: 0.00283}, state(21, 20), 13, 60); err == nil {
		t.Errorf("dry house: %v, want an error", got)
	}
	if got, err := (Coil{Sensible: 20}).DewPointFor(Moisture{Exchange: 0.5}, state(24, 50), 13, 60); err == nil {
		t.Errorf("wide open: %v, want an error", got)
	}
}

// A house of 21 °C and 20 % leaves the rebuilt room at 33 % with a dry coil; 60 % needs
// 1.80 kg a day at 4.5 °C, 0.61 at 6 °C (worked by hand, M of 0.00283 kg/s, 335 W).
func TestHumidification(t *testing.T) {
	house, m := state(21, 20), Moisture{Exchange: 0.00283}
	s, err := Coil{4.5, 335}.SteadyHumidity(m, house, 13)
	if err != nil || s.Wet || s.Condensate != 0 || math.Abs(float64(s.Humidity)-33) > 0.5 {
		t.Errorf("dry house: %+v, %v, want a dry coil and 33 %%", s, err)
	}
	for adp, want := range map[units.Temperature]float64{4.5: 1.80, 6: 0.61} {
		got, err := Coil{adp, 335}.Humidification(m, house, 13, 60)
		if err != nil || math.Abs(float64(got.PerDay())-want) > 0.005 {
			t.Errorf("Humidification at %v = %v kg/day, %v, want %v", adp, got.PerDay(), err, want)
		}
	}
	if got, err := (Coil{8, 335}).Humidification(m, state(24, 50), 13, 60); err != nil || got != 0 {
		t.Errorf("humid house: %v, %v, want 0", got, err)
	}
}

// The water that humidification adds, set free inside, holds the target.
func TestHumidificationReturns(t *testing.T) {
	house := state(21, 20)
	for _, adp := range []units.Temperature{2, 4.5, 5.4, 6, 9} {
		coil, m := Coil{adp, 335}, Moisture{Exchange: 0.00283}
		water, err := coil.Humidification(m, house, 13, 60)
		if err != nil {
			t.Fatal(err)
		}
		m.Inside = water
		s, err := coil.SteadyHumidity(m, house, 13)
		if err != nil || math.Abs(float64(s.Humidity)-60) > 1e-9 {
			t.Errorf("coil at %v with %v kg/s: %v %%, %v, want 60", adp, water, s.Humidity, err)
		}
	}
}

// Tight rooms go to the coil's humidity, open ones to the house's; water is conserved.
func TestSteadyLimits(t *testing.T) {
	house := state(24, 50)
	open, err := Coil{4.5, 335}.SteadyHumidity(Moisture{Exchange: 5}, house, 13)
	if err != nil || math.Abs(float64(open.Ratio/house.Ratio)-1) > 0.01 {
		t.Errorf("wide open: %v, %v, want about %v", open.Ratio, err, house.Ratio)
	}
	for _, m := range []airflow.MassRate{1e-4, 1e-3, 0.01, 0.1} {
		s, err := Coil{4.5, 335}.SteadyHumidity(Moisture{m, 2e-6}, house, 13)
		in := m*airflow.MassRate(house.Ratio-s.Ratio) + 2e-6
		if err != nil || math.Abs(float64(in-s.Condensate)) > 1e-12 {
			t.Errorf("M %v: %v in, %v drained, %v", m, in, s.Condensate, err)
		}
	}
	damp, err := Coil{12.5, 10}.SteadyHumidity(Moisture{0.01, 1e-4}, house, 13)
	if err != nil || damp.Humidity != 100 {
		t.Errorf("flooded room: %v %%, %v, want 100", damp.Humidity, err)
	}
}

// 5 perm of 57.2e-12 kg/(s·m²·Pa) over 54.4 m²: the worked broken room's M of 0.01623
// less 1.5 air changes of 28.08 m³.
func TestDiffusionExchange(t *testing.T) {
	got := DiffusionExchange(5*57.2e-12, 54.4, seaLevel)
	house := state(24, 50)
	leak := house.Entering(1.5 * 28.08 / 3600)
	if math.Abs(float64(got+leak)-0.01623) > 0.000005 {
		t.Errorf("M = %v + %v, want 0.01623", leak, got)
	}
	// The same water as the vapor pressures give, but for terms in W.
	f := Face{Area: 54.4, Transmittance: 1, Permeance: 5 * 57.2e-12}
	room := state(13, 60)
	c, err := f.Diffusion(house.Air, room.Air)
	if ratio := float64(got) * float64(house.Ratio-room.Ratio) / float64(c.Water); err != nil || math.Abs(ratio-1) > 0.03 {
		t.Errorf("ratio to the diffusion by pressures %v, %v", ratio, err)
	}
}

func TestHumidityRefuses(t *testing.T) {
	nan := math.NaN()
	house := state(24, 50)
	for i, tt := range []struct {
		coil Coil
		m    Moisture
		room units.Temperature
	}{
		{Coil{13, 335}, Moisture{Exchange: 0.003}, 13},
		{Coil{units.Temperature(nan), 335}, Moisture{Exchange: 0.003}, 13},
		{Coil{4.5, 0}, Moisture{Exchange: 0.003}, 13},
		{Coil{4.5, 335}, Moisture{}, 13},
		{Coil{4.5, 335}, Moisture{airflow.MassRate(nan), 0}, 13},
		{Coil{4.5, 335}, Moisture{0.003, -1}, 13},
		{Coil{4.5, 335}, Moisture{Exchange: 0.003}, units.Temperature(nan)},
	} {
		if s, err := tt.coil.SteadyHumidity(tt.m, house, tt.room); err == nil {
			t.Errorf("case %d: %v %%, want an error", i, s.Humidity)
		}
		if w, err := tt.coil.Humidification(tt.m, house, tt.room, 60); err == nil {
			t.Errorf("case %d: %v kg/s, want an error", i, w)
		}
	}
}

func ExampleCoil_SteadyHumidity() {
	// A tight room at 13 °C in a house of 24 °C and 50 %, coil at 4.5 °C.
	s, err := Coil{DewPoint: 4.5, Sensible: 335}.SteadyHumidity(Moisture{Exchange: 0.00283}, state(24, 50), 13)
	fmt.Printf("%.1f %% RH, %.2f kg of condensate a day %v\n", s.Humidity, s.Condensate.PerDay(), err)
	// Output: 59.2 % RH, 0.93 kg of condensate a day <nil>
}

func BenchmarkSteadyHumidity(b *testing.B) {
	house := state(24, 50)
	for b.Loop() {
		if _, err := (Coil{4.5, 335}).SteadyHumidity(Moisture{Exchange: 0.00283}, house, 13); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkDewPointFor(b *testing.B) {
	house := state(24, 50)
	for b.Loop() {
		if _, err := (Coil{Sensible: 335}).DewPointFor(Moisture{Exchange: 0.00283}, house, 13, 60); err != nil {
			b.Fatal(err)
		}
	}
}

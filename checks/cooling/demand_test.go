package cooling

import (
	"math"
	"testing"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// By hand: walls of 3.6 W/K to the house, 2.8 W/K outdoors with a sun allowance of 4 K,
// a lid of 2.16 W/K to an attic; a fan of 10 W. At 24, 29 and 52 °C around a room of 13
// °C: 39.6 + 56 + 84.24 + 10 = 189.84 W, and 2.8 W more for each kelvin outdoors.
func TestDemandByHand(t *testing.T) {
	room := Room{
		Air: airflow.Air{Temperature: 13, Humidity: 60, Pressure: 101325},
		Faces: []Face{
			{Name: "wall", Area: 12, Transmittance: 0.3, Side: "house"},
			{Name: "outside wall", Area: 8, Transmittance: 0.35, Side: "outdoors", Sun: 4},
			{Name: "lid", Area: 10.8, Transmittance: 0.2, Side: "attic"},
		},
		Appliances: []Appliance{{Name: "fan", Power: 10, Hours: 24}},
	}
	sides := Sides{}
	for name, temperature := range map[string]float64{"house": 24, "outdoors": 29, "attic": 52} {
		sides[name] = airflow.Air{Temperature: units.Temperature(temperature), Humidity: 40, Pressure: 101325}
	}
	d, err := room.Demand(sides, "outdoors", "house")
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(d.Outdoors); math.Abs(got-2.8) > 1e-6 {
		t.Errorf("UA outdoors %v, want 2.8", got)
	}
	for outdoor, want := range map[float64]float64{29: 189.84, 35: 189.84 + 6*2.8, 9: 189.84 - 20*2.8} {
		if got := float64(d.At(units.Temperature(outdoor))); math.Abs(got-want) > 1e-4 {
			t.Errorf("at %v °C: %v W, want %v", outdoor, got, want)
		}
	}
	delete(sides, "outdoors")
	room.Faces = room.Faces[:1]
	d, err = room.Demand(sides, "outdoors", "house")
	if err != nil || d.Outdoors != 0 || math.Abs(float64(d.At(-20))-49.6) > 1e-9 {
		t.Errorf("nothing outdoors: %+v, %v, want 49.6 W whatever the weather", d, err)
	}
	if _, err := room.Demand(sides, "outdoors", "barn"); err == nil {
		t.Error("a house that is not there passed")
	}
	if _, err := (Room{}).Demand(sides, "outdoors", "house"); err == nil {
		t.Error("a room without faces passed")
	}
}

// T_c = max(T_o + 12 K, 30 °C), as Efficiency condenses: below 18 °C nothing changes.
func TestHeld(t *testing.T) {
	rating := Rating{Capacity: 600, Room: 13, Outdoor: 33, Difference: 8.5, Slopes: Slopes{0.0421, 0.0131}}
	held := Held{rating}
	at := func(c Capacity, outdoor units.Temperature) float64 {
		q, err := c.At(13, outdoor)
		if err != nil {
			t.Fatal(err)
		}
		return float64(q)
	}
	if at(held, -20) != at(rating, 18) || at(held, 35) != at(rating, 35) {
		t.Errorf("held: %v at −20 °C, %v at 35 °C; want %v, %v", at(held, -20), at(held, 35), at(rating, 18), at(rating, 35))
	}
	if (Efficiency{}).Condensing(18) != 30 {
		t.Error("the condenser of Efficiency is held at another temperature")
	}
}

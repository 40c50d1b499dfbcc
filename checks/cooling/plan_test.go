package cooling

import (
	"math"
	"testing"

	"proveout/checks/airflow"
)

// 15 m³ of air at 24 °C and 50 % weigh 17.6 kg dry and take about 18 kJ/K: ρ·V·c by
// hand, 17.557 kg · (1006 + 1860 · 0.0092985) J/(kg·K).
func TestAirHeat(t *testing.T) {
	if got := float64(AirHeat(15, state(24, 50))); math.Abs(got-17966) > 2 {
		t.Errorf("AirHeat = %v, want 17966 J/K", got)
	}
}

// A room of 14 W/K to a house of 24 °C with 60 W inside and 800 bottles is the worked
// cellar, whether put together by hand or from its load.
func TestPullDownFromLoad(t *testing.T) {
	room := Room{
		Air:        airflow.Air{Temperature: 13, Humidity: 60, Pressure: seaLevel},
		Faces:      []Face{{Name: "all", Area: 50, Transmittance: 0.28, Side: "house"}},
		Appliances: []Appliance{{"fan and lights", 60, 24}},
	}
	l, err := room.Load(Sides{"house": {Temperature: 24, Humidity: 50, Pressure: seaLevel}})
	if err != nil {
		t.Fatal(err)
	}
	rating := Rating{Capacity: 600, Room: 13, Outdoor: 35, Difference: 9, Slopes: Slopes{0.041, 0.0145}}
	contents := Contents{Bottle: StandardBottle, Count: 800, Film: 6, Exposed: 0.6, Light: 15*1.21*1006 + 420e3}
	p, err := l.PullDown(contents, rating, 35, 24)
	if err != nil {
		t.Fatal(err)
	}
	got, err := p.Course()
	want, errWant := cellar(t, 600).Course()
	if err != nil || errWant != nil {
		t.Fatal(err, errWant)
	}
	a, _ := got.BottleTime(14)
	b, _ := want.BottleTime(14)
	if math.Abs(float64(got.Stall-want.Stall)) > 1e-9 || (a-b).Abs() > 1e6 {
		t.Errorf("stall %v, bottles after %v, want %v, %v", got.Stall, a, want.Stall, b)
	}
	contents.Count = 0
	if p, err := l.PullDown(contents, rating, 35, 24); err == nil {
		t.Errorf("no bottles: %+v, want an error", p)
	}
}

package checks

import (
	"math"
	"testing"

	"proveout/checks/units"
)

// Dew points of ASHRAE Fundamentals 2017 ch. 1: air of 24 °C and 50 % RH 12.946 °C,
// of 24 °C and 60 % 15.763 °C, of 13 °C and 60 % 5.425 °C (computed with
// psychrolib, a general-purpose reference library, at sea level). Tolerance:
// half the last printed digit and 0.001 K, the library's own.
func TestSurfaceDewPoint(t *testing.T) {
	q := computing(SurfaceDewPoint)
	q.Limits = limits("at least", bound(t, units.TemperatureDifferenceKind, "3 K"))
	for _, tt := range []struct {
		air, humidity, surface string
		margin                 float64
		want                   Outcome
	}{
		{"24 °C", "50 %", "15.95 °C", 3.004, Pass},
		{"24 °C", "50 %", "15.94 °C", 2.994, Fail},
		{"24 °C", "60 %", "18.77 °C", 3.007, Pass},
		{"24 °C", "60 %", "15 °C", -0.763, Fail},
		{"13 °C", "60 %", "8.5 °C", 3.075, Pass},
		{"75.2 °F", "50 %", "60.71 °F", 3.004, Pass},
		{"75.2 °F", "50 %", "60.69 °F", 2.993, Fail},
	} {
		values := map[string]string{"air temperature": tt.air, "air humidity": tt.humidity, "surface temperature": tt.surface}
		v := judge(cellar(t), q, with(t, SurfaceDewPoint, "point 1", values))
		if got := v.Points[0].Quantity.Base(); v.Outcome != tt.want || math.Abs(got-tt.margin) > 0.0015 {
			t.Errorf("%v: %v with %.4f K, want %v with %v", values, v.Outcome, got, tt.want, tt.margin)
		}
	}
	dry := map[string]string{"air temperature": "24 °C", "air humidity": "0 %", "surface temperature": "20 °C"}
	wantVerdict(t, judge(cellar(t), q, with(t, SurfaceDewPoint, "point 1", dry)), Undecided, "")
	hot := change(dry, "air humidity", "50 %", "air temperature", "400 °C")
	wantVerdict(t, judge(cellar(t), q, with(t, SurfaceDewPoint, "point 1", hot)), Undecided, "")
}

// seasons gives the house beyond the wall a summer and a winter.
func seasons(t testing.TB, summer, winter [2]string) *Room {
	room := walled(t, "house")
	space := func(season string, air [2]string) Space {
		return Space{Name: "house", Season: season, Temperature: quantity(t, units.TemperatureKind, air[0]), Humidity: quantity(t, units.HumidityKind, air[1])}
	}
	room.Spaces = []Space{space("summer", summer), space("winter", winter)}
	room.SetPoint, room.HighHumidity = quantity(t, units.TemperatureKind, "13 °C"), quantity(t, units.HumidityKind, "60 %")
	return room
}

// The vapor comes from the house: air of 25 °C and 60 % carries 1901 Pa, the
// room of 13 °C and 60 % 899 Pa, and 80 % of saturation at 13 °C is 1198 Pa
// (ASHRAE Fundamentals 2017 ch. 1, computed). Cold-storage practice puts the
// retarder on the warm side (quoted); a film on the room side traps it.
func TestRetarderSide(t *testing.T) {
	q := computing(RetarderSide)
	q.Sampling = Sampling{PerFace: 1, Faces: []string{"wall"}}
	humid, dry, cold := [2]string{"25 °C", "60 %"}, [2]string{"21 °C", "35 %"}, [2]string{"-5 °C", "80 %"}
	for _, tt := range []struct {
		name   string
		room   *Room
		answer string
		want   Outcome
		says   string
	}{
		{"on the warm side", seasons(t, humid, humid), "other side", Pass, ""},
		{"on the cold side", seasons(t, humid, humid), "room side", Fail, "it is on the room side of the insulation, but the vapor comes from the other side"},
		{"dry in winter", seasons(t, humid, dry), "other side", Pass, ""},
		{"dry all year", seasons(t, dry, dry), "room side", Pass, ""},
		{"out in winter, in in summer", seasons(t, humid, cold), "other side", Undecided, "the drive reverses"},
		{"out in winter, in in summer, the other way", seasons(t, humid, cold), "room side", Undecided, "the drive reverses"},
		{"no such side", seasons(t, humid, humid), "both", Undecided, "an answer, one of: other side, room side"},
	} {
		t.Run(tt.name, func(t *testing.T) { wantVerdict(t, judge(tt.room, q, answered("wall", tt.answer)), tt.want, tt.says) })
	}
}

// What is given for one season is not taken for another, and a season's own
// figures beat those of the whole year wherever they stand.
func TestRetarderSideSeasons(t *testing.T) {
	q := computing(RetarderSide)
	q.Sampling = Sampling{PerFace: 1, Faces: []string{"wall"}}
	humid, dry := [2]string{"25 °C", "60 %"}, [2]string{"21 °C", "35 %"}
	room := seasons(t, humid, dry)
	room.Spaces = room.Spaces[:1]
	wantVerdict(t, judge(room, q, answered("wall", "other side")), Undecided, "no design conditions for house in winter")
	room = seasons(t, dry, humid)
	room.Spaces[0].Season = "" // the year is dry, the winter humid
	wantVerdict(t, judge(room, q, answered("wall", "room side")), Fail, "it is on the room side")
	room.Spaces[0].Humidity = units.Quantity{}
	wantVerdict(t, judge(room, q, answered("wall", "other side")), Undecided, "no temperature and humidity")
	room.Faces = nil
	q.Sampling = Sampling{}
	wantVerdict(t, judge(room, q, answered("wall", "other side")), Undecided, `no face "wall"`)
}

// 120 V, 12 A, 100 ft of uncoated solid copper at 75 °C: 2·L·r·I/U with the
// resistances of NEC Chapter 9 Table 8 (read in a copy) loses 6.14 % in 14 AWG,
// 3.86 % in 12, 2.42 % in 10 and 1.53 % in 8 (worked by hand). Tolerance: half
// the last printed digit.
func TestVoltageDrop(t *testing.T) {
	q := computing(VoltageDrop)
	q.Limits = limits("at most", bound(t, units.PercentKind, "3 %"))
	for size, want := range map[string]float64{"14 AWG": 6.14, "12 AWG": 3.86, "#10 AWG": 2.42, "8 awg": 1.53} {
		for _, length := range []string{"100 ft", "30.48 m"} {
			values := map[string]string{"voltage": "120 V", "current": "12 A", "length": length, "wire size": size}
			v := judge(cellar(t), q, with(t, VoltageDrop, "point 1", values))
			if got := v.Points[0].Quantity.Base(); math.Abs(got-want) > 0.005 || (v.Outcome == Pass) != (want <= 3) {
				t.Errorf("%s, %s: %v with %.4f %%, want %v", size, length, v.Outcome, got, want)
			}
		}
	}
	odd := map[string]string{"voltage": "120 V", "current": "12 A", "length": "100 ft", "wire size": "11 AWG"}
	wantVerdict(t, judge(cellar(t), q, with(t, VoltageDrop, "point 1", odd)), Undecided, "not in the tables")
	wantVerdict(t, judge(cellar(t), q, with(t, VoltageDrop, "point 1", change(odd, "wire size", "12 AWG", "voltage", "0 V"))), Undecided, "")
}

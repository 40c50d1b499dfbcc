package cooling

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

const (
	foot = 0.3048
	btu  = 1055.056               // J, NIST SP 811
	ip   = btu / 3600             // W in 1 Btu/h
	ipU  = ip * 1.8 / foot / foot // W/(m²·K) in 1 Btu/(h·ft²·°F)
)

func TestWelchTransmission(t *testing.T) {
	total := 0.0
	for _, r := range table(t, "welch-freezer-transmission.csv") {
		f := Face{Area: units.Area(r.number("area") * foot * foot), Transmittance: units.Transmittance(r.number("U") * ipU)}
		got := float64(f.Gain(units.Temperature(r.number("difference")/1.8), 0)) / ip * 24
		r.wantWithin("btu_per_day", got, 1e-6*got)
		total += got
		if r.fields["face"] == "east wall" {
			total += got // the west wall is like it
		}
	}
	// The sheet's total: 8,079 kBtu/day, 28.05 tons of 12,000 Btu/h.
	if math.Abs(total/1000-8079) > 0.5 || math.Abs(total/24/12000-28.05) > 0.005 {
		t.Errorf("total = %v Btu/day, want 8079 kBtu/day, 28.05 ton", total)
	}
}

func TestTutorialTransmission(t *testing.T) {
	for _, r := range table(t, "cold-room-tutorial-transmission.csv") {
		f := Face{Area: units.Area(r.number("area")), Transmittance: units.Transmittance(r.number("U"))}
		q := f.Gain(units.Temperature(r.number("outside")), units.Temperature(r.number("room")))
		r.wantWithin("kwh_per_day", float64(q)*24/1000, 1e-9)
	}
}

// The UA-weighted temperature and the sum over faces are one and the same heat.
func TestTransmitAgrees(t *testing.T) {
	faces := []Face{
		{Name: "wall", Area: 12, Transmittance: 0.3},
		{Name: "outside wall", Area: 8, Transmittance: 0.35, Sun: 4},
		{Name: "lid", Area: 10.8, Transmittance: 0.2},
	}
	tr, err := Transmit(faces, []units.Temperature{24, 33, 52}, 13)
	if err != nil {
		t.Fatal(err)
	}
	// 3.6·11 + 2.8·24 + 2.16·39, by hand.
	if want := 191.04; math.Abs(float64(tr.Total)-want) > 1e-9 {
		t.Errorf("total %v, want %v", tr.Total, want)
	}
	if other := float64(tr.Conductance) * float64(tr.Adjacent.Sub(13)); math.Abs(other-float64(tr.Total)) > 1e-9 {
		t.Errorf("UA·ΔT = %v, sum = %v", other, tr.Total)
	}
}

// ASHRAE Refrigeration ch. 24, table 3, inch-pound column of light surfaces and of a
// dark flat roof: 4, 2, 4 and 20 °F (read in J. K. Welch's sheet). The SI column is
// rounded to whole kelvins: half of one is 0.9 °F.
func TestSunAllowance(t *testing.T) {
	for s, want := range map[Surface]float64{
		{"light", "east"}: 4, {"light", "south"}: 2, {"light", "west"}: 4, {"dark", "roof"}: 20, {"dark", "north"}: 0,
	} {
		got, err := SunAllowance(s)
		if err != nil || math.Abs(float64(got)*1.8-want) > 1.8 {
			t.Errorf("SunAllowance(%v) = %v K, %v, want %v °F", s, got, err, want)
		}
	}
	for _, s := range []Surface{{"blue", "east"}, {"dark", "up"}} {
		if got, err := SunAllowance(s); err == nil {
			t.Errorf("SunAllowance(%v) = %v, want an error", s, got)
		}
	}
}

// T_o + 0.052·800 − 4 at 33 °C, by hand.
func TestSolAir(t *testing.T) {
	if got, err := SolAir(33, 800, true, true); err != nil || math.Abs(float64(got)-70.6) > 1e-9 {
		t.Errorf("SolAir = %v, %v, want 70.6", got, err)
	}
	if got, err := SolAir(33, math.NaN(), true, true); err == nil {
		t.Errorf("SolAir(NaN) = %v, want an error", got)
	}
}

func TestOpenDoor(t *testing.T) {
	for _, r := range table(t, "gosney-olama-doors.csv") {
		outside := state(units.Temperature(r.number("t_i")), units.RelativeHumidity(r.number("rh_i")))
		room := state(units.Temperature(r.number("t_r")), units.RelativeHumidity(r.number("rh_r")))
		r.wantWithin("rho_i", float64(outside.Density), 1e-6*float64(outside.Density))
		r.wantWithin("rho_r", float64(room.Density), 1e-6*float64(room.Density))
		r.want("F_m", densityFactor(float64(outside.Density/room.Density)))
		c, err := Doorway{units.Area(r.number("area")), units.Length(r.number("height"))}.Established(outside, room)
		if err != nil {
			t.Fatal(err)
		}
		r.want("q", float64(c.Total())/1000)
		r.want("sensible", float64(c.Sensible)/1000)
		r.want("latent", float64(c.Latent)/1000)
	}
}

// In inch-pound units q = 795.6·A·(h_i − h_r)·ρ_r·√(1 − ρ_i/ρ_r)·√(g·H)·F_m with
// g = 32.174 ft/s² (constant from memory) gives 28,282 Btu/h for the first door.
func TestOpenDoorInchPound(t *testing.T) {
	c, err := Doorway{1.70, 2.0}.Established(state(24, 50), state(13, 60))
	if got := float64(c.Total()) / ip; err != nil || math.Abs(got/28282-1) > 1e-4 {
		t.Errorf("open door = %v Btu/h, %v, want 28282", got, err)
	}
}

// usual is 20 passages of 15 s and 5 min standing open in a day.
var usual = DoorUse{Passages: 20, PerPassage: 15 * time.Second, Standing: 5 * time.Minute, Period: 24 * time.Hour}

func TestDoorAverage(t *testing.T) {
	values := named(t, "bottles-and-slopes.csv")
	share, err := usual.Share()
	if err != nil {
		t.Fatal(err)
	}
	values["door open share"].want("value", share)
	door := Doorway{1.70, 2.0}
	house, room := state(24, 50), state(13, 60)
	c, err := door.Average(usual, house, room)
	if err != nil {
		t.Fatal(err)
	}
	values["door average 1.1 W"].want("value", float64(c.Total()))
	values["door average 0.8 W"].want("value", float64(c.Total())*0.8/1.1)
	for difference, want := range map[units.TemperatureDifference]float64{11: 1.1, 11.0000000001: 1.1, 11.01: 0.8, -12: 0.8, 5: 1.1} {
		if got := FlowFactor(difference); got != want {
			t.Errorf("FlowFactor(%v) = %v, want %v", difference, got, want)
		}
	}
}

// An adjoining space colder than the room takes heat out by the same law.
func TestOpenDoorReverses(t *testing.T) {
	a, b := state(24, 50), state(13, 60)
	in, err := Doorway{1.7, 2}.Established(a, b)
	out, errOut := Doorway{1.7, 2}.Established(b, a)
	if err != nil || errOut != nil || math.Abs(float64(in.DryAir/out.DryAir)-1) > 1e-12 || out.Sensible >= 0 || out.Water >= 0 {
		t.Errorf("warm into cold %+v, cold into warm %+v, %v, %v", in, out, err, errOut)
	}
}

func TestTrafficAirChange(t *testing.T) {
	for _, r := range table(t, "usage-air-change.csv") {
		got, err := TrafficAirChange(units.Volume(r.number("volume") * foot * foot * foot))
		if err != nil || math.Abs(got/r.number("changes")-1) > 0.0195 {
			t.Errorf("TrafficAirChange(%v ft³) = %v, %v, want %v", r.fields["volume"], got, err, r.fields["changes"])
		}
	}
	if got, err := TrafficAirChange(28); err != nil || math.Abs(got-17.7) > 0.05 {
		t.Errorf("TrafficAirChange(28 m³) = %v, %v, want 17.7", got, err)
	}
}

// 0.3 air changes an hour of 28.08 m³ from 24 °C and 50 %: 56.65 W, 30.62 W of it
// sensible, 36.8 g/h of water (worked by hand).
func TestLeakWorkedCase(t *testing.T) {
	flow, err := airflow.AirChange(0.3, 28.08)
	if err != nil {
		t.Fatal(err)
	}
	house := state(24, 50)
	c, err := airflow.Exchange(house.Entering(flow), house, state(13, 60))
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct {
		name                 string
		got, want, tolerance float64
	}{
		{"total W", float64(c.Total()), 56.65, 0.005},
		{"sensible W", float64(c.Sensible), 30.62, 0.005},
		{"latent W", float64(c.Latent), 26.0, 0.05},
		{"water g/h", float64(c.Water) * 3.6e6, 36.8, 0.05},
	} {
		if math.Abs(tt.got-tt.want) > tt.tolerance {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
}

// small is a room whose load can be added up by hand.
func small() (Room, Sides) {
	return Room{
			Air: airflow.Air{Temperature: 13, Humidity: 60, Pressure: seaLevel},
			Faces: []Face{
				{Name: "north wall", Area: 10, Transmittance: 0.3, Side: "house", Permeance: 1e-11},
				{Name: "lid", Area: 9, Transmittance: 0.2, Side: "attic"},
			},
			Doors:      []Door{{Name: "door", Doorway: Doorway{1.70, 2.0}, DoorUse: usual, Side: "house"}},
			Leaks:      []Leak{{Name: "leakage", Flow: units.Airflow(0.3 * 28.08 / 3600), Side: "house"}},
			Restock:    Restock{Bottle: StandardBottle, Count: 12, Arriving: 24, Over: 24 * time.Hour},
			Appliances: []Appliance{{"fan", 30, 18}, {"lights", 40, 1.5}},
			People:     1, PeopleFor: 0.5,
		}, Sides{
			"house": {Temperature: 24, Humidity: 50, Pressure: seaLevel},
			"attic": {Temperature: 50, Humidity: 15, Pressure: seaLevel},
		}
}

func TestLoad(t *testing.T) {
	room, sides := small()
	l, err := room.Load(sides)
	if err != nil {
		t.Fatal(err)
	}
	// Worked by hand: U·A·ΔT, the doors and leaks of the cases above, 1e-11·10·(1492.57
	// − 898.69) Pa of vapor, 12·3538.5·11/86400, 30·18/24, 40·1.5/24, (272 − 78)/48.
	want := map[string]float64{
		"north wall": 33, "lid": 66.6, "vapor through the faces": 0.151, "door": 63.32, "leakage": 56.65,
		"bottles brought in": 5.41, "fan": 22.5, "lights": 2.5, "people": 4.04,
	}
	for _, i := range l.Items {
		got := float64(i.Sensible + i.Latent)
		if w, ok := want[i.Name]; !ok || math.Abs(got-w) > 0.0051 {
			t.Errorf("%s = %v W (%s), want %v", i.Name, got, i.Basis, w)
		}
		delete(want, i.Name)
	}
	if len(want) > 0 {
		t.Errorf("not in the load: %v", want)
	}
	if len(l.Steps()) != len(l.Items)+4 {
		t.Errorf("%d steps for %d items", len(l.Steps()), len(l.Items))
	}
}

// A leak given as an opening is the flow that the opening passes by itself.
func TestLoadOpening(t *testing.T) {
	room, sides := small()
	gap := airflow.Gap{Low: 0.0054, High: 0.0054, Height: 2.1, Discharge: airflow.SharpEdged}
	leak, err := gap.Leak(state(24, 50), state(13, 60))
	if err != nil {
		t.Fatal(err)
	}
	room.Leaks = []Leak{{Name: "gap", Side: "house", Opening: gap}, {Name: "the same", Side: "house", Flow: leak.Flow}}
	l, err := room.Load(sides)
	if err != nil {
		t.Fatal(err)
	}
	var found []units.Power
	for _, i := range l.Items {
		if i.Name == "gap" || i.Name == "the same" {
			found = append(found, i.Sensible+i.Latent)
		}
	}
	if len(found) != 2 || math.Abs(float64(found[0]-found[1])) > 1e-9 || math.Abs(float64(found[0]-leak.Carried.Total())) > 1e-9 {
		t.Errorf("gap and flow bring %v W, want %v each", found, leak.Carried.Total())
	}
	room.Leaks[0].Flow = 0.001
	if l, err := room.Load(sides); err == nil {
		t.Errorf("a leak with flow and opening: %v W, want an error", l.Total())
	}
}

// The three numbers of the coupling give the load back.
func TestCouplingAgrees(t *testing.T) {
	room, sides := small()
	l, err := room.Load(sides)
	if err != nil {
		t.Fatal(err)
	}
	ua, source, inside := l.Coupling()
	got := float64(ua)*float64(source.Sub(room.Air.Temperature)) + float64(inside)
	if math.Abs(got-float64(l.Total())) > 1e-9 {
		t.Errorf("coupling gives %v W, load %v W", got, l.Total())
	}
}

func TestLoadRefuses(t *testing.T) {
	for i, tt := range []struct {
		spoil func(*Room, Sides)
		want  string
	}{
		{func(r *Room, _ Sides) { r.Faces = nil }, "no faces"},
		{func(r *Room, _ Sides) { r.Faces[1].Side = "atic" }, `side "atic" has no conditions`},
		{func(r *Room, _ Sides) { r.Faces[0].Area = units.Area(math.NaN()) }, "north wall"},
		{func(r *Room, _ Sides) { r.Faces[0].Transmittance = 0 }, "transmittance"},
		{func(r *Room, _ Sides) { r.Doors[0].Side = "" }, `door "door"`},
		{func(r *Room, _ Sides) { r.Doors[0].Protection = 2 }, "protection"},
		{func(r *Room, _ Sides) { r.Leaks[0].Flow = units.Airflow(math.Inf(1)) }, "leakage"},
		{func(r *Room, _ Sides) { r.Restock.Arriving = units.Temperature(math.NaN()) }, "arriving"},
		{func(r *Room, _ Sides) { r.Appliances[0].Hours = 25 }, "fan"},
		{func(r *Room, _ Sides) { r.PeopleFor = -1 }, "people"},
		{func(r *Room, _ Sides) { r.Air.Humidity = 140 }, "room"},
		{func(_ *Room, s Sides) { s["house"] = airflow.Air{Temperature: units.Temperature(math.NaN())} }, "house"},
	} {
		room, sides := small()
		tt.spoil(&room, sides)
		if l, err := room.Load(sides); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("case %d: %v, %v, want an error with %q", i, l.Total(), err, tt.want)
		}
	}
}

func TestMonths(t *testing.T) {
	room, sides := small()
	var year [12]Sides
	for i := range year {
		attic := sides["attic"]
		attic.Temperature = units.Temperature(10 + 3*i)
		year[i] = Sides{"house": sides["house"], "attic": attic}
	}
	loads, err := room.Months(year)
	if err != nil {
		t.Fatal(err)
	}
	for i := 1; i < 12; i++ {
		// The lid alone follows the attic: 9 · 0.2 · 3 K.
		if d := float64(loads[i].Total() - loads[i-1].Total()); math.Abs(d-5.4) > 1e-9 {
			t.Errorf("month %d: %v W more than before, want 5.4", i+1, d)
		}
	}
	delete(year[6], "attic")
	if _, err := room.Months(year); err == nil || !strings.Contains(err.Error(), "July") {
		t.Errorf("Months without an attic in July: %v", err)
	}
}

// People and motors: ASHRAE Refrigeration ch. 24 and Fundamentals ch. 18 (from
// memory).
func TestInnerHeat(t *testing.T) {
	for room, want := range map[units.Temperature]float64{13: 194, 0: 272, 10: 212} {
		if got, err := PersonHeat(room); err != nil || float64(got) != want {
			t.Errorf("PersonHeat(%v) = %v, %v, want %v", room, got, err, want)
		}
	}
	for _, tt := range []struct {
		motor, load bool
		want        float64
	}{{true, true, 125}, {false, true, 100}, {true, false, 25}, {false, false, 0}} {
		if got, err := MotorHeat(100, 0.8, tt.motor, tt.load); err != nil || math.Abs(float64(got)-tt.want) > 1e-9 {
			t.Errorf("MotorHeat(100, 0.8, %v, %v) = %v, %v, want %v", tt.motor, tt.load, got, err, tt.want)
		}
	}
	if got, err := PersonHeat(units.Temperature(math.NaN())); err == nil {
		t.Errorf("PersonHeat(NaN) = %v, want an error", got)
	}
	if got, err := MotorHeat(100, 0, true, true); err == nil {
		t.Errorf("MotorHeat with efficiency 0 = %v, want an error", got)
	}
}

func ExampleRoom_Load() {
	room, sides := small()
	l, err := room.Load(sides)
	if err != nil {
		panic(err)
	}
	for _, s := range l.Steps() {
		fmt.Printf("%s: %s: %s\n", s.Name, s.Formula, s.Value)
	}
	// Output:
	// north wall: 10.00 m² · 0.300 W/(m²·K) · (24.0 − 13.0) K: 33.0 W (113 Btu/h)
	// lid: 9.00 m² · 0.200 W/(m²·K) · (50.0 − 13.0) K: 66.6 W (227 Btu/h)
	// vapor through the faces: Σ permeance · area · (p_other − p_room) = 0.005 kg/day: 0.2 W latent
	// door: open 0.69 % of the time · flow factor 1.1 · 100 % past its curtain = 3.06 g/s of dry air: 34.2 W (117 Btu/h) sensible, 29.1 W latent
	// leakage: 8.4 m³/h = 2.74 g/s of dry air: 30.6 W (104 Btu/h) sensible, 26.0 W latent
	// bottles brought in: 12 · 3538.5 J/K · (24.0 − 13.0) K / 24 h: 5.4 W (18 Btu/h)
	// fan: 30 W · 18 h / 24 h: 22.5 W (77 Btu/h)
	// lights: 40 W · 1.5 h / 24 h: 2.5 W (9 Btu/h)
	// people: 1 · (272 − 6 · 13.0) W · 0.5 h / 24 h, all as sensible: 4.0 W (14 Btu/h)
	// sensible: sum: 198.9 W (679 Btu/h)
	// latent: sum: 55.3 W (189 Btu/h)
	// water: sum: 1.88 kg/day
	// total: sensible + latent: 254.2 W (867 Btu/h)
}

func BenchmarkLoad(b *testing.B) {
	room, sides := small()
	for b.Loop() {
		if _, err := room.Load(sides); err != nil {
			b.Fatal(err)
		}
	}
}

package diagnosis_test

import (
	"math"
	"testing"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// scene is an invented room of known cause: what is true of it, what else the visit
// would see, and the readings without which nobody could tell.
type scene struct {
	name    string
	rows    []string // of the table of observations that it plays
	signs   []diagnosis.Symptom
	true    func(*simRoom)
	visit   func(*diagnosis.Room, simSeen)
	causes  []diagnosis.Cause
	decides []diagnosis.Measurement
}

// soundRoom is a room in order: 3.0 by 3.6 by 2.6 m, three walls to the house, one to
// outdoors, an attic above, on a slab.
func soundRoom() simRoom {
	return simRoom{
		volume: 28.08, height: 2.6, set: 13,
		spaces: map[string]weather{
			"house":    {mean: 24, daily: 0.5, slow: 0.3, dew: 13.5, dewDaily: 1.2, dewSlow: 2},
			"outdoors": {mean: 28, daily: 5, slow: 2, dew: 17, dewDaily: 1, dewSlow: 2},
			"attic":    {mean: 36, daily: 9, slow: 2, dew: 17, dewDaily: 1, dewSlow: 2},
			"ground":   {mean: 17, dew: 16.5},
		},
		faces: []simFace{
			{"north wall", 9.4, 0.50, "house", false}, {"east wall", 7.8, 0.50, "house", false},
			{"south wall", 7.5, 0.50, "house", true}, {"west wall", 7.8, 0.36, "outdoors", true},
			{"ceiling", 10.8, 0.20, "attic", false}, {"floor", 10.8, 0.50, "ground", false}, {"door", 1.9, 1.2, "house", true},
		},
		cracks: 0.005, gapLow: 0.0009, gapHigh: 0.0009, gapHeight: 2,
		inside: 40, bottles: 300, light: 440e3, mixing: 600,
		unit: simUnit{
			rated: 650, a: 0.041, b: 0.0145, coil: 8.5, split: 7, health: 1, air: 1, differential: 1.2,
			intake: func(out, _, _ float64) float64 { return out + 2 },
		},
		seed: 1,
	}
}

// look makes the visit's readings of a room, all of them.
func look(t testing.TB, r simRoom) (diagnosis.Room, simSeen) {
	t.Helper()
	seen := r.run()
	room := diagnosis.Room{
		Name: "cellar", Set: 13, Volume: 28.08, Height: 2.6,
		Faces:   foundFaces(t),
		Use:     diagnosis.Use{Appliances: []cooling.Appliance{{Name: "light and fan", Power: units.Power(r.inside), Hours: 24}}},
		Unit:    foundUnit(r.unit),
		Design:  designDay(),
		Planned: planned(t),
		Contents: &cooling.Contents{
			Bottle: cooling.StandardBottle, Count: r.bottles, Film: 6, Exposed: 0.6, Light: cooling.HeatCapacity(r.light),
		},
	}
	room.Readings = readings(r, seen)
	surfaces(room.Faces, r, seen)
	return room, seen
}

func foundUnit(u simUnit) diagnosis.Unit {
	return diagnosis.Unit{
		Name: "split unit",
		Capacity: cooling.Rating{
			Capacity: units.Power(u.rated), Room: 13, Outdoor: 35, Difference: units.TemperatureDifference(u.coil),
			Slopes: cooling.Slopes{Evaporating: u.a, Condensing: u.b},
		},
		CoilDifference: units.TemperatureDifference(u.coil),
		Sheet:          diagnosis.Sheet{Split: diagnosis.Read(units.TemperatureDifference(u.split)), Room: diagnosis.Air{Temperature: 13, Humidity: 60}, Outdoor: 35},
		IntakeLimit:    diagnosis.Read(units.Temperature(43)),
		RejectsTo:      envelope.Outdoors,
	}
}

func designDay() map[envelope.OtherSide]diagnosis.Air {
	return map[envelope.OtherSide]diagnosis.Air{
		envelope.House: {Temperature: 24, Humidity: 55}, envelope.Outdoors: {Temperature: 33, Humidity: 45},
		envelope.Attic: {Temperature: 52, Humidity: 15}, envelope.Ground: {Temperature: 18, Humidity: 100},
	}
}

// layers returns an assembly of library materials, from the other side inwards.
func layers(t testing.TB, names ...string) envelope.Assembly {
	t.Helper()
	library, err := envelope.NewLibrary()
	if err != nil {
		t.Fatal(err)
	}
	a := envelope.Assembly{}
	for _, name := range names {
		m, err := library.Find(name)
		if err != nil {
			t.Fatal(err)
		}
		l, err := m.Layer(0)
		if err != nil {
			t.Fatal(err)
		}
		if name == "R-13 batt" {
			stud, _ := library.Find("stud")
			framing, err := stud.Layer(l.Thickness)
			if err != nil {
				t.Fatal(err)
			}
			l = l.WithFraming(envelope.DefaultFramingFraction, framing)
		}
		a.Layers = append(a.Layers, l)
	}
	return a
}

func foundFaces(t testing.TB) []diagnosis.Face {
	t.Helper()
	wall := layers(t, "drywall", "6 mil poly", "R-13 batt", "drywall")
	dry := []diagnosis.Spot[units.Percent]{{Place: "sole plate", Value: 11.4}, {Place: "house-side edge", Value: 10.6}, {Place: "room-side edge", Value: 11.9}}
	return []diagnosis.Face{
		{Name: "north wall", Kind: envelope.Wall, Side: envelope.House, Area: 9.4, Assembly: wall, Retarder: diagnosis.RetarderOnOtherSide, Moisture: dry},
		{Name: "east wall", Kind: envelope.Wall, Side: envelope.House, Area: 7.8, Assembly: wall, Retarder: diagnosis.RetarderOnOtherSide},
		{Name: "south wall", Kind: envelope.Wall, Side: envelope.House, Area: 7.5, Assembly: wall, Retarder: diagnosis.RetarderOnOtherSide},
		{Name: "west wall", Kind: envelope.Wall, Side: envelope.Outdoors, Area: 7.8, Transmittance: 0.36},
		{Name: "ceiling", Kind: envelope.Ceiling, Side: envelope.Attic, Area: 10.8, Transmittance: 0.20},
		{Name: "floor", Kind: envelope.Floor, Side: envelope.Ground, Area: 10.8, Transmittance: 0.50},
		{Name: "door", Kind: envelope.Door, Side: envelope.House, Area: 1.9, Transmittance: 1.2},
	}
}

// planned is a rebuild with foam walls and a tight room.
func planned(t testing.TB) *diagnosis.Plan {
	t.Helper()
	faces := foundFaces(t)
	for i, u := range []units.Transmittance{0.30, 0.30, 0.30, 0.28, 0.17, 0.40, 1.0} {
		faces[i].Transmittance, faces[i].Moisture = u, nil
	}
	return &diagnosis.Plan{Faces: faces, AirChange: 0.2, Intake: diagnosis.Read(units.Temperature(36))}
}

// readings are what instruments showed.
func readings(r simRoom, seen simSeen) diagnosis.Readings {
	split := units.TemperatureDifference(seen.split)
	out := diagnosis.Readings{
		Air:           places(seen),
		Sides:         map[envelope.OtherSide]diagnosis.SideAir{},
		ControlOffset: diagnosis.Read(units.TemperatureDifference(r.unit.offset)),
		Split:         []units.TemperatureDifference{split - 0.1, split, split + 0.1},
		Airflow:       diagnosis.AirflowNormal, Frost: diagnosis.No, Condenser: diagnosis.Yes, CutsOut: diagnosis.No,
		Intake:     diagnosis.Read(units.Temperature(seen.intake)),
		Hottest:    diagnosis.Read(units.Temperature(r.unit.intake(33, 24, 52))),
		Duty:       diagnosis.Read(units.Percent(100 * seen.duty)),
		Starts:     diagnosis.Read(seen.startsPerHour),
		Run:        diagnosis.Read(time.Duration(seen.run) * time.Second),
		Condensate: diagnosis.Read(units.Mass(seen.condensate)),
		Gaps: []diagnosis.DoorGapStretch{
			{Stretch: "sill", Length: 0.9, Width: units.Length(r.gapLow / 0.9), Height: 0.02},
			{Stretch: "head", Length: 0.9, Width: units.Length(r.gapHigh / 0.9), Height: units.Length(0.02 + r.gapHeight)},
		},
		FansOff: diagnosis.Read(units.Pressure(-0.1)), FansOn: diagnosis.Read(units.Pressure(-0.2)),
		WarmUp: diagnosis.Read(time.Duration(r.warmUp() * 1e9)),
		Drain:  diagnosis.Drain{Empties: diagnosis.Yes, TrapHolds: diagnosis.Yes}, WaterAtUnit: diagnosis.No,
		Searched: diagnosis.Yes, MoldSought: diagnosis.Yes, Sweating: diagnosis.No,
		BadInSummer: diagnosis.No, WorseOnFans: diagnosis.No, PastWetting: diagnosis.No, AfterRain: diagnosis.No,
		Log: loggers(seen),
	}
	if seen.coldest < -1 {
		out.Frost = diagnosis.Yes
	}
	if r.unit.air < 0.8 {
		out.Airflow = diagnosis.AirflowWeak
	}
	for name, temperature := range seen.spaceT {
		out.Sides[envelope.OtherSide(name)] = diagnosis.SideAir{
			Temperature: diagnosis.Read(units.Temperature(temperature)), Humidity: diagnosis.Read(units.RelativeHumidity(seen.spaceRH[name])),
		}
	}
	return out
}

// places are the six places of the room that are read.
func places(seen simSeen) []diagnosis.AirSpot {
	var spots []diagnosis.AirSpot
	for _, at := range []struct {
		place string
		t     float64
	}{
		{"middle low", seen.near - 0.2}, {"middle mid-height", seen.near}, {"middle high", seen.near + 0.2},
		{"far corner low", seen.far - 0.2}, {"far corner mid-height", seen.far}, {"far corner high", seen.far + 0.2},
	} {
		spots = append(spots, diagnosis.AirSpot{Place: at.place, Temperature: diagnosis.Read(units.Temperature(at.t)), Humidity: diagnosis.Read(units.RelativeHumidity(seen.rh))})
	}
	return spots
}

func loggers(seen simSeen) *diagnosis.Log {
	log := &diagnosis.Log{Every: 15 * time.Minute}
	for i := range seen.logRoom {
		log.Room = append(log.Room, diagnosis.Air{Temperature: units.Temperature(seen.logRoom[i][0]), Humidity: units.RelativeHumidity(math.Max(0, seen.logRoom[i][1]))})
		log.House = append(log.House, diagnosis.Air{Temperature: units.Temperature(seen.logHouse[i][0]), Humidity: units.RelativeHumidity(math.Min(100, seen.logHouse[i][1]))})
	}
	return log
}

// surfaces reads the house side of each face that a probe can reach, in three places.
func surfaces(faces []diagnosis.Face, r simRoom, seen simSeen) {
	mean := 0.6*seen.near + 0.4*seen.far
	for i, f := range faces {
		if f.Side != envelope.House {
			continue
		}
		at := simSurface(r.faces[i].u, 0.13, seen.spaceT["house"], mean)
		for j, off := range []float64{0.15, -0.1, 0} {
			faces[i].OtherSurface = append(faces[i].OtherSurface, diagnosis.Spot[units.Temperature]{
				Place: []string{"middle", "low corner", "high corner"}[j], Value: units.Temperature(at + off),
			})
		}
	}
}

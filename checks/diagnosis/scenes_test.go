package diagnosis_test

import (
	"slices"

	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// remove takes a reading out of what was read, or puts back what nobody looked at.
var remove = map[diagnosis.Measurement]func(*diagnosis.Room){
	diagnosis.UnitSplit:       func(r *diagnosis.Room) { r.Readings.Split = nil },
	diagnosis.UnitSheet:       func(r *diagnosis.Room) { r.Unit.Sheet.Split.Taken = false },
	diagnosis.UnitDuty:        func(r *diagnosis.Room) { r.Readings.Duty.Taken = false },
	diagnosis.UnitCycles:      func(r *diagnosis.Room) { r.Readings.Starts.Taken, r.Readings.Run.Taken = false, false },
	diagnosis.UnitAirflow:     func(r *diagnosis.Room) { r.Readings.Airflow, r.Readings.Frost = 0, 0 },
	diagnosis.CondenserIntake: func(r *diagnosis.Room) { r.Readings.Intake.Taken = false },
	diagnosis.HottestIntake:   func(r *diagnosis.Room) { r.Readings.Hottest.Taken = false },
	diagnosis.ControlOffset:   func(r *diagnosis.Room) { r.Readings.ControlOffset.Taken = false },
	diagnosis.Condensate:      func(r *diagnosis.Room) { r.Readings.Condensate.Taken = false },
	diagnosis.BaselineLog:     func(r *diagnosis.Room) { r.Readings.Log = nil },
	diagnosis.DoorGap:         func(r *diagnosis.Room) { r.Readings.Gaps = nil },
	diagnosis.DrainTest:       func(r *diagnosis.Room) { r.Readings.Drain = diagnosis.Drain{} },
	diagnosis.PressureDifference: func(r *diagnosis.Room) {
		r.Readings.FansOn.Taken = false
	},
	diagnosis.RoomTemperature: func(r *diagnosis.Room) {
		for i := range r.Readings.Air {
			r.Readings.Air[i].Temperature.Taken = false
		}
	},
	diagnosis.RoomHumidity: func(r *diagnosis.Room) {
		for i := range r.Readings.Air {
			r.Readings.Air[i].Humidity.Taken = false
		}
	},
	diagnosis.AdjoiningHumidity: func(r *diagnosis.Room) {
		for side, a := range r.Readings.Sides {
			a.Humidity.Taken = false
			r.Readings.Sides[side] = a
		}
	},
	diagnosis.SurfaceTemperatures: func(r *diagnosis.Room) {
		for i := range r.Faces {
			r.Faces[i].OtherSurface = nil
		}
	},
	diagnosis.FramingMoisture: func(r *diagnosis.Room) {
		for i := range r.Faces {
			r.Faces[i].Moisture = nil
		}
	},
	diagnosis.RetarderPlace: func(r *diagnosis.Room) {
		for i := range r.Faces {
			r.Faces[i].Retarder = diagnosis.RetarderNotSeen
		}
	},
}

// keep leaves the plan's faces as they were found: it is about the unit only.
func keepFaces(r *diagnosis.Room) {
	r.Planned.Faces = slices.Clone(r.Faces)
	for i := range r.Planned.Faces {
		r.Planned.Faces[i].OtherSurface, r.Planned.Faces[i].Moisture = nil, nil
	}
}

// scenes are the fifteen rooms, each row of the table of observations once at least,
// with two that have two causes and one that has none; and some more.
var scenes = []scene{
	{
		name:  "four air changes an hour: runs all day, split as the data sheet says, warm",
		signs: []diagnosis.Symptom{diagnosis.TooWarm, diagnosis.LetsAirIn},
		rows:  []string{"1", "6"},
		true: func(r *simRoom) {
			r.cracks = 0.11
			r.spaces["house"] = weather{mean: 26, daily: 0.5, slow: 0.3, dew: 17, dewDaily: 1, dewSlow: 1.5}
		},
		causes:  []diagnosis.Cause{diagnosis.AirLeakage},
		decides: []diagnosis.Measurement{diagnosis.UnitSplit, diagnosis.Condensate, diagnosis.UnitDuty},
	},
	{
		name:  "empty stud bays in two walls: warm, and their house side sweats",
		signs: []diagnosis.Symptom{diagnosis.TooWarm, diagnosis.Sweating},
		rows:  []string{"1", "9"},
		true: func(r *simRoom) {
			for _, i := range []int{0, 1} {
				r.faces[i].u = 2.9
			}
			r.spaces["house"] = weather{mean: 26, daily: 0.5, slow: 0.3, dew: 22.6, dewDaily: 0.4, dewSlow: 0.5}
		},
		visit:   func(r *diagnosis.Room, _ simSeen) { r.Readings.Sweating = diagnosis.Yes },
		causes:  []diagnosis.Cause{diagnosis.Insulation},
		decides: []diagnosis.Measurement{diagnosis.SurfaceTemperatures, diagnosis.AdjoiningHumidity},
	},
	{
		name:    "a unit chosen by volume: runs all day, split as the data sheet says, warm",
		signs:   []diagnosis.Symptom{diagnosis.TooWarm},
		rows:    []string{"1"},
		true:    func(r *simRoom) { r.unit.rated = 260 },
		visit:   func(r *diagnosis.Room, _ simSeen) { keepFaces(r) },
		causes:  []diagnosis.Cause{diagnosis.UnitTooSmall},
		decides: []diagnosis.Measurement{diagnosis.UnitSplit, diagnosis.UnitSheet},
	},
	{
		name:    "half the charge lost: runs all day, small split, normal airflow",
		signs:   []diagnosis.Symptom{diagnosis.TooWarm},
		rows:    []string{"2"},
		true:    func(r *simRoom) { r.unit.health = 0.4 },
		causes:  []diagnosis.Cause{diagnosis.UnitFaulty},
		decides: []diagnosis.Measurement{diagnosis.UnitSplit, diagnosis.CondenserIntake, diagnosis.UnitAirflow},
	},
	{
		name:    "clogged filter: large split, weak air, frost",
		signs:   []diagnosis.Symptom{diagnosis.HardlyRests},
		rows:    []string{"3"},
		true:    func(r *simRoom) { r.unit.air = 0.12 },
		causes:  []diagnosis.Cause{diagnosis.ControlOrAirflow},
		decides: []diagnosis.Measurement{diagnosis.UnitAirflow, diagnosis.UnitSplit},
	},
	{
		name:  "thermostat in the supply air: starts all the time, humid",
		signs: []diagnosis.Symptom{diagnosis.ShortCycles, diagnosis.TooHumid},
		rows:  []string{"4"},
		true: func(r *simRoom) {
			r.cracks = 0.003
			r.unit.supplyOnSensor, r.unit.differential, r.unit.dial, r.unit.fanAlways = 0.55, 0.4, 2.4, true
			r.spaces["house"] = weather{mean: 24, daily: 0.5, slow: 0.3, dew: 18, dewDaily: 1.2, dewSlow: 2}
		},
		causes:  []diagnosis.Cause{diagnosis.ControlOrAirflow},
		decides: []diagnosis.Measurement{diagnosis.UnitCycles},
	},
	{
		name:  "return behind the racks: short runs, one corner warm, humidity fine",
		signs: []diagnosis.Symptom{diagnosis.ShortCycles, diagnosis.Uneven},
		rows:  []string{"5"},
		true: func(r *simRoom) {
			r.mixing = 22
			r.unit.supplyOnSensor, r.unit.differential, r.unit.dial = 0.4, 0.4, 2.4
			r.cracks = 0.003
		},
		causes:  []diagnosis.Cause{diagnosis.ControlOrAirflow},
		decides: []diagnosis.Measurement{diagnosis.UnitCycles},
	},
	{
		name:  "hole of an old unit to outdoors: temperature holds, humid, follows the house",
		signs: []diagnosis.Symptom{diagnosis.TooHumid, diagnosis.LetsAirIn},
		rows:  []string{"6"},
		true: func(r *simRoom) {
			r.cracks, r.opening, r.openingTo = 0.02, 0.12, "outdoors"
			r.unit.coil, r.unit.rated = 5.5, 1200
			r.spaces["house"] = weather{mean: 24, daily: 0.5, slow: 0.3, dew: 16, dewDaily: 1.5, dewSlow: 2}
			r.spaces["outdoors"] = weather{mean: 25, daily: 4, slow: 2, dew: 18, dewDaily: 1, dewSlow: 2.5}
		},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Readings.Condensate.Taken = false // the tray was not emptied
			r.Readings.Openings = []diagnosis.Opening{{Name: "hole of an old unit", Side: envelope.Outdoors, Area: 0.12}}
		},
		causes:  []diagnosis.Cause{diagnosis.AirLeakage},
		decides: []diagnosis.Measurement{diagnosis.BaselineLog, diagnosis.DoorGap},
	},
	{
		name:  "dry winter air leaks in: humidity below 50 %",
		signs: []diagnosis.Symptom{diagnosis.TooDry, diagnosis.LetsAirIn},
		rows:  []string{"8"},
		true: func(r *simRoom) {
			r.cracks = 0.03
			r.spaces["house"] = weather{mean: 21, daily: 0.7, slow: 0.3, dew: -2, dewDaily: 1.5, dewSlow: 2.5}
			r.spaces["outdoors"] = weather{mean: -2, daily: 4, slow: 3, dew: -6, dewSlow: 2}
			r.spaces["attic"] = weather{mean: 2, daily: 4, slow: 3, dew: -5, dewSlow: 2}
			r.spaces["ground"] = weather{mean: 12, dew: 11}
			r.inside, r.water = 120, 0.3e-5
			r.unit.intake = func(_, house, _ float64) float64 { return house }
		},
		causes:  []diagnosis.Cause{diagnosis.AirLeakage},
		decides: []diagnosis.Measurement{diagnosis.BaselineLog, diagnosis.AdjoiningHumidity},
	},
	{
		name:    "polyethylene on the room side: framing wet, finishes dry",
		signs:   []diagnosis.Symptom{diagnosis.WetFraming},
		rows:    []string{"10"},
		true:    func(r *simRoom) {},
		visit:   wetBays,
		causes:  []diagnosis.Cause{diagnosis.Retarder},
		decides: []diagnosis.Measurement{diagnosis.RetarderPlace, diagnosis.AdjoiningHumidity},
	},
	{
		name:  "drain laid level, trap dry: water at the unit, humidity normal",
		signs: []diagnosis.Symptom{diagnosis.WaterAtUnit},
		rows:  []string{"11"},
		true:  func(r *simRoom) {},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Readings.WaterAtUnit = diagnosis.Yes
			r.Readings.Drain = diagnosis.Drain{Empties: diagnosis.No, TrapHolds: diagnosis.No}
		},
		causes:  []diagnosis.Cause{diagnosis.DrainOrWater},
		decides: []diagnosis.Measurement{diagnosis.DrainTest},
	},
	{
		name:  "a failed unit two summers ago: temperature and humidity good, mold",
		signs: []diagnosis.Symptom{diagnosis.Moldy},
		rows:  []string{"12"},
		true:  func(r *simRoom) {},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Readings.PastWetting = diagnosis.Yes
			r.Readings.Mold = []diagnosis.MoldSeen{{Place: "behind the far rack", Area: 0.3, Room: true}, {Place: "cartons", Area: 0.1, Room: true}}
		},
		causes:  []diagnosis.Cause{diagnosis.PastMoisture},
		decides: []diagnosis.Measurement{diagnosis.FramingMoisture, diagnosis.RoomHumidity},
	},
	{
		name:  "condenser in the attic under a thin lid: good in winter, bad in summer",
		signs: []diagnosis.Symptom{diagnosis.BadInSummer},
		rows:  []string{"13"},
		true: func(r *simRoom) {
			r.faces[4].u = 1.4
			r.spaces["outdoors"] = weather{mean: 8, daily: 4, slow: 3, dew: 4, dewSlow: 2}
			r.spaces["attic"] = weather{mean: 11, daily: 6, slow: 3, dew: 4, dewSlow: 2}
			r.spaces["ground"] = weather{mean: 14, dew: 13}
			r.unit.intake = func(_, _, attic float64) float64 { return attic + 3 }
		},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Readings.BadInSummer = diagnosis.Yes
			r.Unit.RejectsTo = envelope.Attic
			r.Faces[4].Transmittance = 1.4 // seen from the attic: two inches of old batt with gaps
		},
		causes:  []diagnosis.Cause{diagnosis.HeatTrapped, diagnosis.Insulation},
		decides: []diagnosis.Measurement{diagnosis.HottestIntake},
	},
	{
		name:  "dryer draws attic air through the room, and single glass in the door sweats",
		signs: []diagnosis.Symptom{diagnosis.WorseWithFan, diagnosis.Sweating},
		rows:  []string{"14", "9"},
		true: func(r *simRoom) {
			r.dryer = 0.03
			r.faces[6].u = 3.9
			r.spaces["house"] = weather{mean: 25, daily: 0.4, slow: 0.2, dew: 20.4, dewDaily: 0.3, dewSlow: 0.4}
			r.spaces["attic"] = weather{mean: 36, daily: 9, slow: 2, dew: 22, dewDaily: 1, dewSlow: 1}
			r.cracks = 0.004
		},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Faces[6].Transmittance = 3.9
			r.Readings.Sweating, r.Readings.WorseOnFans = diagnosis.Yes, diagnosis.Yes
			r.Readings.FansOff, r.Readings.FansOn = diagnosis.Read(units.Pressure(-0.2)), diagnosis.Read(units.Pressure(-4.1))
		},
		causes:  []diagnosis.Cause{diagnosis.AirLeakage, diagnosis.DoorOrGlass},
		decides: []diagnosis.Measurement{diagnosis.PressureDifference, diagnosis.SurfaceTemperatures},
	},
	{
		name:    "a room in order: dew point steady near its coil",
		rows:    []string{"7"},
		true:    func(r *simRoom) { r.cracks = 0.003 },
		decides: []diagnosis.Measurement{diagnosis.RoomHumidity, diagnosis.RoomTemperature, diagnosis.UnitDuty, diagnosis.FramingMoisture, diagnosis.UnitCycles},
	},
	// Beyond the fifteen.
	{
		name:  "four air changes and half the charge lost",
		signs: []diagnosis.Symptom{diagnosis.TooWarm, diagnosis.LetsAirIn},
		rows:  []string{"1", "2"},
		true: func(r *simRoom) {
			r.cracks, r.unit.health = 0.11, 0.5
			r.spaces["house"] = weather{mean: 26, daily: 0.5, slow: 0.3, dew: 17, dewDaily: 1, dewSlow: 1.5}
		},
		causes:  []diagnosis.Cause{diagnosis.AirLeakage, diagnosis.UnitFaulty},
		decides: []diagnosis.Measurement{diagnosis.UnitSplit, diagnosis.CondenserIntake},
	},
	{
		name:  "condenser breathing its own air: hardly rests",
		signs: []diagnosis.Symptom{diagnosis.HardlyRests, diagnosis.HotCondenser},
		rows:  []string{"2"},
		true: func(r *simRoom) {
			r.unit.intake = func(out, _, _ float64) float64 { return out + 28 }
			r.unit.rated = 500
		},
		causes:  []diagnosis.Cause{diagnosis.HeatTrapped},
		decides: []diagnosis.Measurement{diagnosis.CondenserIntake},
	},
	{
		name:  "door without its sweep: warm, damp at night",
		signs: []diagnosis.Symptom{diagnosis.TooWarm, diagnosis.LetsAirIn},
		rows:  []string{"6"},
		true: func(r *simRoom) {
			r.gapLow, r.gapHigh = 0.0252, 0.0216
			r.spaces["house"] = weather{mean: 26, daily: 0.5, slow: 0.3, dew: 18, dewDaily: 1, dewSlow: 1.5}
			r.unit.rated = 500
		},
		causes:  []diagnosis.Cause{diagnosis.DoorOrGlass},
		decides: []diagnosis.Measurement{diagnosis.DoorGap, diagnosis.UnitSplit},
	},
	{
		name:  "coil far too cold for its load: humidity below 50 %",
		signs: []diagnosis.Symptom{diagnosis.TooDry},
		rows:  []string{"8"},
		true: func(r *simRoom) {
			r.cracks, r.unit.coil, r.unit.rated = 0.002, 13, 900
			r.unit.split = 10
		},
		causes:  []diagnosis.Cause{diagnosis.ControlOrAirflow},
		decides: []diagnosis.Measurement{diagnosis.AdjoiningHumidity, diagnosis.BaselineLog},
	},
	{
		name:    "a control that reads three kelvin low: warm and the unit rests",
		signs:   []diagnosis.Symptom{diagnosis.TooWarm},
		true:    func(r *simRoom) { r.unit.offset = -3 },
		causes:  []diagnosis.Cause{diagnosis.ControlOrAirflow},
		decides: []diagnosis.Measurement{diagnosis.ControlOffset, diagnosis.UnitDuty},
	},
	{
		name:  "rain finds its way into a bay: framing wet where the retarder is right",
		signs: []diagnosis.Symptom{diagnosis.WetFraming},
		rows:  []string{"10"},
		true:  func(r *simRoom) {},
		visit: func(r *diagnosis.Room, _ simSeen) {
			r.Faces[0].Moisture = append(slices.Clone(r.Faces[0].Moisture), diagnosis.Spot[units.Percent]{Place: "below the window", Value: 27})
			r.Readings.AfterRain = diagnosis.Yes
		},
		causes:  []diagnosis.Cause{diagnosis.DrainOrWater},
		decides: []diagnosis.Measurement{diagnosis.RetarderPlace},
	},
}

// wetBays puts polyethylene on the room side and reads what a year of the house's
// summer air has done to the bays.
func wetBays(r *diagnosis.Room, seen simSeen) {
	house := r.Readings.Sides[envelope.House]
	house.Humidity.Value = 65
	house.Temperature.Value = 25
	r.Readings.Sides[envelope.House] = house
	// gypsum, batt with studs, film, gypsum: R and sd by hand from data of their
	// makers' kind; the studs hold the water.
	bay := []simLayer{{0.08, 0.1, 0.3}, {1.1, 0.05, 1.0}, {1.1, 0.05, 1.0}, {0, 58, 0}, {0.08, 0.1, 0.3}}
	moisture, plane := simBay(bay, 0.13, 25, 65, 13.2, seen.rh)
	moisture = min(moisture, 31) // what a pin meter shows at most
	place := "room-side edge"
	if plane < 2 {
		place = "house-side edge"
	}
	for i := range 3 {
		r.Faces[i].Retarder = diagnosis.RetarderOnRoomSide
		l := r.Faces[i].Assembly.Layers
		r.Faces[i].Assembly.Layers = []envelope.Layer{l[0], l[2], l[1], l[3]}
		r.Faces[i].Moisture = []diagnosis.Spot[units.Percent]{{Place: "sole plate, " + place, Value: units.Percent(moisture - 1)}, {Place: "mid-bay", Value: 15}}
	}
}

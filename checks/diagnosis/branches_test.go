package diagnosis_test

import (
	"slices"
	"testing"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// at sets the room's one place.
func at(r *diagnosis.Room, t units.Temperature, rh units.RelativeHumidity) {
	r.Readings.Air = []diagnosis.AirSpot{{Place: "middle", Temperature: diagnosis.Read(t), Humidity: diagnosis.Read(rh)}}
}

// warmAndResting is a room at 16 °C whose unit runs half the time.
func warmAndResting(r *diagnosis.Room) {
	at(r, 16, 60)
	r.Readings.Duty = diagnosis.Read(units.Percent(50))
}

// bay gives the wall layers with the retarder where it belongs, and moisture.
func bay(t testing.TB, r *diagnosis.Room, moisture units.Percent) {
	r.Readings.Duty = diagnosis.Read(units.Percent(40))
	r.Faces[0].Transmittance = 0
	r.Faces[0].Assembly = layers(t, "drywall", "6 mil poly", "R-13 batt", "drywall")
	r.Faces[0].Retarder = diagnosis.RetarderOnOtherSide
	r.Faces[0].Moisture = []diagnosis.Spot[units.Percent]{{Place: "sole plate", Value: moisture}}
}

// Small rooms, each with the readings of one turn in the reasoning.
func TestTurns(t *testing.T) {
	type causes = []diagnosis.Cause
	for _, tt := range []struct {
		name  string
		spoil func(*diagnosis.Room)
		names causes
		wants diagnosis.Measurement // empty when explained
	}{
		{"warm, duty not read", func(r *diagnosis.Room) { at(r, 16, 60); r.Readings.Duty.Taken = false }, nil, diagnosis.UnitDuty},
		{"warm and resting, control not compared", warmAndResting, nil, diagnosis.ControlOffset},
		{"warm and resting, control right, cut-outs not asked", func(r *diagnosis.Room) {
			warmAndResting(r)
			r.Readings.ControlOffset = diagnosis.Read(units.TemperatureDifference(0.1))
		}, nil, diagnosis.UnitCutOut},
		{"warm and resting, control right, never cuts out", func(r *diagnosis.Room) {
			warmAndResting(r)
			r.Readings.ControlOffset, r.Readings.CutsOut = diagnosis.Read(units.TemperatureDifference(0.1)), diagnosis.No
		}, nil, diagnosis.BaselineLog},
		{"cuts out, intake not read", func(r *diagnosis.Room) {
			warmAndResting(r)
			r.Readings.CutsOut, r.Readings.Intake.Taken = diagnosis.Yes, false
		}, nil, diagnosis.CondenserIntake},
		{"cuts out, limit not known", func(r *diagnosis.Room) { warmAndResting(r); r.Readings.CutsOut = diagnosis.Yes }, nil, diagnosis.UnitSheet},
		{"cuts out in hot intake air", func(r *diagnosis.Room) {
			warmAndResting(r)
			r.Readings.CutsOut, r.Unit.IntakeLimit = diagnosis.Yes, diagnosis.Read(units.Temperature(43))
			r.Readings.Intake = diagnosis.Read(units.Temperature(47))
		}, causes{diagnosis.HeatTrapped}, ""},
		{"cuts out in cool intake air", func(r *diagnosis.Room) {
			warmAndResting(r)
			r.Readings.CutsOut, r.Unit.IntakeLimit = diagnosis.Yes, diagnosis.Read(units.Temperature(43))
		}, causes{diagnosis.UnitFaulty}, ""},
		{"warm, other side not read", func(r *diagnosis.Room) {
			at(r, 15, 60)
			r.Readings.Sides = nil
		}, nil, diagnosis.AdjoiningTemperature},
		{"warm, no faces described", func(r *diagnosis.Room) {
			at(r, 15, 60)
			r.Readings.Split = []units.TemperatureDifference{7.4}
			r.Faces = nil
		}, nil, diagnosis.FaceConstruction},
		{"split between normal and not", func(r *diagnosis.Room) { at(r, 16, 60); r.Readings.Split = []units.TemperatureDifference{5.85} }, nil, diagnosis.UnitSplit},
		{"large split with all its air", func(r *diagnosis.Room) {
			at(r, 16, 60)
			r.Readings.Split, r.Readings.Frost = []units.TemperatureDifference{14}, diagnosis.No
		}, nil, diagnosis.UnitSheet},
		{"small split and weak air", func(r *diagnosis.Room) {
			at(r, 16, 60)
			r.Readings.Split, r.Readings.Airflow = []units.TemperatureDifference{3}, diagnosis.AirflowWeak
		}, nil, diagnosis.UnitSplit},
		{"small split, dirty condenser", func(r *diagnosis.Room) {
			at(r, 16, 60)
			r.Faces[0].Area = 40
			r.Readings.Split, r.Readings.Condenser = []units.TemperatureDifference{3}, diagnosis.No
		}, causes{diagnosis.HeatTrapped}, ""},
		{"leak measured by a fan", func(r *diagnosis.Room) {
			at(r, 15, 62)
			r.Readings.Split = []units.TemperatureDifference{7.3}
			r.Readings.FanTest = &airflow.Cracks{Coefficient: 0.14, Exponent: 0.6, Height: 2.4}
		}, causes{diagnosis.AirLeakage}, ""},
		{"humid, no loggers", func(r *diagnosis.Room) { at(r, 13, 80); r.Readings.Duty = diagnosis.Read(units.Percent(40)) }, nil, diagnosis.BaselineLog},
		{"dry, house not read", func(r *diagnosis.Room) {
			at(r, 13, 40)
			r.Readings.Duty, r.Readings.Sides = diagnosis.Read(units.Percent(40)), nil
		}, nil, diagnosis.AdjoiningHumidity},
		{"uneven, cycles long, air not seen", func(r *diagnosis.Room) { uneven(r); r.Readings.Airflow = 0 }, nil, diagnosis.UnitAirflow},
		{"uneven, cycles long, air weak", func(r *diagnosis.Room) { uneven(r); r.Readings.Airflow = diagnosis.AirflowWeak }, causes{diagnosis.ControlOrAirflow}, ""},
		{"uneven, cycles long, air good", uneven, nil, diagnosis.SurfaceTemperatures},
		{"sweating seen, nothing measured", func(r *diagnosis.Room) {
			r.Readings.Duty, r.Readings.Sweating = diagnosis.Read(units.Percent(40)), diagnosis.Yes
		}, nil, diagnosis.SurfaceTemperatures},
		{"sweats with the room at its set point", func(r *diagnosis.Room) {
			at(r, 16, 60)
			r.Readings.Duty, r.Readings.Sweating = diagnosis.Read(units.Percent(50)), diagnosis.Yes
			r.Readings.ControlOffset = diagnosis.Read(units.TemperatureDifference(-3))
			r.Readings.Sides[envelope.House] = diagnosis.SideAir{Temperature: diagnosis.Read(units.Temperature(26)), Humidity: diagnosis.Read(units.RelativeHumidity(75))}
			r.Faces[0].Transmittance = 2.9
			r.Faces[0].OtherSurface = []diagnosis.Spot[units.Temperature]{{Place: "stud bay", Value: 22.2}}
		}, causes{diagnosis.Insulation, diagnosis.ControlOrAirflow}, ""},
		{"a sound face would sweat too", func(r *diagnosis.Room) {
			r.Readings.Duty = diagnosis.Read(units.Percent(40))
			r.Readings.Sides[envelope.House] = diagnosis.SideAir{Temperature: diagnosis.Read(units.Temperature(26)), Humidity: diagnosis.Read(units.RelativeHumidity(98))}
			r.Faces[0].OtherSurface = []diagnosis.Spot[units.Temperature]{{Place: "corner", Value: 24}}
		}, nil, diagnosis.AdjoiningHumidity},
		{"wet framing, wetting not asked", func(r *diagnosis.Room) { bay(t, r, 24) }, nil, diagnosis.WettingHistory},
		{"wet framing from a flood", func(r *diagnosis.Room) {
			bay(t, r, 24)
			r.Readings.PastWetting, r.Readings.AfterRain = diagnosis.Yes, diagnosis.No
		}, causes{diagnosis.PastMoisture}, ""},
		{"wet framing, dry history, no loggers", func(r *diagnosis.Room) {
			bay(t, r, 24)
			r.Readings.PastWetting, r.Readings.AfterRain = diagnosis.No, diagnosis.No
		}, nil, diagnosis.BaselineLog},
		{"water at the unit, drain good, water not weighed", func(r *diagnosis.Room) { dripping(r) }, nil, diagnosis.Condensate},
		{"water at the unit, drain good, much water", func(r *diagnosis.Room) {
			dripping(r)
			r.Readings.Condensate = diagnosis.Read(units.Mass(6))
		}, causes{diagnosis.AirLeakage}, ""},
		{"mold on the house side of a cold wall", func(r *diagnosis.Room) {
			bay(t, r, 12)
			r.Readings.Mold = []diagnosis.MoldSeen{{Place: "hall", Area: 0.2}}
			r.Readings.Sides[envelope.House] = diagnosis.SideAir{Temperature: diagnosis.Read(units.Temperature(24)), Humidity: diagnosis.Read(units.RelativeHumidity(65))}
			r.Faces[0].OtherSurface = []diagnosis.Spot[units.Temperature]{{Place: "corner", Value: 18.5}}
		}, causes{diagnosis.Insulation}, ""},
		{"mold, framing neither wet nor dry", func(r *diagnosis.Room) { bay(t, r, 17); moldy(r) }, nil, diagnosis.FramingMoisture},
		{"mold, no wetting known", func(r *diagnosis.Room) { bay(t, r, 11); moldy(r); r.Readings.PastWetting = diagnosis.No }, nil, diagnosis.WettingHistory},
		{"mold, nobody asked for its past", func(r *diagnosis.Room) { bay(t, r, 11); moldy(r) }, causes{diagnosis.PastMoisture}, ""},
		{"worse with fans that move no pressure", func(r *diagnosis.Room) {
			r.Readings.Duty, r.Readings.WorseOnFans = diagnosis.Read(units.Percent(40)), diagnosis.Yes
			r.Readings.FansOff, r.Readings.FansOn = diagnosis.Read(units.Pressure(0)), diagnosis.Read(units.Pressure(-0.3))
		}, nil, diagnosis.BaselineLog},
		{"bad in summer, design day not known", func(r *diagnosis.Room) {
			r.Readings.Duty, r.Readings.BadInSummer = diagnosis.Read(units.Percent(40)), diagnosis.Yes
			r.Readings.Hottest = diagnosis.Read(units.Temperature(34))
		}, nil, diagnosis.DesignConditions},
		{"bad in summer, unit weak now", func(r *diagnosis.Room) { hotSummer(r); r.Readings.Split = []units.TemperatureDifference{3} }, nil, diagnosis.UnitSplit},
		{"bad in summer, nothing explains it", hotSummer, nil, diagnosis.Condensate},
		{"bad in summer, unit too small for a sound room", func(r *diagnosis.Room) {
			hotSummer(r)
			r.Faces[0].Side, r.Faces[0].Area, r.Faces[0].Transmittance = envelope.Attic, 60, 0.36
			r.Readings.Sides[envelope.Attic] = diagnosis.SideAir{Temperature: diagnosis.Read(units.Temperature(20)), Humidity: diagnosis.Read(units.RelativeHumidity(50))}
		}, causes{diagnosis.UnitTooSmall}, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			room := plain(diagnosis.Air{Temperature: 24, Humidity: 50}, 16, 1)
			tt.spoil(&room)
			r := diagnose(t, room)
			want := diagnosis.Undecided
			if tt.wants == "" {
				want = diagnosis.Explained
			}
			if r.Outcome != want || !slices.Equal(r.Named(), tt.names) || tt.wants != "" && !r.Wants(tt.wants) {
				t.Errorf("%v %v wants %v, want %v %v wants %q", r.Outcome, r.Named(), r.Wanted, want, tt.names, tt.wants)
				tell(t, r)
			}
			wellPut(t, r)
		})
	}
}

func uneven(r *diagnosis.Room) {
	r.Readings.Duty, r.Readings.Starts = diagnosis.Read(units.Percent(40)), diagnosis.Read(2.0)
	r.Readings.Run = diagnosis.Read(12 * time.Minute)
	at(r, 12, 60)
	r.Readings.Air = append(r.Readings.Air, diagnosis.AirSpot{Place: "corner", Temperature: diagnosis.Read(units.Temperature(15)), Humidity: diagnosis.Read(units.RelativeHumidity(55))})
}

func dripping(r *diagnosis.Room) {
	r.Readings.Duty, r.Readings.WaterAtUnit = diagnosis.Read(units.Percent(40)), diagnosis.Yes
	r.Readings.Drain = diagnosis.Drain{Empties: diagnosis.Yes, TrapHolds: diagnosis.Yes}
}

func moldy(r *diagnosis.Room) {
	r.Readings.Mold = []diagnosis.MoldSeen{{Place: "rack", Area: 0.2, Room: true}}
}

func hotSummer(r *diagnosis.Room) {
	r.Readings.Duty, r.Readings.BadInSummer = diagnosis.Read(units.Percent(40)), diagnosis.Yes
	r.Readings.Hottest = diagnosis.Read(units.Temperature(34))
	r.Design = map[envelope.OtherSide]diagnosis.Air{
		envelope.House: {Temperature: 24, Humidity: 50}, envelope.Outdoors: {Temperature: 33, Humidity: 40}, envelope.Attic: {Temperature: 55, Humidity: 15},
	}
}

// A door in use brings water that is no leak: with it counted, less leaks.
func TestDoorInUseIsNoLeak(t *testing.T) {
	room := plain(diagnosis.Air{Temperature: 26, Humidity: 60}, 16, 1)
	room.Readings.Condensate = diagnosis.Read(units.Mass(6))
	shut := diagnose(t, room).Leak.Total
	room.Use.Doors = []cooling.Door{{
		Name: "door", Side: string(envelope.House), Doorway: cooling.Doorway{Area: 1.7, Height: 2},
		DoorUse: cooling.DoorUse{Passages: 20, PerPassage: 15 * time.Second, Period: 24 * time.Hour},
	}}
	used := diagnose(t, room).Leak.Total
	if !(used > 0 && used < shut) {
		t.Errorf("leak %v with the door shut all day, %v with it in use", shut, used)
	}
}

// Twelve months of a side decide what becomes of the condensate over a year.
func TestWallOverAYear(t *testing.T) {
	room := plain(diagnosis.Air{Temperature: 25, Humidity: 60}, 16, 0)
	room.Faces[0].Assembly = layers(t, "drywall", "R-13 batt", "6 mil poly", "drywall")
	room.Year = map[envelope.OtherSide][]diagnosis.Air{envelope.House: slices.Repeat([]diagnosis.Air{{Temperature: 25, Humidity: 60}}, 12)}
	if w := diagnose(t, room).Walls[0]; w.Year != envelope.StaysWet || w.Why != "" {
		t.Errorf("retarder on the cold side: %v, %s", w.Year, w.Summary)
	}
	room.Faces[0].Assembly = layers(t, "drywall", "6 mil poly", "R-13 batt", "drywall")
	if w := diagnose(t, room).Walls[0]; w.Year != envelope.NeverWet || w.Worst.MoldIn != 0 || w.Worst.Humidity > 80 {
		t.Errorf("retarder on the warm side: %v, %+v", w.Year, w.Worst)
	}
}

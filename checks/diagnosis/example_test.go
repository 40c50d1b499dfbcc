package diagnosis_test

import (
	"fmt"

	"proveout/checks/cooling"
	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// A room of 18 m³ behind one thin wall: the unit runs all day with the split of its
// data sheet, and a day's condensate weighs 14.6 kg. Without the split nobody could
// tell the unit from the room.
func ExampleDiagnose() {
	room := diagnosis.Room{
		Set: 13, Volume: 18, Height: 2.4,
		Faces: []diagnosis.Face{{Name: "wall", Kind: envelope.Wall, Side: envelope.House, Area: 16, Transmittance: 1}},
		Unit: diagnosis.Unit{
			Capacity: cooling.Rating{Capacity: 700, Room: 13, Outdoor: 24, Difference: 8.5, Slopes: cooling.Slopes{Evaporating: 0.041, Condensing: 0.0145}},
			Sheet: diagnosis.Sheet{
				Split: diagnosis.Read(units.TemperatureDifference(7)), Room: diagnosis.Air{Temperature: 13, Humidity: 60}, Outdoor: 24,
			},
		},
		Readings: diagnosis.Readings{
			Air: []diagnosis.AirSpot{{Place: "middle", Temperature: diagnosis.Read(units.Temperature(13)), Humidity: diagnosis.Read(units.RelativeHumidity(60))}},
			Sides: map[envelope.OtherSide]diagnosis.SideAir{
				envelope.House: {Temperature: diagnosis.Read(units.Temperature(26)), Humidity: diagnosis.Read(units.RelativeHumidity(60))},
			},
			Split: []units.TemperatureDifference{7.1, 7.0, 6.9}, Airflow: diagnosis.AirflowNormal,
			Intake: diagnosis.Read(units.Temperature(24)), Duty: diagnosis.Read(units.Percent(100)),
			Condensate: diagnosis.Read(units.Mass(14.6)),
		},
	}
	report, err := diagnosis.Diagnose(room)
	fmt.Println(report.Outcome, report.Named(), err)
	cause := report.Causes[0]
	fmt.Printf("certainty %v, %.0f %% of the shortage\n", cause.Certainty, float64(cause.Share))
	for _, e := range cause.For[1:3] {
		fmt.Println("+", e.Text)
	}

	room.Readings.Split = nil
	report, err = diagnosis.Diagnose(room)
	fmt.Println(report.Outcome, report.Wants(diagnosis.UnitSplit), err)
	// Output:
	// explained [air leakage] <nil>
	// certainty high, 100 % of the shortage
	// + leakage beyond that of a sound room accounts for 692.3 W; the unit falls short by 429.5 W
	// + 14.6 kg/day of condensate stand for 74.4 m³/h of leaked air, where a sound room leaks 5.4 m³/h
	// undecided true <nil>
}

package diagnosis_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/envelope"
	"proveout/checks/units"
)

// What cannot be is an error that names it; never a number, never an answer.
func TestDiagnoseRefuses(t *testing.T) {
	nan := math.NaN()
	for i, tt := range []struct {
		spoil func(*diagnosis.Room)
		want  string
	}{
		{func(r *diagnosis.Room) { r.Set = units.Temperature(nan) }, "set point"},
		{func(r *diagnosis.Room) { r.Volume = 0 }, "volume"},
		{func(r *diagnosis.Room) { r.Height = units.Length(math.Inf(1)) }, "height"},
		{func(r *diagnosis.Room) { r.Band = diagnosis.Band{Low: 70, High: 50} }, "least humidity"},
		{func(r *diagnosis.Room) { r.Faces[0].Area = -1 }, `face "wall"`},
		{func(r *diagnosis.Room) { r.Faces[0].Kind = "roof" }, `face kind "roof"`},
		{func(r *diagnosis.Room) { r.Faces[0].Side = "moon" }, `other side "moon"`},
		{func(r *diagnosis.Room) { r.Faces = append(r.Faces, r.Faces[0]) }, "name each face once"},
		{func(r *diagnosis.Room) { r.Faces[0].Transmittance = units.Transmittance(nan) }, "transmittance"},
		{func(r *diagnosis.Room) { r.Readings.Duty = diagnosis.Read(units.Percent(nan)) }, "duty"},
		{func(r *diagnosis.Room) { r.Readings.Duty = diagnosis.Read(units.Percent(130)) }, "duty"},
		{func(r *diagnosis.Room) {
			r.Readings.Split = []units.TemperatureDifference{units.TemperatureDifference(nan)}
		}, "split"},
		{func(r *diagnosis.Room) { r.Readings.Condensate = diagnosis.Read(units.Mass(math.Inf(1))) }, "condensate"},
		{func(r *diagnosis.Room) { r.Readings.WarmUp = diagnosis.Read(-time.Hour) }, "warm-up"},
		{func(r *diagnosis.Room) { r.Readings.Run = diagnosis.Read(time.Duration(0)) }, "run"},
		{func(r *diagnosis.Room) { r.Readings.Air[0].Humidity = diagnosis.Read(units.RelativeHumidity(140)) }, "room humidity"},
		{func(r *diagnosis.Room) {
			r.Readings.Sides[envelope.House] = diagnosis.SideAir{Temperature: diagnosis.Read(units.Temperature(nan))}
		}, "temperature, house"},
		{func(r *diagnosis.Room) { r.Readings.Gaps = []diagnosis.DoorGapStretch{{Length: 0.9, Width: 1}} }, "width of gap"},
		{func(r *diagnosis.Room) { r.Readings.Openings = []diagnosis.Opening{{Area: units.Area(nan)}} }, "opening"},
		{func(r *diagnosis.Room) { r.Readings.Mold = []diagnosis.MoldSeen{{Area: -1}} }, "mold"},
		{func(r *diagnosis.Room) { r.Readings.Log = &diagnosis.Log{Every: time.Second} }, "log interval"},
		{func(r *diagnosis.Room) { r.Year = map[envelope.OtherSide][]diagnosis.Air{envelope.House: {{}}} }, "12 monthly means"},
		{func(r *diagnosis.Room) { r.Unit.CoilDifference = 50 }, "coil difference"},
		{func(r *diagnosis.Room) { r.Planned = &diagnosis.Plan{AirChange: nan} }, "planned air change"},
		{func(r *diagnosis.Room) { r.Use.People = nan }, "people"},
		{func(r *diagnosis.Room) { r.Limits = &diagnosis.Limits{} }, "limit"},
	} {
		room := plain(diagnosis.Air{Temperature: 24, Humidity: 50}, 16, 1)
		tt.spoil(&room)
		r, err := diagnosis.Diagnose(room)
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%d: %v, %v, want an error with %q", i, r.Outcome, err, tt.want)
		}
	}
}

// With nothing read nothing is said, and everything is asked for.
func TestNothingRead(t *testing.T) {
	r := diagnose(t, diagnosis.Room{Set: 13, Volume: 20, Height: 2.4})
	if r.Outcome != diagnosis.Undecided || len(r.Causes) != 0 || len(r.Wanted) < 8 {
		t.Errorf("%v, causes %v, wanted %v", r.Outcome, r.Causes, r.Wanted)
	}
}

// A report prints in the units of its reader.
func TestShow(t *testing.T) {
	room := plain(diagnosis.Air{Temperature: 26, Humidity: 60}, 16, 1)
	room.Readings.Condensate = diagnosis.Read(units.Mass(14.6))
	room.Show = units.US
	r := diagnose(t, room)
	var text strings.Builder
	for _, e := range r.Causes[0].For {
		text.WriteString(e.Text)
	}
	for _, want := range []string{"Btu/h", "cfm", "°F"} {
		if !strings.Contains(text.String(), want) {
			t.Errorf("no %s in %s", want, text.String())
		}
	}
}

func TestWords(t *testing.T) {
	if diagnosis.High.String() != "high" || diagnosis.Undecided.String() != "undecided" || (diagnosis.Report{}).Outcome != diagnosis.Undecided {
		t.Error("certainty or outcome has no word, or the zero report is decided")
	}
}

package checks

import (
	"testing"
	"time"

	"proveout/checks/units"
)

func TestNearLimitAndGuardBand(t *testing.T) {
	room, q := cellar(t), depth(t)
	with := func(text string, i *Instrument) Fact {
		f := reading(t, "point 1", text)
		f.Instrument = i
		return f
	}
	v := judge(room, q, with("5 1/16 in", caliper(t)))
	if v.Outcome != Pass || !v.Near {
		t.Errorf("1/16 in above, known to 1/16 in: %+v", v)
	}
	if v = judge(room, q, with("5 1/8 in", caliper(t))); v.Outcome != Pass || v.Near {
		t.Errorf("1/8 in above, known to 1/16 in: %+v", v)
	}
	room.GuardBand = true
	wantVerdict(t, judge(room, q, with("5 1/16 in", caliper(t))), Undecided, "wants a clear pass")
	wantVerdict(t, judge(room, q, with("5 1/8 in", caliper(t))), Pass, "")
	wantVerdict(t, judge(room, q, with("4 15/16 in", caliper(t))), Fail, "")
	unstated := caliper(t)
	unstated.Uncertainty = units.Quantity{}
	wantVerdict(t, judge(room, q, with("9 in", unstated)), Undecided, "uncertainty is not stated")
	wantVerdict(t, judge(room, q, reading(t, "point 1", "9 in")), Pass, "") // no instrument is asked for
	// An uncertainty of another kind says nothing about this reading.
	kelvin := caliper(t)
	kelvin.Uncertainty = quantity(t, units.TemperatureDifferenceKind, "1 K")
	room.GuardBand = false
	if v = judge(room, q, with("5 1/4 in", kelvin)); v.Near {
		t.Errorf("a length near its limit by 1 K: %+v", v)
	}
}

// The day of calibration and the day it falls due count whole, in the job's
// zone (common practice: certificates carry days).
func TestCalibrationDays(t *testing.T) {
	chicago, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	room, q := cellar(t), depth(t)
	room.Zone, q.Instrument = chicago, "caliper"
	day := func(month time.Month, d, hour, minute int) time.Time {
		return time.Date(2026, month, d, hour, minute, 0, 0, chicago)
	}
	for _, tt := range []struct {
		at   time.Time
		want Outcome
		says string
	}{
		{day(time.March, 9, 23, 59), Undecided, "was calibrated after this reading"},
		{day(time.March, 10, 0, 0), Pass, ""},
		{day(time.March, 10, 23, 59), Pass, ""},
		{day(time.May, 10, 0, 0), Pass, ""},
		{day(time.May, 10, 23, 59), Pass, ""},
		{day(time.May, 10, 23, 59).UTC(), Pass, ""}, // the same moment, written in UTC
		{day(time.May, 11, 0, 0), Undecided, "calibration ran out on 2026-05-10"},
	} {
		i := caliper(t)
		i.Calibrated = time.Date(2026, time.March, 10, 0, 0, 0, 0, time.UTC)
		i.Due = time.Date(2026, time.May, 10, 0, 0, 0, 0, time.UTC)
		f := reading(t, "point 1", "6 in")
		f.Instrument, f.Measured = i, tt.at
		wantVerdict(t, judge(room, q, f), tt.want, tt.says)
	}
	for _, spoil := range []func(*Instrument){
		func(i *Instrument) { i.Due = time.Time{} },
		func(i *Instrument) { i.Calibrated = time.Time{} },
	} {
		f := reading(t, "point 1", "6 in")
		f.Instrument = caliper(t)
		spoil(f.Instrument)
		wantVerdict(t, judge(room, q, f), Undecided, "has no calibration date")
		f.Instrument.NotRequired = true
		wantVerdict(t, judge(room, q, f), Pass, "")
	}
}

// A record that begins or ends in the future, or ends before it begins, proves
// nothing whatever it says.
func TestTimesOfAFact(t *testing.T) {
	q := &Question{Phase: "a", Name: "b", Kind: Observation, Want: "yes"}
	for _, tt := range []struct {
		start, end time.Time
		want       Outcome
		says       string
	}{
		{noon.Add(-2 * time.Hour), noon.Add(-time.Hour), Pass, ""},
		{noon.Add(time.Hour), time.Time{}, Undecided, "still to come"},
		{noon.Add(-time.Hour), noon.Add(time.Hour), Undecided, "still to come"},
		{noon.Add(-time.Hour), noon.Add(-2 * time.Hour), Undecided, "ends before it begins"},
	} {
		f := answered("point 1", "yes")
		f.Start, f.End = tt.start, tt.end
		wantVerdict(t, judge(cellar(t), q, f), tt.want, tt.says)
	}
}

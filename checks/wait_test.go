package checks

import (
	"strings"
	"testing"
	"time"
)

// The calendar of 2026 in the United States: 4 July is a Saturday, 7 September
// Labor Day, 11 November Veterans Day (a Wednesday), 26 November Thanksgiving.
func TestWaits(t *testing.T) {
	for _, tt := range []struct {
		wait, start, over string
	}{
		// 16 CFR 429: midnight of the third business day after the day of
		// signing; a business day is any day but Sunday and federal holidays,
		// so Saturday counts (429.0(f), from memory).
		{"3 business days", "2026-06-01 15:00", "2026-06-05 00:00"}, // Monday: Tue, Wed, Thu
		{"3 business days", "2026-06-04 09:00", "2026-06-09 00:00"}, // Thursday: Fri, Sat, Mon
		{"3 business days", "2026-06-05 23:59", "2026-06-10 00:00"}, // Friday: Sat, Mon, Tue
		{"3 business days", "2026-06-06 00:00", "2026-06-11 00:00"}, // Saturday: Mon, Tue, Wed
		{"3 business days", "2026-06-07 12:00", "2026-06-11 00:00"}, // Sunday: Mon, Tue, Wed
		{"3 business days", "2026-07-01 12:00", "2026-07-08 00:00"}, // Thu, (Fri observed, Sat 4 July), Mon, Tue
		{"1 business days", "2027-07-02 12:00", "2027-07-04 00:00"}, // Sat; 4 July is a Sunday
		{"2 business days", "2027-07-02 12:00", "2027-07-07 00:00"}, // Sat, (Sun, Mon observed), Tue
		{"3 business days", "2027-12-23 12:00", "2027-12-30 00:00"}, // (Fri observed, Sat, Sun), Mon, Tue, Wed
		{"3 business days", "2026-09-03 12:00", "2026-09-09 00:00"}, // Fri, Sat, (Labor Day), Tue
		{"3 business days", "2026-11-09 12:00", "2026-11-14 00:00"}, // Tue, (11 Nov), Thu, Fri
		{"3 business days", "2026-11-24 12:00", "2026-11-29 00:00"}, // Wed, (26 Nov), Fri, Sat
		{"3 business days", "2026-12-31 12:00", "2027-01-06 00:00"}, // (1 Jan), Sat, Mon, Tue
		// 40 CFR 61.141: Monday to Friday, holidays among them (from memory).
		{"10 working days", "2026-06-01 08:00", "2026-06-16 00:00"},
		{"1 working days", "2026-07-02 08:00", "2026-07-04 00:00"},
		{"1 working days", "2026-07-03 08:00", "2026-07-07 00:00"},
		{"1 working days", "2026-11-25 08:00", "2026-11-27 00:00"}, // Thanksgiving counts
		{"5 calendar days", "2026-06-04 09:00", "2026-06-10 00:00"},
		{"14 calendar days", "2026-12-24 09:00", "2027-01-08 00:00"},
		{"48 h", "2026-06-01 15:30", "2026-06-03 15:30"},
		{"2 h", "2026-06-01 23:00", "2026-06-02 01:00"},
	} {
		waitIsOver(t, time.UTC, tt.wait, tt.start, tt.over)
	}
}

// Days end at midnight where the job is, also when the clocks change in
// between; hours are hours. The clocks of Chicago went forward on 8 March 2026
// and go back on 1 November 2026 (IANA time zone database).
func TestWaitsAcrossClockChanges(t *testing.T) {
	chicago, err := time.LoadLocation("America/Chicago")
	if err != nil {
		t.Fatal(err)
	}
	waitIsOver(t, chicago, "3 business days", "2026-10-29 17:00", "2026-11-03 00:00") // Fri, Sat, Mon
	waitIsOver(t, chicago, "5 calendar days", "2026-03-05 17:00", "2026-03-11 00:00")
	waitIsOver(t, chicago, "48 h", "2026-03-07 12:00", "2026-03-09 13:00")
	waitIsOver(t, chicago, "48 h", "2026-10-31 12:00", "2026-11-02 11:00")
}

// waitIsOver asks for the moment a wait ends: undecided one second before, pass
// from then on. The record's start is written with a fixed offset, as files
// are.
func waitIsOver(t *testing.T, zone *time.Location, wait, start, over string) {
	t.Helper()
	const layout = "2006-01-02 15:04"
	begin, err := time.ParseInLocation(layout, start, zone)
	if err != nil {
		t.Fatal(err)
	}
	end, err := time.ParseInLocation(layout, over, zone)
	if err != nil {
		t.Fatal(err)
	}
	written, err := time.Parse(time.RFC3339, begin.Format(time.RFC3339))
	if err != nil {
		t.Fatal(err)
	}
	room := cellar(t)
	room.Zone = zone
	q := &Question{Phase: "demo", Name: "wait", Kind: Wait, Wait: wait}
	f := fact("point 1")
	f.Start, f.Measured = written, begin
	c := asked(room, q, f)
	for at, want := range map[time.Time]Outcome{end.Add(-time.Second): Undecided, end: Pass, end.AddDate(1, 0, 0): Pass} {
		c.Now = at
		if v := Judge(c); v.Outcome != want || v.Waiting != (want == Undecided) {
			t.Errorf("%s from %s, at %s: %v %q, want %v", wait, start, at, v.Outcome, v.Reasons, want)
		}
	}
}

// The days on which holidays of a week-end are observed, as the Office of Personnel
// Management lists them for 2021, 2022 and 2027 (from memory).
func TestObservedHolidays(t *testing.T) {
	for _, tt := range []struct {
		day  string
		want bool
	}{
		{"2021-06-18", true}, {"2021-07-05", true}, {"2021-12-24", true}, {"2021-12-31", true},
		{"2022-06-20", true}, {"2022-12-26", true}, {"2026-07-03", true}, {"2027-06-18", true},
		{"2027-07-05", true}, {"2027-12-24", true}, {"2027-12-31", true},
		{"2021-06-21", false}, {"2021-07-02", false}, {"2021-12-27", false}, {"2022-01-03", false},
		{"2022-06-17", false}, {"2026-07-06", false}, {"2026-12-24", false}, {"2026-11-12", false},
	} {
		day, err := time.Parse(time.DateOnly, tt.day)
		if err != nil {
			t.Fatal(err)
		}
		if got := observedHoliday(day); got != tt.want {
			t.Errorf("observedHoliday(%s) = %v, want %v", tt.day, got, tt.want)
		}
	}
}

// 5 U.S.C. 6103(a) on the dates of 2026 (from memory; the Office of Personnel
// Management prints the same list).
func TestFederalHolidays(t *testing.T) {
	holidays := strings.Fields("01-01 01-19 02-16 05-25 06-19 07-04 09-07 10-12 11-11 11-26 12-25")
	count := 0
	for day := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC); day.Year() == 2026; day = day.AddDate(0, 0, 1) {
		if !federalHoliday(day) {
			continue
		}
		if count >= len(holidays) || day.Format("01-02") != holidays[count] {
			t.Errorf("%s is taken for a holiday", day.Format(time.DateOnly))
		}
		count++
	}
	if count != len(holidays) {
		t.Errorf("%d holidays, want %d", count, len(holidays))
	}
}

func TestWaitStates(t *testing.T) {
	room := cellar(t)
	q := &Question{Phase: "demo", Name: "re-entry", Kind: Wait, Wait: "data sheet foam re-entry"}
	f := fact("point 1")
	wantVerdict(t, judge(room, q, f), Undecided, "the start is missing")
	f.Start = noon.Add(-23 * time.Hour)
	v := judge(room, q, f)
	wantVerdict(t, v, Undecided, "the time stands on the product's data sheet")
	if v.Waiting {
		t.Error("a wait of unknown length counts as waiting")
	}
	room.Values["data sheet foam re-entry"] = "24 h"
	v = judge(room, q, f)
	wantVerdict(t, v, Undecided, "the wait is over on Mon 15 June 2026 13:00")
	if !v.Waiting || len(v.Next) != 0 {
		t.Errorf("verdict = %+v", v)
	}
	room.Values["data sheet foam re-entry"] = "24"
	wantVerdict(t, judge(room, q, f), Undecided, "no unit")
	f.Start = noon.Add(time.Hour)
	wantVerdict(t, judge(room, q, f), Undecided, "still to come")
	// The last lift counts: a second start at another place is waited for, too.
	room.Values["data sheet foam re-entry"] = "24 h"
	f.Start = noon.Add(-25 * time.Hour)
	later := fact("second lift")
	later.Start = noon.Add(-time.Hour)
	wantVerdict(t, judge(room, q, f, later), Undecided, "second lift")
}

func TestCheckWait(t *testing.T) {
	for _, wait := range []string{"24 h", "3 business days", "10 working days", "5 calendar days", "data sheet foam re-entry", "30 min", "2 days"} {
		if err := CheckWait(wait); err != nil {
			t.Errorf("CheckWait(%q): %v", wait, err)
		}
	}
	for _, wait := range []string{"", "soon", "24", "0 business days", "-1 working days", "x calendar days", "3 business  days", "1.5 business days"} {
		if CheckWait(wait) == nil {
			t.Errorf("CheckWait(%q) found nothing wrong", wait)
		}
	}
}

package logs

import (
	"testing"
	"time"
)

// TestZoneAgainstTime walks through five years by the quarter hour in zones
// with every kind of transition: package time turns Unix time into local time,
// which must come back.
func TestZoneAgainstTime(t *testing.T) {
	for _, name := range []string{
		"Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu", "America/Sao_Paulo",
		"Africa/Casablanca", "Pacific/Apia", "UTC", "Asia/Tehran", "America/St_Johns",
	} {
		zone := location(t, name)
		z := zoneClock{zone: zone}
		seen := map[int64]int{}
		const quarter = 15 * 60_000
		from, to := time.Date(2010, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli(), time.Date(2015, 1, 1, 0, 0, 0, 0, time.UTC).UnixMilli()
		for ms := from; ms < to; ms += quarter {
			local := wall(ms, zone)
			seen[local]++
			first, second, p := z.unix(local)
			if p == never || first != ms && (p != twice || second != ms) {
				t.Fatalf("%s: unix(%s) = %d %d %v, want %d", name, time.UnixMilli(local).UTC(), first, second, p, ms)
			}
		}
		for local := from + 24*4*quarter; local < to-24*4*quarter; local += quarter {
			_, _, p := z.unix(local)
			if want := [...]passes{never, once, twice}[seen[local]]; p != want {
				t.Fatalf("%s: %s comes %v, want %v", name, time.UnixMilli(local).UTC(), p, want)
			}
		}
	}
}

// wall returns the local time as if it were UTC.
func wall(ms int64, zone *time.Location) int64 {
	at := time.UnixMilli(ms).In(zone)
	_, offset := at.Zone()
	return ms + int64(offset)*1000
}

// hourLog is a ten-minute log with the local times given.
func hourLog(date string, clocks ...string) []byte {
	text := "Time,Temp (°C)\n"
	for _, c := range clocks {
		text += date + " " + c + ",13.0\n"
	}
	return []byte(text)
}

// Europe/Berlin goes back from 03:00 to 02:00 on 27 October 2024 at 01:00 UTC
// (Directive 2000/84/EC: the last Sunday in October at 01:00 UTC).
func TestDoubledHour(t *testing.T) {
	const open = `comes twice in Europe/Berlin and the order of the rows does not tell which is meant`
	for _, tt := range []struct {
		name    string
		doubled Doubled
		clocks  []string
		want    []string // UTC, "-" rejected
	}{
		{"both passes", ByOrder, []string{"01:50", "02:00", "02:30", "02:00", "02:30", "03:00"},
			[]string{"23:50", "00:00", "00:30", "01:00", "01:30", "02:00"}},
		{"newest first", ByOrder, []string{"03:00", "02:30", "02:00", "02:30", "02:00", "01:50"},
			[]string{"02:00", "01:30", "01:00", "00:30", "00:00", "23:50"}},
		{"ends in the first pass", ByOrder, []string{"01:40", "01:50", "02:00", "02:10"}, []string{"23:40", "23:50", "00:00", "00:10"}},
		{"begins in the second pass", ByOrder, []string{"02:40", "02:50", "03:00", "03:10"}, []string{"01:40", "01:50", "02:00", "02:10"}},
		{"newest first, ends in the first pass", ByOrder, []string{"02:10", "02:00", "01:50", "01:40"}, []string{"00:10", "00:00", "23:50", "23:40"}},
		{"stops in the first pass", ByOrder, []string{"01:50", "02:00", "02:10", "05:00"}, []string{"23:50", "00:00", "00:10", "04:00"}},
		{"one pass between rows", ByOrder, []string{"01:40", "01:50", "02:00", "02:10", "02:20", "02:30", "02:40", "02:50", "03:00"},
			[]string{"23:40", "23:50", "-", "-", "-", "-", "-", "-", "02:00"}},
		{"three passes", ByOrder, []string{"01:50", "02:00", "02:10", "02:00", "02:10", "02:00", "03:00"},
			[]string{"23:50", "-", "-", "-", "-", "-", "02:00"}},
		{"first given", First, []string{"01:50", "02:00", "02:10", "03:00"}, []string{"23:50", "00:00", "00:10", "02:00"}},
		{"second given", Second, []string{"01:50", "02:00", "02:10", "03:00"}, []string{"23:50", "01:00", "01:10", "02:00"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d := Dialect{Zone: location(t, "Europe/Berlin"), Doubled: tt.doubled}
			f, err := Read(hourLog("2024-10-27", tt.clocks...), d)
			if err != nil {
				t.Fatal(err)
			}
			wanted := map[string]int{}
			rejected := 0
			for i, w := range tt.want {
				if w != "-" {
					wanted[w]++
					continue
				}
				if rejected >= len(f.Rejected) {
					t.Fatalf("%d rows rejected, want more", rejected)
				}
				r := f.Rejected[rejected]
				if rejected++; r.Line != i+2 || r.Reason != "2024-10-27 "+tt.clocks[i]+" "+open {
					t.Errorf("Rejected = %+v, want line %d", r, i+2)
				}
			}
			if len(f.Rejected) != rejected {
				t.Errorf("%d rows rejected, want %d", len(f.Rejected), rejected)
			}
			for _, ms := range f.Columns[0].Times {
				wanted[time.UnixMilli(ms).UTC().Format("15:04")]--
			}
			for clock, n := range wanted {
				if n != 0 {
					t.Errorf("%s is missing %d times", clock, n)
				}
			}
		})
	}
}

// Europe/Berlin goes from 02:00 to 03:00 on 31 March 2024.
func TestMissingHour(t *testing.T) {
	text := hourLog("2024-03-31", "01:40", "01:50", "02:00", "02:10", "03:00", "03:10")
	f, err := Read(text, Dialect{Zone: location(t, "Europe/Berlin")})
	if err != nil {
		t.Fatal(err)
	}
	want := []Rejection{
		{4, "", "2024-03-31 02:00,13.0", "2024-03-31 02:00 does not exist in Europe/Berlin: the clock skips that hour"},
		{5, "", "2024-03-31 02:10,13.0", "2024-03-31 02:10 does not exist in Europe/Berlin: the clock skips that hour"},
	}
	sameRejections(t, f.Rejected, want)
	hasNote(t, f.Preview, "2 rows lie in an hour that the clock skips in Europe/Berlin: the logger does not follow summer time; give its fixed offset")
	f, err = Read(text, Dialect{Zone: time.FixedZone("UTC+1", 3600)})
	if err != nil || len(f.Rejected) != 0 || f.Preview.Rows != 6 {
		t.Errorf("with a fixed offset: %d rows, %v, %v; want 6", f.Preview.Rows, f.Rejected, err)
	}
}

func sameRejections(t *testing.T, got, want []Rejection) {
	t.Helper()
	for i := range max(len(got), len(want)) {
		switch {
		case i >= len(got):
			t.Errorf("not rejected: %+v", want[i])
		case i >= len(want):
			t.Errorf("rejected: %+v", got[i])
		case got[i] != want[i]:
			t.Errorf("rejected %+v, want %+v", got[i], want[i])
		}
	}
}

func hasNote(t *testing.T, p Preview, want string) {
	t.Helper()
	for _, n := range p.Notes {
		if n == want {
			return
		}
	}
	t.Errorf("notes %q, want %q among them", p.Notes, want)
}

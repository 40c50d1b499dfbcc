package logs

import (
	"math"
	"strings"
	"testing"
	"time"
)

// TestRejections: every row or cell that is not read is listed, with its line
// and the reason; the rest of the file is read.
func TestRejections(t *testing.T) {
	lines := []string{
		"Time,T (°C),RH (%),Unit",            // 1
		"2024-06-01 00:00,13.1,58.0,on",      // 2
		"2024-06-01 00:10,---,58.1,on",       // 3: a cell
		"2024-06-01 00:20,13.1",              // 4: cut short
		"2024-06-31 00:30,13.1,58.0,on",      // 5
		"2024-06-01 25:00,13.1,58.0,on",      // 6
		"",                                   // 7
		",13.1,58.0,on",                      // 8
		"2024-06-01 00:40,999.9,58.0,off",    // 9: missing probe
		"2024-06-01 00:50,13.1,158.0,off",    // 10
		"2024-06-01 01:00,13.1,58.0,off,x",   // 11
		"2024-06-01 01:10,\"13.1,58.0,off",   // 12
		"Time,T (°C),RH (%),Unit",            // 13
		"2024-06-01 01:20,,58.0,maybe",       // 14: an empty cell is no rejection
		"2000-01-01 00:00,13.1,58.0,on",      // 15
		"1999-01-01 00:00,55 °F,58.0,on",     // 16
		"2024-06-01 01:30,13.2,58.0,off,,,,", // 17: empty cells at the end are fine
		"2024-06-01 01:40,13.2,58.0",         // 18
	}
	f, err := Read([]byte(strings.Join(lines, "\n")), Dialect{Zone: time.UTC, Layout: "2006-01-02 15:04"})
	if err != nil {
		t.Fatal(err)
	}
	const layout = "2006-01-02 15:04"
	sameRejections(t, f.Rejected, []Rejection{
		{3, "T (°C)", "---", "not a number"},
		{4, "", lines[3], "the row has 2 cells where 4 are expected"},
		{5, "", lines[4], "the month does not have that day in " + layout},
		{6, "", lines[5], "there is no such hour"},
		{8, "", lines[7], "the row has no date and time"},
		{9, "T (°C)", "999.9", "outside of what can be measured"},
		{10, "RH (%)", "158.0", "outside of what can be measured"},
		{11, "", lines[10], "the row has 5 cells where 4 are expected"},
		{12, "", lines[11], "a quote is opened and not closed"},
		{13, "", lines[12], "the header once more"},
		{14, "Unit", "maybe", "neither on nor off"},
		{16, "T (°C)", "55 °F", "not a number"},
		{18, "", lines[17], "the row has 3 cells where 4 are expected"},
	})
	if f.Preview.Rows != 8 || f.Preview.Blank != 1 || f.Preview.Rejected != 8 {
		t.Errorf("%d rows, %d blank, %d rejected; want 8, 1, 8", f.Preview.Rows, f.Preview.Blank, f.Preview.Rejected)
	}
	celsius := f.Find(Temperature)[0]
	if !math.IsNaN(celsius.Values[3]) || celsius.Values[2] != 13.1 {
		t.Errorf("temperatures %v", celsius.Values)
	}
}

// TestSecondHeader: a file of two recordings, the second in another unit, is
// not read on as if nothing had changed.
func TestSecondHeader(t *testing.T) {
	text := "Time,Temp (°C)\n2024-06-01 00:00,13.1\n2024-06-01 00:10,13.2\n" +
		"Time,Temp (°F)\n2024-06-01 00:20,55.6\n2024-06-01 00:30,55.7\n"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	const reason = `the header in line 4 has "Temp (°F)" where the file began with "Temp (°C)"; split the file there`
	sameRejections(t, f.Rejected, []Rejection{
		{4, "", "Time,Temp (°F)", reason},
		{5, "", "2024-06-01 00:20,55.6", reason},
		{6, "", "2024-06-01 00:30,55.7", reason},
	})
	if f.Preview.Rows != 2 {
		t.Errorf("%d rows, want 2", f.Preview.Rows)
	}
}

// TestCutOff: a last row without line end whose last number is shorter than
// all others was cut off while it was written.
func TestCutOff(t *testing.T) {
	text := "Time,T (°C)\n2024-06-01 00:00,13.12\n2024-06-01 00:10,13.25\n2024-06-01 00:20,1"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	sameRejections(t, f.Rejected, []Rejection{{4, "", "2024-06-01 00:20,1", "the file ends within this row"}})
	f, err = Read([]byte(text+"3.00"), Dialect{Zone: time.UTC})
	if err != nil || len(f.Rejected) != 0 || f.Preview.Rows != 3 {
		t.Errorf("with a whole last row: %v, %v", err, f.Rejected)
	}
}

// TestMixedOrder: a clock set back during the log.
func TestMixedOrder(t *testing.T) {
	text := "Time,T (°C)\n2024-06-01 00:00,1\n2024-06-01 00:20,3\n2024-06-01 00:10,2\n2024-06-01 00:30,4\n"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range f.Columns[0].Values {
		if v != float64(i+1) {
			t.Errorf("values %v, want them in the order of time", f.Columns[0].Values)
		}
	}
	hasNote(t, f.Preview, "the rows go back in time 1 times and were sorted: was the clock set during the log?")
	if f.Preview.Order != "mixed" {
		t.Errorf("order %q", f.Preview.Order)
	}
}

func TestRepeatedNames(t *testing.T) {
	f, err := Read([]byte("Time,T (°C),T (°C)\n2024-06-01 00:00,13.1,14.1\n2024-06-01 00:10,13.1,x\n"), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	sameRejections(t, f.Rejected, []Rejection{{3, "T (°C) (2)", "x", "not a number"}})
}

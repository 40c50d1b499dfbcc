package logs

import (
	"errors"
	"strings"
	"testing"
	"time"
)

// badFiles are files that cannot be read, or not without an answer, with the
// message that each must give.
var badFiles = []struct {
	name, text string
	dialect    Dialect
	kind       error
	want       string
}{
	{"empty", "", Dialect{}, ErrEmpty, "the file is empty"},
	{"only a mark", "\xef\xbb\xbf \r\n", Dialect{}, ErrEmpty, "the file is empty"},
	{"spreadsheet", "PK\x03\x04rest", Dialect{}, ErrNotText, "the file is a spreadsheet or another zip archive, not text; export the log as CSV"},
	{"zero bytes", "time,T\x00\x00\x00,abc\n", Dialect{}, ErrNotText, "the file has zero bytes and is not text; export the log as CSV"},
	{"prose", "Dear client,\nthe room is cold.\n", Dialect{}, ErrNoTimes,
		"no column of dates and times was found in the first 3 lines; give separator and layout if the file has one"},
	{"header only", "Time,Temp (°C)\n", Dialect{}, ErrNoTimes,
		"no column of dates and times was found in the first 2 lines; give separator and layout if the file has one"},
	{"day or month", "Time,Temp (°C)\n03/04/2024 00:00,13.1\n03/04/2024 00:10,13.2\n", Dialect{}, ErrAmbiguousDate,
		`line 2: "03/04/2024 00:00" can be 3 April 2024 (layout "02/01/2006 15:04") or 4 March 2024 (layout "01/02/2006 15:04"); say which layout the logger writes`},
	{"day, month or year", "Time;T (°C)\n03.04.05 00:00;13,1\n", Dialect{}, ErrAmbiguousDate,
		`line 2: "03.04.05 00:00" can be 3 April 2005 (layout "02.01.06 15:04") or 4 March 2005 (layout "01.02.06 15:04") or 5 April 2003 (layout "06.01.02 15:04"); say which layout the logger writes`},
	{"one row a day", "Date,Time,T (°C)\n03/04/2024,08:00,13.1\n04/04/2024,08:00,13.2\n", Dialect{}, ErrAmbiguousDate,
		`line 2: "03/04/2024 08:00" can be 3 April 2024 (layout "02/01/2006 15:04") or 4 March 2024 (layout "01/02/2006 15:04"); say which layout the logger writes`},
	{"both orders", "Time,T (°C)\n13/04/2024 00:00,13.1\n04/13/2024 00:10,13.2\n", Dialect{}, ErrAmbiguousDate,
		`line 2: "13/04/2024 00:00" can only be 13 April 2024 (layout "02/01/2006 15:04"); line 3: "04/13/2024 00:10" can only be 13 April 2024 (layout "01/02/2006 15:04"); a spreadsheet may have rewritten the dates: export them from the logger again`},
	{"thousand or decimal", "Time;Power (W)\n2024-06-01 00:00;1,234\n2024-06-01 00:10;1,235\n", Dialect{Zone: time.UTC}, ErrAmbiguousNumber,
		`line 2: "1,234" can be 1.234 or 1234; say whether ',' is the decimal mark`},
	{"no zone", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{}, ErrNoZone,
		"the file does not say where its clock belongs to; give a time zone, or a fixed offset if the logger does not follow summer time"},
	{"zone by name", "Zone: Europe/Berlin\nTime,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{}, ErrNoZone,
		"the file does not say where its clock belongs to; give a time zone, or a fixed offset if the logger does not follow summer time; the lines above the header name Europe/Berlin"},
	{"decimal commas between commas", "Time,T (°C),RH (%)\n2024-06-01 00:00,13,1,58,2\n2024-06-01 00:10,13,2,58,4\n", Dialect{Zone: time.UTC}, ErrColumns,
		"line 1: the header names 3 columns, the rows from line 2 on have 5; if it writes decimal commas, export with semicolons or quoted numbers"},
	{"wrong layout", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{Zone: time.UTC, Layout: "02/01/2006 15:04"}, ErrNoTimes,
		`no row has a date and time in the layout "02/01/2006 15:04"; leave the layout out to have it detected`},
	{"no layout", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{Layout: "yyyy"}, ErrDialect,
		`layout "yyyy" is not understood from "yyyy" on; write it like 02/01/2006 15:04:05`},
	{"unknown charset", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{Charset: "latin-9"}, ErrDialect,
		`character set "latin-9" is not known; known are utf-8, utf-16le, utf-16be, windows-1252, cp437, cp850, windows-1250, windows-1251, windows-1253, cp852, cp866, gb18030, shift-jis`},
	{"unknown column", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{Zone: time.UTC, Columns: []Column{{Name: "Temp"}}}, ErrDialect,
		`no column is called "Temp"; the file has "Time", "T (°C)"`},
	{"unit of another quantity", "Time,T (°C)\n2024-06-01 00:00,13.1\n", Dialect{Zone: time.UTC, Columns: []Column{{Name: "T (°C)", Quantity: Power}}}, ErrDialect,
		`column "T (°C)": "°C" is not a unit of power`},
	{"quantity without unit", "Time,T\n2024-06-01 00:00,13.1\n", Dialect{Zone: time.UTC, Columns: []Column{{}, {Quantity: Temperature}}}, ErrDialect,
		`column "T" is to be a temperature, in which unit is not said; give it, as in °C`},
	{"clock never set", "Time,T (°C)\n1970-01-01 00:00,13.1\n1970-01-01 00:10,13.1\n", Dialect{Zone: time.UTC}, ErrEmpty,
		`line 2: "1970-01-01 00:00,13.1": the year is not between 1990 and 2099: the logger's clock was not set; none of the 2 rows could be read`},
}

func TestBadFiles(t *testing.T) {
	for _, tt := range badFiles {
		t.Run(tt.name, func(t *testing.T) {
			f, err := Read([]byte(tt.text), tt.dialect)
			if f != nil || err == nil || err.Error() != tt.want {
				t.Fatalf("Read: %v, %v\nwant %s", f, err, tt.want)
			}
			if !errors.Is(err, tt.kind) {
				t.Errorf("the error is not %v", tt.kind)
			}
		})
	}
}

// TestAnswers reads the ambiguous files with each of the answers.
func TestAnswers(t *testing.T) {
	text := []byte("Time,Temp (°C)\n03/04/2024 00:00,13.1\n03/04/2024 00:10,13.2\n")
	_, err := Read(text, Dialect{Zone: time.UTC})
	var ambiguous *AmbiguousDate
	if !errors.As(err, &ambiguous) || len(ambiguous.Readings) != 2 {
		t.Fatalf("Read: %v, want two readings", err)
	}
	for _, r := range ambiguous.Readings {
		f, err := Read(text, Dialect{Zone: time.UTC, Layout: r.Layout})
		if err != nil {
			t.Fatal(err)
		}
		if !f.Preview.Start.Equal(r.Time) {
			t.Errorf("with %q: begins %v, want %v", r.Layout, f.Preview.Start, r.Time)
		}
	}
	number := []byte("Time;Power (W)\n2024-06-01 00:00;1,234\n2024-06-01 00:10;1,235\n")
	for mark, want := range map[byte]float64{',': 1.234, '.': 1234} {
		d := Dialect{Zone: time.UTC, Decimal: mark}
		if mark == '.' {
			d.Group = ','
		}
		f, err := Read(number, d)
		if err != nil || len(f.Columns) != 1 || f.Columns[0].Values[0] != want {
			t.Errorf("with %q as the decimal mark: %v, want %v", mark, err, want)
		}
	}
}

// TestDateOrder settles day and month by what the file itself shows.
func TestDateOrder(t *testing.T) {
	for _, tt := range []struct{ name, text, layout, note string }{
		{"a day above 12", "03/04/2024 00:00;1\n13/04/2024 00:00;1\n", "02/01/2006 15:04",
			`dates are 02/01/2006 15:04: line 3, "13/04/2024 00:00", fits no other order`},
		{"month first", "04/03/2024 00:00;1\n04/13/2024 00:00;1\n", "01/02/2006 15:04",
			`dates are 01/02/2006 15:04: line 3, "04/13/2024 00:00", fits no other order`},
		{"over midnight", "03/04/2024 23:50;1\n04/04/2024 00:00;1\n04/04/2024 00:10;1\n", "02/01/2006 15:04",
			"dates are 02/01/2006 15:04: only so do the rows follow each other over midnight"},
		{"over midnight, month first", "04/03/2024 23:50;1\n04/04/2024 00:00;1\n04/04/2024 00:10;1\n", "01/02/2006 15:04",
			"dates are 01/02/2006 15:04: only so do the rows follow each other over midnight"},
		{"full stops", "03.04.2024 00:00;1\n03.04.2024 00:10;1\n", "02.01.2006 15:04",
			"dates are 02.01.2006 15:04: with full stops the day comes first"},
		{"full stops and the day of the week", "Mi. 03.04.2024 00:00;1\nMi. 03.04.2024 00:10;1\n", "Mon 02.01.2006 15:04",
			"dates are Mon 02.01.2006 15:04: with full stops the day comes first"},
		{"full stops, but over midnight month first", "04.03.2024 23:50;1\n04.04.2024 00:00;1\n", "01.02.2006 15:04",
			"dates are 01.02.2006 15:04: only so do the rows follow each other over midnight"},
		{"two-digit year first", "24/02/29 00:00;1\n24/02/29 00:10;1\n", "06/01/02 15:04",
			"dates are 06/01/02 15:04: only so do the rows follow each other over midnight"},
	} {
		f, err := Read([]byte("Time;T [°C]\n"+tt.text), Dialect{Zone: time.UTC})
		if tt.name == "two-digit year first" {
			if !errors.Is(err, ErrAmbiguousDate) { // 24 February 2029 is possible too
				t.Errorf("%s: %v, want ErrAmbiguousDate", tt.name, err)
			}
			continue
		}
		if err != nil || f.Dialect.Layout != tt.layout {
			t.Errorf("%s: %v; layout %q, want %q", tt.name, err, f.Dialect.Layout, tt.layout)
			continue
		}
		hasNote(t, f.Preview, tt.note)
	}
}

// TestSameDate needs no answer: day and month are the same in every row.
func TestSameDate(t *testing.T) {
	f, err := Read([]byte("Time,T (°C)\n05/05/2024 00:00,13\n05/05/2024 00:10,13\n"), Dialect{Zone: time.UTC})
	if err != nil || !f.Preview.Start.Equal(time.Date(2024, 5, 5, 0, 0, 0, 0, time.UTC)) {
		t.Errorf("%v", err)
	}
}

// TestLateEvidence: the only day above 12 lies far beyond the beginning that
// detection looks at.
func TestLateEvidence(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time,T (°C)\n")
	at := time.Date(2024, 4, 3, 0, 0, 0, 0, time.UTC)
	for range 11 * 86400 / 5 {
		b.WriteString(at.Format("02/01/2006 15:04:05") + ",13.1\n")
		at = at.Add(5 * time.Second)
	}
	for name, read := range map[string]func() (*File, error){
		"bytes":  func() (*File, error) { return Read([]byte(b.String()), Dialect{Zone: time.UTC}) },
		"stream": func() (*File, error) { return ReadFrom(strings.NewReader(b.String()), Dialect{Zone: time.UTC}) },
	} {
		f, err := read()
		if err != nil || len(f.Rejected) > 0 || !f.Preview.End.Equal(at.Add(-5*time.Second)) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestLayoutTooLate: with an order given that later rows contradict, those rows
// are rejected and listed.
func TestWrongOrderGiven(t *testing.T) {
	text := "Time,T (°C)\n04/03/2024 00:00,13.1\n04/13/2024 00:00,13.2\n"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC, Layout: "02/01/2006 15:04"})
	if err != nil {
		t.Fatal(err)
	}
	sameRejections(t, f.Rejected, []Rejection{{3, "", "04/13/2024 00:00,13.2", "there is no such month in 02/01/2006 15:04"}})
}

package jobs

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"proveout/checks/logs"
	"proveout/phases/strict"
)

const nationalLogs = "../testdata/logs/"

// zoneOf is the zone that a file of nationalLogs needs, from the file beside it
// that says what it must give; nil for none.
func zoneOf(t *testing.T, want string) *time.Location {
	t.Helper()
	data, err := os.ReadFile(want)
	if err != nil {
		t.Fatal(err)
	}
	_, after, _ := strings.Cut(string(data), "# zone: ")
	name, _, _ := strings.Cut(after, "\n")
	if name == "none" {
		return nil
	}
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// Every national file, read once more by what a record keeps of the first reading,
// through the text of the record: the same times to the millisecond, the same
// values to the bit, the same rejections. A last line that is cut off stays
// rejected. Package logs compares the first reading with what Python computed.
func TestLogReadingReadsTheSame(t *testing.T) {
	wants, err := filepath.Glob(nationalLogs + "*.want.csv")
	if err != nil || len(wants) < 20 {
		t.Fatalf("%d files, %v", len(wants), err)
	}
	for _, want := range wants {
		base := strings.TrimSuffix(want, ".want.csv")
		files, _ := filepath.Glob(base + ".[ct]*")
		t.Run(filepath.Base(base), func(t *testing.T) {
			var data []byte
			for _, f := range files {
				if f != want {
					data, err = os.ReadFile(f)
				}
			}
			if data == nil || err != nil {
				t.Fatal(files, err)
			}
			for _, cut := range [][]byte{data, data[:len(data)-5]} {
				first, err := logs.Read(cut, logs.Dialect{Zone: zoneOf(t, want)})
				if err != nil {
					t.Fatal(err)
				}
				wantSameReading(t, cut, first)
			}
		})
	}
}

func wantSameReading(t *testing.T, data []byte, first *logs.File) {
	t.Helper()
	kept := ReadingOf(first, "")
	doc, err := strict.Read("record", strict.Encode(kept.fields()), strict.Options{Ended: true})
	if err != nil {
		t.Fatal(err)
	}
	r := readLogReading(doc.Map())
	if err := doc.Err(); err != nil {
		t.Fatal(err)
	}
	again, err := logs.Read(data, r.Dialect)
	if err != nil {
		t.Fatal(err)
	}
	if err := r.agrees(again); err != nil {
		t.Error(err)
	}
	for i, s := range first.Columns {
		for k := range s.Times {
			v, w := s.Values[k], again.Columns[i].Values[k]
			if s.Times[k] != again.Columns[i].Times[k] || math.Float64bits(v) != math.Float64bits(w) && !(math.IsNaN(v) && math.IsNaN(w)) {
				t.Fatalf("%s, row %d: %d %v, was %d %v", s.Name, k, again.Columns[i].Times[k], w, s.Times[k], v)
			}
		}
	}
}

// What a record says of the form of its file, doctored: an error, a reading that
// does not agree, or the reading it was; never a panic. That the text of a record
// is what was signed, its sum shows.
func TestLogReadingDoctored(t *testing.T) {
	data, err := os.ReadFile(nationalLogs + "de-windows-1252.csv")
	if err != nil {
		t.Fatal(err)
	}
	first, err := logs.Read(data, logs.Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	good := string(strict.Encode(ReadingOf(first, "").fields()))
	for _, tt := range [][2]string{
		{"header line: 2", "header line: 1"}, {"header line: 2", "header line: none"}, {"header line: 2", "header line: 900000000"},
		{"header line: 2", "header line: -5"}, {"first row: 3", "first row: 900000000"}, {"first row: 3", "first row: -1"}, {"first row: 3", "first row: 9"},
		{"separator: semicolon", "separator: tab"}, {"decimal mark: comma", "decimal mark: point"},
		{"decimal mark: comma", "decimal mark: comma\nthousands mark: comma"}, {"character set: windows-1252", "character set: utf-16le"},
		{"character set: windows-1252", "character set: klingon"}, {"date and time: 02.01.2006 15:04:05", "date and time: 15:04:05"},
		{"date and time: 02.01.2006 15:04:05", "date and time: unix"}, {"time zone: UTC", "time zone: +01:00"}, {"holds: date\n", "holds: text\n"},
		{"holds: value\n", "holds: date and time\n"}, {"unit: °C", "unit: kWh"}, {"column: Datum", "column: Tag"},
		{"rows: 150", "rows: 149"}, {"rejected: 0", "rejected: 1"},
	} {
		if !strings.Contains(good, tt[0]) {
			t.Fatalf("there is no %q in\n%s", tt[0], good)
		}
		doc, err := strict.Read("record", []byte(strings.Replace(good, tt[0], tt[1], 1)), strict.Options{Ended: true})
		if err != nil {
			t.Fatal(err)
		}
		r := readLogReading(doc.Map())
		if doc.Err() != nil {
			continue
		}
		if f, err := logs.Read(data, r.Dialect); err == nil && r.agrees(f) == nil && !sameFile(first, f) {
			t.Errorf("%q: it reads otherwise and agrees: %+v", tt[1], f.Preview)
		}
	}
}

// sameFile compares what the checks see: times, and quantities.
func sameFile(a, b *logs.File) bool {
	for _, q := range []logs.Quantity{logs.Temperature, logs.RelativeHumidity} {
		x, y := a.Find(q), b.Find(q)
		if len(x) != len(y) || len(x) == 1 && !slices.Equal(x[0].Values, y[0].Values) {
			return false
		}
	}
	return true
}

// A program that reads a file otherwise than the one that recorded it is noticed.
func TestLogReadingDisagrees(t *testing.T) {
	text := []byte("Time,T (°C)\n2026-05-04 10:00,13\n2026-05-04 10:10,13\n")
	f, err := logs.Read(text, logs.Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	r := ReadingOf(f, "")
	r.Rows = 3
	if err := r.agrees(f); err == nil || !strings.Contains(err.Error(), "reads as 2 rows") {
		t.Errorf("agrees = %v, want that it reads otherwise", err)
	}
}

func TestParseZone(t *testing.T) {
	for text, want := range map[string]string{"America/Chicago": "America/Chicago", "-06:00": "UTC-06:00", "UTC": "UTC"} {
		if zone, err := ParseZone(text); err != nil || zone.String() != want {
			t.Errorf("ParseZone(%q) = %v, %v, want %s", text, zone, err, want)
		}
	}
	for _, text := range []string{"", "Local", "Chicago", "+25:00", "../UTC"} {
		if zone, err := ParseZone(text); err == nil {
			t.Errorf("ParseZone(%q) = %v, want an error", text, zone)
		}
	}
}

func TestLoggerRefuses(t *testing.T) {
	salt := func(text string) SaltPoint {
		p, err := ParseSaltPoint(text)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	dry, damp := salt("magnesium chloride, 25 °C, 34 %"), salt("Sodium Chloride, 77 °F, 76 % RH")
	for _, tt := range []struct {
		place string
		l     Logger
		want  string
	}{
		{"under the sofa", Logger{}, `there is no place of a logger "under the sofa"`},
		{"", Logger{Distance: "4"}, `distance: "4" has no unit`},
		{"", Logger{Offset: "0.4"}, `offset: "0.4" has no unit`},
		{"", Logger{HumidityOffset: "two"}, `humidity offset: `},
		{"", Logger{Salts: []SaltPoint{dry}}, "there are 1 salt points; it takes two"},
		{"", Logger{Salts: []SaltPoint{dry, dry}}, "20 % at least"},
		{"", Logger{Salts: []SaltPoint{damp, dry}, HumidityOffset: "1 %"}, "give one of them"},
		{"", Logger{Salts: []SaltPoint{dry, {"sodium chloride", "25 °C", "40 %"}}}, "broken or a solution badly made"},
		{"room low", Logger{Distance: "4 ft", Offset: "-0.2 K", Salts: []SaltPoint{damp, dry}}, ""},
	} {
		in := &Incoming{}
		err := in.SetLogger(tt.place, tt.l)
		switch {
		case tt.want == "" && err != nil:
			t.Errorf("%+v: %v", tt.l, err)
		case tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)):
			t.Errorf("%q %+v: %v, want %q", tt.place, tt.l, err, tt.want)
		}
	}
	for _, text := range []string{"sodium chloride", "sodium chlorid, 25 °C, 76 %", "sodium chloride, 25, 76 %", "sodium chloride, 25 °C, 120 %"} {
		if p, err := ParseSaltPoint(text); err == nil {
			t.Errorf("ParseSaltPoint(%q) = %+v, want an error", text, p)
		}
	}
}

// A profile comes back as it was saved, fits the file it was made from and none
// of another logger, and replaces none.
func TestLogProfiles(t *testing.T) {
	c := &Company{Dir: t.TempDir()}
	day := time.Date(2026, 5, 4, 0, 0, 0, 0, time.UTC)
	berlin := zoneOf(t, nationalLogs+"de-windows-1252.want.csv")
	german, err := os.ReadFile(nationalLogs + "de-windows-1252.csv")
	if err != nil {
		t.Fatal(err)
	}
	f, err := logs.Read(german, logs.Dialect{Zone: berlin})
	if err != nil {
		t.Fatal(err)
	}
	answers := logs.Dialect{Columns: []logs.Column{{Name: "Rel. Feuchte [%rF]", Role: logs.Ignored}}}
	file, err := c.SaveLogProfile(ProfileOf(f, answers, "cellar", day))
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.LogProfile("cellar")
	if err != nil {
		t.Fatal(err)
	}
	if data, err := os.ReadFile(file); err != nil || !bytes.Equal(data, p.encode()) {
		t.Errorf("the profile reads back as\n%s, %v\nwas\n%s", p.encode(), err, data)
	}
	if !p.Fits(german, berlin) || p.Dialect.Zone != nil {
		t.Errorf("it does not fit its own file, or took over the site's zone: %+v", p)
	}
	if got, err := logs.Read(german, p.In(berlin)); err != nil || len(got.Columns) != 1 {
		t.Errorf("with the profile %d columns, %v; the humidity was to be left out", len(got.Columns), err)
	}
	for _, other := range []string{"fr.csv", "uk.csv", "us-12-hour.csv", "de-cp850.txt", "unix-seconds.csv"} {
		if data, err := os.ReadFile(nationalLogs + other); err != nil || p.Fits(data, berlin) {
			t.Errorf("it fits %s too (%v)", other, err)
		}
	}
	if _, err := c.SaveLogProfile(p); err == nil {
		t.Error("a second profile of that name replaces the first")
	}
	for _, name := range []string{"", "../x", "Cellar", "a b"} {
		if _, err := c.SaveLogProfile(LogProfile{Name: name}); err == nil {
			t.Errorf("a profile called %q is saved", name)
		}
	}
	if _, err := c.LogProfile("celar"); err == nil || !strings.Contains(err.Error(), "did you mean cellar") {
		t.Errorf("LogProfile(celar): %v", err)
	}
	if err := os.WriteFile(filepath.Join(c.Dir, "loggers", "bad.yaml"), []byte("profile: bad\nheader: [a]\nseparator: dot\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, err := c.LogProfiles(); err == nil || !strings.Contains(err.Error(), `bad.yaml:3:12: separator "dot" is not known`) {
		t.Errorf("a bad profile: %v", err)
	}
}

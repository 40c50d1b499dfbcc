package jobs

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proveout/checks/logs"
)

// spoiled is a file of the small job with one text replaced.
func spoiled(t testing.TB, name, from, to string) []byte {
	t.Helper()
	data, err := os.ReadFile(small + name)
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(data), from) {
		t.Fatalf("%s has no %q", name, from)
	}
	return []byte(strings.Replace(string(data), from, to, 1))
}

// wantText asks for exactly these lines.
func wantText(t *testing.T, err error, want string) {
	t.Helper()
	got := "no error"
	if err != nil {
		got = err.Error()
	}
	if got != want {
		t.Errorf("error:\n%s\nwant:\n%s", got, want)
	}
}

func TestBadJobFile(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{"job: birch-stair", "job: Birch Stair", `job.yaml:1:6: job id "Birch Stair": use lower-case letters, digits and hyphens, like birch-stair`},
		{"job: birch-stair", "job: x", `job.yaml:1:6: job: a job id has 2 to 60 characters, not 1`},
		{"started: 2026-05-04", "started: 4 May", `job.yaml:3:10: key "started" is "4 May"; write a date such as 2026-05-04`},
		{"units: US", "units: imperial", `job.yaml:4:8: units is "imperial"; write US or SI`},
		{"America/Chicago", "Chicago", `job.yaml:5:12: time zone "Chicago" is not known; write one like America/Chicago or Europe/Berlin`},
		{"America/Chicago", "Local", `job.yaml:5:12: time zone "Local" is not known; write one like America/Chicago or Europe/Berlin`},
		{"mold scheme: epa", "mold scheme: epaa", `job.yaml:7:14: mold scheme: there is no mold scheme "epaa"; known are: epa, nyc-2008, us-navy, texas, new-york-state, german-uba, canada`},
		{"year built: 1964", "year built: 2031", `job.yaml:8:13: year built is 2031; write the year the house was built`},
		{"year built: 1964", "year built: about 1964", `job.yaml:8:13: key "year built" is "about 1964"; write a whole number such as 5`},
		{"altitude: 600 ft", "altitude: 600", `job.yaml:9:11: altitude: "600" has no unit; write it as 600 mm or 23.6 in`},
		{"services: cavity", "services: cavities", `job.yaml:11:13: properties: services is "cavities"; write one of: cavity, service space, surface`},
		{"services: cavity", "servces: cavity", "job.yaml:11:3: properties: property \"services\" is missing; it selects the order of the holds; write one of: cavity, service space, surface\n" +
			`job.yaml:11:12: properties: unknown property "servces"; known are: collection, condenser, drain, finish, floor, insulation, permit, refrigerant class, retarder, services, unit`},
		{"set point: 55 °F", "set point: 55", `job.yaml:18:14: room: set point: "55" has no unit; write it as 55 °F or 12.8 °C`},
		{"set point: 55 °F", "set point:", `job.yaml:18:13: room: key "set point" has no value; write one, or delete the line`},
		{"low humidity: 50 % RH", "low humidity: 80 % RH", `job.yaml:19:17: room: low humidity 80 % RH is not below high humidity 70 % RH`},
		{"high humidity: 70 % RH", "high humidity: 170 % RH", `job.yaml:20:18: room: high humidity: "170 % RH" is above 100 % RH, saturated air; check the number and the unit`},
		{"pull-down load: empty", "pull-down load: half", `job.yaml:23:19: room: pull-down load is "half"; write one of: empty, loaded`},
		{"bottles: 900", "bottles: 9.5", `job.yaml:21:12: room: key "bottles" is "9.5"; write a whole number such as 5`},
		{"humidity: 50 % RH}", "humidity: 50 % RH, season: spring}", `job.yaml:25:67: house: season is "spring"; write summer, winter or stress (the most humid days), or leave it out for all year`},
		{"humidity: 50 % RH}", "humidity: 50 % RH}\n  - {space: house, temperature: 80 °F}", `job.yaml:26:13: house: the air of house stands twice for the same season`},
		{"kind: wall", "kind: roof", `job.yaml:28:11: north wall: kind is "roof"; write one of: wall, ceiling, floor, door, glass`},
		{"face: east wall", "face: north wall", `job.yaml:42:11: north wall: two faces are called "north wall"`},
		{"face: north wall", "face: north/wall", `job.yaml:27:11: north/wall: the name "north/wall" has a slash; slashes divide a face from its bay`},
		{"bays: 2", "bays: 2000", `job.yaml:31:11: north wall: bays is 2000; write how many stud bays the face has`},
		{"is: insulation", "is: foam", `job.yaml:39:13: closed-cell spray foam: is: "foam"; write insulation, retarder, or insulation and retarder`},
		{"area: 80 ft²", "area: -80 ft²", `job.yaml:30:11: north wall: area: "-80 ft²" is below 0, the least for area; check the sign and the unit`},
		{"faces:", "values: {set point: 60 °F}\nfaces:", `job.yaml:26:21: values: set point has its own place in job.yaml, in room or in a face's design; take it out here`},
		{"faces:", "values: {nominal voltage: 120}\nfaces:", `job.yaml:26:27: values: nominal voltage: "120" has no unit; write it as 120 V`},
		{"faces:", "values: {data sheet lift: two}\nfaces:", `job.yaml:26:27: values: data sheet lift: "two" is not a quantity with a unit`},
		{"faces:", "values: {wiring edition: NEC 1899}\nfaces:", `job.yaml:26:26: values: edition "NEC 1899" is not in the tables; write one of NEC 2023, NEC 2020, NEC 2017, IEC 60364-5-52:2009`},
		{"faces:", "values: {lift: 2 in}\nfaces:", `job.yaml:26:16: values: unknown value "lift"; write one of the job's values, or begin a product's figure with "data sheet"`},
		{"faces:", "colour: red\nfaces:", `job.yaml:26:1: unknown key "colour"`},
	} {
		_, err := ReadDescription(JobFile, spoiled(t, "job.yaml", tt.from, tt.to))
		t.Run(tt.to, func(t *testing.T) { wantText(t, err, tt.want) })
	}
	if _, err := ReadDescription(JobFile, spoiled(t, "job.yaml", "job", "job")); err != nil {
		t.Errorf("the good file: %v", err)
	}
}

func TestBadCompany(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{"company: Hollow Oak Cellar Rooms\n", "", `company.yaml:2:1: key "company" is missing`},
		{"units: US", "units: us", `company.yaml:4:8: units is "us"; write US or SI`},
		{"region: us\n", "region: us\nphoto size: 50\n", `company.yaml:7:13: photo size 50 is not between 400 and 8000 pixels`},
		{"region: us\n", "region: us\nacceptance: strict\n", `company.yaml:7:13: acceptance is "strict"; write simple or guard band`},
		{"roles: [crew lead]", "role: [crew lead]", "company.yaml:8:5: Ana Ruiz: key \"roles\" is missing\ncompany.yaml:9:5: Ana Ruiz: unknown key \"role\"; did you mean \"roles\"?"},
		{"roles: [crew lead]", "roles: []", `company.yaml:9:12: Ana Ruiz: key "roles" is an empty list; write an item`},
		{"name: Ben Okafor", "name: Ana Ruiz", `company.yaml:8:3: people: two people are called "Ana Ruiz"; sign-offs could not tell them apart`},
		{"name: Ben Okafor", "name: The Homeowner", `company.yaml:8:3: people: two people are called "The Homeowner"; sign-offs could not tell them apart`},
		{"roles: [owner]", "roles: [owner, homeowner]", `company.yaml:8:3: people: Ben Okafor has the role homeowner; only the client has it, and signs with --by homeowner`},
		{"id: PM-1", "id: DG-2", `company.yaml:16:3: instruments: two instruments have the id "DG-2"`},
		{"    due: 2027-01-12\n", "", `company.yaml:16:9: DG-2: instrument DG-2 lacks the day it was calibrated or falls due; add calibrated: 2026-05-04 and due: 2027-05-04, or calibration not required: and why`},
		{"    calibrated: 2026-01-12\n", "", `company.yaml:16:9: DG-2: instrument DG-2 lacks the day it was calibrated or falls due; add calibrated: 2026-05-04 and due: 2027-05-04, or calibration not required: and why`},
		{"due: 2027-01-12", "due: 2025-01-12", `company.yaml:20:10: DG-2: instrument DG-2 falls due before it was calibrated`},
		{"due: 2027-01-12", "due: 2027-02-30", "company.yaml:20:10: DG-2: key \"due\" is \"2027-02-30\"; write a date such as 2026-05-04"},
		{"instruments:", "limits:\n  - {limit: demo.lift, at least: 1 in}\ninstruments:", `company.yaml:16:5: demo.lift: key "reason" is missing`},
		{"instruments:", "limits:\n  - {limit: demo.lift, reason: why}\ninstruments:", `company.yaml:16:13: demo.lift: limit "demo.lift" gives no new value; add one of: at least, at most, above, below, wait, before, hold`},
		{"instruments:", "limits:\n  - {limit: demo.lift, reason: why, at least: 1 in, at most: 2 in}\ninstruments:", `company.yaml:16:62: demo.lift: a limit changes one thing at a time; at least is already given`},
	} {
		_, err := readCompany(CompanyFile, ".", spoiled(t, "company.yaml", tt.from, tt.to))
		t.Run(tt.to, func(t *testing.T) { wantText(t, err, tt.want) })
	}
}

// whole is a record with something in every field.
func whole() *Record {
	at := time.Date(2026, 5, 4, 10, 0, 0, 0, time.FixedZone("", -5*3600))
	return &Record{
		Kind: AnswerRecord, ID: "20260504-150000-abcdef", Job: "birch-stair", Phase: "insulation", Check: "foam-depth", Place: "north wall/bay 1",
		Value: "5 1/2 in", Values: []NamedText{{"load", "1000 W"}}, Answer: "yes", Number: "B-1", Start: at, End: at,
		Instrument: &Instrument{ID: "DG-2", Kind: "depth gauge", Uncertainty: "1/16 in", Calibrated: time.Date(2026, 1, 12, 0, 0, 0, 0, time.UTC), Due: time.Date(2027, 1, 12, 0, 0, 0, 0, time.UTC), Certificate: "K-1182"},
		For:        "line set", Owner: "Cy", Seal: "boot", Hold: "insulation.before-board", Nonconformity: "NC-1", Requirement: "5 in", Found: "4 in",
		Disposition: Concession, Limits: "here", Until: at, Accepts: []string{"r-1"}, Code: true, Cause: "cold", Action: "warm",
		Plan: []NamedText{{"job.yaml", "00"}}, Changes: []string{"a change"}, Signoff: "s-1", Party: "engineer A. B.", By: "Ana Ruiz", Roles: []string{"crew lead"},
		Licence: "L-1", Measured: at, Entered: at, Photos: []Evidence{{Path: "evidence/photos/a.jpg", Name: "a.jpg", SHA256: "00", Original: "11", Place: "here"}},
		Files: []Evidence{{Path: "evidence/papers/b.pdf", Name: "b.pdf", SHA256: "22", Logger: wholeLogger(at)}}, Note: "a note: with # signs\nand lines", Supersedes: []string{"r-0"}, Reason: "because",
	}
}

// wholeLogger is a logger with something in every field.
func wholeLogger(at time.Time) *Logger {
	return &Logger{
		Distance: "4 ft", Instrument: &Instrument{ID: "LG-7", Kind: "logger", NotRequired: "it is compared"}, Offset: "0.4 °F", HumidityOffset: "-1 %",
		Salts: []SaltPoint{{"sodium chloride", "75 °F", "76 %"}},
		Reading: &LogReading{
			Profile: "cellar", Rows: 288, Rejected: 1, From: at, To: at,
			Dialect: logs.Dialect{
				Charset: logs.Windows1252, Separator: '\t', Decimal: ',', Group: '\'', Header: 2, First: 4, Layout: "02.01.2006 15:04",
				Zone: time.FixedZone("UTC-06:00", -6*3600), Doubled: logs.Second,
				Columns: []logs.Column{{Name: "Zeit", Role: logs.Stamp}, {Name: "T: 1", Role: logs.Value, Quantity: logs.Temperature, Unit: "°C", Suffix: "°C", Decimals: 1}},
			},
		},
	}
}

const recordPath = "records/insulation/20260504-150000-abcdef.yaml"

// A record comes back as it was written.
func TestRecordReadsBack(t *testing.T) {
	r, err := ReadRecord(recordPath, whole().Encode())
	if err != nil {
		t.Fatal(err)
	}
	if again := r.Encode(); !bytes.Equal(again, whole().Encode()) {
		t.Errorf("written again:\n%s\nwas\n%s", again, whole().Encode())
	}
}

// No part of a record is a record: a file that was cut off is known.
func TestRecordPrefixes(t *testing.T) {
	data := whole().Encode()
	for n := range data {
		r, err := ReadRecord(recordPath, data[:n])
		if err == nil && n != len(data)-1 { // but for the last line break
			t.Fatalf("the first %d of %d bytes read as %+v", n, len(data), r)
		}
	}
}

func TestBadRecords(t *testing.T) {
	for _, tt := range []struct{ from, to, want string }{
		{"record: answer\n", "record: anser\n", recordPath + `:1:9: record is "anser"; write one of: answer, penetration, note, void, nonconformity, disposition, agreement, closing, adoption, withdrawal`},
		{"id: 20260504-150000-abcdef", "id: 20260504-150000-abcdeg", recordPath + `:2:5: id: the file's name does not agree with phase "insulation" and id "20260504-150000-abcdeg"`},
		{"phase: insulation", "phase: framing", recordPath + `:2:5: id: the file's name does not agree with phase "framing" and id "20260504-150000-abcdef"`},
		{"check: foam-depth\n", "", recordPath + `:1:9: record: an answer needs check: the check it answers`},
		{"by: Ana Ruiz\n", "", recordPath + `:1:1: key "by" is missing`},
		{"measured: \"2026-05-04T10:00:00-05:00\"\n", "", recordPath + `:1:1: key "measured" is missing`},
		{"entered: \"2026-05-04T10:00:00-05:00\"", "entered: \"2026-05-04T10:00\"", ""},
		{"path: evidence/photos/a.jpg", "path: evidence/../job.yaml", ""},
		{"path: evidence/photos/a.jpg", "path: /etc/passwd", ""},
		{"value: 5 1/2 in\n", "value: 5 1/2 in\nvalue: 6 in\n", ""},
		{"value: 5 1/2 in\n", "value:\n", ""},
		{"value: 5 1/2 in\n", "value: &a 5 1/2 in\n", ""},
		{"value: 5 1/2 in\n", "value: !!float 5\n", ""},
		{"value: 5 1/2 in\n", "valeu: 5 1/2 in\n", ""},
		{"value: 5 1/2 in\n", "value: [5 1/2 in]\n", ""},
		{"...\n", "...\nvalue: 1 in\n", ""},
		{"...\n", "---\nvalue: 1 in\n...\n", ""},
	} {
		data := string(whole().Encode())
		if !strings.Contains(data, tt.from) {
			t.Fatalf("the record has no %q:\n%s", tt.from, data)
		}
		_, err := ReadRecord(recordPath, []byte(strings.Replace(data, tt.from, tt.to, 1)))
		if tt.want != "" {
			t.Run(tt.to, func(t *testing.T) { wantText(t, err, tt.want) })
		} else if err == nil || !strings.HasPrefix(err.Error(), recordPath+":") {
			t.Errorf("%q: %v, want an error with its place", tt.to, err)
		}
	}
	if _, err := ReadRecord(recordPath, bytes.Repeat([]byte("a"), 1<<20)); err == nil || !strings.Contains(err.Error(), "at most 262144 are read") {
		t.Errorf("a file of 1 MiB: %v", err)
	}
}

// Every prefix of a statement is rejected, and a list with a line that is none.
func TestBadSignoffs(t *testing.T) {
	f := newFixture(t)
	f.record("Ana", Answer{Phase: "framing", Check: "nails", Text: "yes"})
	s := f.mustSign("Ana", "framing.frame", "")
	data, err := os.ReadFile(filepath.Join(f.j.Dir, s.Path()))
	if err != nil {
		t.Fatal(err)
	}
	for n := range data[:len(data)-1] {
		if got, err := readSignoff(s.Path(), data[:n]); err == nil {
			t.Fatalf("the first %d of %d bytes read as %+v", n, len(data), got)
		}
	}
	for _, list := range []string{"", "abc", strings.Repeat("0", 64) + " one space", strings.Repeat("0", 63) + "  a", strings.Repeat("0", 64) + "  a\n\n", strings.Repeat("0", 64) + "  "} {
		if got, err := parseList("x.sha256", []byte(list)); err == nil {
			t.Errorf("the list %q reads as %v", list, got)
		}
	}
}

func FuzzReadRecord(f *testing.F) {
	f.Add(whole().Encode())
	f.Add([]byte("record: note\n...\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := ReadRecord(recordPath, data)
		if (r == nil) == (err == nil) {
			t.Fatalf("record %v with error %v", r, err)
		}
		if err != nil {
			return
		}
		again, err := ReadRecord(recordPath, r.Encode())
		if err != nil || !bytes.Equal(again.Encode(), r.Encode()) {
			t.Fatalf("it does not come back: %v\n%s", err, r.Encode())
		}
	})
}

func FuzzReadDescription(f *testing.F) {
	f.Add(spoiled(f, "job.yaml", "job", "job"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if d, err := ReadDescription(JobFile, data); (d == nil) == (err == nil) {
			t.Fatalf("description %v with error %v", d, err)
		}
	})
}

func FuzzReadCompany(f *testing.F) {
	f.Add(spoiled(f, "company.yaml", "units", "units"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, err := readCompany(CompanyFile, ".", data); (c == nil) == (err == nil) {
			t.Fatalf("company %v with error %v", c, err)
		}
	})
}

package logs

import (
	"errors"
	"testing"
	"time"
)

func TestWordsOfMarks(t *testing.T) {
	for b := range separatorWords {
		if got, err := ParseSeparator(SeparatorWord(b)); got != b || err != nil {
			t.Errorf("ParseSeparator(%q) = %q, %v", SeparatorWord(b), got, err)
		}
	}
	for b := range markWords {
		for _, text := range []string{MarkWord(b), string(b)} {
			if got, err := ParseMark(text); got != b || err != nil {
				t.Errorf("ParseMark(%q) = %q, %v", text, got, err)
			}
		}
	}
	for _, text := range []string{"", "dot", ";", "space"} {
		if got, err := ParseDecimal(text); err == nil {
			t.Errorf("ParseDecimal(%q) = %q, want an error", text, got)
		}
	}
	if d, err := ParseDoubled("Second"); d != Second || err != nil {
		t.Errorf("ParseDoubled = %v, %v", d, err)
	}
	if _, err := ParseDoubled("third"); err == nil {
		t.Error("ParseDoubled(third) gives no error")
	}
}

func TestOrderOf(t *testing.T) {
	for layout, want := range map[string]DateOrder{
		"02/01/2006 15:04": DayFirst, "01/02/06 03:04 PM": MonthFirst, "06-01-02 15:04": YearFirst, "2006-01-02T15:04:05Z07:00": YearFirst,
		"02-Jan-2006 15:04": "", "unix": "",
	} {
		if got := OrderOf(layout); got != want {
			t.Errorf("OrderOf(%q) = %q, want %q", layout, got, want)
		}
	}
}

// A person answers with the order; where the file mixes two, no answer helps.
func TestReadingOfOrder(t *testing.T) {
	var e *AmbiguousDate
	_, err := Read([]byte("Time,T (°C)\n03/04/2024 00:00,13\n03/04/2024 01:00,13\n"), Dialect{Zone: time.UTC})
	if !errors.As(err, &e) {
		t.Fatal(err)
	}
	if r, ok := e.Reading(MonthFirst); !ok || r.Layout != "01/02/2006 15:04" || r.Time.Month() != time.March {
		t.Errorf("Reading(MonthFirst) = %+v, %v", r, ok)
	}
	if r, ok := e.Reading(YearFirst); ok {
		t.Errorf("Reading(YearFirst) = %+v, want none", r)
	}
	_, err = Read([]byte("Time,T (°C)\n13/04/2024 00:00,13\n04/14/2024 01:00,13\n"), Dialect{Zone: time.UTC})
	if !errors.As(err, &e) {
		t.Fatal(err)
	}
	if r, ok := e.Reading(DayFirst); ok {
		t.Errorf("in a mixed file Reading(DayFirst) = %+v, want none", r)
	}
}

func TestFixedZone(t *testing.T) {
	for text, want := range map[string]int{"UTC": 0, "-06:00": -6 * 3600, "UTC+5:30": 19800, "+1": 3600, "utc-03": -3 * 3600, "gmt+01:00": 3600} {
		zone, ok := FixedZone(text)
		if !ok {
			t.Errorf("FixedZone(%q) is none", text)
			continue
		}
		if _, got := time.Unix(0, 0).In(zone).Zone(); got != want {
			t.Errorf("FixedZone(%q) is %d s, want %d", text, got, want)
		}
		if again, ok := FixedZone(zone.String()); !ok || again.String() != zone.String() {
			t.Errorf("FixedZone(%q) does not come back", zone)
		}
	}
	for _, text := range []string{"", "6", "America/Chicago", "+15", "-06:00 or so", "UTC+1:99", "local"} {
		if zone, ok := FixedZone(text); ok {
			t.Errorf("FixedZone(%q) = %v, want none", text, zone)
		}
	}
}

func TestParseMeaning(t *testing.T) {
	for text, want := range map[string]Column{
		"°F": {Role: Value, Quantity: Temperature, Unit: "°F"}, "dew point °C": {Role: Value, Quantity: DewPoint, Unit: "°C"},
		"% RH": {Role: Value, Quantity: RelativeHumidity, Unit: "% RH"}, "relative humidity %": {Role: Value, Quantity: RelativeHumidity, Unit: "%"},
		"kWh": {Role: Value, Quantity: Energy, Unit: "kWh"}, "On/Off": {Role: OnOff, Quantity: State},
		"text": {Role: Text}, "leave out": {Role: Ignored},
	} {
		if got, err := ParseMeaning(text); got != want || err != nil {
			t.Errorf("ParseMeaning(%q) = %+v, %v, want %+v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "%", "degrees", "temperature kWh", "power"} {
		if got, err := ParseMeaning(text); err == nil {
			t.Errorf("ParseMeaning(%q) = %+v, want an error", text, got)
		}
	}
}

// The clocks of Berlin in 2024: 31 March and 27 October, both at 01:00 UTC
// (Directive 2000/84/EC, from memory).
func TestClockChanges(t *testing.T) {
	berlin := location(t, "Europe/Berlin")
	text := "Time,T (°C)\n2024-03-31 01:00,1\n2024-03-31 02:00,1\n2024-03-31 03:00,2\n2024-10-27 01:00,3\n2024-10-27 02:00,4\n2024-10-27 02:00,5\n2024-10-27 03:00,6\n"
	f, err := Read([]byte(text), Dialect{Zone: berlin})
	if err != nil {
		t.Fatal(err)
	}
	p := f.Preview
	want := []ClockChange{{time.Date(2024, 3, 31, 1, 0, 0, 0, time.UTC), time.Hour}, {time.Date(2024, 10, 27, 1, 0, 0, 0, time.UTC), -time.Hour}}
	if len(p.Changes) != 2 || !p.Changes[0].At.Equal(want[0].At) || p.Changes[0].By != want[0].By || !p.Changes[1].At.Equal(want[1].At) || p.Changes[1].By != want[1].By {
		t.Errorf("Changes = %v, want %v", p.Changes, want)
	}
	if p.Missing != 1 || p.Doubled != 2 || p.Open != 0 {
		t.Errorf("missing %d, doubled %d, open %d; want 1, 2, 0", p.Missing, p.Doubled, p.Open)
	}
	open, err := Read([]byte("Time,T (°C)\n2024-10-27 01:30,3\n2024-10-27 02:00,4\n2024-10-27 02:30,4\n2024-10-27 03:00,6\n2024-10-27 03:30,6\n"), Dialect{Zone: berlin})
	if err != nil || open.Preview.Open != 2 || open.Preview.Doubled != 0 {
		t.Errorf("open %+v, %v; want 2", open, err)
	}
	fixed, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil || len(fixed.Preview.Changes) != 0 {
		t.Errorf("in UTC: %v, %v; want no change", fixed.Preview.Changes, err)
	}
}

// Character sets that must be given. The bytes are Python's codecs:
// "Температура (°C)".encode("cp1251") and so on.
func TestGivenCharsets(t *testing.T) {
	for charset, head := range map[Charset]string{
		Windows1251: "\xd2\xe5\xec\xef\xe5\xf0\xe0\xf2\xf3\xf0\xe0 (\xb0C)",
		CodePage866: "\x92\xa5\xac\xaf\xa5\xe0\xa0\xe2\xe3\xe0\xa0 (\xf8C)",
	} {
		f, err := Read([]byte("T;"+head+"\n2024-04-14 09:05;13,1\n2024-04-14 09:15;13,2\n"), Dialect{Zone: time.UTC, Charset: charset})
		if err != nil || f.Columns[0].Name != "Температура (°C)" || f.Columns[0].Quantity != Temperature {
			t.Errorf("%s: %+v, %v", charset, f, err)
		}
	}
	f, err := Read([]byte("T,\xce\xc2\xb6\xc8(\xa1\xe6)\n2024-04-14 09:05,13.1\n2024-04-14 09:15,13.2\n"), Dialect{Zone: time.UTC, Charset: GB18030})
	if err != nil || f.Columns[0].Name != "温度(℃)" || f.Columns[0].Quantity != Temperature {
		t.Errorf("gb18030: %+v, %v", f, err)
	}
}

package logs

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/text/encoding/charmap"
)

// TestDialects checks what was detected of the national files, beside what was
// read from them.
func TestDialects(t *testing.T) {
	for _, tt := range []struct {
		file, zone string
		want       string // charset separator decimal group header first layout
		columns    []string
	}{
		{"us-12-hour.csv", "America/Chicago", `utf-8 ',' '.' - 4 5 "01/02/06 03:04:05 PM"`,
			[]string{"Date:date", "Time:time of day", "Temp (°F):value:temperature:°F", "RH (%):value:relative humidity:% RH"}},
		{"us-header-offset.csv", "", `utf-8 ',' '.' - 1 2 "01/02/2006 15:04"`,
			[]string{"#:ignored", "Date and time, GMT-05:00:date and time", "Air (°F):value:temperature:°F", "Dew point (°F):value:dew point:°F", "Humidity (%RH):value:relative humidity:% RH"}},
		{"us-cp437.txt", "America/New_York", `cp437 '|' '.' - 2 3 "01-02-2006 15:04:05"`,
			[]string{"Date-time:date and time", "Temp °F:value:temperature:°F", "Probe °F:value:temperature:°F"}},
		{"de-windows-1252.csv", "Europe/Berlin", `windows-1252 ';' ',' - 2 3 "02.01.2006 15:04:05"`,
			[]string{"Datum:date", "Uhrzeit:time of day", "Temperatur [°C]:value:temperature:°C", "Rel. Feuchte [%rF]:value:relative humidity:% RH"}},
		{"de-cp850.txt", "Europe/Berlin", `cp437 '\t' ',' - 2 3 "02.01.06 15:04"`,
			[]string{"Zeitpunkt:date and time", "Fühler 1 (°C):value:temperature:°C", "Fühler 2 (°C):value:temperature:°C"}},
		{"ch-thousands.csv", "Europe/Zurich", `utf-8 ';' '.' '\'' 2 3 "02.01.2006 15:04:05"`,
			[]string{"Zeit:date and time", "Leistung (W):value:power:W", "Zähler (kWh):value:energy:kWh"}},
		{"es-utf-16le.txt", "Europe/Madrid", `utf-16le '\t' ',' - 2 3 "02/01/2006 03:04:05 PM"`,
			[]string{"Fecha y hora:date and time", "Temperatura (°C):value:temperature:°C", "Humedad (%HR):value:relative humidity:% RH"}},
		{"se-utf-16be.csv", "Europe/Stockholm", `utf-16be ';' ',' - 1 2 "2006-01-02 15:04:05"`,
			[]string{"Tid:date and time", "Temperatur (°C):value:temperature:°C", "Luftfuktighet (% RH):value:relative humidity:% RH"}},
		{"dk.csv", "Europe/Copenhagen", `windows-1252 ';' ',' - 2 3 "02-01-2006 15.04"`,
			[]string{"Tidspunkt:date and time", "Temperatur °C:value:temperature:°C", "Luftfugtighed %RH:value:relative humidity:% RH"}},
		{"unix-seconds.csv", "", `utf-8 ',' '.' - 1 2 "unix"`,
			[]string{"unix time:date and time", "power (kW):value:power:kW", "current (mA):value:current:mA", "compressor:on/off:state"}},
		{"month-names-thousands.csv", "Europe/Dublin", `utf-8 ',' '.' ',' 1 2 "02-Jan-2006 15:04"`,
			[]string{"Sample:ignored", "When:date and time", "Cellar (°C):value:temperature:°C", "Meter (kWh):value:energy:kWh"}},
		{"units-in-cells.csv", "Europe/Vienna", `utf-8 ';' ',' - 1 2 "02.01.2006 15:04:05"`,
			[]string{"Zeit:date and time", "Keller:value:temperature:°C", "Feuchte:value:relative humidity:% RH"}},
		{"units-row-compact.csv", "", `utf-8 ',' '.' - 1 4 "20060102T150405Z07:00"`,
			[]string{"Stamp:date and time", "Channel 1:value:temperature:°C", "Channel 2:value:relative humidity:% RH"}},
	} {
		data, err := os.ReadFile(folder + "/" + tt.file)
		if err != nil {
			t.Fatal(err)
		}
		d, _, err := Detect(data, Dialect{Zone: location(t, or(tt.zone, "UTC"))})
		if err != nil {
			t.Errorf("%s: %v", tt.file, err)
			continue
		}
		if got := summary(d); got != tt.want {
			t.Errorf("%s: %s, want %s", tt.file, got, tt.want)
		}
		if got := columnSummary(d); !slices.Equal(got, tt.columns) {
			t.Errorf("%s: columns %q\nwant %q", tt.file, got, tt.columns)
		}
	}
}

func or(a, b string) string {
	if a == "" {
		return b
	}
	return a
}

func summary(d Dialect) string {
	group := "-"
	if d.Group != 0 {
		group = fmt.Sprintf("%q", d.Group)
	}
	return fmt.Sprintf("%s %q %q %s %d %d %q", d.Charset, d.Separator, d.Decimal, group, d.Header, d.First, d.Layout)
}

func columnSummary(d Dialect) (all []string) {
	for _, c := range d.Columns {
		all = append(all, strings.TrimRight(fmt.Sprintf("%s:%s:%s:%s", c.Name, c.Role, c.Quantity, c.Unit), ":"))
	}
	return all
}

// TestHeaders maps headers of several languages and spellings.
func TestHeaders(t *testing.T) {
	for name, want := range map[string]string{
		"Temperature (°C)": "temperature °C", "Temp. °C": "temperature °C", "T [°F]": "temperature °F", "Temp(C)": "temperature °C",
		"air_temp_F": "temperature °F", "Temp, F": "temperature °F", "T °C": "temperature °C", "degC": "temperature °C",
		"Temp ℃": "temperature °C", "Temp ºC": "temperature °C", "Temp Â°C": "temperature °C", "Temp \uFFFDC": "temperature °C",
		"Temperatur in Grad C": "temperature °C", "Celsius": "temperature °C", "Fahrenheit": "temperature °F", "probe [K]": "temperature K",
		"Dew Point (°F)": "dew point °F", "Taupunkt °C": "dew point °C", "Point de rosée (°C)": "dew point °C", "Td / °C": "dew point °C", "Punto de rocío [°C]": "dew point °C",
		"RH %": "relative humidity % RH", "RH (%)": "relative humidity % RH", "%RH": "relative humidity % RH", "rel. Feuchte %": "relative humidity % RH",
		"Humidity(%rh)": "relative humidity % RH", "Humidité (%HR)": "relative humidity % RH", "Umidità %": "relative humidity % RH",
		"Power W": "power W", "P (kW)": "power kW", "Watts": "power W", "I [A]": "current A", "Current, mA": "current mA",
		"Energy kWh": "energy kWh", "E (Wh)": "energy Wh", "U [V]": "voltage V", "q [W/m²]": "heat flux W/m²", "flux W/m2": "heat flux W/m²",
		"Battery %": " %", "Battery": " ", "Serial": " ", "Pressure hPa": " ", "Signal (dBm)": " ",
		"Temperature": " ", "Humidity": " ", "Class A room": " ", "Temp (°C/°F)": " ",
	} {
		c, _ := headerColumn(name, "")
		if got := string(c.Quantity) + " " + c.Unit; got != want {
			t.Errorf("headerColumn(%q) = %q, want %q", name, got, want)
		}
	}
}

// TestNoUnit: a temperature whose unit is not stated is kept, but is no
// temperature, and says so; the caller's answer makes it one.
func TestNoUnit(t *testing.T) {
	text := []byte("Time;Temperature;RH (%)\n2024-06-01 00:00;55,4;60\n")
	f, err := Read(text, Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Find(Temperature)) != 0 || len(f.Columns) != 2 || f.Columns[0].Values[0] != 55.4 {
		t.Errorf("columns %+v", f.Columns)
	}
	hasNote(t, f.Preview, `column "Temperature" has no unit; say whether it is °C or °F`)
	f, err = Read(text, Dialect{Zone: time.UTC, Columns: []Column{{Name: "Temperature", Unit: "°F"}}})
	if err != nil || len(f.Find(Temperature)) != 1 || f.Columns[0].Values[0] != 13 {
		t.Errorf("with the unit given: %v, %+v", err, f)
	}
	above := append([]byte("Logger;Example\nTemperature unit;°F\n"), text...)
	f, err = Read(above, Dialect{Zone: time.UTC})
	if err != nil || len(f.Find(Temperature)) != 1 || f.Columns[0].Values[0] != 13 {
		t.Errorf("with the unit above the header: %v, %+v", err, f)
	}
	hasNote(t, f.Preview, `column "Temperature" takes °F from the lines above the header`)
}

// TestUnitConflict: header °C, cells °F.
func TestUnitConflict(t *testing.T) {
	f, err := Read([]byte("Time;Temp (°C)\n2024-06-01 00:00;55,4 °F\n2024-06-01 00:10;55,5 °F\n"), Dialect{Zone: time.UTC})
	if err != nil || len(f.Find(Temperature)) != 0 {
		t.Errorf("%v, %+v", err, f)
	}
	hasNote(t, f.Preview, `column "Temp (°C)" has another unit in its cells, °F; say which is right`)
}

// TestNoHeader: columns without names, told by their place.
func TestNoHeader(t *testing.T) {
	text := []byte("2024-06-01 00:00,13.1,58.2\n2024-06-01 00:10,13.2,58.4\n")
	f, err := Read(text, Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	if f.Dialect.Header != -1 || len(f.Columns) != 2 || f.Columns[1].Quantity != Unknown || f.Columns[1].Name != "column 3" {
		t.Errorf("header %d, columns %+v", f.Dialect.Header, f.Columns)
	}
	hasNote(t, f.Preview, "no header: the columns have no names and no units")
	f, err = Read(text, Dialect{Zone: time.UTC, Columns: []Column{{}, {Unit: "°C"}, {Quantity: RelativeHumidity, Unit: "%"}}})
	if err != nil || len(f.Find(Temperature)) != 1 || len(f.Find(RelativeHumidity)) != 1 {
		t.Errorf("with columns given: %v, %+v", err, f)
	}
}

// TestProfile: an answer given once reads the next file of the same logger,
// which has more lines above the header and its columns in another order.
func TestProfile(t *testing.T) {
	first := []byte("Time;Temp;RH (%)\n03/04/2024 00:00;55,4;60\n")
	f, err := Read(first, Dialect{Zone: time.UTC, Layout: "01/02/2006 15:04", Columns: []Column{{Name: "Temp", Unit: "°F"}}})
	if err != nil {
		t.Fatal(err)
	}
	next := []byte("Example 1\nCellar\n\nTime;RH (%);Temp\n05/06/2024 00:00;61;57,2\n")
	g, err := Read(next, f.Dialect.Profile())
	if err != nil || !g.Preview.Start.Equal(time.Date(2024, 5, 6, 0, 0, 0, 0, time.UTC)) || g.Find(Temperature)[0].Values[0] != 14 {
		t.Errorf("%v, %+v", err, g)
	}
	if _, err := Read(next, f.Dialect); !errors.Is(err, ErrDialect) {
		t.Errorf("with the other file's dialect: %v, want ErrDialect", err)
	}
}

// TestStatedOffsetWins: the file's own offset is used and the difference said.
func TestStatedOffsetWins(t *testing.T) {
	text := []byte("Time (UTC+02:00),T (°C)\n2024-06-01 00:00,13.1\n")
	f, err := Read(text, Dialect{Zone: location(t, "America/New_York")})
	if err != nil || !f.Preview.Start.Equal(time.Date(2024, 5, 31, 22, 0, 0, 0, time.UTC)) {
		t.Fatalf("%v, %v", err, f.Preview.Start)
	}
	if f.Preview.Zone != "UTC+02:00, from the header" {
		t.Errorf("zone %q", f.Preview.Zone)
	}
	hasNote(t, f.Preview, "the file states UTC+02:00 in the header; America/New_York, as given, is not used")
}

func TestOffsets(t *testing.T) {
	for text, want := range map[string]string{
		"Date Time, GMT-05:00": "UTC-05:00", "UTC+1": "UTC+01:00", "Time (GMT)": "UTC", "time [utc]": "UTC", "Zeit UTC+0530": "UTC+05:30",
		"UTC offset: GMT\u22124": "UTC-04:00", "Time": "", "GMTX": "", "UTC+99": "",
	} {
		got := ""
		if zone := offsetIn(text); zone != nil {
			got = zone.String()
		}
		if got != want {
			t.Errorf("offsetIn(%q) = %q, want %q", text, got, want)
		}
	}
}

// TestPreview checks what a person is shown.
func TestPreview(t *testing.T) {
	text := "Recorder;Example 1\nPlace;north wall\n\nTime;T (°C)\n" +
		"2024-06-01 00:00;13,1\n2024-06-01 00:10;13,1\n\n2024-06-01 00:20;13,1\n2024-06-01 00:20;13,2\n" +
		"2024-06-01 02:00;13,1\n2024-06-01 02:10;x\nend of log;\n2024-06-01 02:20;13,3\n"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	p := f.Preview
	if !slices.Equal(p.Preamble, []string{"Recorder;Example 1", "Place;north wall"}) {
		t.Errorf("Preamble = %q", p.Preamble)
	}
	got := fmt.Sprint(p.Zone, p.Order, p.Rows, p.Rejected, p.Blank, p.Interval, p.Gaps, p.LongestGap, p.Duplicates)
	if want := "UTC, as given" + "oldest first" + fmt.Sprint(7, 1, 1, 10*time.Minute, 1, 100*time.Minute, 1); got != want {
		t.Errorf("preview %q, want %q", got, want)
	}
	if !p.Start.Equal(time.Date(2024, 6, 1, 0, 0, 0, 0, time.UTC)) || !p.End.Equal(time.Date(2024, 6, 1, 2, 20, 0, 0, time.UTC)) {
		t.Errorf("from %v to %v", p.Start, p.End)
	}
	sameRejections(t, f.Rejected, []Rejection{
		{11, "T (°C)", "x", "not a number"},
		{12, "", "end of log;", "not a date and time in the layout 2006-01-02 15:04"},
	})
}

// TestCharsets encodes words of several languages and finds the character set
// again (golang.org/x/text/encoding/charmap).
func TestCharsets(t *testing.T) {
	for _, tt := range []struct {
		text string
		page *charmap.Charmap
		want Charset
	}{
		{"Température (°C);Humidité", charmap.Windows1252, Windows1252},
		{"Temperatur °C;Kühlraum Süd", charmap.Windows1252, Windows1252},
		{"Målt i vinkælder;Tørreskab °C", charmap.Windows1252, Windows1252},
		{"Temp °F", charmap.Windows1252, Windows1252},
		{"Temp °F", charmap.CodePage437, CodePage437},
		{"Temperatur °C;Kühlraum Süd", charmap.CodePage850, CodePage437}, // the same bytes in both
		{"Tørreskab °C;kølerum", charmap.CodePage850, CodePage850},
		{"Umidità;Posição °C", charmap.CodePage850, CodePage850},
	} {
		raw, err := tt.page.NewEncoder().Bytes([]byte(tt.text))
		if err != nil {
			t.Fatal(err)
		}
		got, _, err := detectCharset(raw, raw)
		if err != nil || got != tt.want {
			t.Errorf("%q in %s: %s, %v, want %s", tt.text, tt.page, got, err, tt.want)
			continue
		}
		if back, err := decode(raw, got); err != nil || string(back) != tt.text {
			t.Errorf("%q in %s comes back as %q", tt.text, tt.page, back)
		}
	}
}

// TestSeparators: a quoted separator, a quoted line end, an inch mark.
func TestQuotes(t *testing.T) {
	text := "\"Place: 6\"\" from the door, left\"\n\"Time\",\"T, bottle\n(°C)\",\"Probe 6\" (°C)\",\"Remark\"\n" +
		"\"2024-06-01 00:00\",\"13.1\",\"12.9\",\"door \"\"A\"\", open\"\n\"2024-06-01 00:10\",\"13.2\",\"12.8\",\"\"\n"
	f, err := Read([]byte(text), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Rejected) > 0 || len(f.Columns) != 2 || f.Columns[0].Values[1] != 13.2 || f.Columns[1].Values[0] != 12.9 {
		t.Errorf("columns %+v, rejected %+v", f.Columns, f.Rejected)
	}
	want := []Event{{f.Preview.Start, 4, "Remark", `door "A", open`}}
	if len(f.Events) != 1 || f.Events[0] != want[0] {
		t.Errorf("events %+v, want %+v", f.Events, want)
	}
}

func TestStreamInPieces(t *testing.T) {
	var b bytes.Buffer
	b.WriteString("Time;\"T (°C)\";Remark\r\n")
	at := time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC)
	for i := range 60_000 {
		remark := ""
		if i%97 == 0 {
			remark = fmt.Sprintf("\"two\r\nlines; %d\"", i)
		}
		fmt.Fprintf(&b, "%s;%d,%d;%s\r\n", at.Format("02.01.2006 15:04:05"), 13+i%3, i%10, remark)
		at = at.Add(time.Minute)
	}
	whole, err := Read(b.Bytes(), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	if whole.Preview.Rows != 60_000 || len(whole.Rejected) != 0 || len(whole.Events) != 619 {
		t.Fatalf("%d rows, %d events, rejected %+v", whole.Preview.Rows, len(whole.Events), whole.Rejected)
	}
	stream, err := ReadFrom(bytes.NewReader(b.Bytes()), Dialect{Zone: time.UTC})
	if err != nil {
		t.Fatal(err)
	}
	sameFile(t, whole, stream)
	wide, err := encodeUTF16(b.String())
	if err != nil {
		t.Fatal(err)
	}
	for _, read := range []func() (*File, error){
		func() (*File, error) { return Read(wide, Dialect{Zone: time.UTC}) },
		func() (*File, error) { return ReadFrom(bytes.NewReader(wide), Dialect{Zone: time.UTC}) },
	} {
		f, err := read()
		if err != nil {
			t.Fatal(err)
		}
		sameFile(t, whole, f)
	}
}

func encodeUTF16(text string) ([]byte, error) {
	enc, err := UTF16LE.encoding()
	if err != nil {
		return nil, err
	}
	raw, err := enc.NewEncoder().Bytes([]byte(text))
	return append([]byte("\xff\xfe"), raw...), err
}

// TestEndlessLine: a stream whose line never ends is given up.
func TestEndlessLine(t *testing.T) {
	text := "Time,T (°C)\n2024-06-01 00:00,13.1\n2024-06-01 00:10,13.1\n" + strings.Repeat("x", 3<<20)
	if _, err := ReadFrom(strings.NewReader(text), Dialect{Zone: time.UTC}); err == nil ||
		err.Error() != "line 4 is longer than 1048576 bytes: this is not a logger's text file" {
		t.Errorf("ReadFrom: %v", err)
	}
}

package jobs

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"proveout/checks"
	"proveout/checks/humidair"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
	"proveout/phases"
	"proveout/phases/strict"
)

// Logger is what a record says of a logger's file beside where it is kept: how the
// logger hung, what is wrong with its readings, and how the file is read. Texts
// are as they were typed.
type Logger struct {
	Distance   string      // from the supply air
	Instrument *Instrument // where it is not the record's own
	// Offset and HumidityOffset are what the logger showed less the reference; they
	// are taken off its readings.
	Offset, HumidityOffset string
	Salts                  []SaltPoint // two, or none
	Reading                *LogReading // nil: read as the job's time zone has it
}

// SaltPoint is what a logger showed in the air above a saturated salt.
type SaltPoint struct{ Salt, Temperature, Shows string }

// LogReading is how a logger's file was read when it was recorded: the whole
// dialect, so that it is read the same in twenty years, and what came of it.
type LogReading struct {
	Dialect        logs.Dialect
	Profile        string // of the company, if one was used
	Rows, Rejected int
	From, To       time.Time
}

// ReadingOf is the reading of a file as a record keeps it.
func ReadingOf(f *logs.File, profile string) *LogReading {
	return &LogReading{
		Dialect: f.Dialect, Profile: profile, Rows: f.Preview.Rows, Rejected: len(f.Rejected),
		From: f.Preview.Start, To: f.Preview.End,
	}
}

// agrees reports a reading that differs from the one that was recorded.
func (r *LogReading) agrees(f *logs.File) error {
	p := f.Preview
	if p.Rows == r.Rows && len(f.Rejected) == r.Rejected && p.Start.Equal(r.From) && p.End.Equal(r.To) {
		return nil
	}
	return fmt.Errorf("it reads as %d rows from %s to %s with %d rejections; the record has %d rows from %s to %s with %d; this program reads it otherwise than the one that recorded it",
		p.Rows, p.Start.Format(timeFormat), p.End.Format(timeFormat), len(f.Rejected), r.Rows, r.From.Format(timeFormat), r.To.Format(timeFormat), r.Rejected)
}

// ParseSaltPoint reads a salt point as it is typed: "sodium chloride, 75 °F, 76 %".
func ParseSaltPoint(text string) (SaltPoint, error) {
	parts := strings.Split(text, ",")
	if len(parts) != 3 {
		return SaltPoint{}, fmt.Errorf("salt point %q: write SALT, TEMPERATURE, WHAT THE LOGGER SHOWED, like \"sodium chloride, 75 °F, 76 %%\"", text)
	}
	p := SaltPoint{strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1]), strings.TrimSpace(parts[2])}
	_, err := p.understood()
	return p, err
}

func (p SaltPoint) understood() (point proof.SaltPoint, err error) {
	var names []string
	for _, s := range humidair.Salts {
		if names = append(names, s.String()); strings.EqualFold(s.String(), p.Salt) {
			point.Salt = s
		}
	}
	if point.Salt == 0 {
		return point, Unknown("salt", p.Salt, names, "")
	}
	t, noTemperature := units.Parse(units.TemperatureKind, p.Temperature)
	h, noHumidity := units.Parse(units.HumidityKind, p.Shows)
	if err := errors.Join(noTemperature, noHumidity); err != nil {
		return point, fmt.Errorf("salt point %s: %w", p.Salt, err)
	}
	point.Temperature, point.Shown = t.Temperature(), h.RelativeHumidity()
	return point, nil
}

// understood is the logger as the checks see it. What cannot be understood is an
// error: a correction that was left out in silence would be a wrong reading.
func (l *Logger) understood() (*checks.Logger, error) {
	if l == nil {
		return nil, nil
	}
	out := &checks.Logger{}
	for _, v := range []struct {
		name, text string
		kind       units.Kind
		to         *units.Quantity
	}{
		{"distance", l.Distance, units.LengthKind, &out.Distance},
		{"offset", l.Offset, units.TemperatureDifferenceKind, &out.Offset},
		{"humidity offset", l.HumidityOffset, units.PercentKind, &out.HumidityOffset},
	} {
		if v.text == "" {
			continue
		}
		var err error
		if *v.to, err = units.Parse(v.kind, v.text); err != nil {
			return nil, fmt.Errorf("%s: %w", v.name, err)
		}
	}
	if l.Instrument != nil {
		out.Instrument = l.Instrument.certified(units.TemperatureKind)
	}
	return out, l.saltsInto(out)
}

// saltsInto reads the salt points, which must be two that correct a hygrometer.
func (l *Logger) saltsInto(out *checks.Logger) error {
	if len(l.Salts) == 0 {
		return nil
	}
	if len(l.Salts) != 2 {
		return fmt.Errorf("there are %d salt points; it takes two, one dry and one damp", len(l.Salts))
	}
	if l.HumidityOffset != "" {
		return fmt.Errorf("a humidity offset and salt points are given; the salt points hold the offset already, give one of them")
	}
	low, errLow := l.Salts[0].understood()
	high, errHigh := l.Salts[1].understood()
	if err := errors.Join(errLow, errHigh); err != nil {
		return err
	}
	if low.Salt > high.Salt {
		low, high = high, low
	}
	out.Salts = &proof.SaltPoints{Low: low, High: high}
	_, _, err := out.Salts.Correction()
	return err
}

// loggerPlaces are where a file's logger may be said to stand.
var loggerPlaces = slices.Concat(checks.LoggerPlaces, phases.OtherSides)

// SetLogger says what is known of the logger behind a file, and where it stood; ""
// is the place of the answer. What cannot be understood is an error.
func (in *Incoming) SetLogger(place string, l Logger) error {
	if place != "" && !slices.Contains(loggerPlaces, place) {
		return Unknown("place of a logger", place, loggerPlaces, "")
	}
	if _, err := l.understood(); err != nil {
		return problem(ErrInput, "", "%s: %v", in.Name, err)
	}
	if n := len(strict.Encode(l.fields())); n > maxRecord/4 {
		return problem(ErrInput, "export the columns that are needed and no others", "%s: what its columns are called takes %d bytes, too much for a record", in.Name, n)
	}
	in.Place, in.Logger = place, &l
	return nil
}

// Log reads the file as that of a logger. It writes nothing.
func (in *Incoming) Log(d logs.Dialect) (*logs.File, error) { return logs.Read(in.bytes, d) }

// Head is the beginning of the file.
func (in *Incoming) Head() []byte { return in.bytes[:min(len(in.bytes), 1<<20)] }

// Again is a file of a record once more, to be recorded with what was found out
// about it since.
func (j *Job) Again(e Evidence) (*Incoming, error) {
	data, err := j.repo.Read(e.Path, maxEvidence)
	if err != nil {
		return nil, err
	}
	if sum(data) != e.SHA256 {
		return nil, problem(ErrIntegrity, "look with: proveout verify", "%s is not the file that was recorded", e.Path)
	}
	return &Incoming{Evidence: e, bytes: data}, nil
}

// fields are the logger's lines below its file.
func (l *Logger) fields() fields {
	var f fields
	if l == nil {
		return f
	}
	f.text("distance", l.Distance)
	f.instrument(l.Instrument)
	f.text("offset", l.Offset)
	f.text("humidity offset", l.HumidityOffset)
	var salts [][]strict.Field
	for _, p := range l.Salts {
		salts = append(salts, []strict.Field{{Key: "salt", Value: p.Salt}, {Key: "temperature", Value: p.Temperature}, {Key: "shows", Value: p.Shows}})
	}
	f = append(f, strict.Field{Key: "salt points", Value: salts})
	if r := l.Reading; r != nil {
		f = append(f, strict.Field{Key: "read as", Value: []strict.Field(r.fields())})
	}
	return f
}

// readLogger reads the logger's lines of a file; nil when it has none.
func readLogger(m *strict.Map) *Logger {
	l := Logger{Distance: m.OptionalText("distance"), Offset: m.OptionalText("offset"), HumidityOffset: m.OptionalText("humidity offset")}
	if i, ok := m.OptionalMap("instrument"); ok {
		instrument := readInstrument(i)
		l.Instrument = &instrument
	}
	for _, p := range m.OptionalMaps("salt points") {
		l.Salts = append(l.Salts, SaltPoint{p.Text("salt"), p.Text("temperature"), p.Text("shows")})
	}
	if r, ok := m.OptionalMap("read as"); ok {
		l.Reading = readLogReading(r)
	}
	if l.Instrument == nil && l.Reading == nil && l.Salts == nil && l.Distance+l.Offset+l.HumidityOffset == "" {
		return nil
	}
	return &l
}

package jobs

import (
	"strconv"
	"time"

	"proveout/checks/logs"
	"proveout/phases/strict"
)

// Dialects as records and the company's profiles write them. Both have the same
// keys; a profile leaves out what belongs to one file.

// ParseZone reads a time zone as a region, such as America/Chicago, or as a fixed
// offset from UTC, such as -06:00.
func ParseZone(text string) (*time.Location, error) {
	if zone, ok := logs.FixedZone(text); ok {
		return zone, nil
	}
	zone, err := time.LoadLocation(text)
	if err != nil || text == "Local" || text == "" {
		return nil, problem(ErrInput, "write one like America/Chicago or Europe/Berlin, or -06:00 for a logger that does not follow summer time", "time zone %q is not known", text)
	}
	return zone, nil
}

func dialectFields(d logs.Dialect) fields {
	var f fields
	f.text("character set", string(d.Charset))
	f.text("separator", logs.SeparatorWord(d.Separator))
	f.text("decimal mark", logs.MarkWord(d.Decimal))
	f.text("thousands mark", logs.MarkWord(d.Group))
	if d.First > 0 {
		f.line("header line", d.Header)
		f.line("first row", d.First)
	}
	f.text("date and time", d.Layout)
	if d.Zone != nil {
		f.text("time zone", d.Zone.String())
	}
	f.text("doubled hour", string(d.Doubled))
	var columns [][]strict.Field
	for _, c := range d.Columns {
		columns = append(columns, columnFields(c))
	}
	return append(f, strict.Field{Key: "columns", Value: columns})
}

// line is a line's number; a file without a header has none.
func (f *fields) line(key string, n int) {
	if n < 0 {
		f.text(key, "none")
		return
	}
	*f = append(*f, strict.Field{Key: key, Value: n})
}

func columnFields(c logs.Column) fields {
	var f fields
	f.text("column", c.Name)
	f.text("holds", string(c.Role))
	f.text("quantity", string(c.Quantity))
	f.text("unit", c.Unit)
	f.text("unit in cells", c.Suffix)
	if c.Decimals > 0 {
		f = append(f, strict.Field{Key: "decimals", Value: c.Decimals})
	}
	return f
}

func readDialect(m *strict.Map) logs.Dialect {
	d := logs.Dialect{
		Charset: logs.Charset(m.OptionalText("character set")), Layout: m.OptionalText("date and time"),
		Separator: worded(m, "separator", logs.ParseSeparator), Decimal: worded(m, "decimal mark", logs.ParseDecimal),
		Group: worded(m, "thousands mark", logs.ParseMark), Doubled: worded(m, "doubled hour", logs.ParseDoubled),
		Zone: worded(m, "time zone", ParseZone),
	}
	d.Header = worded(m, "header line", lineNumber)
	d.First, _ = m.OptionalInt("first row")
	for _, c := range m.OptionalMaps("columns") {
		d.Columns = append(d.Columns, readColumn(c))
	}
	return d
}

func lineNumber(text string) (int, error) {
	if text == "none" {
		return -1, nil
	}
	return strconv.Atoi(text)
}

// worded reads a text by a function of its own; without the text it is zero.
func worded[T any](m *strict.Map, key string, parse func(string) (T, error)) T {
	var none T
	text := m.OptionalText(key)
	if text == "" {
		return none
	}
	v, err := parse(text)
	if err != nil {
		m.Fail(key, "%v", err)
		return none
	}
	return v
}

var (
	columnRoles = []string{
		string(logs.Stamp), string(logs.DateOnly), string(logs.ClockOnly), string(logs.Value), string(logs.OnOff), string(logs.Text), string(logs.Ignored),
	}
	quantities = []string{
		string(logs.Temperature), string(logs.DewPoint), string(logs.RelativeHumidity), string(logs.Power), string(logs.Current),
		string(logs.Voltage), string(logs.Energy), string(logs.HeatFlux), string(logs.Pressure), string(logs.State),
	}
)

func readColumn(m *strict.Map) logs.Column {
	c := logs.Column{
		Name: m.Text("column"), Role: logs.Role(word(m, "holds", columnRoles)),
		Unit: m.OptionalText("unit"), Suffix: m.OptionalText("unit in cells"),
	}
	if m.Has("quantity") {
		c.Quantity = logs.Quantity(word(m, "quantity", quantities))
	}
	c.Decimals, _ = m.OptionalInt("decimals")
	return c
}

func (r *LogReading) fields() fields {
	var f fields
	f.text("profile", r.Profile)
	f = append(f, dialectFields(r.Dialect)...)
	f = append(f, strict.Field{Key: "rows", Value: r.Rows}, strict.Field{Key: "rejected", Value: r.Rejected})
	f.text("from", r.From.Format(time.RFC3339Nano))
	f.text("to", r.To.Format(time.RFC3339Nano))
	return f
}

func readLogReading(m *strict.Map) *LogReading {
	return &LogReading{
		Profile: m.OptionalText("profile"), Dialect: readDialect(m), Rows: m.Int("rows"), Rejected: m.Int("rejected"),
		From: m.Time("from"), To: m.Time("to"),
	}
}

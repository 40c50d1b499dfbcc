package main

import (
	"math"
	"strconv"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// logReport is what proveout log prints, as data. Figures are in the unit of the
// column's quantity, times carry their offset.
type logReport struct {
	Files []logFile `json:"files"`
	Saved string    `json:"saved,omitempty"` // the profile's file
}

// logFile is one file.
type logFile struct {
	File     string   `json:"file"`
	Profile  string   `json:"profile,omitempty"`
	Fits     []string `json:"profiles_that_fit,omitempty"`
	Preamble []string `json:"preamble,omitempty"`

	Charset    string `json:"character_set"`
	Separator  string `json:"separator"`
	Decimal    string `json:"decimal_mark"`
	Group      string `json:"thousands_mark,omitempty"`
	HeaderLine int    `json:"header_line"` // -1: none
	FirstRow   int    `json:"first_row"`
	Layout     string `json:"date_and_time"`
	Order      string `json:"date_order,omitempty"`
	Zone       string `json:"time_zone"`
	ZoneFrom   string `json:"time_zone_from"`

	Rows      int       `json:"rows"`
	Rejected  int       `json:"rejected_rows"`
	Blank     int       `json:"blank_rows"`
	Start     time.Time `json:"start"`
	End       time.Time `json:"end"`
	Interval  float64   `json:"interval_s"`
	Gaps      int       `json:"gaps"`
	Longest   float64   `json:"longest_gap_s"`
	Same      int       `json:"rows_of_the_same_time"`
	RowsOrder string    `json:"order"`

	Changes []clockChange `json:"clock_changes,omitempty"`
	Doubled int           `json:"rows_in_the_doubled_hour,omitempty"`
	Open    int           `json:"rows_in_the_doubled_hour_left_out,omitempty"`
	Missing int           `json:"rows_in_the_missing_hour_left_out,omitempty"`

	Columns    []logColumn    `json:"columns"`
	Rejections []logRejection `json:"rejected,omitempty"`
	Notes      []string       `json:"notes,omitempty"`

	system units.System
}

type clockChange struct {
	At time.Time `json:"at"`
	By float64   `json:"by_s"`
}

// logColumn is one column with its figures.
type logColumn struct {
	Number   int         `json:"number"`
	Name     string      `json:"name"`
	Holds    string      `json:"holds"`
	Quantity string      `json:"quantity,omitempty"`
	Written  string      `json:"unit_written,omitempty"`
	Unit     string      `json:"unit,omitempty"`
	Figures  *logFigures `json:"figures,omitempty"`
	Why      string      `json:"why_no_figures,omitempty"`
}

// logFigures are the figures of one column, weighted with time.
type logFigures struct {
	Mean     float64 `json:"mean"`
	SD       float64 `json:"sd"`
	Min      float64 `json:"min"`
	P5       float64 `json:"p5"`
	P50      float64 `json:"p50"`
	P95      float64 `json:"p95"`
	Max      float64 `json:"max"`
	Observed float64 `json:"observed_s"`
	Coverage float64 `json:"coverage"`
	Rise     float64 `json:"rise,omitempty"` // of a counter: last less first
}

type logRejection struct {
	Line   int    `json:"line"`
	Column string `json:"column,omitempty"`
	Text   string `json:"text"`
	Reason string `json:"reason"`
}

func newLogFile(l *readLog, system units.System, from, to time.Time) logFile {
	d, p := l.Dialect, l.Preview
	f := logFile{
		File: l.name, Profile: l.profile, Fits: l.fits, Preamble: p.Preamble, Charset: string(d.Charset),
		Separator: logs.SeparatorWord(d.Separator), Decimal: logs.MarkWord(d.Decimal), Group: logs.MarkWord(d.Group),
		HeaderLine: d.Header, FirstRow: d.First, Layout: d.Layout, Order: string(logs.OrderOf(d.Layout)),
		Zone: d.Zone.String(), ZoneFrom: l.zoneWords(),
		Rows: p.Rows, Rejected: p.Rejected, Blank: p.Blank, Start: p.Start, End: p.End, Interval: p.Interval.Seconds(),
		Gaps: p.Gaps, Longest: p.LongestGap.Seconds(), Same: p.Duplicates, RowsOrder: p.Order,
		Doubled: p.Doubled, Open: p.Open, Missing: p.Missing, Notes: p.Notes, system: system,
	}
	for _, c := range p.Changes {
		f.Changes = append(f.Changes, clockChange{c.At, c.By.Seconds()})
	}
	for _, r := range l.Rejected {
		f.Rejections = append(f.Rejections, logRejection{r.Line, r.Column, r.Text, r.Reason})
	}
	f.addColumns(l, from, to)
	return f
}

// zoneWords say where the time zone comes from.
func (l *readLog) zoneWords() string {
	const given = ", as given"
	from := l.Preview.Zone
	if len(from) < len(given) || from[len(from)-len(given):] != given {
		return from // the file states it
	}
	switch {
	case l.answers.Zone != nil:
		return "as you said"
	case l.zoneFrom != "":
		return "from " + l.zoneFrom
	}
	return "from profile " + l.profile
}

// addColumns describes the columns, those with values in the time that counts.
func (f *logFile) addColumns(l *readLog, from, to time.Time) {
	for i, c := range l.Dialect.Columns {
		col := logColumn{Number: i + 1, Name: c.Name, Holds: string(c.Role), Quantity: string(c.Quantity), Written: c.Unit, Unit: c.Quantity.Unit()}
		for _, s := range l.Columns {
			if s.Name == c.Name && c.Quantity != logs.Unknown {
				col.count(s, from, to)
			}
		}
		if c.Role == logs.Value && c.Quantity == logs.Unknown {
			col.Why = "its unit is not known; say it: --column " + strconv.Quote(c.Name+"=°C")
		}
		f.Columns = append(f.Columns, col)
	}
}

// wide is a band that every value is in.
var wide = logs.Band{Low: -1e300, High: 1e300}

// count fills the figures, or says why there are none.
func (c *logColumn) count(s logs.Series, from, to time.Time) {
	st, err := logs.Stable(s, from, to, 0, wide)
	if err != nil {
		c.Why = err.Error()
		return
	}
	c.Figures = &logFigures{
		Mean: st.Mean, SD: st.SD, Min: st.Min, P5: st.P5, P50: st.P50, P95: st.P95, Max: st.Max,
		Observed: st.Observed.Seconds(), Coverage: st.Coverage,
	}
	if s.Quantity == logs.Energy {
		c.Figures.Rise = rise(s, st.From, st.To)
	}
}

// rise is the last value less the first one of a time.
func rise(s logs.Series, from, to time.Time) float64 {
	first, last := math.NaN(), math.NaN()
	for i, at := range s.Times {
		if v := s.Values[i]; at >= from.UnixMilli() && at < to.UnixMilli() && v == v {
			if last = v; first != first {
				first = v
			}
		}
	}
	return last - first
}

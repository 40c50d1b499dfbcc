// Package logs reads the files of temperature, humidity and power loggers and
// takes from them the first figures a room is judged by.
//
// Reading has two stages. Detect looks at the beginning of a file and settles a
// Dialect: character set, separator, decimal mark, header, columns with their
// units, layout of the date, time zone. What the file does not tell, and what
// it tells in two ways, is an error that names the choices; it is never
// guessed. A caller answers by setting the field of the Dialect in question and
// reading again. Read then parses every row. A row or a cell that cannot be
// read is listed with its line and the reason; nothing is left out in silence.
// There is no file access here: input is bytes or a stream.
//
// The analyses share one idea of time. A sample stands for the time until the
// next one, but for no longer than the logger's interval; the rest of a gap is
// unobserved, neither interpolated nor counted.
//
//   - PullDown: when the temperature came below a limit and stayed there,
//     with the reason when the record does not prove it. The definition is
//     this project's own, no standard having been found; PullDown states it.
//   - Stable: time-weighted mean, standard deviation, percentiles, share of
//     time within a band, excursions. Standard deviation with reliability
//     weights, which is the n − 1 form when all weights are equal; percentiles
//     as Hyndman & Fan (1996) type 7 when all weights are equal.
//   - Spread: how far loggers in one room lie apart at the same moment.
//
// Symbols: w weight of a sample (ms), Δ Interval, U Uncertainty (expanded,
// k = 2), ε Outside, T_lim Limit, H Hold.
//
// Values are float64. A number comes out as the double nearest to its decimal
// digits, as from strconv. The conversions of °F, K, kW, mA and Wh round once,
// from the digits written, so that 55.4 °F is 13 °C exactly; with more than
// 12 digits they can be off by 3 units in the last place of the number
// written. Times are kept in whole milliseconds, a finer
// fraction is cut off.
//
// Known limits: a clock that went wrong without a trace in the file is not
// found here; character sets other than those of Charset are read as one of
// them, which harms names but not numbers.
package logs

import "time"

// Quantity says what a column measures, and with it the unit of Values.
type Quantity string

// The quantities that are understood. A column whose header does not tell its
// unit is Unknown: it is kept, as written, and no analysis takes it.
const (
	Unknown          Quantity = ""
	Temperature      Quantity = "temperature"       // °C
	DewPoint         Quantity = "dew point"         // °C
	RelativeHumidity Quantity = "relative humidity" // %
	Power            Quantity = "power"             // W
	Current          Quantity = "current"           // A
	Voltage          Quantity = "voltage"           // V
	Energy           Quantity = "energy"            // kWh, as counted by the meter
	HeatFlux         Quantity = "heat flux"         // W/m²
	Pressure         Quantity = "pressure"          // Pa, a difference of either sign
	State            Quantity = "state"             // 1 on or open, 0 off or closed
)

// Unit is the unit of a series' Values, "" for Unknown and State.
func (q Quantity) Unit() string { return unitOf[q] }

var unitOf = map[Quantity]string{
	Temperature: "°C", DewPoint: "°C", RelativeHumidity: "%", Power: "W", Current: "A",
	Voltage: "V", Energy: "kWh", HeatFlux: "W/m²", Pressure: "Pa",
}

// Series is one column of measured values.
type Series struct {
	Name     string   // as the header has it, or "column 3"
	Quantity Quantity // Unknown when the file does not tell
	Unit     string   // the unit written in the file, before conversion

	Times  []int64   // Unix time in ms, ascending; columns of a file share it
	Values []float64 // in Quantity.Unit(); NaN where the row has no value
}

// Corrected returns a copy of s with gain·v + offset in place of each value v:
// an instrument's calibration. Offset is in the unit of the values.
func (s Series) Corrected(gain, offset float64) Series {
	values := make([]float64, len(s.Values))
	for i, v := range s.Values {
		values[i] = gain*v + offset
	}
	s.Values = values
	return s
}

// Event is a text that appeared in a text column, or changed there.
type Event struct {
	Time   time.Time
	Line   int
	Column string
	Text   string
}

// File is what was read from a logger file.
type File struct {
	Columns  []Series
	Events   []Event
	Rejected []Rejection // in order of their lines
	Dialect  Dialect     // complete: reading again with it gives the same
	Preview  Preview     // of the whole file
}

// Find returns the columns of a quantity, in the order of the file.
func (f *File) Find(q Quantity) []Series {
	var found []Series
	for _, s := range f.Columns {
		if s.Quantity == q {
			found = append(found, s)
		}
	}
	return found
}

// Rejection is a row, or one cell of a row, that was not read.
type Rejection struct {
	Line   int    // 1 is the first line of the file
	Column string // "" when the whole row was rejected
	Text   string // what stands there, shortened to 120 bytes
	Reason string
}

// Row reports whether the whole row was rejected and not only a cell.
func (r Rejection) Row() bool { return r.Column == "" }

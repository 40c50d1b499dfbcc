package logs

import (
	"strings"
	"time"
)

// Dialect is all that must be known to read a file. A zero field is detected;
// a field that is set is taken as given. A dialect without a zero field is
// taken as it is; it belongs to one file, Profile makes it fit others.
type Dialect struct {
	Charset   Charset
	Separator byte // ',', ';', '\t' or '|'
	Decimal   byte // '.' or ','
	Group     byte // mark between thousands: 0 none, else '.', ',', ' ' or '\''

	Header int // line of the header; −1: the file has none
	First  int // line of the first row

	// Columns tells what the columns are. Given to Detect, a column with a
	// name is matched by name, one without by its place; its zero fields
	// are detected.
	Columns []Column

	// Layout of the date and time, in the notation of package time: for
	// example "02/01/2006 15:04:05", "01/02/06 03:04 PM", "unix", "unix ms".
	// Where date and time stand in two columns the two layouts are joined by
	// a space. Day, month and hour are read with or without a leading zero,
	// two-digit years are 2000 to 2099, a fraction may follow the seconds,
	// 24:00 is the end of the day (ISO 8601:2004, 4.2.3).
	Layout string

	// Zone is where the logger's clock belongs to. It is not needed for Unix
	// seconds, and not for rows or headers that state an offset from UTC.
	Zone *time.Location

	// Doubled says how to read the hour that comes twice when summer time ends.
	Doubled Doubled
}

// Profile returns the dialect for other files of the same logger: without the
// lines at which header and rows begin, and without columns that play no part.
// Columns are found again by their names; one that is missing is an error.
func (d Dialect) Profile() Dialect {
	if d.Header > 0 {
		d.Header = 0
	}
	d.First = 0
	used := func(c Column) bool { return c.Role == Value || c.Role == OnOff }
	var columns []Column
	for _, c := range d.Columns {
		if d.Header == 0 && used(c) {
			columns = append(columns, c)
		}
	}
	if d.Header == 0 {
		d.Columns = columns
	}
	return d
}

// Column says what one column of the file holds.
type Column struct {
	Name     string
	Role     Role
	Quantity Quantity
	Unit     string // as written in the header or the units row: "°F"
	Suffix   string // unit written in each cell behind the number: "°C"

	Decimals int // of every cell looked at; −1: they differ; a last line with fewer is cut off
}

// Role is the part a column plays.
type Role string

// The roles of columns. Stamp is date and time in one.
const (
	Stamp     Role = "date and time"
	DateOnly  Role = "date"
	ClockOnly Role = "time of day"
	Value     Role = "value"
	OnOff     Role = "on/off"
	Text      Role = "text"
	Ignored   Role = "ignored"
)

// Doubled is a rule for the hour that comes twice.
type Doubled string

// The rules. ByOrder takes the rows before the clock goes back as the first
// pass and those after it as the second; if the file has only one pass it
// takes the one that leaves no gap; if that does not decide, the rows are
// rejected. First and Second are for a caller who knows.
const (
	ByOrder Doubled = ""
	First   Doubled = "first"
	Second  Doubled = "second"
)

// Preview describes what was understood of a file.
type Preview struct {
	Preamble []string // the lines before the header
	Zone     string   // where the offset from UTC comes from
	Order    string   // "oldest first", "newest first", "mixed"

	Rows     int // rows read
	Rejected int // rows rejected
	Blank    int // empty lines between the rows

	Start, End time.Time     // of the rows read
	Interval   time.Duration // the most frequent step between rows
	Gaps       int           // steps of more than one and a half intervals
	LongestGap time.Duration
	Duplicates int // rows with the time of the row before

	// Changes are the clock's settings for summer time between Start and End;
	// none where the file states offsets or counts seconds. Of the rows in an
	// hour that comes twice Doubled were read, Open were rejected because nothing
	// tells which pass is meant; Missing were rejected because their hour was
	// skipped.
	Changes                []ClockChange
	Doubled, Open, Missing int

	Notes []string // conclusions that a person should look over
}

func (p *Preview) note(text string) {
	for _, have := range p.Notes {
		if have == text {
			return
		}
	}
	p.Notes = append(p.Notes, text)
}

// index returns the place of the first column of a role, −1 if there is none.
func (d *Dialect) index(role Role) int {
	for i, c := range d.Columns {
		if c.Role == role {
			return i
		}
	}
	return -1
}

// wanted returns how many cells a row must have to be whole: up to the last
// column that is used.
func (d *Dialect) wanted() int {
	n := 0
	for i, c := range d.Columns {
		if c.Role != Ignored && c.Role != Text {
			n = i + 1
		}
	}
	return n
}

func quoted(b []byte) string { return `"` + shorten(b) + `"` }

// shorten cuts a text for a message and makes it valid UTF-8.
func shorten(b []byte) string {
	const most = 120
	if len(b) > most {
		return strings.ToValidUTF8(string(b[:most]), "\uFFFD") + "…"
	}
	return strings.ToValidUTF8(string(b), "\uFFFD")
}

package checks

import (
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// Fact is one current record that answers a question: nobody has superseded it.
type Fact struct {
	ID     string
	Check  string // phase.check
	Place  string
	Number string // of a permit, licence or inspection

	Quantity units.Quantity            // of a reading
	Values   map[string]units.Quantity // of a computed check
	Answer   string                    // yes, no, not applicable, pass, fail, or the choice

	Instrument *Instrument // nil when none was named
	By         string
	Party      string   // who gave the result, when that is not who entered it
	Roles      []string // the roles that person had
	Measured   time.Time
	Start, End time.Time // of a wait or a standing test
	For        string    // a wait's length where the plan leaves it to the data sheet
	Photos     int
	Files      []File
	Note       string
}

// Instrument is the instrument of a reading as it was certified that day.
type Instrument struct {
	ID, Kind    string
	Uncertainty units.Quantity // expanded, k = 2; unknown when not stated
	NotRequired bool           // no calibration is required, with a reason
	Calibrated  time.Time
	Due         time.Time
	Certificate string
}

// InCalibration reports whether the instrument was in calibration on the day
// of t, in the place that t is given in, and why not. The day of calibration
// and the day it falls due both count.
func (i *Instrument) InCalibration(t time.Time) (bool, string) {
	switch day := dayOf(t); {
	case i.NotRequired:
		return true, ""
	case i.Calibrated.IsZero() || i.Due.IsZero():
		return false, i.ID + " has no calibration date"
	case day.Before(dayOf(i.Calibrated)):
		return false, i.ID + " was calibrated after this reading, on " + i.Calibrated.Format(time.DateOnly)
	case day.After(dayOf(i.Due)):
		return false, i.ID + "'s calibration ran out on " + i.Due.Format(time.DateOnly)
	}
	return true, ""
}

// dayOf is the calendar day of t where t is given, as a date that compares
// with those of certificates.
func dayOf(t time.Time) time.Time {
	return time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, time.UTC)
}

// File is evidence that belongs to a fact.
type File struct {
	Path   string
	Name   string // as the person's file was called
	SHA256 string
	// Place is where a logger stood, if the record says so.
	Place string
	// Logger is what the record says of the logger; nil when it says nothing.
	Logger *Logger
	// Log reads the file as that of a logger, as the record says or, where it does
	// not say, in the job's time zone; the readings are as the logger wrote them.
	// Read puts them right.
	Log func() (*logs.File, error)
}

// Facts holds the current facts of a job by the check they answer.
type Facts map[string][]Fact

// On returns the facts of a check on one face; face "" means all.
func (f Facts) On(check, face string) []Fact {
	all := f[check]
	if face == "" {
		return all
	}
	var on []Fact
	for _, fact := range all {
		if FaceOf(fact.Place) == face {
			on = append(on, fact)
		}
	}
	return on
}

// FaceOf returns the first part of a place: "north wall" of "north wall/bay 3".
func FaceOf(place string) string {
	face, _, _ := strings.Cut(place, "/")
	return strings.TrimSpace(face)
}

package checks

import (
	"fmt"
	"slices"

	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// LoggerPlaces are the places that the logger of a file may be said to stand at,
// beside what lies beyond the room's faces: house, attic, outdoors and so on.
// Power is a meter or a clamp on the cooling unit's feed.
var LoggerPlaces = []string{
	string(proof.RoomLow), string(proof.RoomMiddle), string(proof.RoomHigh), string(proof.BottleProbe),
	string(proof.SupplyAir), string(proof.Intake), string(proof.Door), "power",
}

// Logger is what a record says of the logger behind a file.
type Logger struct {
	Distance   units.Quantity // from the supply air's outlet; unknown when not said
	Instrument *Instrument    // nil: the fact's
	// Offset and HumidityOffset are the logger less the reference, as found when it
	// was checked. They are taken off its readings; unknown: nothing is.
	Offset, HumidityOffset units.Quantity
	// Salts are the two points at which its humidity was checked, if it was.
	Salts *proof.SaltPoints
}

// Read reads a logger's file and puts its readings right: the offsets are taken
// off, humidity goes through the salt points where there are two. A dew point that
// the logger computed itself cannot be put right so and is left out of a file whose
// temperature or humidity was.
func (f File) Read() (*logs.File, error) {
	log, err := f.Log()
	if err != nil || f.Logger == nil {
		return log, err
	}
	return f.Logger.Correct(log, true)
}

// Correct returns the log with the logger's offsets taken off its temperatures and
// humidities; with salts it also applies the salt points. The log given stays as
// it is.
func (l *Logger) Correct(log *logs.File, salts bool) (*logs.File, error) {
	gain, offset := 1.0, 0.0
	if l.HumidityOffset.Known() {
		offset = -l.HumidityOffset.Base()
	}
	if l.Salts != nil && salts {
		var err error
		if gain, offset, err = l.Salts.Correction(); err != nil {
			return nil, err
		}
	}
	own := *log
	own.Columns = slices.Clone(log.Columns)
	damp := gain != 1 || offset != 0
	for i, s := range own.Columns {
		switch {
		case s.Quantity == logs.Temperature && l.Offset.Known():
			own.Columns[i] = s.Corrected(1, -l.Offset.Base())
		case s.Quantity == logs.RelativeHumidity && damp:
			own.Columns[i] = s.Corrected(gain, offset)
		}
	}
	if damp || l.Offset.Known() && l.Offset.Base() != 0 {
		own.Columns = slices.DeleteFunc(own.Columns, func(s logs.Series) bool { return s.Quantity == logs.DewPoint })
	}
	return &own, nil
}

// correctionSteps say what was done to the readings of a fact's loggers.
func correctionSteps(f Fact) []Step {
	var steps []Step
	for _, file := range f.Files {
		l := file.Logger
		if l == nil {
			continue
		}
		if l.Offset.Known() {
			steps = append(steps, Step{Name: "temperature", Formula: "reading − offset", Value: "offset " + l.Offset.String(), Source: "record"})
		}
		if l.Salts != nil {
			gain, offset, err := l.Salts.Correction()
			if err == nil {
				steps = append(steps, Step{Name: "humidity", Formula: "gain · reading + offset, from two salt points", Value: fmt.Sprintf("gain %.3f, offset %.2f %%", gain, offset), Source: "record"})
			}
		} else if l.HumidityOffset.Known() {
			steps = append(steps, Step{Name: "humidity", Formula: "reading − offset", Value: "offset " + l.HumidityOffset.String(), Source: "record"})
		}
	}
	return steps
}

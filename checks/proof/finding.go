package proof

import (
	"fmt"
	"time"

	"proveout/checks/logs"
)

// Fault is what is wrong with a logger, or with the room.
type Fault string

// Faults of loggers. Those marked with a star keep the column out of every proof.
const (
	NotLogged       Fault = "too little recorded"                // *
	Gap             Fault = "gap"                                //
	Repeated        Fault = "rows repeated"                      //
	Stuck           Fault = "sensor stuck"                       // *
	Jumping         Fault = "sensor jumps"                       // *
	Drifting        Fault = "sensor drifts"                      //
	Fahrenheit      Fault = "°F read as °C"                      // *
	WrongClock      Fault = "clock or time zone wrong"           // *
	InSupplyAir     Fault = "logger in the supply air"           // *
	GapOverPullDown Fault = "gap over the pull-down"             //
	Implausible     Fault = "readings that no air here has"      // *
	TooClose        Fault = "logger too close to the supply air" //
)

// BadSalts is a hygrometer that its salt points cannot put right; its humidity is
// left out.
const BadSalts Fault = "hygrometer fails its salt points"

// Faults of the room and its unit.
const (
	ShortCycling Fault = "short cycling"
	Defrost      Fault = "defrost spikes"
	DoorOpen     Fault = "door left open"
	Leak         Fault = "leak"
	UnitTooSmall Fault = "unit too small"
)

// Finding is a fault that the log shows.
type Finding struct {
	Fault  Fault
	Logger string // "" for the room
	Column string
	Place  Place
	// Excluded: the column proves nothing and was left out.
	Excluded bool
	Span     logs.TimeSpan // when, where that can be said
	Count    int           // how often
	Reason   string        // what the log shows, with figures
	Do       string        // what to do about it
}

// soundness is which columns may prove something.
type soundness struct {
	in       *Input
	excluded map[[2]int]bool // logger and column
	seldom   map[[2]int]bool // excluded for nothing but gaps
	states   *States
	counter  *logs.Series // a meter too coarse for cycles
}

func (s *soundness) columns(i int, q logs.Quantity) []logs.Series {
	var found []logs.Series
	for k, c := range s.in.Loggers[i].Series {
		if c.Quantity == q && !s.excluded[[2]int{i, k}] {
			found = append(found, c)
		}
	}
	return found
}

func (s *soundness) temperatures(i int) []logs.Series { return s.columns(i, logs.Temperature) }

// note records a finding about one column.
func (a *analyser) note(f Fault, i, k int, span logs.TimeSpan, count int, do, reason string, args ...any) {
	l := a.in.Loggers[i]
	excluded := l.Place != Unit && l.Place != Door && f != Gap && f != Repeated && f != Drifting && f != GapOverPullDown && f != TooClose
	a.out.Findings = append(a.out.Findings, Finding{
		Fault: f, Logger: l.Name, Column: l.Series[k].Name, Place: l.Place, Excluded: excluded,
		Span: span, Count: count, Reason: fmt.Sprintf(reason, args...), Do: do,
	})
	if excluded {
		a.sound.seldom[[2]int{i, k}] = f == NotLogged && len(l.Series[k].Times) >= 2
		a.sound.excluded[[2]int{i, k}] = true
	}
}

// fault records a finding about the room.
func (a *analyser) fault(f Fault, span logs.TimeSpan, count int, do, reason string, args ...any) {
	a.out.Findings = append(a.out.Findings, Finding{Fault: f, Span: span, Count: count, Reason: fmt.Sprintf(reason, args...), Do: do})
}

// Named reports whether a fault was found.
func (a *Analysis) Named(f Fault) bool {
	for _, x := range a.Findings {
		if x.Fault == f {
			return true
		}
	}
	return false
}

func spanOf(from, to int64) logs.TimeSpan {
	return logs.TimeSpan{From: time.UnixMilli(from).UTC(), To: time.UnixMilli(to).UTC()}
}

package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
	"proveout/jobs"
	"proveout/phases"
)

// runFlags say which files one run of the room has, and when. A second run of the
// same room has them with a prefix.
func runFlags(c *cobra.Command, prefix, of string) {
	f := c.Flags()
	at := prefix + "at"
	if prefix != "" {
		at = strings.TrimSuffix(prefix, "-")
	}
	f.StringArray(at, nil, "PLACE=FILE: a logger's file of "+of+" and where it stood; may be given again")
	f.String(prefix+"start", "", of+": when the unit was switched on in the warm room, as \"2026-05-04 14:00\" (default: no pull-down in it)")
	f.String(prefix+"from", "", of+": from when the room kept itself (default: a day after the bottles were down, or the first row)")
	f.String(prefix+"to", "", of+": until when it kept itself (default: the last row)")
	f.String(prefix+"off", "", of+": when the unit was switched off to see the room warm up")
	f.String(prefix+"on-again", "", of+": when it was switched on after that")
	f.String(prefix+"water", "", of+": condensate weighed between its from and to, such as \"1.2 kg\"")
}

// loggedRun is one run of the room, analysed.
type loggedRun struct {
	*proof.Analysis
	local  *time.Location // of its first file
	on     bool           // it has a pull-down
	probed bool           // with a probe in a bottle
}

// analyse reads the files of a run and analyses them.
func (a *asking) analyse(r *answer, room *loggedRoom, prefix string) (*loggedRun, error) {
	in := proof.Input{Room: room.room, Unit: room.unit, Design: room.design}
	zone, err := a.takeLoggers(r, &in, prefix)
	if err != nil {
		return nil, err
	}
	if err := a.takeTimes(&in, prefix, zone); err != nil {
		return nil, err
	}
	if err := a.takeWater(&in, prefix); err != nil {
		return nil, err
	}
	result, err := proof.Analyse(in)
	if err != nil {
		return nil, err
	}
	probed := slices.ContainsFunc(in.Loggers, func(l proof.Logger) bool { return l.Place == proof.BottleProbe })
	return &loggedRun{result, zone, !in.On.IsZero(), probed}, nil
}

// takeLoggers reads each file for its place, and returns the zone of the first.
func (a *asking) takeLoggers(r *answer, in *proof.Input, prefix string) (zone *time.Location, err error) {
	flag := strings.TrimSuffix(prefix, "-")
	if flag == "" {
		flag = "at"
	}
	texts, err := a.texts(flag)
	if err != nil {
		return nil, err
	}
	if len(texts) == 0 {
		return nil, &usageError{fmt.Sprintf("--%s is missing: a logger's file and where it stood; write it as --%s \"room middle=middle.csv\"", flag, flag)}
	}
	for _, text := range texts {
		where, file, ok := strings.Cut(text, "=")
		if !ok || file == "" {
			return nil, &usageError{fmt.Sprintf("--%s is %q; write PLACE=FILE, like \"room middle=middle.csv\"", flag, text)}
		}
		l, err := loggerAt(strings.TrimSpace(where), in.Room.Sides)
		if err != nil {
			return nil, err
		}
		log, err := a.readLog(file)
		if err != nil {
			return nil, err
		}
		l.Name, l.Series, l.Uncertainty = filepath.Base(file), log.Columns, a.values["uncertainty"].TemperatureDifference()
		in.Loggers = append(in.Loggers, l)
		a.addPreview(r, l.Name, log)
		r.Results[len(r.Results)-1].Name = l.Name + " (" + where + ")"
		if zone == nil {
			zone = log.Dialect.Zone
		}
	}
	return zone, nil
}

// loggerAt is a logger by the name of its place: as in a job's record, or a side.
func loggerAt(name string, sides []proof.Side) (proof.Logger, error) {
	known := slices.Clone(phases.OtherSides)
	if sides != nil {
		known = nil
	}
	for _, s := range sides {
		known = append(known, s.Name)
	}
	switch {
	case name == "power":
		return proof.Logger{Place: proof.Unit}, nil
	case slices.Contains(checks.LoggerPlaces, name):
		return proof.Logger{Place: proof.Place(name)}, nil
	case slices.Contains(known, name):
		return proof.Logger{Place: proof.OtherSide, Side: name}, nil
	}
	return proof.Logger{}, jobs.Unknown("place of a logger", name, slices.Concat(checks.LoggerPlaces, known), "")
}

// takeTimes takes the times of a run.
func (a *asking) takeTimes(in *proof.Input, prefix string, zone *time.Location) error {
	for flag, to := range map[string]*time.Time{
		"start": &in.On, "from": &in.Steady.From, "to": &in.Steady.To, "off": &in.Off.From, "on-again": &in.Off.To,
	} {
		t, err := a.moment(prefix+flag, zone)
		if err != nil {
			return err
		}
		*to = t
	}
	if in.Off.From.IsZero() != in.Off.To.IsZero() || in.Off.To.Before(in.Off.From) {
		return &usageError{fmt.Sprintf("--%soff and --%son-again go together, the second later than the first", prefix, prefix)}
	}
	if s := in.Steady; !s.To.IsZero() && !s.From.Before(s.To) {
		return &usageError{fmt.Sprintf("--%sto is not later than --%sfrom", prefix, prefix)}
	}
	return nil
}

// takeWater takes the condensate of a run.
func (a *asking) takeWater(in *proof.Input, prefix string) error {
	text, err := a.c.Flags().GetString(prefix + "water")
	if err != nil || text == "" {
		return err
	}
	q, err := units.Parse(units.MassKind, text)
	if err != nil {
		return &usageError{fmt.Sprintf("--%swater: %v", prefix, err)}
	}
	if in.Steady.From.IsZero() || in.Steady.To.IsZero() {
		return &usageError{fmt.Sprintf("--%swater needs --%sfrom and --%sto, between which it was weighed", prefix, prefix, prefix)}
	}
	in.Water = []proof.Water{{Span: logs.TimeSpan{From: in.Steady.From, To: in.Steady.To}, Mass: q.Mass()}}
	return nil
}

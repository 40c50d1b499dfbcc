package main

import (
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/logs"
	"proveout/checks/units"
	"proveout/jobs"
)

// logFlags are the answers that a logger's file may need, as proveout log has
// them, and the time that counts.
func logFlags(c *cobra.Command) {
	(&readingFlags{}).addFlags(c)
	spanFlags(c)
}

// zone is the time zone that a flag names.
func (a *asking) zone() (*time.Location, error) {
	name, err := a.c.Flags().GetString("zone")
	if err != nil {
		return nil, err
	}
	zone, err := jobs.ParseZone(name)
	if err != nil {
		return nil, fmt.Errorf("--zone: %w", err)
	}
	return zone, nil
}

// moment reads a time of a flag in a zone; "" stays zero.
func (a *asking) moment(flag string, zone *time.Location) (time.Time, error) {
	return a.env.flagMoment(a.c, flag, zone)
}

// span is the time that --from and --to name.
func (a *asking) span(zone *time.Location) (from, to time.Time, err error) {
	return a.env.logSpan(a.c, zone)
}

// noZone is where the zone comes from when neither file nor person name one.
const noZone = "nothing: the file names none; say it with --zone"

// readLog reads one logger file as proveout log does. What calc answers rests on
// durations, so that a file may do without a time zone; it is said then.
func (a *asking) readLog(file string) (*logs.File, error) {
	f, err := readingFlagsOf(a.c)
	if err != nil {
		return nil, err
	}
	r := a.env.logReader(a.c, f)
	if r.site == nil {
		r.site, r.siteFrom = time.UTC, noZone
	}
	log, err := r.read(a.env.fileSource(file))
	if err != nil {
		return nil, err
	}
	if log.zoneWords() == "from "+r.siteFrom {
		a.env.sayf("%s: time zone %s, from %s\n", terminalText(file), log.Dialect.Zone, r.siteFrom)
	}
	return log.File, nil
}

var logQuestion = &question{
	use:   "log FILE…",
	short: "Read logger files: mean, spread, time within a band",
	long: `Says what was understood of each logger file and how steady it was: mean,
percentiles, lowest and highest, share of the time within a band, longest time
outside, gaps. With several files also how far the places lie apart. Rows that
cannot be read are named. The pull-down is left out with --from. How the files are
read is shown in full by: proveout log FILE.`,
	example: `  proveout calc log room.csv --set-point 55F --band "2 °F" --zone America/Chicago
  proveout calc log door.csv back.csv top.csv --from "2026-05-06 00:00" --zone -06:00`,
	inputs: []input{
		{flag: "set-point", kind: units.TemperatureKind, doc: "set point of the room", optional: true},
		{flag: "band", kind: units.TemperatureDifferenceKind, doc: "band on each side of the set point", otherwise: "1 K"},
		{flag: "rh-low", kind: units.HumidityKind, doc: "lowest humidity of the band", otherwise: "50 % RH"},
		{flag: "rh-high", kind: units.HumidityKind, doc: "highest humidity of the band", otherwise: "70 % RH"},
	},
	files:  "many",
	flags:  logFlags,
	answer: logAnswer,
}

func logAnswer(a *asking) (*answer, error) {
	r := &answer{}
	var temperatures []logs.Series
	var zone *time.Location
	for _, file := range a.files {
		log, err := a.readLog(file)
		if err != nil {
			return nil, err
		}
		name := filepath.Base(file)
		zone = log.Dialect.Zone
		a.addPreview(r, name, log)
		for _, q := range []logs.Quantity{logs.Temperature, logs.RelativeHumidity} {
			for _, s := range log.Find(q) {
				if err := a.addStability(r, log.Dialect.Zone, name, s); err != nil {
					return nil, fmt.Errorf("%s: %s: %w", name, s.Name, err)
				}
			}
		}
		temperatures = append(temperatures, log.Find(logs.Temperature)...)
	}
	if len(temperatures) > 1 {
		return r, a.addSpread(r, zone, temperatures)
	}
	return r, nil
}

// addPreview says what was understood of a file.
func (a *asking) addPreview(r *answer, name string, log *logs.File) {
	p, zone := log.Preview, log.Dialect.Zone
	r.addText(name, fmt.Sprintf("%d rows, one every %s, %s to %s", p.Rows, units.Of(units.DurationKind, p.Interval.Seconds(), units.US), clock(p.Start, zone), clock(p.End, zone)))
	for _, n := range p.Notes {
		r.note("%s: %s", name, n)
	}
	if p.Gaps > 0 {
		r.note("%s: %s, the longest %s", name, number(p.Gaps, "gap"), p.LongestGap)
	}
	for i, x := range log.Rejected {
		if i == 5 {
			r.note("%s: and %d more rows or cells that cannot be read", name, len(log.Rejected)-i)
			break
		}
		r.note("%s:%d: %q: %s", name, x.Line, x.Text, x.Reason)
	}
}

func clock(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("2006-01-02 15:04")
}

func (a *asking) addStability(r *answer, zone *time.Location, file string, s logs.Series) error {
	band, kind := logs.Band{Low: a.values["rh-low"].Base(), High: a.values["rh-high"].Base()}, units.HumidityKind
	judged := true
	if s.Quantity == logs.Temperature {
		set, ok := a.values["set-point"]
		half := a.values["band"].Base()
		band, kind, judged = logs.Band{Low: set.Base() - half, High: set.Base() + half}, units.TemperatureKind, ok
		if !ok {
			band = logs.Band{Low: -1e9, High: 1e9}
		}
	}
	from, to, err := a.span(zone)
	if err != nil {
		return err
	}
	st, err := logs.Stable(s, from, to, 0, band)
	if err != nil {
		return err
	}
	print := func(v float64) string { return a.of(kind, v).String() }
	r.addText(s.Name, fmt.Sprintf("mean %s, lowest %s, highest %s", print(st.Mean), print(st.Min), print(st.Max)))
	r.below(file)
	r.addText("5, 50, 95 % of the time below", fmt.Sprintf("%s, %s, %s", print(st.P5), print(st.P50), print(st.P95)))
	r.below(file, s.Name)
	r.addText("observed", fmt.Sprintf("%.1f h, %.1f %% of the time", st.Observed.Hours(), 100*st.Coverage))
	r.below(file, s.Name)
	if judged {
		r.addText("in "+print(band.Low)+" to "+print(band.High), fmt.Sprintf("%.1f %% of the time, longest outside %s", 100*st.InBand, st.LongestOut.Round(time.Minute)))
		r.below(file, s.Name)
	}
	r.Steps = append(r.Steps,
		stepOf(file+", "+s.Name+", mean", "Σ w·x / Σ w, w the time each sample stands for", print(st.Mean), "time-weighted"),
		stepOf(file+", "+s.Name+", percentiles", "Hyndman and Fan (1996) type 7, weighted with time", fmt.Sprintf("%s, %s, %s", print(st.P5), print(st.P50), print(st.P95)), ""))
	return nil
}

func (a *asking) addSpread(r *answer, zone *time.Location, series []logs.Series) error {
	from, to, err := a.span(zone)
	if err != nil {
		return err
	}
	sp, err := logs.Spread(series, from, to, 0)
	if err != nil {
		return err
	}
	r.addText("all places", fmt.Sprintf("%.1f h in common", sp.Observed.Hours()))
	r.add("means apart", a.of(units.TemperatureDifferenceKind, sp.MeansApart))
	r.below("all places")
	r.add("apart at one moment, at most", a.of(units.TemperatureDifferenceKind, sp.Max))
	r.below("all places")
	return nil
}

var pullDownQuestion = &question{
	use:   "pull-down LOG.csv",
	short: "When a logged room came down to its set point to stay",
	long: `Finds the first time at or below the set point + 0.5 K from which the room stays
there: 24 h for a probe in a bottle, 2 h for the air with --air, at most 5 % of
that time above, and no more than 1 K. What the log does not show is not guessed:
then the pull-down is not proven. No standard was found; common practice.`,
	example: `  proveout calc pull-down probe.csv --start "2026-05-04 14:00" --set-point 55F --at-most "48 h" --zone America/Chicago`,
	inputs: []input{
		{flag: "set-point", kind: units.TemperatureKind, doc: "set point of the room"},
		{flag: "at-most", kind: units.DurationKind, doc: "time that is accepted", optional: true},
		{flag: "uncertainty", kind: units.TemperatureDifferenceKind, doc: "of the logger, k = 2", optional: true},
	},
	files: "one",
	flags: func(c *cobra.Command) {
		logFlags(c)
		c.Flags().String("start", "", "when the unit was switched on, as \"2026-05-04 14:00\" (default: the log's first row)")
		c.Flags().Bool("air", false, "the log is of the air, not of a probe in a bottle")
	},
	answer: pullDownAnswer,
}

func pullDownAnswer(a *asking) (*answer, error) {
	if len(a.files) == 0 {
		return nil, &usageError{"name the logger file: proveout calc pull-down LOG.csv --set-point 55F"}
	}
	log, err := a.readLog(a.files[0])
	if err != nil {
		return nil, err
	}
	found := log.Find(logs.Temperature)
	if len(found) != 1 {
		return nil, fmt.Errorf("%s has %d columns of temperature; export one logger to a file", a.files[0], len(found))
	}
	zone := log.Dialect.Zone
	start, err := a.moment("start", zone)
	if err != nil {
		return nil, err
	}
	limit := logs.BottlePullDown(a.values["set-point"].Temperature())
	if air, err := a.c.Flags().GetBool("air"); err != nil {
		return nil, err
	} else if air {
		limit = logs.AirPullDown(a.values["set-point"].Temperature())
	}
	if u, ok := a.values["uncertainty"]; ok {
		limit.Uncertainty = u.TemperatureDifference()
	}
	p, err := logs.PullDown(found[0], start, limit)
	if err != nil {
		return nil, err
	}
	return a.describePullDown(p, limit, zone), nil
}

func (a *asking) describePullDown(p logs.PullDownResult, l logs.PullDownLimit, zone *time.Location) *answer {
	temperature := func(t units.Temperature) string { return a.of(units.TemperatureKind, float64(t)).String() }
	hours := func(d time.Duration) string { return fmt.Sprintf("%.1f h", d.Hours()) }
	r := &answer{Of: fmt.Sprintf("Switched on %s; to stay at or below %s for %s", clock(p.Start, zone), temperature(l.Limit), hours(l.Hold))}
	if p.Found {
		r.addText("first touched after", hours(p.FirstTouch)+", which proves nothing")
		r.addText("highest while it held", temperature(p.Best.Highest))
	}
	switch {
	case p.Proven:
		r.addText("reached to stay after", hours(p.Time))
		a.judgePullDown(r, p)
	case p.Found:
		r.Outcome, r.Reason = "undecided", fmt.Sprintf("not proven: %s", p.Best.Fails)
	default:
		r.Outcome, r.Reason = "undecided", "it never came down to "+temperature(l.Limit)
	}
	for _, f := range p.Failed {
		r.note("tried from %s to %s after the start, %s: %s", hours(f.First), hours(f.Last), number(f.Count, "sample"), f.Fails)
	}
	const practice = "common practice; no standard found"
	r.Steps = append(r.Steps,
		stepOf("limit", "set point + 0.5 K", temperature(l.Limit), practice),
		stepOf("must hold for", "", hours(l.Hold), practice),
		stepOf("share of that time that may be above", "", fmt.Sprintf("%.0f %%, by no more than %s", 100*l.Outside, a.of(units.TemperatureDifferenceKind, float64(l.Spike))), practice))
	return r
}

// judgePullDown compares with the time that is accepted. Where the logger's
// uncertainty decides, it is undecided.
func (a *asking) judgePullDown(r *answer, p logs.PullDownResult) {
	late := p.Time
	if p.Early != nil && p.Late != nil {
		if !p.Early.Proven || !p.Late.Proven {
			r.Outcome, r.Reason = "undecided", "with readings higher by the logger's uncertainty the room did not hold; it proves nothing"
			return
		}
		r.addText("with the logger's uncertainty", fmt.Sprintf("%.1f h to %.1f h", p.Early.Time.Hours(), p.Late.Time.Hours()))
		late = p.Late.Time
	}
	limit, ok := a.values["at-most"]
	if !ok {
		return
	}
	took, worst := a.of(units.DurationKind, p.Time.Seconds()), a.of(units.DurationKind, late.Seconds())
	r.judge(units.AtMost(took, limit), "took "+took.String()+", accepted are "+limit.String())
	if units.AtMost(took, limit) != units.AtMost(worst, limit) {
		r.Outcome, r.Reason = "undecided", "the limit of "+limit.String()+" lies within the logger's uncertainty"
	}
}

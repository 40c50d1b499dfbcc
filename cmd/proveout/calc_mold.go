package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"proveout/checks/envelope"
	"proveout/checks/logs"
	"proveout/checks/mold"
	"proveout/checks/units"
)

const moldSource = "Hukka and Viitanen 1999, classes by Ojanen, Viitanen and others 2010 (coefficients read in research code)"

var moldQuestion = &question{
	use:   "mold [FILE.csv]",
	short: "Mold index of a surface: in steady air, by a logger, or in a wall's plane",
	long: `The index of Hukka and Viitanen goes from 0, none, over 1, growth under the
microscope, and 3, visible, to 6, all of the surface. It rises while the air at the
surface is above a critical humidity and falls slowly while it is not. Give the air
as --temp and --rh; or a logger's file with both, read beside the surface; or, with
--wall FILE.yaml, a wall as calc wall reads it with its year: then the dampest plane
inside counts. A year shorter than --for is repeated.

--surface is how sensitive it is: pine sapwood and framing are very sensitive, glued
wood and paper-faced board sensitive, concrete and glass wool medium resistant, glass
and metal resistant. --decline is how fast mold goes back in dry times, as a share of
pine's; 10 % is taken where nothing is known (ASHRAE Standard 160, from memory).
Below --below it passes.`,
	example: `  proveout calc mold --temp 55F --rh 86%
  proveout calc mold plate.csv --zone America/Chicago --surface sensitive
  proveout calc mold --wall wall.yaml --for "1095 days"`,
	inputs: []input{
		{flag: "temp", kind: units.TemperatureKind, doc: "steady temperature of the air at the surface", optional: true},
		{flag: "rh", kind: units.HumidityKind, doc: "steady humidity of the air at the surface", optional: true},
		{flag: "for", kind: units.DurationKind, doc: "time that the air holds", otherwise: "365 days"},
		{flag: "start", kind: units.CountKind, doc: "index at the start", otherwise: "0"},
		{flag: "below", kind: units.CountKind, doc: "index that must not be reached", otherwise: "3"},
		{flag: "decline", kind: units.PercentKind, doc: "share of the decline on pine", otherwise: "10 %"},
	},
	files: "one",
	flags: func(c *cobra.Command) {
		logFlags(c)
		c.Flags().String("surface", mold.VerySensitive.String(), "very sensitive, sensitive, medium resistant or resistant")
		c.Flags().String("wall", "", "file of a wall with its year, as calc wall reads it")
	},
	answer: moldAnswer,
}

// moldSeries is the air at a surface hour by hour.
type moldSeries struct {
	of string
	t  []units.Temperature
	rh []units.RelativeHumidity
}

func moldAnswer(a *asking) (*answer, error) {
	class, err := a.moldClass()
	if err != nil {
		return nil, err
	}
	s, err := a.moldSeries()
	if err != nil {
		return nil, err
	}
	g := mold.Growth{Class: class, Decline: mold.Decline(a.values["decline"].Base() / 100), Index: mold.Index(a.values["start"].Base())}
	h, err := g.Over(s.t, s.rh)
	if err != nil {
		return nil, err
	}
	r := &answer{Of: fmt.Sprintf("%s, %d days, a %s surface", s.of, len(s.t)/24, class)}
	index := func(name string, v mold.Index) {
		r.addNumber(name, fmt.Sprintf("%.2f", float64(v)), float64(v), "")
	}
	index("index at the end", h.Final)
	index("highest", h.Highest)
	r.addText("first growth, under the microscope", dayOr(h.Microscopic))
	r.addText("visible", dayOr(h.Visible))
	limit := a.values["below"].Base()
	r.judge(float64(h.Highest) < limit, fmt.Sprintf("the index reaches %.2f, wanted below %g", float64(h.Highest), limit))
	return r, r.moldSteps(class, g.Decline, s)
}

// moldSteps shows what the growth of the dampest hour follows from.
func (r *answer) moldSteps(class *mold.Class, decline mold.Decline, s moldSeries) error {
	at := 0
	for i := range s.rh {
		if s.rh[i] > s.rh[at] {
			at = i
		}
	}
	t, rh := s.t[at], s.rh[at]
	r.Steps = []units.Step{stepOf("dampest hour", fmt.Sprintf("hour %d of %d", at+1, len(s.t)), fmt.Sprintf("%.2f °C, %.1f %% RH", float64(t), float64(rh)), s.of)}
	if critical, err := class.CriticalHumidity(t); err == nil {
		r.Steps = append(r.Steps, stepOf("critical humidity there", "max(−0.00267 T³ + 0.160 T² − 3.13 T + 100, least of the class)", fmt.Sprintf("%.1f %% RH", float64(critical)), moldSource))
	}
	greatest, errG := class.Greatest(t, rh)
	weeks, errW := class.WeeksToStart(t, rh)
	if errG == nil && errW == nil && !math.IsInf(weeks, 0) {
		r.Steps = append(r.Steps,
			stepOf("where the index would level off", "Mmax = A + B·x − C·x², x = (RHcrit − RH)/(RHcrit − 100)", fmt.Sprintf("%.2f", float64(greatest)), moldSource),
			stepOf("weeks to growth in such air", "tm = exp(−0.68 ln T − 13.9 ln RH + 66.02)", fmt.Sprintf("%.2f", weeks), moldSource))
	}
	r.Steps = append(r.Steps, stepOf("each hour", "dM/dt = k1·k2/(7·tm) a day above the critical humidity; −0.032, 0, −0.016 a day in the first 6, the next 18 and later dry hours, times the decline", fmt.Sprintf("decline %.2f, %d hours", float64(decline), len(s.t)), moldSource))
	return nil
}

func dayOr(hour int) string {
	if hour < 0 {
		return "never in this time"
	}
	return fmt.Sprintf("on day %d", hour/24+1)
}

func (a *asking) moldClass() (*mold.Class, error) {
	name, err := a.c.Flags().GetString("surface")
	if err != nil {
		return nil, err
	}
	var names []string
	for _, c := range mold.Classes {
		if c.String() == name {
			return c, nil
		}
		names = append(names, c.String())
	}
	return nil, &usageError{fmt.Sprintf("--surface is %q; write one of: %s", name, strings.Join(names, ", "))}
}

// moldSeries reads the air at the surface from one of its three sources.
func (a *asking) moldSeries() (moldSeries, error) {
	wallFile, err := a.c.Flags().GetString("wall")
	if err != nil {
		return moldSeries{}, err
	}
	_, temp := a.values["temp"]
	_, rh := a.values["rh"]
	switch {
	case wallFile != "" && len(a.files) == 0 && !temp && !rh:
		return a.planeSeries(wallFile)
	case wallFile == "" && len(a.files) == 1 && !temp && !rh:
		return a.loggedSeries(a.files[0])
	case wallFile == "" && len(a.files) == 0 && temp && rh:
		return a.repeated(moldSeries{
			of: fmt.Sprintf("Steady air of %s, %s", a.values["temp"], a.values["rh"]),
			t:  []units.Temperature{a.values["temp"].Temperature()}, rh: []units.RelativeHumidity{a.values["rh"].RelativeHumidity()},
		})
	}
	return moldSeries{}, &usageError{"give the air once: --temp and --rh, or a logger's file, or --wall FILE.yaml\nsee: " + a.c.CommandPath() + " --help"}
}

// repeated repeats a series until the time asked for is full.
func (a *asking) repeated(s moldSeries) (moldSeries, error) {
	hours := int(a.values["for"].Duration().Hours())
	if hours < 1 || hours > 100*8766 {
		return s, &usageError{fmt.Sprintf("--for is %s; write a time from an hour to a hundred years", a.values["for"])}
	}
	times := (hours + len(s.t) - 1) / len(s.t)
	s.t, s.rh = slices.Repeat(s.t, times)[:hours], slices.Repeat(s.rh, times)[:hours]
	return s, nil
}

// planeSeries is the dampest plane of a wall over its year.
func (a *asking) planeSeries(file string) (moldSeries, error) {
	w := &asking{env: a.env, c: a.c, question: wallQuestion, files: []string{file}, values: map[string]units.Quantity{}, system: a.system}
	wall, err := w.wallOfFile()
	if err != nil {
		return moldSeries{}, err
	}
	b, err := w.balance(wall, wall.assembly)
	if err != nil {
		return moldSeries{}, err
	}
	if b == nil {
		return moldSeries{}, &usageError{file + " gives no humidities; write other rh: and room rh:, or months:"}
	}
	months, err := b.Plane(b.Wettest.Place)
	if err != nil {
		return moldSeries{}, err
	}
	s := moldSeries{of: "The plane " + b.Assembly.PlaceName(b.Wettest.Place)}
	s.t, s.rh = envelope.Hours(months)
	return a.repeated(s)
}

// wallOfFile reads a wall and the values beside it from its file alone.
func (a *asking) wallOfFile() (wall, error) {
	w := wall{kind: "wall", other: "house"}
	if err := a.openFile(); err != nil {
		return w, err
	}
	a.fromFile()
	for _, in := range a.inputs {
		if _, given := a.values[in.flag]; given || in.otherwise == "" {
			continue
		}
		q, err := units.Parse(in.kind, in.otherwise)
		if err != nil {
			return w, err
		}
		a.values[in.flag] = q
	}
	layers, err := w.read(a.doc)
	if err != nil {
		return w, err
	}
	return w, w.assemble(layers)
}

// loggedSeries averages a logger's file by hours. An hour without both readings is an
// error: nobody knows what grew in it.
func (a *asking) loggedSeries(file string) (moldSeries, error) {
	log, err := a.readLog(file)
	if err != nil {
		return moldSeries{}, err
	}
	from, to, err := a.span(log.Dialect.Zone)
	if err != nil {
		return moldSeries{}, err
	}
	temperature, humidity := log.Find(logs.Temperature), log.Find(logs.RelativeHumidity)
	if len(temperature) != 1 || len(humidity) != 1 {
		return moldSeries{}, fmt.Errorf("%s has %d columns of temperature and %d of humidity; one of each is wanted", file, len(temperature), len(humidity))
	}
	s := moldSeries{of: file}
	t, errT := hourly(temperature[0], from, to)
	rh, errRH := hourly(humidity[0], from, to)
	if err := firstError(errT, errRH); err != nil {
		return s, fmt.Errorf("%s: %w", file, err)
	}
	for i := range min(len(t), len(rh)) {
		s.t, s.rh = append(s.t, units.Temperature(t[i])), append(s.rh, units.RelativeHumidity(rh[i]))
	}
	if len(s.t) == 0 {
		return s, fmt.Errorf("%s: it does not fill an hour", file)
	}
	return s, nil
}

// hourly is the mean of each hour of a series.
func hourly(s logs.Series, from, to time.Time) ([]float64, error) {
	var sums, counts []float64
	first := int64(-1)
	for i, at := range s.Times {
		moment := time.UnixMilli(at)
		if v := s.Values[i]; math.IsNaN(v) || !from.IsZero() && moment.Before(from) || !to.IsZero() && !moment.Before(to) {
			continue
		}
		hour := at / 3_600_000
		if first < 0 {
			first = hour
		}
		for int64(len(sums)) <= hour-first {
			sums, counts = append(sums, 0), append(counts, 0)
		}
		sums[hour-first] += s.Values[i]
		counts[hour-first]++
	}
	for i := range sums {
		if counts[i] == 0 {
			return nil, fmt.Errorf("%s has no reading in hour %d of the file; leave the gap out with --from and --to", s.Name, i+1)
		}
		sums[i] /= counts[i]
	}
	return sums, nil
}

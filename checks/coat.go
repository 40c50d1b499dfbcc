package checks

import (
	"cmp"
	"time"

	"proveout/checks/compound"
	"proveout/checks/units"
)

// CompoundDrying waits as long as a coat of joint compound takes in the air of the
// room, or as long as its data sheet says if that is longer.
var CompoundDrying = &Check{
	Name:    "compound-drying",
	Doc:     "drying time of a coat of joint compound by the room's air",
	Source:  compound.Source,
	Rule:    "the time of the chart for the coldest and dampest air has passed",
	Starts:  true,
	Waits:   true,
	Figures: []string{DataSheet + "compound drying"},
	Needs: []Need{
		{Name: "coldest air", Kind: units.TemperatureKind, Doc: "since the coat was laid"},
		{Name: "dampest air", Kind: units.HumidityKind, Doc: "since the coat was laid, up to 85 %"},
		{Name: "coat thickness", Kind: units.LengthKind, Doc: "wet, of the thickest place; 1/16 in if not given", Optional: true},
	},
	Each: compoundDrying,
}

func compoundDrying(c Case, f Fact) Point {
	coat := compound.Coat{
		Temperature: f.Values["coldest air"].Temperature(), Humidity: f.Values["dampest air"].RelativeHumidity(),
		Thickness: cmp.Or(known[units.Length](f.Values["coat thickness"]), compound.ChartCoat),
	}
	d, err := coat.Dry()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	wait, steps := d.Time, d.Steps
	if sheet, err := c.Room.Value(DataSheet+"compound drying", units.DurationKind); err == nil {
		steps = append(steps, Step{Name: "data sheet", Value: sheet.String(), Source: "job.yaml"})
		wait = max(wait, sheet.Duration())
	}
	wait = wait.Round(time.Minute)
	over := f.Start.Add(wait)
	p := Point{Place: f.Place, judged: true, Limit: lasting(wait), Value: "since " + f.Start.Format("2006-01-02 15:04")}
	p.Steps = append(steps, Step{Name: "dry on", Value: over.In(c.zone()).Format("2006-01-02 15:04"), Source: "start + drying time"})
	if c.Now.Before(over) {
		p.Reason = "it is dry on " + over.In(c.zone()).Format("Mon 2 January 2006 15:04")
		p.Quantity = units.Of(units.DurationKind, over.Sub(c.Now).Seconds(), c.Room.Units)
		return p
	}
	p.Outcome = Pass
	return p
}

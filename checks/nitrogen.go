package checks

import (
	"fmt"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/refrigerant"
	"proveout/checks/units"
)

// NitrogenTest asks whether a line holds its nitrogen, with the temperature of
// the line taken into account. A reading without a temperature proves nothing.
var NitrogenTest = &Check{
	Name:    "nitrogen-test",
	Doc:     "standing pressure test with dry nitrogen, corrected for the line's temperature",
	Source:  "p2 = p1·T2/T1 in absolute values, UFGS 15217 (superseded number); acceptance with a guard band, ILAC-G8:09/2019",
	Result:  units.GaugePressureKind,
	Figures: []string{"test pressure", "nameplate pressure"},
	Spans:   true,
	Needs: []Need{
		{Name: "start pressure", Kind: units.GaugePressureKind, Doc: "on the gauge after filling and settling"},
		{Name: "start temperature", Kind: units.TemperatureKind, Doc: "of the line, in shade"},
		{Name: "end pressure", Kind: units.GaugePressureKind, Doc: "on the same gauge after the hold"},
		{Name: "end temperature", Kind: units.TemperatureKind, Doc: "of the line, in shade"},
		{Name: "gauge uncertainty", Kind: units.GaugePressureKind, Example: "1 psig", Doc: "from the gauge's certificate or data sheet"},
		{Name: "thermometer uncertainty", Kind: units.TemperatureDifferenceKind, Example: "1 °F", Doc: "from its certificate or data sheet"},
	},
	Each: nitrogenTest,
}

func nitrogenTest(c Case, f Fact) Point {
	test, err := standingTest(c, f)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	r, err := test.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	loss := units.Of(units.GaugePressureKind, float64(r.Loss), c.Room.Units)
	p := Point{
		Place: f.Place, judged: true, Quantity: loss, Outcome: r.Outcome, Reason: r.Reason,
		Value: fmt.Sprintf("%s after %s, loss %s", f.Values["end pressure"], lasting(test.Held), loss),
		Limit: fmt.Sprintf("loss at most %s in %s", c.Question.Limits.AtMost.Text, c.Question.Hold),
		Steps: r.Steps,
	}
	p.Margin = signed(units.Of(units.GaugePressureKind, float64(r.Margin), c.Room.Units))
	if p.Outcome == Pass {
		p.Reason = ""
	}
	return p
}

func standingTest(c Case, f Fact) (refrigerant.StandingTest, error) {
	var t refrigerant.StandingTest
	limit, err := c.Question.Limits.AtMost.Resolve(units.GaugePressureKind, c.Room, nil)
	if err != nil {
		return t, err
	}
	hold, err := units.Parse(units.DurationKind, c.Question.Hold)
	if err != nil {
		return t, fmt.Errorf("the plan's hold: %w", err)
	}
	plate, err := c.Room.Value("nameplate pressure", units.GaugePressureKind)
	if err != nil {
		return t, err
	}
	pressure, err := c.Room.Value("test pressure", units.GaugePressureKind)
	if err != nil {
		return t, err
	}
	air, err := barometer(c.Room)
	if err != nil {
		return t, err
	}
	reading := func(when string) refrigerant.Reading {
		return refrigerant.Reading{
			Gauge: f.Values[when+" pressure"].GaugePressure(), GaugeUncertainty: f.Values["gauge uncertainty"].GaugePressure(),
			Line: f.Values[when+" temperature"].Temperature(), LineUncertainty: f.Values["thermometer uncertainty"].TemperatureDifference(),
			Barometer: air,
		}
	}
	return refrigerant.StandingTest{
		Start: reading("start"), End: reading("end"), TestPressure: pressure.GaugePressure(), Nameplate: plate.GaugePressure(),
		AllowedLoss: limit.GaugePressure(), Held: f.End.Sub(f.Start), Required: hold.Duration(),
	}, nil
}

// barometer returns the standard pressure at the job's altitude.
func barometer(room *Room) (units.Pressure, error) {
	if !room.Altitude.Known() {
		return 0, fmt.Errorf("job.yaml gives no altitude")
	}
	return humidair.StandardPressure(room.Altitude.Length())
}

// Evacuation asks whether the line stays dry and empty after the pump is shut
// off.
var Evacuation = &Check{
	Name:   "evacuation",
	Doc:    "vacuum after the pump is shut off, at the end of the isolation time",
	Source: "rise of the isolated vacuum, UFGS 15182 (superseded number)",
	Result: units.VacuumKind,
	Spans:  true,
	Needs: []Need{
		{Name: "vacuum at isolation", Kind: units.VacuumKind, Doc: "at the far end of the line when the valve is shut"},
		{Name: "vacuum at end", Kind: units.VacuumKind, Doc: "on the same gauge at the end"},
		{Name: "ambient temperature", Kind: units.TemperatureKind, Doc: "the coldest along the line"},
		{Name: "gauge uncertainty", Kind: units.VacuumKind, Doc: "from the gauge's data sheet"},
		{Name: "vacuum after 10 min", Kind: units.VacuumKind, Doc: "four or more between tell a leak from moisture", Optional: true},
		{Name: "vacuum after 20 min", Kind: units.VacuumKind, Doc: "the same", Optional: true},
		{Name: "vacuum after 30 min", Kind: units.VacuumKind, Doc: "the same", Optional: true},
		{Name: "vacuum after 40 min", Kind: units.VacuumKind, Doc: "the same", Optional: true},
		{Name: "vacuum after 50 min", Kind: units.VacuumKind, Doc: "the same", Optional: true},
	},
	Each: evacuation,
}

// freezing is where water stops leaving the line; the plan asks for more than
// that in a check of its own.
const freezing units.Temperature = 0

func evacuation(c Case, f Fact) Point {
	limit, err := c.Question.Limits.AtMost.Resolve(units.VacuumKind, c.Room, nil)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	hold, err := units.Parse(units.DurationKind, c.Question.Hold)
	if err != nil {
		return undecided(f.Place, "the plan's hold: %v", err)
	}
	r, err := refrigerant.Evacuation{
		Pulled: f.Values["vacuum at isolation"].Pressure(), Risen: f.Values["vacuum at end"].Pressure(),
		Coldest: f.Values["ambient temperature"].Temperature(), Held: f.End.Sub(f.Start),
		GaugeUncertainty: f.Values["gauge uncertainty"].Pressure(),
		Limits: refrigerant.EvacuationLimits{
			Pulled: limit.Pressure(), Risen: limit.Pressure(), Required: hold.Duration(), Coldest: freezing,
		},
	}.Judge()
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{
		Place: f.Place, judged: true, Quantity: f.Values["vacuum at end"], Outcome: r.Outcome,
		Reason: r.Reason, Near: r.NearLimit, Steps: r.Steps,
		Value: f.Values["vacuum at isolation"].String() + " rising to " + f.Values["vacuum at end"].String(),
		Limit: "at most " + limit.String() + " after " + c.Question.Hold,
	}
	if p.Outcome == Pass {
		p.Reason = ""
	}
	if p.Outcome == Fail {
		explainRise(&p, f)
	}
	c.guard(&p)
	return p
}

// explainRise says whether a vacuum that was lost tells of a leak or of moisture,
// where enough readings were taken on the way.
func explainRise(p *Point, f Fact) {
	held := f.End.Sub(f.Start)
	readings := []refrigerant.RiseReading{{Pressure: f.Values["vacuum at isolation"].Pressure()}}
	for minutes := 10; minutes <= 50; minutes += 10 {
		after := time.Duration(minutes) * time.Minute
		if q := f.Values[fmt.Sprintf("vacuum after %d min", minutes)]; q.Known() && after < held {
			readings = append(readings, refrigerant.RiseReading{After: after, Pressure: q.Pressure()})
		}
	}
	rise, err := refrigerant.Rise{
		Readings:         append(readings, refrigerant.RiseReading{After: held, Pressure: f.Values["vacuum at end"].Pressure()}),
		GaugeUncertainty: f.Values["gauge uncertainty"].Pressure(), Coldest: f.Values["ambient temperature"].Temperature(),
	}.Judge()
	if err != nil {
		return // too few readings; the test failed either way
	}
	p.Reason += "; by the readings between: " + rise.Cause.String() + ", " + rise.Reason
	p.Steps = append(p.Steps, rise.Steps...)
}

package checks

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/airflow"
	"proveout/checks/units"
)

// fanPoints is how many points a record of a fan test may carry; five are wanted.
const fanPoints = 8

// FanPressurization asks for a fan test in one direction that ISO 9972 accepts.
var FanPressurization = &Check{
	Name:   "fan-pressurization",
	Doc:    "fan test of the room in one direction, by ISO 9972",
	Source: "ISO 9972:2015 and ASTM E779-19 as read in guides, clause numbers from memory; there is no published limit for wine rooms",
	Rule:   "data that ISO 9972 accepts; recorded, there is no published limit for wine rooms",
	Needs:  fanNeeds(),
	Each:   fanPressurization,
}

func fanNeeds() []Need {
	needs := []Need{
		{Name: "zero flow before", Kind: units.PressureKind, Example: "-1 Pa", Doc: "room less house, fan sealed, mean of 30 s or more"},
		{Name: "zero flow after", Kind: units.PressureKind, Example: "-1 Pa", Doc: "the same after the test"},
		{Name: "zero flow time", Kind: units.DurationKind, Doc: "over which both were averaged"},
		{Name: "room temperature", Kind: units.TemperatureKind, Doc: "of the air during the test"},
		{Name: "room humidity", Kind: units.HumidityKind, Doc: "of the same air"},
		{Name: "house temperature", Kind: units.TemperatureKind, Example: "75 °F", Doc: "of the air during the test"},
		{Name: "house humidity", Kind: units.HumidityKind, Doc: "of the same air"},
		{Name: "smallest flow", Kind: units.AirflowKind, Example: "30 cfm", Doc: "of the fan's calibrated range, with the ring used"},
		{Name: "largest flow", Kind: units.AirflowKind, Example: "300 cfm", Doc: "of the same range"},
	}
	for i := range fanPoints {
		more, pressure := i >= 5, 60-5*i
		flow := 7 * math.Pow(float64(pressure), 0.65) // a leak as they mostly are
		needs = append(needs,
			Need{Name: pressureName(i), Kind: units.PressureKind, Example: fmt.Sprintf("-%d Pa", pressure), Doc: "room less house, negative while air is drawn out", Optional: more},
			Need{Name: flowName(i), Kind: units.AirflowKind, Example: fmt.Sprintf("%.0f cfm", flow), Doc: "through the fan", Optional: more})
	}
	return needs
}

func pressureName(i int) string { return fmt.Sprintf("pressure %d", i+1) }
func flowName(i int) string     { return fmt.Sprintf("flow %d", i+1) }

func fanPressurization(c Case, f Fact) Point {
	r, err := c.fanResult(f)
	if err != nil {
		return undecided(f.Place, "%v", err)
	}
	p := Point{Place: f.Place, judged: true, Outcome: Pass, Steps: r.Steps}
	flow := units.Of(units.AirflowKind, float64(r.Leakage.At(50)), c.Room.Units)
	p.Quantity, p.Limit = flow, "recorded; no limit is published for wine rooms"
	p.Value = fmt.Sprintf("%s at 50 Pa, n %.2f, %.0f cm² at 4 Pa", flow, r.Leakage.Fit.Exponent, 1e4*r.Leakage.EffectiveArea(4))
	if volume, ok := c.Room.Volume(); ok {
		change := units.Of(units.AirChangeKind, float64(r.Leakage.At(50))*3600/float64(volume), c.Room.Units)
		p.Value += ", " + change.String()
		p.Steps = append(p.Steps, Step{Name: "air changes at 50 Pa", Formula: "flow / volume", Value: change.String(), Source: "ISO 9972:2015"})
	}
	p.Steps = append(p.Steps, c.leakCarries(r.Leakage)...)
	return p
}

// fanResult works out the fan test of a record.
func (c Case) fanResult(f Fact) (airflow.FanResult, error) {
	pressure, err := barometer(c.Room)
	if err != nil {
		return airflow.FanResult{}, err
	}
	state := func(where string) (airflow.State, error) {
		return airflow.Air{
			Temperature: f.Values[where+" temperature"].Temperature(), Humidity: f.Values[where+" humidity"].RelativeHumidity(), Pressure: pressure,
		}.State()
	}
	t := airflow.FanTest{
		Method: airflow.ISO9972, Height: known[units.Length](c.Room.Height),
		Smallest: f.Values["smallest flow"].Airflow(), Largest: f.Values["largest flow"].Airflow(),
	}
	if t.Room, err = state("room"); err != nil {
		return airflow.FanResult{}, err
	}
	if t.House, err = state("house"); err != nil {
		return airflow.FanResult{}, err
	}
	over := f.Values["zero flow time"].Duration()
	t.Before, t.After = zeroFlow(f, "before", over), zeroFlow(f, "after", over)
	for i := range fanPoints {
		p, q := f.Values[pressureName(i)], f.Values[flowName(i)]
		if p.Known() != q.Known() {
			return airflow.FanResult{}, fmt.Errorf("point %d has a pressure or a flow, not both", i+1)
		}
		if p.Known() {
			t.Readings = append(t.Readings, airflow.FanReading{Pressure: p.Pressure(), Flow: q.Airflow()})
		}
	}
	return t.Result()
}

func zeroFlow(f Fact, when string, over time.Duration) airflow.ZeroFlow {
	return airflow.ZeroFlow{Mean: f.Values["zero flow "+when].Pressure(), Over: over}
}

// leakCarries tells what the stack of the cooled room draws through a leak on the
// days of the design, as far as job.yaml says what the house's air is.
func (c Case) leakCarries(l airflow.Leakage) []Step {
	pressure, err := barometer(c.Room)
	if err != nil || !c.Room.SetPoint.Known() || !c.Room.Height.Known() || !c.Room.HighHumidity.Known() {
		return nil
	}
	room, err := airflow.Air{Temperature: c.Room.SetPoint.Temperature(), Humidity: middleHumidity(c.Room), Pressure: pressure}.State()
	if err != nil {
		return nil
	}
	var steps []Step
	for _, s := range c.Room.Spaces {
		if s.Name != "house" || !s.Temperature.Known() || !s.Humidity.Known() {
			continue
		}
		house, err := airflow.Air{Temperature: s.Temperature.Temperature(), Humidity: s.Humidity.RelativeHumidity(), Pressure: pressure}.State()
		if err != nil {
			continue
		}
		leak, err := l.Cracks(c.Room.Height.Length()).Leak(house, room)
		if err != nil {
			continue
		}
		water := units.Of(units.MassRateKind, float64(leak.Carried.Water.PerDay()), c.Room.Units)
		heat := units.Of(units.PowerKind, float64(leak.Carried.Total()), c.Room.Units)
		steps = append(steps, Step{
			Name:    fmt.Sprintf("cooled room, house air of %s and %s", s.Temperature, s.Humidity),
			Formula: "(C/2)·(Δp/2)^n, leaks at floor and ceiling",
			Value:   fmt.Sprintf("brings %s of water and %s of heat", water, heat), Source: "stack of the cold room",
		})
	}
	return steps
}

// middleHumidity is halfway between the limits of the room.
func middleHumidity(r *Room) units.RelativeHumidity {
	return (known[units.RelativeHumidity](r.LowHumidity) + r.HighHumidity.RelativeHumidity()) / 2
}

// LeakRebuilt asks what is left of the leakage that was found on the visit.
var LeakRebuilt = &Check{
	Name:   "leak-rebuilt",
	Doc:    "leakage at 50 Pa as rebuilt, as a share of that found on the visit",
	Source: "flow at 50 Pa of both fan tests; there is no published limit for wine rooms",
	Result: units.PercentKind,
	From:   "commissioning.fan-test",
	Also:   []string{"assess.fan-test"},
	Whole:  leakRebuilt,
}

func leakRebuilt(c Case) []Point {
	found, fact, err := c.foundLeak()
	if err != nil {
		return []Point{undecided("room", "%v", err)}
	}
	facts := c.Facts[c.source()]
	rebuilt, err := c.standardLeak(facts)
	if err != nil {
		return []Point{undecided("room", "the fan test of the rebuilt room: %v", err)}
	}
	change := found.Rebuilt(rebuilt)
	flow := func(q units.Airflow) string { return units.Of(units.AirflowKind, float64(q), c.Room.Units).String() }
	p := Point{Place: "room", Steps: change.Steps, Facts: []string{fact}}
	for _, f := range facts {
		p.Facts = append(p.Facts, f.ID)
	}
	p.Quantity = units.Of(units.PercentKind, 100*change.Share, c.Room.Units)
	p.Value = fmt.Sprintf("%s, %s of %s at 50 Pa", p.Quantity, flow(change.Rebuilt), flow(change.Found))
	return []Point{p}
}

// foundLeak is the leakage by the two points of the visit, and its record.
func (c Case) foundLeak() (airflow.Leakage, string, error) {
	facts := c.Facts["assess.fan-test"]
	if len(facts) == 0 {
		return airflow.Leakage{}, "", errors.New("the room was not tested with a fan on the visit")
	}
	f := facts[len(facts)-1]
	why := missingNeeds(FanTest, f)
	cracks := airflow.Cracks{}
	if why == "" {
		cracks, why = fanTestOf(f)
	}
	if why != "" {
		return airflow.Leakage{}, f.ID, fmt.Errorf("the fan test of the visit: %s", why)
	}
	fit := airflow.PowerLaw{Coefficient: cracks.Coefficient, Exponent: cracks.Exponent, Points: 2}
	return airflow.Leakage{Fit: fit, Density: airflow.ISO9972.Density()}, f.ID, nil
}

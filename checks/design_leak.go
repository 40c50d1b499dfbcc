package checks

import (
	"errors"
	"fmt"

	"proveout/checks/airflow"
	"proveout/checks/cooling"
	"proveout/checks/units"
)

// leaks takes the air change that job.yaml allows or, instead of it, a fan test: that
// to a standard in the finished room, or the one made once the door hangs. With no
// fan test a gap below the door comes on top.
func (c Case) leaks(r *cooled) error {
	volume, _ := c.Room.Volume()
	planned, err := airflow.AirChange(c.Room.AirChange.Base(), volume)
	if err != nil {
		return err
	}
	from := c.Room.leakSide()
	cracks, tests, err := c.testedLeak()
	if err != nil {
		return fmt.Errorf("the fan test: %w", err)
	}
	if len(tests) == 0 {
		r.room.Leaks = []cooling.Leak{{Name: "leaks", Side: from, Flow: planned}}
		return c.gap(r, from)
	}
	cracks.Height, cracks.Spread = c.Room.Height.Length(), true
	r.room.Leaks = []cooling.Leak{{Name: "leaks by the fan test", Side: from, Opening: cracks}}
	r.note("leak", "planned: "+c.Room.AirChange.String(), fmt.Sprintf("%.3g m³/(s·Pa^n), n %.2f, evenly over the height", cracks.Coefficient, cracks.Exponent), tests...)
	return nil
}

// testedLeak is the leakage by fan tests on site, with their records: none without.
func (c Case) testedLeak() (airflow.Cracks, []Fact, error) {
	standard, err := c.onSite([]string{"commissioning.fan-test"}, "")
	if err != nil {
		return airflow.Cracks{}, nil, err
	}
	if len(standard) > 0 {
		leakage, err := c.standardLeak(standard)
		return leakage.Cracks(0), standard, err
	}
	points, err := c.onSite([]string{"door.fan-test"}, "")
	if err != nil || len(points) == 0 {
		return airflow.Cracks{}, nil, err
	}
	last := points[len(points)-1:]
	cracks, why := fanTestOf(last[0])
	if why != "" {
		return cracks, last, errors.New(why)
	}
	return cracks, last, nil
}

// standardLeak is the leakage by one direction, or the mean of both.
func (c Case) standardLeak(facts []Fact) (airflow.Leakage, error) {
	var results []airflow.FanResult
	for _, f := range facts {
		if why := missingNeeds(FanPressurization, f); why != "" {
			return airflow.Leakage{}, errors.New(why)
		}
		r, err := c.fanResult(f)
		if err != nil {
			return airflow.Leakage{}, err
		}
		results = append(results, r)
	}
	switch len(results) {
	case 0:
		return airflow.Leakage{}, errors.New("there is no fan test of the rebuilt room")
	case 1:
		return results[0].Leakage, nil
	case 2:
		return airflow.Both(results[0], results[1])
	}
	return airflow.Leakage{}, fmt.Errorf("%d fan tests of the finished room; keep one of each direction", len(results))
}

// gap adds the opening below the door as it was measured, with an equal one high
// in the room: no more can pass than through both.
func (c Case) gap(r *cooled, from string) error {
	facts, err := c.onSite([]string{"door.bottom-gap"}, "")
	if err != nil || len(facts) == 0 {
		return err
	}
	high, _ := meanDepth(facts)
	if high <= 0 || len(c.Room.Use.Doors) == 0 {
		return nil
	}
	door := c.Room.Use.Doors[0]
	area := units.Area(float64(high) * door.Width.Base())
	r.room.Leaks = append(r.room.Leaks, cooling.Leak{
		Name: "gap below the door", Side: from,
		Opening: airflow.Gap{Low: area, High: area, Height: c.Room.Height.Length(), Discharge: airflow.SharpEdged},
	})
	r.note("gap below the door", "planned: none", units.Of(units.LengthKind, float64(high), c.Room.Units).String(), facts...)
	return nil
}

// leakSide is where leaking air comes from: the house, or what the door leads to.
func (r *Room) leakSide() string {
	for _, f := range r.Faces {
		if f.OtherSide == "house" {
			return "house"
		}
	}
	for _, f := range r.Faces {
		if f.Kind == "door" {
			return f.OtherSide
		}
	}
	return r.Faces[0].OtherSide
}

// note writes down what a record replaces.
func (r *cooled) note(what, planned, found string, facts ...Fact) {
	r.steps = append(r.steps, Step{Name: what, Formula: planned, Value: found, Source: "record, instead of the design"})
	for _, f := range facts {
		r.facts = append(r.facts, f.ID)
	}
}

// lightChecks measure what lamps and their drivers take.
var lightChecks = []string{"electrical.light-power"}

// plannedLight is the power of all lamps as planned and how long a day they run,
// weighed by power.
func (r *Room) plannedLight() (power units.Power, hours float64) {
	for _, a := range r.Use.Appliances {
		if a.Light {
			power += known[units.Power](a.Power)
			hours += float64(known[units.Power](a.Power)) * seconds(a.Runs).Hours()
		}
	}
	if power > 0 {
		hours /= float64(power)
	}
	return power, hours
}

// lights puts the measured power in place of the planned lamps'.
func (c Case) lights(r *cooled) error {
	facts, err := c.onSite(lightChecks, "")
	if err != nil || len(facts) == 0 {
		return err
	}
	planned, hours := c.Room.plannedLight()
	measured := units.Power(0)
	for _, f := range facts {
		measured += f.Quantity.Power()
	}
	if planned <= 0 && measured > 0 {
		return errNoLight
	}
	var others []cooling.Appliance
	for i, a := range c.Room.Use.Appliances {
		if !a.Light {
			others = append(others, r.room.Appliances[i])
		}
	}
	r.room.Appliances = append(others, cooling.Appliance{Name: "lights as measured", Power: measured, Hours: hours})
	r.note("power of the lights", "planned: "+units.Of(units.PowerKind, float64(planned), units.SI).String(), units.Of(units.PowerKind, float64(measured), units.SI).String(), facts...)
	return nil
}

var errNoLight = fmt.Errorf("job.yaml plans no lights, but lamps were measured; add to use: appliances: - {appliance: lights, power: 30 W, runs: 2 h, light: \"yes\"}")

package checks

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/units"
)

// PredictedPullDown asks how long the room as designed will take from the house's
// temperature to its set point, for the load that job.yaml states: empty, by its
// air, or loaded, by a bottle.
var PredictedPullDown = &Check{
	Name:    "predicted-pull-down",
	Doc:     "time in which the design brings the room from the house's temperature to its set point",
	Source:  "air and bottles as two nodes, solved exactly; coupling of bottles to air: assumed",
	Result:  units.DurationKind,
	Figures: append([]string{PullDownLoad}, loadFigures...),
	Built:   true,
	Whole:   predictedPullDown,
}

// arrivedAbove is how far above the set point a bottle counts as arrived, K
// (common practice); the proof by loggers asks for the same.
const arrivedAbove = 0.5

func predictedPullDown(c Case) []Point {
	return c.ofRoom(func(d duty) Point {
		empty, loaded, err := c.pullDowns(d)
		if err != nil {
			return undecided("room", "%v", err)
		}
		p, other := empty, loaded
		switch c.Room.PullDownLoad {
		case "empty":
		case "loaded":
			p, other = loaded, empty
		default:
			return undecided("room", "job.yaml does not say with what load the room is pulled down; add to room: pull-down load: empty")
		}
		p.Steps = append(p.Steps, Step{Name: "otherwise", Value: other.Value, Source: "for comparison"})
		return p
	})
}

// pullDowns returns the pull-down of the empty and of the loaded room.
func (c Case) pullDowns(d duty) (empty, loaded Point, err error) {
	one, full, err := c.courses(d)
	if err != nil {
		return empty, loaded, err
	}
	air, arrives := one.AirTime()
	bottle, proves := full.BottleTime(full.Target)
	empty = c.arrival("empty, by its air", air, arrives, one)
	loaded = c.arrival(fmt.Sprintf("with %d bottles, by a bottle", c.Room.Bottles), bottle, proves, full)
	return empty, loaded, nil
}

// PullDownCourse is a predicted pull-down; at Target a bottle counts as arrived.
type PullDownCourse struct {
	cooling.Course
	Target units.Temperature
}

// PredictedPullDowns are the courses of the empty and of the full room as designed,
// from the house's temperature on the design day. The error says what job.yaml lacks.
func (c Case) PredictedPullDowns() (empty, loaded PullDownCourse, err error) {
	c.Question = &Question{Phase: assess} // before anything is built
	d, err := c.duty()
	if err != nil {
		return empty, loaded, err
	}
	return c.courses(d)
}

func (c Case) courses(d duty) (empty, loaded PullDownCourse, err error) {
	house := c.Room.Space(c.Room.leakSide(), "summer")
	if d.contents == nil || house == nil || !house.Temperature.Known() {
		return empty, loaded, errors.New("job.yaml gives no volume of the room or no temperature of the house in summer")
	}
	closed := d.room
	closed.Restock.Count = 0
	load, err := closed.Load(d.sides)
	if err != nil {
		return empty, loaded, err
	}
	course := func(bottles float64) (PullDownCourse, error) {
		contents := *d.contents
		contents.Count = bottles
		p, err := load.PullDown(contents, d.unit, d.at.Outdoor, house.Temperature.Temperature())
		if err != nil {
			return PullDownCourse{}, err
		}
		course, err := p.Course()
		return PullDownCourse{course, p.Set + arrivedAbove}, err
	}
	empty, errEmpty := course(1)
	loaded, errLoaded := course(float64(max(1, c.Room.Bottles)))
	return empty, loaded, errors.Join(errEmpty, errLoaded)
}

// arrival is the point of one pull-down. A room that never arrives fails by
// whatever limit.
func (c Case) arrival(how string, after time.Duration, ok bool, course PullDownCourse) Point {
	p := Point{Steps: course.Steps(course.Target)}
	if !ok {
		stall := units.Of(units.TemperatureKind, float64(course.Stall), c.Room.Units)
		p.Value, p.Outcome, p.judged = "never, "+how, Fail, true
		p.Limit, p.Reason = c.Question.Limits.String(), fmt.Sprintf("it never comes down; with the unit never off it ends at %s", stall)
		return p
	}
	p.Quantity = units.Of(units.DurationKind, after.Seconds(), c.Room.Units)
	p.Value = p.Quantity.String() + " " + how
	return p
}

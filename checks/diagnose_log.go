package checks

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// baselineLog takes the loggers of room and house over the longest time in which both
// recorded without a gap.
func baselineLog(v *visit) {
	var room, house *loggers
	for _, f := range v.facts("baseline-log") {
		var into **loggers
		switch f.Place {
		case "room":
			into = &room
		case "house":
			into = &house
		default:
			continue // a third logger tells nothing about following
		}
		l, err := v.loggers(f)
		if err != nil {
			v.reject(f, err.Error())
			continue
		}
		*into = l
	}
	if room == nil || house == nil {
		return
	}
	log, err := together(room, house)
	if err != nil {
		v.reject(house.from, err.Error())
		return
	}
	v.out.Readings.Log = log
}

// loggers is one logger's temperature and humidity, and the record they came with.
type loggers struct {
	from                  Fact
	temperature, humidity logs.Series
}

func (v *visit) loggers(f Fact) (*loggers, error) {
	t, err := v.c.column(f, logs.Temperature)
	if err != nil {
		return nil, err
	}
	h, err := v.c.column(f, logs.RelativeHumidity)
	if err != nil {
		return nil, err
	}
	if every := max(t.Interval(), h.Interval()); every <= 0 || every > time.Hour {
		return nil, fmt.Errorf("it reads every %s; the diagnosis wants a reading an hour at least", lasting(every))
	}
	return &loggers{f, t, h}, nil
}

// half is the share of a step that must be read for its mean to count.
const half = 0.5

// together returns both loggers by means of common steps, over their longest stretch
// without a gap.
func together(room, house *loggers) (*diagnosis.Log, error) {
	series := []logs.Series{room.temperature, room.humidity, house.temperature, house.humidity}
	from, to, every := int64(math.MinInt64), int64(math.MaxInt64), 15*time.Minute
	for _, s := range series {
		from, to = max(from, s.Times[0]), min(to, s.Times[len(s.Times)-1])
		for every < s.Interval() {
			every *= 2
		}
	}
	n := (to-from)/every.Milliseconds() + 1
	if n < 2 {
		return nil, errors.New("the loggers of room and house did not record at the same time")
	}
	means := make([][]float64, len(series))
	for i, s := range series {
		var err error
		if means[i], err = s.Means(time.UnixMilli(from), every, int(n), half); err != nil {
			return nil, err
		}
	}
	first, last := longestRun(means)
	log := &diagnosis.Log{Every: every}
	for i := first; i < last; i++ {
		log.Room = append(log.Room, diagnosis.Air{Temperature: units.Temperature(means[0][i]), Humidity: units.RelativeHumidity(means[1][i])})
		log.House = append(log.House, diagnosis.Air{Temperature: units.Temperature(means[2][i]), Humidity: units.RelativeHumidity(means[3][i])})
	}
	return log, nil
}

// longestRun returns the longest stretch of steps in which all series have a value.
func longestRun(series [][]float64) (first, last int) {
	start := 0
	for i := range series[0] {
		for _, s := range series {
			if math.IsNaN(s[i]) {
				start = i + 1
			}
		}
		if i+1-start > last-first {
			first, last = start, i+1
		}
	}
	return first, last
}

package proof_test

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

var simStart = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

func simTime(s float64) time.Time { return simStart.Add(time.Duration(s * float64(time.Second))) }

// recorder writes one column as an instrument would: offset, noise, resolution.
type recorder struct {
	series                    logs.Series
	offset, noise, resolution float64
	read                      func(r *simRoom, t float64) float64
}

func (c *recorder) record(r *simRoom, t float64) {
	v := c.read(r, t) + c.offset + c.noise*r.rng.NormFloat64()
	if c.resolution > 0 {
		v = math.Round(v/c.resolution) * c.resolution
	}
	c.series.Times = append(c.series.Times, simTime(t).UnixMilli())
	c.series.Values = append(c.series.Values, v)
}

// simLogger is a logger of the test: one or two columns.
type simLogger struct {
	logger  proof.Logger
	columns []*recorder
}

// thermometer has an expanded uncertainty of 0.2 K, and reads true to that.
func (r *simRoom) thermometer(read func(*simRoom, float64) float64) *recorder {
	return &recorder{series: logs.Series{Name: "temperature", Quantity: logs.Temperature}, offset: 0.1 * r.rng.NormFloat64(), noise: 0.04, resolution: 0.1, read: read}
}

func (r *simRoom) hygrometer(read func(*simRoom, float64) float64) *recorder {
	return &recorder{series: logs.Series{Name: "humidity", Quantity: logs.RelativeHumidity}, offset: r.rng.NormFloat64(), noise: 0.3, resolution: 0.1, read: read}
}

// loggers are those of a commissioning: three heights in the room, a bottle, every
// other side, the condenser's intake, the unit's power.
func (r *simRoom) loggers() []*simLogger {
	air := func(off float64) func(*simRoom, float64) float64 {
		return func(r *simRoom, _ float64) float64 { return r.air + off }
	}
	rh := func(r *simRoom, _ float64) float64 { return r.rh() }
	layer := 0.15 + 0.25*r.rng.Float64()
	all := []*simLogger{
		{proof.Logger{Name: "A1", Place: proof.RoomLow}, []*recorder{r.thermometer(air(-layer)), r.hygrometer(rh)}},
		{proof.Logger{Name: "A2", Place: proof.RoomMiddle}, []*recorder{r.thermometer(air(0)), r.hygrometer(rh)}},
		{proof.Logger{Name: "A3", Place: proof.RoomHigh}, []*recorder{r.thermometer(air(layer)), r.hygrometer(rh)}},
		{proof.Logger{Name: "B1", Place: proof.BottleProbe}, []*recorder{r.thermometer(func(r *simRoom, _ float64) float64 { return r.bottle })}},
		{proof.Logger{Name: "I1", Place: proof.Intake}, []*recorder{r.thermometer(func(r *simRoom, t float64) float64 { return r.outdoors(t) })}},
		{proof.Logger{Name: "P1", Place: proof.Unit}, []*recorder{{series: logs.Series{Name: "power", Quantity: logs.Power}, noise: 2, resolution: 0.1, read: (*simRoom).power}}},
	}
	for i, s := range r.sides {
		l := &simLogger{proof.Logger{Name: fmt.Sprintf("S%d", i+1), Place: proof.OtherSide, Side: s.name}, []*recorder{r.thermometer(func(r *simRoom, t float64) float64 { return r.sides[i].climate(t) })}}
		if s.name == "house" {
			l.columns = append(l.columns, r.hygrometer(func(r *simRoom, t float64) float64 {
				return min(100, 100*satRatio(r.houseDew(t))/satRatio(r.sides[0].climate(t)))
			}))
		}
		all = append(all, l)
	}
	for _, l := range all {
		l.logger.Uncertainty, l.logger.HumidityUncertainty = 0.2, 2
	}
	return all
}

func (r *simRoom) power(t float64) float64 {
	p := 3.0
	if r.on {
		p += r.running + r.fan
	} else if r.fanAlways && t >= r.switchOn && !r.rests(t) {
		p += r.fan
	}
	return max(0, p)
}

// play runs the room and returns what its loggers hold. every is their interval in s.
func (r *simRoom) play(every float64, loggers []*simLogger) (in proof.Input) {
	lastWeighed, lastDrained := r.switchOn, 0.0
	last := r.offTo
	rows := int(last/every) + 1
	for _, l := range loggers {
		for _, c := range l.columns {
			c.series.Times, c.series.Values = make([]int64, 0, rows), make([]float64, 0, rows)
		}
	}
	for k := 0; float64(k)*simStep < last; k++ {
		t := float64(k) * simStep
		r.step(t)
		if k%4 == 0 { // every minute the meter, the others at their interval
			for _, l := range loggers {
				if l.logger.Place != proof.Unit && k%int(every/simStep) != 0 {
					continue
				}
				for _, c := range l.columns {
					c.record(r, t)
				}
			}
		}
		if t-lastWeighed >= 86400 && t <= r.ends {
			mass := (r.drained - lastDrained) * (1 + 0.02*r.rng.NormFloat64())
			in.Water = append(in.Water, proof.Water{Span: logs.TimeSpan{From: simTime(lastWeighed), To: simTime(t)}, Mass: units.Mass(max(0, mass))})
			lastWeighed, lastDrained = t, r.drained
		}
	}
	for _, l := range loggers {
		for _, c := range l.columns {
			l.logger.Series = append(l.logger.Series, c.series)
		}
		in.Loggers = append(in.Loggers, l.logger)
	}
	r.describe(&in)
	return in
}

// describe tells what the crew knows: the design, labels, the maker's data.
func (r *simRoom) describe(in *proof.Input) {
	inside := r.lights
	if r.fanAlways {
		inside += r.fan
	}
	label := inside * (1 + 0.1*r.rng.NormFloat64())
	in.Room = proof.Room{
		Set: 13, Temperatures: logs.Band{Low: 12, High: 14}, Humidities: logs.Band{Low: 50, High: 70},
		Light:   cooling.HeatCapacity(400e3),
		Bottles: cooling.HeatCapacity(float64(r.bottles) * 3540), Inside: units.Power(label), InsideUncertainty: units.Power(0.2*label + 2),
		Condensate: units.Mass(r.expected),
	}
	design := &proof.DesignDay{Sides: map[string]units.Temperature{}, Intake: simHotIntake}
	for _, s := range r.sides {
		in.Room.Sides = append(in.Room.Sides, proof.Side{Name: s.name, Conductance: units.Conductance(s.design)})
		design.Sides[s.name] = units.Temperature(s.hot)
	}
	in.Design = design
	in.Unit = proof.CoolingUnit{
		Capacity:    cooling.Rating{Capacity: units.Power(r.nominal), Room: 13, Outdoor: 35, Difference: 8.5, Slopes: cooling.Slopes{Evaporating: 0.041, Condensing: 0.0145}},
		Uncertainty: 0.08, LeastIntake: 15,
	}
	in.On = simTime(r.switchOn)
	in.Off = logs.TimeSpan{From: simTime(r.offFrom), To: simTime(r.offTo)}
	in.Steady.To = simTime(r.ends)
}

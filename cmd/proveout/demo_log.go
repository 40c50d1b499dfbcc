package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"proveout/checks"
	"proveout/checks/humidair"
	"proveout/checks/units"
	"proveout/jobs"
)

// demoLog is one run of the loggers.
type demoLog struct {
	on   time.Time // the unit is switched on, or the run begins
	end  time.Time
	warm bool // it begins with a pull-down from the temperature of the house
}

// runLoggers lets the loggers run, then fills and signs a hold with their
// files.
func (k *crew) runLoggers(hold string, length time.Duration) error {
	on := k.now.Add(2 * time.Hour).Truncate(5 * time.Minute)
	k.pass(length + 3*day)
	run := demoLog{on: on, end: on.Add(length), warm: hold == "commissioning.empty-room"}
	k.logs = map[string]demoLog{"": run}
	if err := k.fill(hold); err != nil {
		return err
	}
	return k.sign(hold)
}

// logged attaches a logger file to an answer.
func (k *crew) logged(a *jobs.Answer, q *checks.Question) error {
	if q.Compute == "containment-log" {
		return k.attachLog(a, suction(demoLog{on: k.now.Add(-70 * time.Hour).Truncate(5 * time.Minute), end: k.now.Add(-time.Hour)}, k.j.Zone))
	}
	run, ok := k.logs[""]
	if !ok { // the baseline of a room that does not hold
		run = demoLog{on: k.now.Add(-82 * time.Hour).Truncate(5 * time.Minute), end: k.now.Add(-time.Hour)}
		return k.attachLog(a, baseline(run, k.j.Zone, k.baselineAt(a.Place)))
	}
	a.Instrument = "LG-7"
	switch q.Compute {
	case "pull-down":
		a.Place, a.Start = "room middle", run.on
	default:
		a.Start, a.End = run.on.Add(2*day), run.end
		if !run.warm {
			a.Start = run.on
		}
	}
	return k.attachLog(a, sound(run, k.j.Zone, k.turns("logger")))
}

func (k *crew) attachLog(a *jobs.Answer, csv []byte) error {
	return k.temp(fmt.Sprintf("logger-%02d.csv", k.turns("file")+1), csv, func(file string) error {
		in, err := jobs.ReadPaper(file)
		a.Files = []*jobs.Incoming{in}
		return err
	})
}

// sound is the log of a rebuilt room: first-order from 75 °F towards the set
// point, then the saw of the thermostat, each logger a little off.
func sound(run demoLog, zone *time.Location, place int) []byte {
	rnd := rand.New(rand.NewPCG(uint64(place), 7))
	offset := 0.25 * float64(place%5-2)
	return demoCSV(run, zone, func(hours float64) (float64, float64) {
		saw := 0.7 * (2*math.Mod(hours/1.6+0.13*float64(place), 1) - 1)
		t := 54.9 + offset + saw + 0.15*rnd.NormFloat64()
		if run.warm {
			t += 22.5 * math.Exp(-hours/4.6)
		}
		rh := 59 + 2.2*saw + 1.5*math.Sin(hours/24*2*math.Pi) + 0.6*rnd.NormFloat64()
		if run.warm {
			rh += 14 * math.Exp(-hours/9)
		}
		return t, rh
	})
}

// baselineAir is the air at one place, °C and Pa of vapor, a number of hours after the
// loggers began.
type baselineAir func(hours float64) (celsius, vapor float64)

// baselineAt is the air where a logger of the visit stands. The room leaks: its vapor
// follows the house's an hour later, by the share that leaks of what the coil dries
// (0.4, as a simulation of the room gives it), and it ends as the visit read it.
func (k *crew) baselineAt(place string) baselineAir {
	house := func(hours float64) float64 {
		dew := 15.7 + 1.5*math.Sin((hours-63)/75*2*math.Pi) + 0.4*math.Sin((hours-8)/24*2*math.Pi)
		return vapor(dew)
	}
	daily := func(hours float64) float64 { return math.Sin((hours - 9) / 24 * 2 * math.Pi) }
	switch {
	case place == "house":
		return func(hours float64) (float64, float64) { return 23.9 + 0.6*daily(hours), house(hours) }
	case place == "room":
		return func(hours float64) (float64, float64) {
			return 16.0 + 0.4*daily(hours-1), 1178 + 0.4*(house(hours-1)-vapor(15.7))
		}
	case k.j.Room.Face("lid").OtherSide == "attic":
		return func(hours float64) (float64, float64) { return 34 + 7*daily(hours), 1950 + 120*daily(hours) }
	}
	return func(hours float64) (float64, float64) { return 22.2 + 0.3*daily(hours), vapor(17.5) }
}

// vapor is the vapor pressure at a dew point, Pa.
func vapor(dew float64) float64 {
	p, err := humidair.SaturationPressure(units.Temperature(dew))
	if err != nil {
		panic(err) // the dew points stand above
	}
	return float64(p)
}

// baseline is the log of a place before anything is changed, with the noise of a
// logger.
func baseline(run demoLog, zone *time.Location, air baselineAir) []byte {
	rnd := rand.New(rand.NewPCG(3, 5))
	return demoCSV(run, zone, func(hours float64) (float64, float64) {
		celsius, pressure := air(hours)
		return 1.8*celsius + 32 + 0.2*rnd.NormFloat64(), 100*pressure/vapor(celsius) + 0.5*rnd.NormFloat64()
	})
}

// suction is the log of an enclosure's pressure while the demo went on.
func suction(run demoLog, zone *time.Location) []byte {
	rnd := rand.New(rand.NewPCG(11, 13))
	var b bytes.Buffer
	b.WriteString("invented logger, serial MM-4\nDate and time,Pressure (in. w.c.)\n")
	for t := run.on; !t.After(run.end); t = t.Add(5 * time.Minute) {
		fmt.Fprintf(&b, "%s,%.4f\n", t.In(zone).Format("2006-01-02 15:04:05-07:00"), -0.028-0.005*rnd.Float64())
	}
	return b.Bytes()
}

func demoCSV(run demoLog, zone *time.Location, at func(hours float64) (t, rh float64)) []byte {
	var b bytes.Buffer
	b.WriteString("invented logger, serial LG-7\nDate and time,Temperature (°F),Relative humidity (%)\n")
	for t := run.on; !t.After(run.end); t = t.Add(5 * time.Minute) {
		f, rh := at(t.Sub(run.on).Hours())
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", t.In(zone).Format("2006-01-02 15:04:05-07:00"), f, rh)
	}
	return b.Bytes()
}

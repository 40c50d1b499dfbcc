package main

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// loggedRoomTruth is a made-up room that the scripts' logs come from: 4 W/K to a
// house at 24 °C, the rest to outdoors through a wall that passes heat on four hours
// late, 500 kJ/K that follow the air, 20 W of lights and a unit of 400 W at 20 °C
// outdoors that loses 1.1 % a kelvin. It is there to see what the commands say; how
// good the intervals are is tested in checks/proof, with rooms that know less of the
// analysis.
type loggedRoomTruth struct {
	outdoors          float64 // W/K
	weather           float64 // °C, mean
	air, bottle       float64
	on                bool
	house, out, meter float64
	felt              float64 // outdoors, as the wall passes it on
}

const roomLogStep = 10 * time.Second

func (r *loggedRoomTruth) step(t time.Duration, off bool) {
	day, dt := t.Hours()/24, roomLogStep.Seconds()
	r.house = 24 + 0.5*math.Sin(2*math.Pi*day)
	r.out = r.weather + 1.5*math.Sin(2*math.Pi*(day-0.4)) + 4*math.Sin(2*math.Pi*day/9)
	r.felt += dt / (4 * 3600) * (r.out - r.felt)
	switch {
	case r.air > 13.5:
		r.on = true
	case r.air < 12.5:
		r.on = false
	}
	r.on = r.on && !off
	heat := 20 + 4*(r.house-r.air) + r.outdoors*(r.felt-r.air)
	r.meter = 2
	if r.on {
		heat -= 400 * (1 - 0.011*(r.out-20))
		r.meter = 180
	}
	r.air += dt / 500e3 * heat
	r.bottle += dt / (6 * 3600) * (r.air - r.bottle)
}

// scriptRoomLogs writes the logs of 30 days: roomlogs PREFIX START UA WEATHER,
// switched on after an hour; from noon of the last day but one until 8 the next
// morning the unit is off. UA is the room's to outdoors in W/K.
func scriptRoomLogs(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: roomlogs PREFIX START UA WEATHER")
	}
	start, err := time.Parse("2006-01-02", args[1])
	ts.Check(err)
	ua, err := strconv.ParseFloat(args[2], 64)
	ts.Check(err)
	weather, err := strconv.ParseFloat(args[3], 64)
	ts.Check(err)
	r := &loggedRoomTruth{outdoors: ua, weather: weather, air: 24, bottle: 24, felt: weather}
	files := map[string]*bytes.Buffer{}
	noise := rand.New(rand.NewPCG(1, uint64(ua*1000)))
	line := func(file, header string, at time.Time, values ...float64) {
		if files[file] == nil {
			files[file] = bytes.NewBufferString("Time," + header + "\n")
		}
		fmt.Fprint(files[file], at.Format("2006-01-02 15:04"))
		for _, v := range values {
			if file == "stuck" {
				fmt.Fprintf(files[file], ",%.2f", v)
				continue
			}
			fmt.Fprintf(files[file], ",%.2f", v+0.03*noise.NormFloat64())
		}
		fmt.Fprintln(files[file])
	}
	const temp, both = "Temperature (°C)", "Temperature (°C),Humidity (%)"
	for t := time.Duration(0); t < 30*24*time.Hour; t += roomLogStep {
		r.step(t, t < time.Hour || t > 684*time.Hour && t < 704*time.Hour)
		if at := start.Add(t); t%(5*time.Minute) == 0 {
			line("middle", both, at, r.air, 60+2*math.Sin(t.Hours()/3))
			line("stuck", temp, at, 13)
			line("probe", temp, at, r.bottle)
			line("house", both, at, r.house, 45+5*math.Sin(t.Hours()/17))
			line("out", temp, at, r.out)
			line("intake", temp, at, r.out)
			line("power", "Power (W)", at, r.meter)
		}
	}
	for name, data := range files {
		ts.Check(os.WriteFile(ts.MkAbs(args[0]+"-"+name+".csv"), data.Bytes(), 0o644))
	}
}

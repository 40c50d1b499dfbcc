package figure

import (
	"math"
	"math/rand/v2"
	"time"
)

// logZone has the shift of clocks in the night to November 1.
var logZone = func() *time.Location {
	zone, err := time.LoadLocation("America/Chicago")
	if err != nil {
		panic(err)
	}
	return zone
}()

// logged are samples of a minute over days about a level, with a seed.
func logged(from time.Time, days int, level, swing, noise float64, seed uint64) (times []int64, values []float64) {
	random := rand.New(rand.NewPCG(seed, 7))
	for i := range days * 1440 {
		hours := float64(i) / 60
		times = append(times, from.UnixMilli()+int64(i)*60000)
		v := level + swing*math.Sin(2*math.Pi*(hours-9)/24) + 0.25*math.Sin(2*math.Pi*hours/0.6+float64(seed)) + noise*random.NormFloat64()
		values = append(values, math.Round(v*100)/100)
	}
	return times, values
}

var exampleLog = func() Log {
	from := time.Date(2025, 10, 27, 0, 0, 0, 0, logZone)
	f := Log{
		Title: "Ten days with the room full",
		From:  from, To: from.AddDate(0, 0, 10),
		Clock:   "Local time, days from midnight to midnight",
		Gap:     30 * time.Minute,
		Moments: []Moment{{from.Add(30 * time.Hour), "bottles proved down"}},
	}
	places := []string{"low", "middle", "high", "beside the door", "bottle probe", "supply side of the racks"}
	t := LogPanel{Axis: "Temperature, °C", Band: Band{12, 14, "allowed 12 to 14 °C"}}
	for i, name := range places {
		times, values := logged(from, 10, 12.6+0.15*float64(i), 0.15, 0.04, uint64(i))
		if i == 3 {
			for j := 6000; j < 6070; j++ {
				values[j] += 1.6 * math.Sin(math.Pi*float64(j-6000)/70)
			}
		}
		if i == 0 {
			times, values = append(times[:3000:3000], times[4000:]...), append(values[:3000:3000], values[4000:]...)
		}
		t.Lines = append(t.Lines, LogLine{name, times, values})
	}
	t.Excursions = []Excursion{{from.Add(6000 * time.Minute), from.Add(6070 * time.Minute), 14.9, "Oct 31, 04:05 to 05:05, up to 14.9 °C beside the door"}}
	rh := LogPanel{Axis: "Relative humidity, %", Band: Band{50, 70, "allowed 50 to 70 %"}}
	for i, name := range places[1:3] {
		times, values := logged(from, 10, 61+3*float64(i), 2, 0.6, uint64(i+20))
		rh.Lines = append(rh.Lines, LogLine{name, times, values})
	}
	for j := range rh.Lines[0].Values[9000:9300] {
		rh.Lines[0].Values[9000+j] -= 13 * math.Sin(math.Pi*float64(j)/300)
	}
	rh.Excursions = []Excursion{{from.Add(9040 * time.Minute), from.Add(9260 * time.Minute), 47.2, "Nov 2, 05:40 to 09:20, down to 47 % in the middle"}}
	f.Panels = []LogPanel{t, rh}
	f.Duty = &Duty{Name: "Unit running, share of the time", Text: "38 % of the time"}
	for i := range 10 * 40 {
		start := from.Add(time.Duration(i) * 36 * time.Minute)
		on := 14 + 4*math.Sin(2*math.Pi*(float64(i)*0.6-9)/24)
		f.Duty.Running = append(f.Duty.Running, TimeSpan{start, start.Add(time.Duration(on * float64(time.Minute)))})
	}
	f.Duty.Unknown = []TimeSpan{{from.Add(150 * time.Hour), from.Add(158 * time.Hour)}}
	return f
}()

var onePointLog = Log{
	Title: "One reading",
	From:  time.Date(2025, 8, 1, 6, 0, 0, 0, time.UTC), To: time.Date(2025, 8, 2, 6, 0, 0, 0, time.UTC),
	Panels: []LogPanel{{Axis: "Temperature, °F", Lines: []LogLine{{"middle", []int64{time.Date(2025, 8, 1, 12, 0, 0, 0, time.UTC).UnixMilli()}, []float64{55.4}}}}},
}

// twoDays is a log that is short enough to be drawn as it is.
var twoDays = func() Log {
	f := Log{
		Title: "Two days, every ten minutes, with names as long as people write them",
		From:  exampleLog.From.Add(5 * time.Hour), To: exampleLog.From.Add(53 * time.Hour),
		Clock: "Local time",
		Duty:  exampleLog.Duty,
		Moments: []Moment{
			{exampleLog.From.Add(30 * time.Hour), "bottles proved down after 21 h 40 min"},
			{exampleLog.From.Add(31 * time.Hour), "racks filled"},
			{exampleLog.From.Add(9 * time.Hour), "unit switched on"},
		},
		Notes: []string{"Loggers calibrated in September, each ± 0.3 K."},
	}
	for _, p := range exampleLog.Panels {
		short := LogPanel{Axis: p.Axis, Band: p.Band}
		for i, l := range p.Lines {
			var times []int64
			var values []float64
			for j := 0; j < len(l.Times); j += 10 {
				times, values = append(times, l.Times[j]), append(values, l.Values[j])
			}
			names := []string{"on the floor behind the lowest rack of the north wall", "middle", "under the ceiling", "beside the door, at the strike", "probe in a bottle of water", "return air"}
			short.Lines = append(short.Lines, LogLine{names[i], times, values})
		}
		f.Panels = append(f.Panels, short)
	}
	f.Panels[0].Lines = f.Panels[0].Lines[:4]
	return f
}()

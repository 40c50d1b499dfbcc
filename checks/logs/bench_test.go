package logs

import (
	"math"
	"runtime"
	"strconv"
	"testing"
	"time"
)

const million = 1_000_000

// millionRows writes a log of a pull-down and the weeks after: temperature with
// two decimals and relative humidity with one, a row every interval, cycling of
// the unit, noise, and a door opened now and then.
func millionRows(rows int) []byte {
	text := []byte("Time,Temperature (°C),Humidity (% RH)\n")
	at := time.Date(2024, 3, 1, 0, 0, 0, 0, time.UTC)
	seed := uint32(1)
	for i := range rows {
		seed = seed*1664525 + 1013904223
		noise := float64(seed>>20)/4096 - 0.5
		hours := float64(i) / 60
		celsius := 13.0 + 11*math.Exp(-hours/9) + 0.35*math.Sin(hours*7) + 0.1*noise
		if i%10_007 < 5 && hours > 100 {
			celsius += 1.5
		}
		humidity := 58 + 4*math.Sin(hours/5) + noise
		text = at.Add(time.Duration(i)*time.Minute).AppendFormat(text, "2006-01-02 15:04:05")
		text = append(text, ',')
		text = strconv.AppendFloat(text, celsius, 'f', 2, 64)
		text = append(text, ',')
		text = strconv.AppendFloat(text, humidity, 'f', 1, 64)
		text = append(text, '\n')
	}
	return text
}

// analyse does detection, parsing and all first analyses.
func analyse(text []byte) (pull PullDownResult, air, damp Stability, err error) {
	f, err := Read(text, Dialect{Zone: time.UTC})
	if err != nil {
		return pull, air, damp, err
	}
	celsius, humidity := f.Find(Temperature)[0], f.Find(RelativeHumidity)[0]
	l := BottlePullDown(13)
	l.Uncertainty = 0.2
	if pull, err = PullDown(celsius, time.Time{}, l); err != nil {
		return pull, air, damp, err
	}
	from := pull.Start.Add(pull.Time)
	if air, err = Stable(celsius, from, time.Time{}, 0, Band{12, 14}); err != nil {
		return pull, air, damp, err
	}
	damp, err = Stable(humidity, from, time.Time{}, 0, Band{55, 65})
	return pull, air, damp, err
}

// BenchmarkMillionRows reports rows a second for detection, parsing and
// analysis together on one processor, and the bytes allocated a sample (two
// samples a row), garbage included, which is more than is ever held at once.
func BenchmarkMillionRows(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	text := millionRows(million)
	b.SetBytes(int64(len(text)))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	cpu := processorTime()
	for b.Loop() {
		pull, _, _, err := analyse(text)
		if err != nil || !pull.Proven {
			b.Fatal(err, pull)
		}
	}
	cpu = processorTime() - cpu
	runtime.ReadMemStats(&after)
	b.ReportMetric(million*float64(b.N)/cpu.Seconds(), "rows/cpu-s")
	b.ReportMetric(million*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
	b.ReportMetric(float64(after.TotalAlloc-before.TotalAlloc)/float64(b.N)/(2*million), "B/sample")
}

func BenchmarkRead(b *testing.B) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	text := millionRows(million)
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		if _, err := Read(text, Dialect{Zone: time.UTC}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(million*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
}

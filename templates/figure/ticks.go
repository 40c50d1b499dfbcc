package figure

import (
	"math"
	"strconv"
	"time"
)

// tick is a value on an axis that has a line, and the words at it.
type tick struct {
	at   float64
	text string
}

// round returns round values in a range: steps of 1, 2 or 5 times a power of
// ten, n of them at most and none below least.
func round(s span, n int, least float64) []tick {
	step := math.Pow(10, math.Floor(math.Log10(max((s.high-s.low)/float64(n), least)))-1)
	factors := []float64{2, 2.5, 2}
	for i := 0; step < least*(1-1e-9) || (s.high-s.low)/step > float64(n); i++ {
		step *= factors[i%3]
	}
	return every(s, step)
}

// every returns the multiples of a step in a range.
func every(s span, step float64) []tick {
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	var list []tick
	for i := math.Ceil(s.low/step - 1e-9); i*step <= s.high+step*1e-9; i++ {
		list = append(list, tick{i * step, number(i*step, decimals)})
	}
	return list
}

// number writes v with a true minus sign.
func number(v float64, decimals int) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && text != strconv.FormatFloat(0, 'f', decimals, 64) {
		return "−" + text
	}
	return text
}

// hourly returns ticks of an axis in hours: every 1, 2, 3, 6 or 12 hours or
// whole days' hours.
func hourly(s span, n int) []tick {
	for _, step := range []float64{0.25, 0.5, 1, 2, 3, 6, 12, 24, 48, 72, 120, 168, 240, 480} {
		if (s.high-s.low)/step <= float64(n) {
			return every(s, step)
		}
	}
	return round(s, n, 24)
}

// midnights returns the beginnings of days between two moments, in the time zone
// of the first; each day has 23 to 25 hours.
func midnights(from, to time.Time) []time.Time {
	var list []time.Time
	y, m, d := from.Date()
	for i := 0; ; i++ {
		t := time.Date(y, m, d+i, 0, 0, 0, 0, from.Location())
		if t.After(to) || len(list) > 5000 {
			return list
		}
		if !t.Before(from) {
			list = append(list, t)
		}
	}
}

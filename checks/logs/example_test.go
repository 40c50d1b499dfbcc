package logs_test

import (
	"errors"
	"fmt"
	"time"

	"proveout/checks/logs"
)

// The worked record of the definition in PullDown: the air touches the limit
// after 58 minutes, rebounds, and stays from 83 minutes on.
func ExamplePullDown() {
	start := time.Date(2024, 6, 3, 8, 0, 0, 0, time.UTC)
	s := logs.Series{Name: "bottle", Quantity: logs.Temperature}
	for _, r := range []struct {
		minute  int
		celsius float64
	}{
		{0, 24.0}, {10, 20}, {20, 17.5}, {30, 15.8}, {40, 14.6}, {50, 13.9}, {60, 13.4}, {70, 13.7}, {80, 13.6}, {90, 13.3}, {100, 13.2},
		{110, 13.1}, {120, 14.2}, {130, 13.3}, {140, 13.0}, {150, 12.9}, {160, 13.0}, {190, 13.1}, {200, 13.0}, {210, 12.9}, {220, 13.0},
	} {
		s.Times = append(s.Times, start.Add(time.Duration(r.minute)*time.Minute).UnixMilli())
		s.Values = append(s.Values, r.celsius)
	}
	limit := logs.PullDownLimit{Limit: 13.5, Hold: time.Hour, Outside: 0.20, Spike: 1, Coverage: 0.75, Interval: 10 * time.Minute, Uncertainty: 0.15}
	r, err := logs.PullDown(s, start, limit)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("first touch %.1f min\n", r.FirstTouch.Minutes())
	fmt.Printf("proven %.2f min, between %.2f and %.2f\n", r.Time.Minutes(), r.Early.Time.Minutes(), r.Late.Time.Minutes())
	limit.Outside = 0.10
	r, _ = logs.PullDown(s, start, limit)
	fmt.Printf("proven: %v; best candidate at %.0f min: %v, %.1f %%\n", r.Proven, r.Best.At.Minutes(), r.Best.Fails, 100*r.Best.Outside)
	// Output:
	// first touch 58.0 min
	// proven 83.33 min, between 55.00 and 88.33
	// proven: false; best candidate at 90 min: above the limit for too long, 16.7 %
}

func ExampleRead() {
	text := []byte("Time,Temp (°F)\n03/04/2024 00:00,55.4\n03/04/2024 00:10,55.9\n")
	_, err := logs.Read(text, logs.Dialect{Zone: time.UTC})
	fmt.Println(err)

	var ambiguous *logs.AmbiguousDate
	if errors.As(err, &ambiguous) {
		f, err := logs.Read(text, logs.Dialect{Zone: time.UTC, Layout: ambiguous.Readings[1].Layout})
		fmt.Println(f.Preview.Start, f.Columns[0].Values[0], f.Columns[0].Quantity.Unit(), err)
	}
	// Output:
	// line 2: "03/04/2024 00:00" can be 3 April 2024 (layout "02/01/2006 15:04") or 4 March 2024 (layout "01/02/2006 15:04"); say which layout the logger writes
	// 2024-03-04 00:00:00 +0000 UTC 13 °C <nil>
}

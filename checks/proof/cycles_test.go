package proof

import (
	"errors"
	"math"
	"testing"
	"time"

	"proveout/checks/logs"
)

// power makes a log of one reading a minute.
func power(watts func(minute int) float64, minutes int) logs.Series {
	s := logs.Series{Name: "power", Quantity: logs.Power}
	for m := range minutes {
		s.Times, s.Values = append(s.Times, int64(m)*60_000), append(s.Values, watts(m))
	}
	return s
}

// On in the minutes 5 to 14 and 35 to 44 of an hour: duty 1/3, 2 starts an hour, 10 min
// on (computed by hand).
func onTwice(m int) bool { return m%60 >= 5 && m%60 < 15 || m%60 >= 35 && m%60 < 45 }

func pick(on bool, a, b float64) float64 {
	if on {
		return a
	}
	return b
}

func TestCyclesOfAnHour(t *testing.T) {
	for _, tt := range []struct {
		name  string
		watts func(m int) float64
		fan   FanState
	}{
		{"fan rests", func(m int) float64 { return pick(onTwice(m), 500, 3) }, FanRests},
		{"fan always on", func(m int) float64 { return pick(onTwice(m), 540, 43) }, FanAlways},
		{"fan runs on for 5 min", func(m int) float64 {
			if !onTwice(m) && onTwice(m+60-5) {
				return 43
			}
			return pick(onTwice(m), 540, 3)
		}, FanRunsOn},
	} {
		s, err := StatesOf(power(tt.watts, 600), CoolingUnit{})
		if err != nil {
			t.Fatal(tt.name, err)
		}
		c, err := s.Cycles(time.Time{}, time.Time{})
		if err != nil {
			t.Fatal(tt.name, err)
		}
		if math.Abs(c.Duty-1.0/3) > 1e-9 || c.PerHour != 2 || c.WorstHour != 2 || c.ShortestOn != 10*time.Minute || c.MedianOn != 10*time.Minute || c.MedianOff != 20*time.Minute || c.Fan != tt.fan || c.Coarse {
			t.Errorf("%s: %+v, want duty 1/3, 2 starts an hour, 10 min on, 20 off, fan %q", tt.name, c, tt.fan)
		}
		if want := 2.0 / 60; math.Abs(c.DutyError-want) > 1e-9 {
			t.Errorf("%s: duty error %v, want N·Δ/T = %v", tt.name, c.DutyError, want)
		}
		if short, why := c.Short(); short {
			t.Errorf("%s: short cycling: %s", tt.name, why)
		}
		if d := s.Duties(at(0), time.Hour, 10, 0.9); math.Abs(d[3]-1.0/3) > 1e-9 {
			t.Errorf("%s: duty of an hour %v", tt.name, d[3])
		}
	}
}

// The same hour by a meter's count and by events.
func TestOtherMeters(t *testing.T) {
	count := logs.Series{Name: "meter", Quantity: logs.Energy}
	events := logs.Series{Name: "contactor", Quantity: logs.State}
	kWh := 0.0
	for m := range 601 {
		count.Times, count.Values = append(count.Times, int64(m)*60_000), append(count.Values, kWh)
		kWh += pick(onTwice(m), 500, 3) / 60 / 1000
		if m == 0 || onTwice(m) != onTwice(m-1) {
			events.Times, events.Values = append(events.Times, int64(m)*60_000), append(events.Values, pick(onTwice(m), 1, 0))
		}
	}
	for _, s := range []logs.Series{count, events} {
		states, err := StatesOf(s, CoolingUnit{})
		if err != nil {
			t.Fatal(s.Name, err)
		}
		c, err := states.Cycles(at(0), at(9*3600_000))
		if err != nil || math.Abs(c.Duty-1.0/3) > 1e-9 || c.PerHour != 2 {
			t.Errorf("%s: %+v, %v", s.Name, c, err)
		}
	}
	// E = (500·200 + 3·400) W·min in 600 min.
	check(t, []figure{{"duty by count", CounterDuty(count.Values[600], 10*time.Hour, 3, 500), 1.0 / 3, 1e-12}})
	// 0.1 kWh a step does not show cycles.
	for i := range count.Values {
		count.Values[i] = math.Floor(count.Values[i]*10) / 10
	}
	if _, err := StatesOf(count, CoolingUnit{}); !errors.Is(err, ErrTooLittle) {
		t.Errorf("a coarse counter: %v, want ErrTooLittle", err)
	}
}

// A unit that never stops cannot be told from one that never starts, unless it is
// said what it draws.
func TestOneLevel(t *testing.T) {
	s := power(func(int) float64 { return 480 }, 300)
	if _, err := StatesOf(s, CoolingUnit{}); !errors.Is(err, ErrTooLittle) {
		t.Errorf("%v, want ErrTooLittle", err)
	}
	states, err := StatesOf(s, CoolingUnit{Running: 500})
	if err != nil {
		t.Fatal(err)
	}
	if c, err := states.Cycles(time.Time{}, time.Time{}); err != nil || c.Duty != 1 || c.Starts != 0 {
		t.Errorf("%+v, %v, want duty 1", c, err)
	}
}

// Hysteresis, a state of one sample, a gap.
func TestRunsOfAWildLog(t *testing.T) {
	values := []float64{5, 5, 5, 500, 500, 260, 240, 500, 500, 5, 500, 500, 5, 5, 5, math.NaN(), math.NaN(), math.NaN(), math.NaN(), 500, 500, 500, 5, 5, 5}
	s, err := StatesOf(power(func(m int) float64 { return values[m] }, len(values)), CoolingUnit{})
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		on       bool
		from, to int
	}{{false, 0, 3}, {true, 3, 12}, {false, 12, 15}, {true, 19, 22}, {false, 22, 25}}
	if len(s.Runs) != len(want) {
		t.Fatalf("runs %v, want %v", s.Runs, want)
	}
	for i, w := range want {
		if r := s.Runs[i]; r.On != w.on || r.From.Unix() != int64(60*w.from) || r.To.Unix() != int64(60*w.to) {
			t.Errorf("run %d: %v, want %v", i, r, w)
		}
	}
	c, err := s.Cycles(time.Time{}, time.Time{})
	if err != nil || c.Starts != 1 || c.Brief != 1 || c.Observed != 21*time.Minute {
		t.Errorf("%+v, %v, want one start seen, one brief state, 21 min", c, err)
	}
}

package diagnosis_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/humidair"
	"proveout/checks/units"
)

// loggersOf is a room whose vapor pressure is a share of the house's some hours before,
// with noise, and whose temperature swings by itself and wets it.
func loggersOf(t *testing.T, days int, lag, gain, swing, wets, noise float64) diagnosis.Log {
	t.Helper()
	random := rand.New(rand.NewPCG(5, 6))
	house := func(h float64) float64 { return 1400 + 150*math.Sin(h/3.7) + 180*math.Sin(h/11) }
	at := func(t64 units.Temperature, p float64) diagnosis.Air {
		rh, err := humidair.RelativeHumidity(t64, units.Pressure(p))
		if err != nil {
			t.Fatal(err)
		}
		return diagnosis.Air{Temperature: t64, Humidity: rh}
	}
	log := diagnosis.Log{Every: 15 * time.Minute}
	for i := range days * 96 {
		h := float64(i) / 4
		warm := swing * math.Sin(h/3.82)
		p := 900 + gain*(house(h-lag)-1400) + wets*warm + noise*random.NormFloat64()
		log.Room = append(log.Room, at(units.Temperature(13+warm), p))
		log.House = append(log.House, at(24, house(h)))
	}
	return log
}

// The lag and the slope that a log was made with come back.
func TestFollowingFindsLagAndGain(t *testing.T) {
	for _, tt := range []struct{ lag, gain float64 }{{0, 0.4}, {2, 0.3}, {5, 0.25}} {
		f, err := loggersOf(t, 7, tt.lag, tt.gain, 0, 0, 4).Following(diagnosis.DefaultLimits())
		if err != nil || math.Abs(f.Lag.Hours()-tt.lag) > 1 || math.Abs(f.Gain-tt.gain) > 0.04 || !f.Follows || f.Steady {
			t.Errorf("made with lag %v h, gain %v: %+v, %v", tt.lag, tt.gain, f, err)
		}
	}
}

// A steady room is steady, and one that only warms up with the house's rhythm does not
// follow it.
func TestFollowingIsNotFooled(t *testing.T) {
	limits := diagnosis.DefaultLimits()
	if f, err := loggersOf(t, 7, 0, 0.02, 0, 0, 8).Following(limits); err != nil || f.Follows || !f.Steady {
		t.Errorf("steady room: %+v, %v", f, err)
	}
	if f, err := loggersOf(t, 7, 0, 0, 2, 60, 8).Following(limits); err != nil || f.Follows {
		t.Errorf("room that warms: %+v, %v", f, err)
	}
	still := loggersOf(t, 7, 0, 0.5, 0, 0, 4)
	for i := range still.House {
		still.House[i] = diagnosis.Air{Temperature: 24, Humidity: 50}
	}
	if f, err := still.Following(limits); err != nil || f.Follows || f.Steady {
		t.Errorf("house that does not move says %+v, %v", f, err)
	}
}

func TestFollowingRefuses(t *testing.T) {
	short := loggersOf(t, 1, 0, 0.4, 0, 0, 4)
	uneven := loggersOf(t, 3, 0, 0.4, 0, 0, 4)
	uneven.House = uneven.House[1:]
	lost := loggersOf(t, 3, 0, 0.4, 0, 0, 4)
	lost.Room[7].Humidity = units.RelativeHumidity(math.NaN())
	slow := loggersOf(t, 3, 0, 0.4, 0, 0, 4)
	slow.Every = 2 * time.Hour
	for name, log := range map[string]diagnosis.Log{"short": short, "uneven": uneven, "lost": lost, "slow": slow, "empty": {}} {
		if f, err := log.Following(diagnosis.DefaultLimits()); err == nil {
			t.Errorf("%s: %+v, want an error", name, f)
		}
	}
}

package diagnosis

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Log is the room and the house by their loggers, at the same times.
type Log struct {
	Every       time.Duration // 1 min to 1 h
	Room, House []Air
}

// Following says how the room's dew point goes with the house's.
type Following struct {
	Lag         time.Duration // at which the two go together best, 0 to 12 h
	Correlation float64       // there
	// Gain is how far the room's vapor pressure moves for each pascal of the house's,
	// its own temperature held: a room that warms up wets its coil's air as well. In a
	// steady room that is M/(M + R), with M the house air that leaks in and R the air
	// that the coil dries.
	Gain float64
	// HouseMoves and RoomMoves are the spans of the dew points that 5 to 95 % of the
	// hours lie in.
	HouseMoves, RoomMoves units.TemperatureDifference
	RoomDewPoint          units.Temperature // mean
	// Follows and Steady are both false when the log lies between, or when the
	// house moved too little to say.
	Follows, Steady bool
	Steps           []units.Step
}

const (
	leastLog  = 48 // hours that a log must span
	greatLags = 12 // hours of lag that are tried
)

func (l Log) valid() error {
	err := within("log interval", l.Every.Minutes(), 1, 60, "min")
	if len(l.Room) != len(l.House) {
		err = errors.Join(err, fmt.Errorf("log holds %d times in the room and %d in the house; cut both to the same times", len(l.Room), len(l.House)))
	}
	for i, series := range [][]Air{l.Room, l.House} {
		for _, a := range series {
			if a.Temperature >= -40 && a.Temperature <= 80 && a.Humidity >= 0 && a.Humidity <= 100 {
				continue
			}
			return errors.Join(err, a.valid("log of the "+[]string{"room", "house"}[i]))
		}
	}
	return err
}

// Following compares the vapor pressures of room and house by hourly means: the lag
// from 0 to 12 h at which their partial correlation is best, and the slope of the
// room on the house there, both with the room's temperature held. It returns an error for a log of less than 48 h or with values that
// cannot be.
func (l Log) Following(limits Limits) (Following, error) {
	if err := l.valid(); err != nil {
		return Following{}, fmt.Errorf("log: %w", err)
	}
	room, warmth, err := hourly(l.Room, l.Every)
	house, _, errHouse := hourly(l.House, l.Every)
	if err := errors.Join(err, errHouse); err != nil {
		return Following{}, fmt.Errorf("log: %w", err)
	}
	if len(room) < leastLog {
		return Following{}, fmt.Errorf("log spans %d h; leave the loggers for 72 h, 48 at least", len(room))
	}
	f := Following{Correlation: -1}
	f.HouseMoves, err = moves(house)
	f.RoomMoves, errHouse = moves(room)
	dew, errDew := humidair.SaturationTemperature(mean(room).Value)
	if err := errors.Join(err, errHouse, errDew); err != nil {
		return Following{}, fmt.Errorf("log: %w", err)
	}
	f.RoomDewPoint = dew
	for lag := range greatLags + 1 {
		r, slope := goTogether(house[:len(house)-lag], room[lag:], warmth[lag:])
		if r > f.Correlation {
			f.Correlation, f.Gain, f.Lag = r, slope, time.Duration(lag)*time.Hour
		}
	}
	f.judge(limits)
	return f, nil
}

func (f *Following) judge(limits Limits) {
	moved := f.HouseMoves >= limits.HouseMoves
	f.Follows = moved && f.Correlation >= limits.Correlation && f.Lag <= limits.Lag && f.Gain >= limits.Follows
	f.Steady = moved && !f.Follows && f.Gain*f.Correlation < limits.Steady
	const source = "least squares of hourly means, room temperature held; limits assumed"
	f.Steps = []units.Step{
		{Name: "house's dew point", Formula: "5 to 95 % of the hours", Value: fmt.Sprintf("moves %.2f K", f.HouseMoves), Source: source},
		{Name: "room's dew point", Formula: "the same", Value: fmt.Sprintf("moves %.2f K about a dew point of %.2f °C", f.RoomMoves, f.RoomDewPoint), Source: source},
		{Name: "lag", Formula: "greatest partial correlation, 0 to 12 h", Value: fmt.Sprintf("%.0f h, r = %.2f", f.Lag.Hours(), f.Correlation), Source: source},
		{Name: "gain", Formula: "slope of the room's vapor pressure on the house's at that lag", Value: fmt.Sprintf("%.2f Pa/Pa", f.Gain), Source: source},
	}
}

// hourly returns the hourly means of vapor pressure and temperature.
func hourly(series []Air, every time.Duration) (vapor []units.Pressure, warmth []units.Temperature, err error) {
	sumP, sumT, n, hour := 0.0, 0.0, 0.0, 0
	finish := func() {
		vapor, warmth = append(vapor, units.Pressure(sumP/n)), append(warmth, units.Temperature(sumT/n))
		sumP, sumT, n = 0, 0, 0
	}
	for i, a := range series {
		if h := int(time.Duration(i) * every / time.Hour); h != hour {
			finish()
			hour = h
		}
		p, err := humidair.VaporPressure(a.Temperature, a.Humidity)
		if err != nil {
			return nil, nil, err
		}
		sumP, sumT, n = sumP+float64(p), sumT+float64(a.Temperature), n+1
	}
	if n > 0 {
		finish()
	}
	return vapor, warmth, nil
}

// moves returns the span of dew points that 5 to 95 % of the hours lie in.
func moves(vapor []units.Pressure) (units.TemperatureDifference, error) {
	sorted := slices.Sorted(slices.Values(vapor))
	edge := len(sorted) / 20
	low, err := humidair.SaturationTemperature(sorted[edge])
	high, errHigh := humidair.SaturationTemperature(sorted[len(sorted)-1-edge])
	return high.Sub(low), errors.Join(err, errHigh)
}

// goTogether returns the partial correlation of x and y with z held, and the slope of
// y on x beside z; 0 when one does not move by itself.
func goTogether(x, y []units.Pressure, z []units.Temperature) (r, slope float64) {
	xs, ys, zs := centered(x), centered(y), centered(z)
	xx, yy, zz := dot(xs, xs), dot(ys, ys), dot(zs, zs)
	xy, xz, yz := dot(xs, ys), dot(xs, zs), dot(ys, zs)
	if zz > 0 {
		xx, yy, xy = xx-xz*xz/zz, yy-yz*yz/zz, xy-xz*yz/zz
	}
	if xx <= 1e-9 || yy <= 1e-9 {
		return 0, 0
	}
	return xy / math.Sqrt(xx*yy), xy / xx
}

func centered[T ~float64](values []T) []float64 {
	m := float64(mean(values).Value)
	c := make([]float64, len(values))
	for i, v := range values {
		c[i] = float64(v) - m
	}
	return c
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

package proof

import (
	"math"
	"time"

	"proveout/checks/logs"
)

// grid holds the loggers that are sound in equal steps of time; NaN where one saw
// too little of a step.
type grid struct {
	from time.Time
	step time.Duration
	n    int

	room, bottle, intake []float64 // °C
	duty                 []float64
	coil                 []float64   // room while the unit runs, which it sees
	sides                [][]float64 // in the order of Room.Sides
	roomU, bottleU       float64     // standard uncertainty of the means, K
	sideU                []float64
}

const leastSeen = 0.7 // share of a step that must be observed (assumed)

// newGrid averages the sound temperatures of each place.
func newGrid(in *Input, sound *soundness, span logs.TimeSpan, step time.Duration) grid {
	g := grid{from: span.From, step: step, n: int(span.To.Sub(span.From) / step)}
	if g.n < 1 {
		return g
	}
	g.room, g.roomU = g.place(in, sound, func(l Logger) bool { return l.Place.Room() })
	g.bottle, g.bottleU = g.place(in, sound, func(l Logger) bool { return l.Place == BottleProbe })
	g.intake, _ = g.place(in, sound, func(l Logger) bool { return l.Place == Intake })
	for _, side := range in.Room.Sides {
		values, u := g.place(in, sound, func(l Logger) bool { return l.Place == OtherSide && l.Side == side.Name })
		g.sides, g.sideU = append(g.sides, values), append(g.sideU, u)
	}
	if sound.states != nil {
		g.duty = sound.states.Duties(g.from, step, g.n, leastSeen)
	} else if sound.counter != nil {
		g.duty = g.counted(in, *sound.counter)
	}
	return g
}

// coilAir fills in what the unit's coil sees: the room while the unit runs is
// cooler than on average. Hours without running are as the room.
func (g *grid) coilAir(in *Input, sound *soundness) {
	const parts = 12
	fineGrid := grid{from: g.from, step: g.step / parts, n: g.n * parts}
	room, _ := fineGrid.place(in, sound, func(l Logger) bool { return l.Place.Room() })
	if room == nil || sound.states == nil {
		g.coil = g.room
		return
	}
	duty := sound.states.Duties(g.from, fineGrid.step, fineGrid.n, 0.5)
	g.coil = make([]float64, g.n)
	for i := range g.coil {
		sum, weight := 0.0, 0.0
		for k := i * parts; k < (i+1)*parts; k++ {
			if finite(room[k], duty[k]) {
				sum, weight = sum+duty[k]*room[k], weight+duty[k]
			}
		}
		if g.coil[i] = g.room[i]; weight > 0 {
			g.coil[i] = sum / weight
		}
	}
}

// place returns the mean of all sound temperatures that are taken, nil without
// any, and its standard uncertainty. A step that any of them missed is NaN: the
// mean of others would jump.
func (g *grid) place(in *Input, sound *soundness, take func(Logger) bool) (values []float64, u float64) {
	var squares, n float64
	for i, l := range in.Loggers {
		if !take(l) {
			continue
		}
		for _, s := range sound.temperatures(i) {
			m, err := s.Means(g.from, g.step, g.n, leastSeen)
			if err != nil {
				continue
			}
			if values == nil {
				values = make([]float64, g.n)
			}
			for k := range m {
				values[k] += m[k]
			}
			squares += math.Pow(l.standard(), 2)
			n++
		}
	}
	if n == 0 {
		return nil, 0
	}
	for k := range values {
		values[k] /= n
	}
	return values, math.Sqrt(squares) / n
}

// standard is the standard uncertainty of a logger's temperature, K.
func (l Logger) standard() float64 {
	if l.Uncertainty > 0 {
		return float64(l.Uncertainty) / 2
	}
	return 0.25 // ± 0.5 K, what the logger check accepts
}

// counted is the duty of each step by a meter's count.
func (g *grid) counted(in *Input, s logs.Series) []float64 {
	duty := make([]float64, g.n)
	for i := range duty {
		from := g.from.Add(g.step * time.Duration(i))
		energy, ok := countOver(s, from, from.Add(g.step))
		duty[i] = math.NaN()
		if ok && in.Unit.Running > in.Unit.Standby {
			duty[i] = CounterDuty(energy, g.step, in.Unit.Standby, in.Unit.Running)
		}
	}
	return duty
}

// countOver is what a meter counted between two times, interpolated.
func countOver(s logs.Series, from, to time.Time) (energy float64, ok bool) {
	a, okA := countAt(s, from.UnixMilli())
	b, okB := countAt(s, to.UnixMilli())
	return b - a, okA && okB && b >= a
}

func countAt(s logs.Series, t int64) (count float64, ok bool) {
	low, high := 0, len(s.Times)
	for low < high {
		if mid := (low + high) / 2; s.Times[mid] < t {
			low = mid + 1
		} else {
			high = mid
		}
	}
	switch {
	case low == len(s.Times):
		return 0, false
	case s.Times[low] == t:
		return s.Values[low], finite(s.Values[low])
	case low == 0 || s.Times[low]-s.Times[low-1] > 2*s.Interval().Milliseconds():
		return 0, false
	}
	share := float64(t-s.Times[low-1]) / float64(s.Times[low]-s.Times[low-1])
	v := s.Values[low-1] + share*(s.Values[low]-s.Values[low-1])
	return v, finite(v)
}

// outside returns Σ w_j·T_j of a step, w_j the share of each side's conductance.
func (g *grid) outside(i int, conductances []float64) float64 {
	sum, total := 0.0, 0.0
	for j, c := range conductances {
		if c == 0 {
			continue
		}
		if g.sides[j] == nil {
			return math.NaN()
		}
		sum += c * g.sides[j][i]
		total += c
	}
	return sum / total
}

// span is the time of step i.
func (g *grid) span(i, steps int) logs.TimeSpan {
	from := g.from.Add(g.step * time.Duration(i))
	return logs.TimeSpan{From: from, To: from.Add(g.step * time.Duration(steps))}
}

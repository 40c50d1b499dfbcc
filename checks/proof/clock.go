package proof

import (
	"math"
	"time"

	"proveout/checks/logs"
)

// fine is the step in which quick changes are compared.
const fine = 5 * time.Minute

const (
	mostShift  = 14 * time.Hour // of a clock
	leastShift = 30 * time.Minute
	shiftAlike = 0.35 // least correlation at the shift (assumed)
	shiftGain  = 0.20 // and this much above that without shift (assumed)
)

// swing is the quick part of a column: what it departs from its mean over 2 h,
// scaled to a standard deviation of 1.
type swing struct {
	i, k   int
	values []float64
}

// swings returns those of the room's sound temperatures and, first, of the unit,
// upside down, since the air cools while it runs.
func (a *analyser) swings(span logs.TimeSpan) (unit *swing, room []swing) {
	n := int(span.To.Sub(span.From) / fine)
	if n < 288 {
		return nil, nil
	}
	if s := a.sound.states; s != nil {
		duty := s.Duties(span.From, fine, n, 0.5)
		// Air falls while the unit runs: its slope goes with −duty. The running sum
		// of duty less its mean is what the temperature follows.
		if v, ok := scaled(duty); ok {
			sum := 0.0
			level := make([]float64, n)
			for i, x := range v {
				sum -= x
				level[i] = sum
			}
			if quick, ok := quickPart(level); ok {
				unit = &swing{-1, -1, quick}
			}
		}
	}
	refs, means := a.means(logs.Temperature, span.From, fine, n, 0.2)
	for j, ref := range refs {
		if quick, ok := quickPart(means[j]); ok {
			room = append(room, swing{ref[0], ref[1], quick})
		}
	}
	return unit, room
}

// quickPart takes the mean over 2 h off and scales; missing values become 0.
func quickPart(values []float64) ([]float64, bool) {
	const half = 12
	quick := make([]float64, len(values))
	sum, n := 0.0, 0
	put := func(k, sign int) {
		if k >= 0 && k < len(values) && values[k] == values[k] {
			sum, n = sum+float64(sign)*values[k], n+sign
		}
	}
	for k := range half {
		put(k, 1)
	}
	for i := range values {
		put(i+half, 1)
		put(i-half-1, -1)
		quick[i] = math.NaN()
		if values[i] == values[i] && n > half {
			quick[i] = values[i] - sum/float64(n)
		}
	}
	return scaled(quick)
}

// scaled takes the mean off and divides by the standard deviation. Values beyond
// three of these count as three, so that no single moment decides.
func scaled(values []float64) ([]float64, bool) {
	m, n := mean(values)
	squares := 0.0
	for _, v := range values {
		if v == v {
			squares += (v - m) * (v - m)
		}
	}
	sd := math.Sqrt(squares / float64(n))
	if n < len(values)/2 || !(sd > 1e-6) {
		return nil, false
	}
	out := make([]float64, len(values))
	for i, v := range values {
		if v == v {
			out[i] = min(3, max(-3, (v-m)/sd))
		}
	}
	return out, true
}

// clocks finds room loggers that go with the others only when shifted in time.
func (a *analyser) clocks() {
	unit, room := a.swings(a.whole)
	if len(room) < 3 && unit == nil {
		return // nobody can say whose clock is wrong
	}
	for j, s := range room {
		reference := make([]float64, len(s.values))
		add := func(o []float64) {
			for i, v := range o {
				reference[i] += v
			}
		}
		for o := range room {
			if o != j {
				add(room[o].values)
			}
		}
		if unit != nil {
			add(unit.values)
		}
		shift, best, still := bestShift(reference, s.values)
		if shift.Abs() >= leastShift && best >= shiftAlike && best >= still+shiftGain {
			a.note(WrongClock, s.i, s.k, a.whole, 1, "read the file again with the clock's own time zone",
				"its swings go with those of the others (r = %.2f) only when it is shifted by %+.2f h; as recorded r = %.2f", best, -shift.Hours(), still)
		}
	}
}

// bestShift returns how much later y does what x does, with the correlation there
// and that without shift.
func bestShift(x, y []float64) (shift time.Duration, best, still float64) {
	x, ok := scaled(x)
	if !ok {
		return 0, 0, 0
	}
	most := int(mostShift / fine)
	best = -1
	for lag := -most; lag <= most; lag++ {
		r := correlation(x, y, lag)
		if lag == 0 {
			still = r
		}
		if r > best {
			best, shift = r, time.Duration(lag)*fine
		}
	}
	return shift, best, still
}

// correlation of x(t) and y(t + lag), both scaled.
func correlation(x, y []float64, lag int) float64 {
	from, to := max(0, -lag), min(len(x), len(y)-lag)
	xy, xx, yy := 0.0, 0.0, 0.0
	for i := from; i < to; i++ {
		xy += x[i] * y[i+lag]
		xx += x[i] * x[i]
		yy += y[i+lag] * y[i+lag]
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}

// supplyDrop is how much colder than the rest of the room a logger must be while
// the unit runs, beyond what it is while the unit rests, K (assumed).
const supplyDrop = 2.0

// supplied finds room loggers that hang in the supply air: while the unit runs
// they are far colder than the rest of the room, while it rests they are not.
func (a *analyser) supplied() {
	if a.sound.states == nil {
		return
	}
	span := a.keeping
	n := int(span.To.Sub(span.From) / fine)
	if n < 144 {
		return
	}
	duty := a.sound.states.Duties(span.From, fine, n, 0.9)
	refs, means := a.means(logs.Temperature, span.From, fine, n, 0.2)
	drops := make([]float64, len(refs))
	for j := range refs {
		var on, off []float64
		for h := range n {
			against := float64(a.in.Room.Set)
			if len(refs) > 1 {
				against = othersMedian(means, j, h)
			}
			switch d := means[j][h] - against; {
			case duty[h] > 0.99:
				on = append(on, d)
			case duty[h] < 0.01:
				off = append(off, d)
			}
		}
		drops[j] = median(off) - median(on)
	}
	for j, ref := range refs {
		// With two loggers each drops against the other, with opposite signs.
		if drops[j] >= supplyDrop {
			a.note(InSupplyAir, ref[0], ref[1], span, 1, "move it out of the stream of supply air, 0.6 m at least",
				"while the unit runs it is %.1f K colder against the rest of the room than while it rests", drops[j])
		}
	}
}

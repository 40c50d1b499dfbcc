package proof

import (
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/logs"
)

// Limits of the look at loggers; this project's choice unless noted.
const (
	leastRecorded = 0.9              // of the time from first to last (common practice)
	leastGap      = 30 * time.Minute // named from here on
	stuckFor      = 12 * time.Hour   // unchanged, while the air beside it moves
	jump          = 5.0              // K or 15 %, one sample away from both beside it
	mostJumps     = 2                //
	driftLimit    = 0.5              // K against the others, first to last third
	driftHumidity = 4.0              // % the same
	nearSupply    = 0.6              // m (common practice)
)

// look tests every column by itself and against the others.
func (a *analyser) look() {
	for i, l := range a.in.Loggers {
		for k, s := range l.Series {
			a.alone(i, k, s)
		}
		if l.Place.Room() && l.Distance > 0 && l.Distance < nearSupply*(1-1e-9) && len(l.Series) > 0 {
			a.note(TooClose, i, 0, logs.TimeSpan{}, 1, "move it to 0.6 m or more", "it hangs %.2f m from the supply air; 0.6 m at least", float64(l.Distance))
		}
	}
	a.salts()
	a.fahrenheit()
	a.clocks()
	a.supplied()
	a.stuck()
	a.drifts()
}

// salts tests the salt points of each logger.
func (a *analyser) salts() {
	for i, l := range a.in.Loggers {
		if l.Salts == nil {
			continue
		}
		_, _, err := l.Salts.Correction()
		for k, s := range l.Series {
			if err != nil && s.Quantity == logs.RelativeHumidity {
				a.note(BadSalts, i, k, logs.TimeSpan{}, 1, "check it again at both points, then replace it", "%v", err)
			}
		}
	}
}

// alone tests one column.
func (a *analyser) alone(i, k int, s logs.Series) {
	if why := unusable(s); why != "" {
		a.note(NotLogged, i, k, logs.TimeSpan{}, len(s.Times), "read the file again", "%s", why)
		return
	}
	whole := spanOf(s.Times[0], s.Times[len(s.Times)-1])
	if n := s.Duplicates(); n > 0 {
		a.note(Repeated, i, k, whole, n, "two files may overlap; rows of one time count once, by their mean", "%d rows have the time of the row before", n)
	}
	if s.Quantity == logs.State || s.Quantity == logs.Energy {
		return
	}
	a.gaps(i, k, s, whole)
	a.jumps(i, k, s, whole)
}

// unusable says why a column cannot be analysed at all, "" if it can.
func unusable(s logs.Series) string {
	switch {
	case s.Quantity == logs.Unknown:
		return "the file does not tell what the column measures"
	case len(s.Times) != len(s.Values):
		return fmt.Sprintf("%d times and %d values", len(s.Times), len(s.Values))
	case !slices.IsSorted(s.Times):
		return "the times are not ascending"
	case slices.ContainsFunc(s.Values, func(v float64) bool { return math.IsInf(v, 0) }):
		return "a value is infinite"
	}
	if _, n := mean(s.Values); n < 2 || s.Times[0] == s.Times[len(s.Times)-1] {
		return fmt.Sprintf("%d samples with a value", n)
	}
	return ""
}

func (a *analyser) gaps(i, k int, s logs.Series, whole logs.TimeSpan) {
	var missing time.Duration
	longest, n := logs.TimeSpan{}, 0
	for _, g := range s.Gaps(0) {
		d := g.To.Sub(g.From)
		missing += d
		if d >= leastGap {
			n++
		}
		if d > longest.To.Sub(longest.From) {
			longest = g
		}
	}
	length := whole.To.Sub(whole.From)
	if n > 0 {
		a.note(Gap, i, k, longest, n, "time that was not recorded proves nothing", "%d gaps of half an hour or more, the longest %s from %s", n, longest.To.Sub(longest.From), longest.From.Format("2 January 15:04"))
	}
	if share := 1 - float64(missing)/float64(length); !(share >= leastRecorded) {
		a.note(NotLogged, i, k, whole, 1, "log again", "only %.0f %% of the time is recorded; 90 %% are wanted", 100*share)
	}
}

// jumps finds single samples far from both beside them, and values that cannot be.
func (a *analyser) jumps(i, k int, s logs.Series, whole logs.TimeSpan) {
	low, high, far := -40.0, 85.0, jump
	switch s.Quantity {
	case logs.RelativeHumidity:
		low, high, far = 0, 105, 3*jump
	case logs.Temperature, logs.DewPoint:
	default:
		return
	}
	jumps, wild := 0, 0
	var b, c float64 = math.NaN(), math.NaN()
	for _, v := range s.Values {
		if v != v {
			continue
		}
		if v < low || v > high {
			wild++
		}
		if (c-b)*(c-v) > 0 && math.Abs(c-b) > far && math.Abs(c-v) > far {
			jumps++
		}
		b, c = c, v
	}
	if wild > 0 {
		a.note(Implausible, i, k, whole, wild, "look for a broken cable or sensor", "%d readings outside of %g to %g %s", wild, low, high, s.Quantity.Unit())
	}
	if jumps > mostJumps && a.in.Loggers[i].Place != SupplyAir {
		a.note(Jumping, i, k, whole, jumps, "look for a loose cable", "%d single readings stand more than %g %s away from those before and after", jumps, far, s.Quantity.Unit())
	}
}

// fahrenheit finds temperatures that only make sense as degrees Fahrenheit.
func (a *analyser) fahrenheit() {
	for i, l := range a.in.Loggers {
		for k, s := range l.Series {
			if s.Quantity != logs.Temperature || a.sound.excluded[[2]int{i, k}] {
				continue
			}
			m := median(every(s.Values, 2000))
			converted := (m - 32) / 1.8
			if low, high := expected(l, a.in); m > high && converted >= low && converted <= high {
				a.note(Fahrenheit, i, k, logs.TimeSpan{}, len(s.Values), "read the file again as °F", "half of the readings are above %.1f \"°C\"; read as °F they are %.1f °C", m, converted)
			}
		}
	}
}

// every returns about n of the values, evenly spread.
func every(values []float64, n int) []float64 {
	step := 1 + len(values)/n
	some := make([]float64, 0, n+1)
	for i := 0; i < len(values); i += step {
		some = append(some, values[i])
	}
	return some
}

// expected is the range that the median of a place's temperature lies in.
func expected(l Logger, in *Input) (low, high float64) {
	set := float64(in.Room.Set)
	switch {
	case l.Place.Room() || l.Place == BottleProbe:
		return set - 5, max(set+15, 35)
	case l.Place == SupplyAir:
		return set - 20, max(set+12, 35)
	case l.Side == houseOf(in):
		return 8, 36
	}
	return -30, 55
}

func houseOf(in *Input) string {
	if in.Room.House != "" {
		return in.Room.House
	}
	return "house"
}

// stuck finds room sensors that stand still while the air beside them moves.
func (a *analyser) stuck() {
	for _, q := range []logs.Quantity{logs.RelativeHumidity, logs.Temperature} {
		for i, l := range a.in.Loggers {
			for k, s := range l.Series {
				if !l.Place.Room() || s.Quantity != q || a.sound.excluded[[2]int{i, k}] {
					continue
				}
				from, to := longestSame(s)
				if d := at(to).Sub(at(from)); d >= stuckFor && a.moved(i, k, from, to) {
					a.note(Stuck, i, k, spanOf(from, to), 1, "replace the sensor", "the reading did not change for %s while the air beside it did", d.Round(time.Minute))
				}
			}
		}
	}
}

// longestSame is the longest time over which a value stays the same.
func longestSame(s logs.Series) (from, to int64) {
	last, begin := math.NaN(), int64(0)
	for i, v := range s.Values {
		if v != v {
			continue
		}
		if v != last {
			last, begin = v, s.Times[i]
		}
		if s.Times[i]-begin > to-from {
			from, to = begin, s.Times[i]
		}
	}
	return from, to
}

// moved reports whether another column of the room's air moved in a time, by more
// than noise: the same quantity or temperature, in steps of 5 min.
func (a *analyser) moved(i, k int, from, to int64) bool {
	q := a.in.Loggers[i].Series[k].Quantity
	n := int((to - from) / fine.Milliseconds())
	for j, l := range a.in.Loggers {
		for c, s := range l.Series {
			if j == i && c == k || !l.Place.Room() || s.Quantity != q && s.Quantity != logs.Temperature || a.sound.excluded[[2]int{j, c}] {
				continue
			}
			m, err := s.Means(at(from), fine, n, 0.2)
			if err != nil {
				continue
			}
			least := 0.4
			if s.Quantity == logs.RelativeHumidity {
				least = 1.5
			}
			if low, high := extremes(m); high-low >= least {
				return true
			}
		}
	}
	return false
}

// drifts compares each room logger with the median of the others, first third of
// the log with last.
func (a *analyser) drifts() {
	for q, limit := range map[logs.Quantity]float64{logs.Temperature: driftLimit, logs.RelativeHumidity: driftHumidity} {
		span, ok := a.shared(q)
		if !ok {
			continue
		}
		n := int(span.To.Sub(span.From) / time.Hour)
		refs, means := a.means(q, span.From, time.Hour, n, 0.5)
		if len(refs) < 3 || n < 72 {
			continue
		}
		for j, ref := range refs {
			var d []float64
			for h := range n {
				d = append(d, means[j][h]-othersMedian(means, j, h))
			}
			first, last := median(d[:n/3]), median(d[n-n/3:])
			if moved := last - first; math.Abs(moved) > limit {
				a.note(Drifting, ref[0], ref[1], span, 1, "check it at the ice point or the salts", "against the other loggers it moved by %+.2f %s from the first third of the log to the last", moved, q.Unit())
			}
		}
	}
}

// means averages the sound columns of a quantity in the room's air over steps of
// which the share least must be observed; refs are logger and column of each.
func (a *analyser) means(q logs.Quantity, from time.Time, step time.Duration, n int, least float64) (refs [][2]int, means [][]float64) {
	for i, l := range a.in.Loggers {
		for k, s := range l.Series {
			if !l.Place.Room() || s.Quantity != q || a.sound.excluded[[2]int{i, k}] {
				continue
			}
			if m, err := s.Means(from, step, n, least); err == nil {
				refs, means = append(refs, [2]int{i, k}), append(means, m)
			}
		}
	}
	return refs, means
}

func othersMedian(means [][]float64, without, h int) float64 {
	var others []float64
	for j, m := range means {
		if j != without {
			others = append(others, m[h])
		}
	}
	return median(others)
}

// shared is the time in which the room kept itself, as far as all columns of a quantity in
// the room reach.
func (a *analyser) shared(q logs.Quantity) (span logs.TimeSpan, ok bool) {
	span = a.keeping
	for i, l := range a.in.Loggers {
		for k, s := range l.Series {
			if !l.Place.Room() || s.Quantity != q || a.sound.excluded[[2]int{i, k}] {
				continue
			}
			ok = true
			if first := at(s.Times[0]); first.After(span.From) {
				span.From = first
			}
			if last := at(s.Times[len(s.Times)-1]); last.Before(span.To) {
				span.To = last
			}
		}
	}
	return span, ok && span.To.After(span.From)
}

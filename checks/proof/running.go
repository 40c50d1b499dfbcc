package proof

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/logs"
)

// FanState is what a unit's fan does while the compressor rests.
type FanState string

// The states of a fan, as the power shows them. An evaporator fan that runs on
// puts water from the coil back into the room.
const (
	FanUnknown FanState = ""
	FanRests   FanState = "off with the compressor"
	FanRunsOn  FanState = "runs on after the compressor"
	FanAlways  FanState = "always on"
)

// Run is a stretch of time in which the unit is on, or off, throughout.
type Run struct {
	On       bool
	From, To time.Time
	Open     bool // it begins or ends at a gap or an end of the record, and may be longer
}

// Lasts is its length as seen.
func (r Run) Lasts() time.Duration { return r.To.Sub(r.From) }

// States are the runs of a unit over a record.
type States struct {
	Runs     []Run // in the order of time; between them may be gaps
	Interval time.Duration
	On, Off  float64 // levels, in the unit of the series
	Fan      FanState

	brief []time.Time // states that one sample alone saw
}

// StatesOf tells from a series of power, current, energy or on/off events when the
// unit was cooling. On is above Off + 0.6·(On − Off), off below Off + 0.4·(On −
// Off); a state seen by one sample only is none. The levels are found as the two
// groups of values that lie farthest apart (Otsu 1979) and must differ by 40 %; u
// gives them where the log shows one alone.
//
// Errors: ErrTooLittle when on and off cannot be told apart.
func StatesOf(s logs.Series, u CoolingUnit) (States, error) {
	if why := unusable(s); why != "" {
		return States{}, fmt.Errorf("%w: %q: %s", ErrTooLittle, s.Name, why)
	}
	switch s.Quantity {
	case logs.State:
		return eventStates(s)
	case logs.Power, logs.Current:
	case logs.Energy:
		var err error
		if s, err = powerOf(s); err != nil {
			return States{}, err
		}
	default:
		return States{}, fmt.Errorf("%q is %q; cycles need power, current, energy or on/off events", s.Name, s.Quantity)
	}
	r := States{Interval: s.Interval()}
	if r.Interval == 0 {
		return States{}, fmt.Errorf("%w: %q has no two samples", ErrTooLittle, s.Name)
	}
	var ok bool
	if r.Off, r.On, ok = levels(s.Values); ok {
		r.Fan = fan(s.Values, r.Off, r.On)
	} else if r.Off, r.On = u.Standby, u.Running; !(u.Running > u.Standby) {
		return States{}, fmt.Errorf("%w: %q stays at one level, %.4g %s; say what the unit draws while it cools", ErrTooLittle, s.Name, median(s.Values), s.Quantity.Unit())
	}
	r.take(s)
	return r, nil
}

// powerOf turns a meter's count into mean power between its readings.
func powerOf(s logs.Series) (logs.Series, error) {
	p := logs.Series{Name: s.Name, Quantity: logs.Power}
	finest := math.Inf(1)
	last := -1
	for i, v := range s.Values {
		if v != v {
			continue
		}
		if last >= 0 && s.Times[i] > s.Times[last] {
			d := v - s.Values[last]
			if d > 0 {
				finest = min(finest, d)
			}
			watts := d * 3.6e9 / float64(s.Times[i]-s.Times[last])
			if d < 0 { // the meter was reset
				watts = math.NaN()
			}
			p.Times, p.Values = append(p.Times, s.Times[last]), append(p.Values, watts)
		}
		last = i
	}
	step := finest * 3.6e6 / max(1, s.Interval().Seconds())
	if high := quantile(p.Values, 0.98); !(step < high/3) {
		return p, fmt.Errorf("%w: %q counts in steps of %.3g kWh, too coarse to see cycles", ErrTooLittle, s.Name, finest)
	}
	return p, nil
}

// CounterDuty is the share of time on, from a meter's count: (E − P_off·T)/((P_on −
// P_off)·T). It needs the unit's two levels, and no cycles.
func CounterDuty(energy float64, over time.Duration, off, on float64) float64 {
	mean := energy * 3.6e6 / over.Seconds()
	return min(1, max(0, (mean-off)/(on-off)))
}

const levelBins = 128

// levels splits values into two groups by the greatest variance between them.
func levels(values []float64) (off, on float64, ok bool) {
	low, high := extremes(values)
	if !(high > low) {
		return 0, 0, false
	}
	var count, sum [levelBins]float64
	for _, v := range values {
		if v == v {
			i := min(levelBins-1, int((v-low)/(high-low)*levelBins))
			count[i]++
			sum[i] += v
		}
	}
	cut := otsu(&count, &sum)
	var n, total [2]float64
	for i := range count {
		side := 0
		if i > cut {
			side = 1
		}
		n[side] += count[i]
		total[side] += sum[i]
	}
	off, on = total[0]/n[0], total[1]/n[1]
	return off, on, on-off >= 0.4*on && n[0] >= 3 && n[1] >= 3
}

// otsu returns the last bin of the lower group (Otsu 1979).
func otsu(count, sum *[levelBins]float64) int {
	var n, total, below, belowSum, best float64
	for i := range count {
		n, total = n+count[i], total+sum[i]
	}
	cut := 0
	for i := range levelBins - 1 {
		below, belowSum = below+count[i], belowSum+sum[i]
		if below == 0 || below == n {
			continue
		}
		d := belowSum/below - (total-belowSum)/(n-below)
		if between := below * (n - below) * d * d; between > best {
			best, cut = between, i
		}
	}
	return cut
}

func extremes(values []float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, v := range values {
		if v == v {
			low, high = min(low, v), max(high, v)
		}
	}
	return low, high
}

// fan looks at the power below the compressor's: two levels there, far apart, are
// a fan that runs on for a while; one that is more than standby is a fan that
// always runs. 4 % of the running power is standby (assumed).
func fan(values []float64, off, on float64) FanState {
	var rest []float64
	for _, v := range values {
		if v < off+0.4*(on-off) {
			rest = append(rest, v)
		}
	}
	rest = every(rest, 2000)
	low, high := quantile(rest, 0.10), quantile(rest, 0.95)
	switch standby := 0.04 * on; {
	case math.IsNaN(low):
		return FanUnknown
	case low > standby:
		return FanAlways
	case high > standby && high > 3*low:
		return FanRunsOn
	}
	return FanRests
}

// take reads the runs off the levels, with a dead band between.
func (r *States) take(s logs.Series) {
	up, down := r.Off+0.6*(r.On-r.Off), r.Off+0.4*(r.On-r.Off)
	step := r.Interval.Milliseconds()
	b := runBuilder{gap: step + step/2, step: step}
	on, known := false, false
	for i, v := range s.Values {
		switch {
		case v != v:
			continue
		case v > up:
			on, known = true, true
		case v < down:
			on, known = false, true
		}
		if known {
			b.add(s.Times[i], on)
		}
	}
	r.Runs, r.brief = b.finish()
}

// runBuilder joins samples of one state to runs.
type runBuilder struct {
	gap, step int64
	runs      []Run
	samples   []int
	last      int64
	begun     bool
}

func at(ms int64) time.Time { return time.UnixMilli(ms).UTC() }

func (b *runBuilder) add(t int64, on bool) {
	n := len(b.runs)
	switch {
	case !b.begun:
		b.start(t, on, true)
	case t-b.last > b.gap:
		b.runs[n-1].To, b.runs[n-1].Open = at(b.last+b.step), true
		b.start(t, on, true)
	case b.runs[n-1].On != on:
		b.runs[n-1].To = at(t)
		b.start(t, on, false)
	default:
		b.samples[n-1]++
	}
	b.last, b.begun = t, true
}

func (b *runBuilder) start(t int64, on, open bool) {
	b.runs, b.samples = append(b.runs, Run{On: on, From: at(t), Open: open}), append(b.samples, 1)
}

// finish ends the last run and joins runs of one sample to those around them.
func (b *runBuilder) finish() (runs []Run, brief []time.Time) {
	if len(b.runs) == 0 {
		return nil, nil
	}
	last := len(b.runs) - 1
	b.runs[last].To, b.runs[last].Open = at(b.last+b.step), true
	kept := b.runs[:0]
	for i, r := range b.runs {
		n := len(kept)
		joins := n > 0 && kept[n-1].To.Equal(r.From)
		single := b.samples[i] < 2 && joins && !r.Open
		if single {
			brief = append(brief, r.From)
		}
		if joins && (single || kept[n-1].On == r.On) {
			kept[n-1].To, kept[n-1].Open = r.To, kept[n-1].Open || r.Open
			continue
		}
		kept = append(kept, r)
	}
	return kept, brief
}

// eventStates reads on/off events: a state lasts until the next event.
func eventStates(s logs.Series) (States, error) {
	r := States{On: 1}
	for i, v := range s.Values {
		if v != v {
			continue
		}
		on := v > 0.5
		if n := len(r.Runs); n > 0 {
			if r.Runs[n-1].To = at(s.Times[i]); r.Runs[n-1].On == on {
				continue
			}
		}
		r.Runs = append(r.Runs, Run{On: on, From: at(s.Times[i]), To: at(s.Times[i]), Open: len(r.Runs) == 0})
	}
	if len(r.Runs) < 2 {
		return States{}, fmt.Errorf("%w: %q holds no change between on and off", ErrTooLittle, s.Name)
	}
	r.Runs[len(r.Runs)-1].Open = true
	return r, nil
}

package proof

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/diagnosis"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// Analysis is all that a log proves. What could not be computed is nil, and
// Skipped says why.
type Analysis struct {
	Span     logs.TimeSpan // from the first sample to the last, room loggers
	Steady   logs.TimeSpan // in which the room kept itself
	Findings []Finding

	PullDowns []PulledDown // of each sound place
	Keeping   []Kept       // temperatures and humidities of each sound place, while steady
	Spread    *logs.SpreadResult
	// Room and Humidity are the means over all sound loggers in the room.
	Room     Estimate[units.Temperature]
	Humidity Estimate[units.RelativeHumidity]

	Cycles      *Cycles
	Condensate  Estimate[units.Mass] // a day
	Signature   *Signature
	Hold        *Hold
	Decay       *Decay
	Fit         *Fit
	Resistances []Resistance
	Mold        []MoldResult
	Overlay     *diagnosis.Following
	Skipped     []Skip
}

// Skip is an analysis that was not made.
type Skip struct{ What, Why string }

// PulledDown is the pull-down at one place.
type PulledDown struct {
	Logger string
	Place  Place
	logs.PullDownResult
}

// Kept is how one column kept while the room was steady.
type Kept struct {
	Logger   string
	Place    Place
	Quantity logs.Quantity
	logs.Stability
}

// analyser carries one analysis.
type analyser struct {
	in      *Input
	out     Analysis
	sound   *soundness
	whole   logs.TimeSpan
	keeping logs.TimeSpan // steady, as far as known
}

func (a *analyser) skip(what string, err error) {
	a.out.Skipped = append(a.out.Skipped, Skip{what, err.Error()})
}

// settle is the time after the bottles are down until the room counts as steady,
// and slowSettle that after switching on where that is not proved (assumed).
const (
	settle     = 24 * time.Hour
	slowSettle = 72 * time.Hour
)

// Analyse looks at the loggers, names what is wrong with them and with the room,
// and computes what the sound ones prove. It returns an error only for an input
// that cannot be used at all; an analysis that lacks something is skipped, and
// the Analysis says why.
func Analyse(in Input) (*Analysis, error) {
	if err := in.valid(); err != nil {
		return nil, fmt.Errorf("analysis: %w", err)
	}
	a := &analyser{in: &in, sound: &soundness{in: &in, excluded: map[[2]int]bool{}, seldom: map[[2]int]bool{}}}
	if err := a.spans(); err != nil {
		return nil, fmt.Errorf("analysis: %w", err)
	}
	a.unit()
	a.look()
	a.pullDowns()
	a.steady()
	a.keep()
	a.prove()
	a.out.Span, a.out.Steady = a.whole, a.keeping
	return &a.out, nil
}

// prove computes what rests on the steady time.
func (a *analyser) prove() {
	except := a.unlike()
	q := a.quickAir(a.keeping)
	except = append(except, a.doors(q)...)
	a.defrosts(q)
	a.cycles()
	if s, err := a.sign(except); err != nil {
		a.skip("energy signature", err)
	} else {
		a.out.Signature = s
		if h, ok := s.Hold(); ok {
			a.out.Hold = &h
		}
	}
	a.rest()
	a.faults(q)
}

// rest computes what stands by itself.
func (a *analyser) rest() {
	if f, err := a.fit(); err == nil {
		a.out.Fit = f
	} else if !a.in.On.IsZero() {
		a.skip("fit of the pull-down", err)
	}
	if !a.in.Off.From.IsZero() {
		if d, err := a.decay(); err == nil {
			a.out.Decay = d
		} else {
			a.skip("time constant", err)
		}
	}
	for _, p := range a.in.Plates {
		r, err := p.Resistance()
		if err != nil {
			a.skip("thermal resistance", err)
			continue
		}
		a.out.Resistances = append(a.out.Resistances, r)
	}
	a.mold()
	if f, err := a.overlay(a.keeping); err == nil {
		a.out.Overlay = f
	} else {
		a.skip("dew point of room and house", err)
	}
}

// unlike are the times in which the room could not keep itself: what the caller
// named, and the test with the unit off until the room is down again.
func (a *analyser) unlike() []logs.TimeSpan {
	spans := slices.Clone(a.in.Except)
	if off := a.in.Off; !off.From.IsZero() {
		spans = append(spans, logs.TimeSpan{From: off.From, To: off.To.Add(settle)})
	}
	return spans
}

func (in *Input) valid() error {
	var errs []error
	if len(in.Loggers) == 0 {
		errs = append(errs, errors.New("no loggers"))
	}
	errs = append(errs, within("set point", float64(in.Room.Set), -5, 30, "°C"))
	for _, s := range in.Room.Sides {
		errs = append(errs, within("conductance to "+s.Name, float64(s.Conductance), 0, 1e4, "W/K"), within("uncertainty of the conductance to "+s.Name, s.Uncertainty, 0, 1, ""))
	}
	errs = append(errs,
		within("heat capacity of what follows the air", float64(in.Room.Light), 0, 1e9, "J/K"),
		within("heat capacity of the bottles", float64(in.Room.Bottles), 0, 1e10, "J/K"),
		within("heat inside", float64(in.Room.Inside), 0, 1e5, "W"),
		within("uncertainty of the heat inside", float64(in.Room.InsideUncertainty), 0, 1e5, "W"),
		within("uncertainty of the capacity", in.Unit.Uncertainty, 0, 1, ""),
	)
	return errors.Join(errs...)
}

// spans finds the time that the room's loggers cover, and from when on the room
// may be steady, as far as that is known before the pull-down is.
func (a *analyser) spans() error {
	for _, l := range a.in.Loggers {
		for _, s := range l.Series {
			if !l.Place.Room() || unusable(s) != "" {
				continue
			}
			first, last := at(s.Times[0]), at(s.Times[len(s.Times)-1]).Add(s.Interval())
			if a.whole.From.IsZero() || first.Before(a.whole.From) {
				a.whole.From = first
			}
			if last.After(a.whole.To) {
				a.whole.To = last
			}
		}
	}
	if a.whole.From.IsZero() {
		return fmt.Errorf("%w: no logger in the room's air has readings", ErrTooLittle)
	}
	a.keeping = a.whole
	if on := a.in.On; on.After(a.whole.From) {
		a.keeping.From = on.Add(settle)
	}
	a.bounds()
	return nil
}

// bounds applies what the caller said about the steady time.
func (a *analyser) bounds() {
	s := a.in.Steady
	if !s.From.IsZero() {
		a.keeping.From = s.From
	}
	if !s.To.IsZero() && s.To.Before(a.keeping.To) {
		a.keeping.To = s.To
	}
	if a.keeping.From.After(a.keeping.To) {
		a.keeping.From = a.keeping.To
	}
}

// unit reads the unit's states.
func (a *analyser) unit() {
	for _, l := range a.in.Loggers {
		if l.Place != Unit || a.sound.states != nil {
			continue
		}
		for k := range l.Series {
			s := l.Series[k]
			if s.Quantity == logs.Voltage || unusable(s) != "" {
				continue
			}
			states, err := StatesOf(s, a.in.Unit)
			if err == nil {
				a.sound.states = &states
				return
			}
			if s.Quantity == logs.Energy {
				a.sound.counter = &l.Series[k]
			}
			a.skip("cycles from "+l.Name, err)
		}
	}
}

// pullDowns proves the pull-down of each place.
func (a *analyser) pullDowns() {
	if a.in.On.IsZero() {
		return
	}
	for i, l := range a.in.Loggers {
		if l.Place != BottleProbe && !l.Place.Room() {
			continue
		}
		limit := logs.AirPullDown(a.in.Room.Set)
		if l.Place == BottleProbe {
			limit = logs.BottlePullDown(a.in.Room.Set)
		}
		limit.Uncertainty = units.TemperatureDifference(2 * l.standard())
		for k, s := range l.Series {
			// A column with too little in all may still hold the pull-down.
			if s.Quantity != logs.Temperature || a.sound.excluded[[2]int{i, k}] && !a.sound.seldom[[2]int{i, k}] {
				continue
			}
			r, err := logs.PullDown(s, a.in.On, limit)
			if err != nil {
				a.skip("pull-down of "+l.Name, err)
				continue
			}
			if r.Proven && r.Time < r.Interval {
				a.skip("pull-down of "+l.Name, errNotWarm)
				continue
			}
			a.out.PullDowns = append(a.out.PullDowns, PulledDown{l.Name, l.Place, r})
			a.overGap(i, k, r)
		}
	}
}

// errNotWarm is said of a logger that was at its limit from the first reading on.
var errNotWarm = errors.New("it was down when the unit was switched on: it did not come down, or the logger stands still")

// overGap names a gap that hides when the limit was reached.
func (a *analyser) overGap(i, k int, r logs.PullDownResult) {
	width := r.Bracket[1] - r.Bracket[0]
	if r.Proven && !r.Interpolated && width > max(leastGap, 2*r.Interval) {
		a.note(GapOverPullDown, i, k, logs.TimeSpan{From: r.Start.Add(r.Bracket[0]), To: r.Start.Add(r.Bracket[1])}, 1, "the time lies between the two; log the next pull-down without a gap",
			"the limit was reached within a gap of %s", width.Round(time.Minute))
		return
	}
	if !r.Proven && r.Found && r.Best.Fails == logs.Unobserved {
		a.note(GapOverPullDown, i, k, logs.TimeSpan{From: r.Start, To: r.Start.Add(r.Best.At)}, 1, "log the pull-down again", "only %.0f %% of the hold was recorded", 100*r.Best.Coverage)
	}
}

// steady settles from when on the room kept itself.
func (a *analyser) steady() {
	if a.in.On.IsZero() || !a.in.Steady.From.IsZero() {
		return
	}
	from := a.in.On.Add(slowSettle)
	for _, p := range a.out.PullDowns {
		if p.Place == BottleProbe && p.Proven {
			from = p.Start.Add(p.Time).Add(settle)
		}
	}
	if from.After(a.keeping.From) {
		a.keeping.From = from
	}
	a.bounds()
}

// keep describes how each place kept.
func (a *analyser) keep() {
	sum, squares, n := 0.0, 0.0, 0.0
	damp, dampSquares, dampN := 0.0, 0.0, 0.0
	var temps []logs.Series
	for i, l := range a.in.Loggers {
		if !l.Place.Room() && l.Place != BottleProbe {
			continue
		}
		for _, s := range a.sound.temperatures(i) {
			if r, ok := a.stable(l, s, a.in.Room.Temperatures); ok && l.Place.Room() {
				sum, squares, n = sum+r.Mean, squares+l.standard()*l.standard(), n+1
				temps = append(temps, s)
			}
		}
		for _, s := range a.sound.columns(i, logs.RelativeHumidity) {
			if r, ok := a.stable(l, a.dry(i, s), a.in.Room.Humidities); ok && l.Place.Room() {
				u := float64(l.HumidityUncertainty) / 2
				if u == 0 {
					u = 1.5
				}
				damp, dampSquares, dampN = damp+r.Mean, dampSquares+u*u, dampN+1
			}
		}
	}
	if n > 0 {
		a.out.Room = around(units.Temperature(sum/n), normal95*math.Sqrt(squares)/n)
	}
	if dampN > 0 {
		a.out.Humidity = around(units.RelativeHumidity(damp/dampN), normal95*math.Sqrt(dampSquares)/dampN)
	}
	if len(temps) > 1 {
		if r, err := logs.Spread(temps, a.keeping.From, a.keeping.To, 2); err == nil {
			a.out.Spread = &r
		} else {
			a.skip("spread between places", err)
		}
	}
	if water, ok := Drained(a.in.Water, a.whole.From, a.whole.To); ok {
		a.out.Condensate = around(units.Mass(water), 0.05*water+0.02) // weighing, and a drop left behind
	}
}

func (a *analyser) stable(l Logger, s logs.Series, band logs.Band) (logs.Stability, bool) {
	if band == (logs.Band{}) {
		band = logs.Band{Low: math.Inf(-1), High: math.Inf(1)}
	}
	if out := a.unlike(); len(out) > 0 {
		s = s.Without(out...)
	}
	r, err := logs.Stable(s, a.keeping.From, a.keeping.To, 0, band)
	if err != nil {
		a.skip("stability of "+l.Name, err)
		return r, false
	}
	a.out.Keeping = append(a.out.Keeping, Kept{l.Name, l.Place, s.Quantity, r})
	return r, true
}

// cycles describes the unit while the room was steady.
func (a *analyser) cycles() {
	if a.sound.states == nil {
		return
	}
	c, err := a.sound.states.without(a.unlike()).Cycles(a.keeping.From, a.keeping.To)
	if err != nil {
		a.skip("cycles", err)
		return
	}
	a.out.Cycles = &c
	if short, why := c.Short(); short {
		a.fault(ShortCycling, a.keeping, c.Starts, "check dead band, delay and where the control feels the air; an oversized unit does it too", "%s", why)
	}
}

package proof

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Change is one figure of the room, at commissioning and later.
type Change struct {
	Name, Unit    string
	Before, After Estimate[float64]
	Change        float64 // After − Before
	// Uncertainty of Change, 95 %. What was the same both times, the maker's
	// capacity, drops out.
	Uncertainty float64
	// Limit is how much worse counts as drifted (assumed).
	Limit float64
	// Outcome: fail when it is worse by more than Limit and by more than the
	// uncertainty; undecided when the uncertainty hides as much as Limit; else pass.
	Outcome units.Outcome
	Means   string // what such a drift usually means (common practice)

	worse float64 // +1: up is worse, −1: down is, 0: either
}

// FollowUp is a later log against the commissioning baseline.
type FollowUp struct {
	Changes []Change
	// Hold is the answer of both logs together, or of the later alone where the
	// room drifted; nil without a signature or design day.
	Hold *Hold
	// Proven: Hold is a pass that no longer rests on days unlike the design day.
	Proven  bool
	Note    string
	Skipped []Skip
	Steps   []Step
}

// Limits of drift (assumed).
const (
	driftUA    = 0.10 // of the baseline
	driftDuty  = 0.05 // share of time
	driftRH    = 5.0  // %
	driftTau   = 0.15 // of the baseline: a night's test tells no less
	driftWater = 0.3  // kg a day, or half the baseline where that is more
)

// Compare compares a later log of the same room with its baseline. Both must have
// been analysed with the same design.
func Compare(baseline, later *Analysis) FollowUp {
	var f FollowUp
	f.signatures(baseline, later)
	f.add(Change{Name: "relative humidity", Unit: "%", Before: plain(baseline.Humidity), After: plain(later.Humidity), Limit: driftRH},
		"drier: a colder coil, larger runs or a dry house; damper: house air coming in, a fan that runs on, or a coil that has grown warm")
	water := plain(baseline.Condensate)
	f.add(Change{Name: "condensate a day", Unit: "kg", Before: water, After: plain(later.Condensate), Limit: max(driftWater, water.Value/2), worse: 1},
		"more house air comes in: door seal, sweep, closer, or an opening; in a damper season some more is normal")
	var before, after Estimate[float64]
	if d := baseline.Decay; d != nil {
		before = d.TimeConstant
	}
	if d := later.Decay; d != nil {
		after = d.TimeConstant
	}
	f.add(Change{Name: "time constant", Unit: "h", Before: scale(before, 1/hour), After: scale(after, 1/hour), Limit: driftTau * before.Value / hour, worse: -1},
		"with as many bottles: the envelope has got worse, by air or by wet insulation; fewer bottles shorten it too")
	f.explain()
	return f
}

func plain[T ~float64](e Estimate[T]) Estimate[float64] {
	return Estimate[float64]{float64(e.Value), float64(e.Low), float64(e.High)}
}

func scale(e Estimate[float64], by float64) Estimate[float64] {
	return Estimate[float64]{e.Value * by, e.Low * by, e.High * by}
}

// add judges a change; what one of the logs lacks is skipped.
func (f *FollowUp) add(c Change, means string) {
	if !c.Before.Known() || !c.After.Known() {
		f.Skipped = append(f.Skipped, Skip{c.Name, "not known in both logs"})
		return
	}
	c.Change = c.After.Value - c.Before.Value
	if c.Uncertainty == 0 {
		c.Uncertainty = math.Hypot(c.Before.Half(), c.After.Half())
	}
	worse := math.Abs(c.Change)
	if c.worse != 0 {
		worse = c.worse * c.Change
	}
	switch {
	case !finite(worse, c.Uncertainty, c.Limit):
	case worse > c.Limit && worse > c.Uncertainty:
		c.Outcome, c.Means = units.Fail, means
	case c.Uncertainty <= c.Limit*(1+1e-9):
		c.Outcome = units.Pass
	}
	f.Changes = append(f.Changes, c)
	f.Steps = append(f.Steps, Step{Name: c.Name, Formula: "later − baseline", Value: fmt.Sprintf("%.3g − %.3g = %+.2g ± %.2g %s", c.After.Value, c.Before.Value, c.Change, c.Uncertainty, c.Unit), Source: fmt.Sprintf("both logs; drifted beyond %.2g (assumed): %s", c.Limit, c.Outcome)})
}

// signatures compares UA and the duty at an equal difference, and asks both logs
// together whether the room will hold.
func (f *FollowUp) signatures(baseline, later *Analysis) {
	b, l := baseline.Signature, later.Signature
	if b == nil || l == nil {
		f.Skipped = append(f.Skipped, Skip{"UA and duty", "one of the logs has no energy signature"})
		f.alone(later)
		return
	}
	if b.model.heat && l.model.heat {
		f.add(Change{Name: "UA with leaks", Unit: "W/K", Before: plain(b.UA), After: plain(l.UA), Uncertainty: math.Hypot(b.own(), l.own()), Limit: driftUA * float64(b.UA.Value), worse: 1},
			"more heat comes in, or the unit does less than its data say: see whether the time constant fell as well")
	}
	if b.model.duty && l.model.duty && b.model.heat == l.model.heat {
		x := (b.Line.MeanX + l.Line.MeanX) / 2
		at := func(s *Signature) Estimate[float64] {
			return around(s.Line.At(x)/l.model.designCap, max(s.Line.MeanHalf(x), s.own()*x)/l.model.designCap)
		}
		// Sensible heat at one difference and one capacity: water follows the season.
		f.add(Change{Name: fmt.Sprintf("duty at equal load, %.1f K", x), Before: at(b), After: at(l), Limit: driftDuty, worse: 1},
			"at the same load the unit runs longer: dirty coil or condenser, lost refrigerant, or more heat coming in")
	}
	f.together(baseline, later)
}

// own is the half-width of UA without what is the same in every log of this room.
func (s *Signature) own() float64 {
	sum := 0.0
	for _, c := range s.Budget {
		if c.Name != capacityName {
			sum += float64(c.UA) * float64(c.UA)
		}
	}
	return math.Sqrt(sum)
}

func (f *FollowUp) drifted(name string) bool {
	for _, c := range f.Changes {
		if c.Name == name && c.Outcome == units.Fail {
			return true
		}
	}
	return false
}

// together fits the days of both logs, unless UA drifted between them.
func (f *FollowUp) together(baseline, later *Analysis) {
	b, l := baseline.Signature, later.Signature
	if f.drifted("UA with leaks") || len(b.model.conductances) != len(l.model.conductances) || b.model.heat != l.model.heat {
		f.Note = "the room is not what it was; the later log speaks alone"
		f.alone(later)
		return
	}
	s := &Signature{model: l.model, Designed: l.Designed}
	for _, d := range b.Days {
		d.latent += b.model.latent - l.model.latent
		s.Days = append(s.Days, d)
	}
	s.Days = append(s.Days, l.Days...)
	if err := errors.Join(s.fit(l.moves), s.uncertainty(l.moves)); err != nil {
		f.Skipped = append(f.Skipped, Skip{"both logs together", err.Error()})
		f.alone(later)
		return
	}
	if h, ok := s.Hold(); ok {
		f.settle(&h, "the days of both logs")
		return
	}
	f.alone(later)
}

func (f *FollowUp) alone(later *Analysis) { f.settle(later.Hold, "the later log") }

func (f *FollowUp) settle(h *Hold, by string) {
	f.Hold = h
	if h == nil {
		f.Skipped = append(f.Skipped, Skip{"will it hold", "no signature with a design day"})
		return
	}
	f.Proven = h.Outcome == units.Pass && !h.Provisional
	if f.Proven && f.Note == "" {
		f.Note = "proven by " + by + ": the design day lies within what was seen, or close to it"
	}
	f.Steps = append(f.Steps, h.Steps...)
}

// explain reads the changes together: a unit that weakens runs longer in a room
// whose time constant stays.
func (f *FollowUp) explain() {
	for i := range f.Changes {
		c := &f.Changes[i]
		if c.Name != "UA with leaks" || c.Outcome != units.Fail {
			continue
		}
		for _, o := range f.Changes {
			switch {
			case o.Name != "time constant":
			case o.Outcome == units.Fail:
				c.Means = "more heat comes in: the time constant fell as well; look at seals, openings, wet insulation"
			case o.Change > -o.Limit/2:
				c.Means = "the unit does less than it did: the time constant did not fall; look at coil, condenser, refrigerant"
			}
		}
	}
}

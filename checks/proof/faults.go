package proof

import (
	"fmt"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// What counts as a leak and as a unit too small (assumed unless noted).
const (
	leakWater  = 2.0 // times the condensate expected (common practice)
	leakMore   = 0.5 // and kg a day more than that expected: less tells nothing
	leakLag    = 4 * time.Hour
	leakGain   = 0.5  // Pa/Pa, with that lag; 0.3 where UA is high as well
	leakUA     = 1.10 // times the designed UA, the interval's lower end
	alwaysOn   = 0.97 // duty over the time looked at
	tooWarm    = 0.5  // K above the set point, mean of that time
	tooSmallOf = 24 * time.Hour
)

// faults names what several analyses together say of the room.
func (a *analyser) faults(q quick) {
	a.leak()
	a.tooSmall(q)
}

// leak weighs three signs: the room's moisture follows the house's, more water
// drains than designed, more heat comes in than designed. Water is enough. Moisture
// that follows is not: beside a coil that stays dry, as in winter, it does so in a
// tight room too, but slowly: paper and wood hold the water of many rooms of air.
// It takes one of the others, or a room that follows strongly within 4 h. Heat
// alone may be missing insulation.
func (a *analyser) leak() {
	var signs []string
	want, got := a.in.Room.Condensate, a.out.Condensate
	drains := want > 0 && got.Known() && float64(got.Low) > max(leakWater*float64(want), float64(want)+leakMore)
	s := a.out.Signature
	heats := s != nil && s.UA.Known() && float64(s.UA.Low) > leakUA*float64(s.Designed)
	f := a.out.Overlay
	follows := f != nil && f.Follows
	quick := follows && f.Lag <= leakLag && f.Gain >= leakGain
	if !drains && !quick && !(follows && heats && f.Gain >= leakGain*0.6) {
		return
	}
	if follows {
		signs = append(signs, fmt.Sprintf("the room's vapor pressure follows the house's within %.0f h (r = %.2f, %.2f Pa/Pa)", f.Lag.Hours(), f.Correlation, f.Gain))
	}
	if drains {
		signs = append(signs, fmt.Sprintf("%.1f kg of water drain a day where %.1f were expected", got.Value, want))
	}
	if heats {
		signs = append(signs, fmt.Sprintf("UA is %.1f W/K, designed %.1f", s.UA.Value, s.Designed))
	}
	a.fault(Leak, a.keeping, len(signs), "look for the way the air takes: door seal, openings for pipes and cables, the retarder's laps", "%s", strings.Join(signs, "; "))
}

// tooSmall names a unit that runs all the time and does not hold the set point, or
// that is sure not to hold the design day.
func (a *analyser) tooSmall(q quick) {
	n := int(tooSmallOf / fine)
	if h := a.out.Hold; h != nil && h.Outcome == units.Fail && !a.out.Named(DoorOpen) {
		a.fault(UnitTooSmall, a.keeping, 1, "see first whether the room takes in more heat than designed", "%s", h.Reason)
		return
	}
	if a.stalls() || q.duty == nil || len(q.air) < n {
		return
	}
	limit := float64(a.in.Room.Set) + tooWarm
	for i := len(q.air) - n; i >= 0; i -= n {
		air, seen := mean(q.air[i : i+n])
		duty, ran := mean(q.duty[i : i+n])
		span := logs.TimeSpan{From: q.at(i), To: q.at(i + n)}
		if seen > n/2 && ran > n/2 && duty >= alwaysOn && air > limit && !overlaps(span, a.unlike()) {
			a.fault(UnitTooSmall, span, 1, "see first whether the room takes in more heat than designed, then whether the unit does its rated capacity", "it ran for %.0f %% of a day and the room was at %.1f °C, set point %.1f °C", 100*duty, air, a.in.Room.Set)
			return
		}
	}
}

// stalls asks the fitted pull-down whether the room would ever come to its set
// point on the design day, with the better ends of what is uncertain; and names the
// unit if not.
func (a *analyser) stalls() bool {
	f, d := a.out.Fit, a.in.Design
	if f == nil || d == nil || a.out.Hold != nil && a.out.Hold.Outcome != units.Undecided {
		return false
	}
	source, total := 0.0, 0.0
	for _, s := range a.in.Room.Sides {
		t, ok := d.Sides[s.Name]
		if !ok {
			return false
		}
		source, total = source+float64(s.Conductance)*float64(t), total+float64(s.Conductance)
	}
	q, err := a.capacity(f.Model.Set, d.Intake)
	if err != nil {
		return false
	}
	p := f.Full(1, units.Temperature(source/total), q)
	p.Gain = f.UA.Low
	c, err := p.Course()
	if err != nil || c.Arrives() {
		return false
	}
	a.fault(UnitTooSmall, a.whole, 1, "see first whether the room takes in more heat than designed", "by the fit of this pull-down the room would stall at %.1f °C on the design day, set point %.1f °C", c.Stall, f.Model.Set)
	return true
}

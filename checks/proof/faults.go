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
	leakWater  = 2.0  // times the condensate expected (common practice)
	leakUA     = 1.30 // times the designed UA, the interval's lower end
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
// drains than designed, more heat comes in than designed. The first or the second is
// enough; the third alone may be missing insulation.
func (a *analyser) leak() {
	var signs []string
	if f := a.out.Overlay; f != nil && f.Follows {
		signs = append(signs, fmt.Sprintf("the room's vapor pressure follows the house's within %.0f h (r = %.2f, %.2f Pa/Pa)", f.Lag.Hours(), f.Correlation, f.Gain))
	}
	if want, got := a.in.Room.Condensate, a.out.Condensate; want > 0 && got.Known() && float64(got.Low) > leakWater*float64(want) {
		signs = append(signs, fmt.Sprintf("%.1f kg of water drain a day where %.1f were expected", got.Value, want))
	}
	if len(signs) == 0 {
		return
	}
	if s := a.out.Signature; s != nil && s.UA.Known() && float64(s.UA.Low) > leakUA*float64(s.Designed) {
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
	if q.duty == nil || len(q.air) < n {
		return
	}
	limit := float64(a.in.Room.Set) + tooWarm
	for i := len(q.air) - n; i >= 0; i -= n {
		air, seen := mean(q.air[i : i+n])
		duty, ran := mean(q.duty[i : i+n])
		span := logs.TimeSpan{From: q.at(i), To: q.at(i + n)}
		if seen > n/2 && ran > n/2 && duty >= alwaysOn && air > limit && !overlaps(span, a.in.Except) && !overlaps(span, a.offSpan()) {
			a.fault(UnitTooSmall, span, 1, "see first whether the room takes in more heat than designed, then whether the unit does its rated capacity", "it ran for %.0f %% of a day and the room was at %.1f °C, set point %.1f °C", 100*duty, air, a.in.Room.Set)
			return
		}
	}
}

package refrigerant

import (
	"errors"
	"fmt"
)

// decide applies the rule of the package comment. What proves damage or a leak
// comes first: a short hold does not excuse it.
func (t StandingTest) decide(r StandingResult) (Outcome, string) {
	u := r.Uncertainty + r.RealGas
	highest := max(t.Start.Gauge, t.End.Gauge)
	switch {
	case !atMost(float64(highest), float64(t.Nameplate)):
		return Fail, fmt.Sprintf("%s is above the nameplate's %s; let the pressure off and have the weakest part judged before any further test",
			pressureText(highest), pressureText(t.Nameplate))
	case !atMost(float64(r.Loss), float64(t.AllowedLoss)) && !atMost(float64(r.Loss), float64(u)):
		return Fail, fmt.Sprintf("the line lost %s; %s is allowed and the instruments explain %s; find the leak, remake the joint, test again",
			pressureText(r.Loss), pressureText(t.AllowedLoss), pressureText(u))
	case !atMost(float64(-r.Loss), float64(u)):
		return Undecided, fmt.Sprintf("the line gained %s, more than the instruments explain; check valve, line thermometer and both readings, then hold again",
			pressureText(-r.Loss))
	case !atMost(float64(t.TestPressure), float64(t.Start.Gauge)):
		return Undecided, fmt.Sprintf("the test began at %s, below the %s asked for; fill and hold again",
			pressureText(t.Start.Gauge), pressureText(t.TestPressure))
	case t.Held < t.Required:
		return Undecided, fmt.Sprintf("held %s of %s; read again when the hold is over", durationText(t.Held), durationText(t.Required))
	case !atMost(float64(u), float64(t.AllowedLoss)):
		return Undecided, fmt.Sprintf("the instruments cannot tell a loss below %s and %s is allowed; use a finer gauge or thermometer, or read at equal line temperature",
			pressureText(u), pressureText(t.AllowedLoss))
	case float64(r.Margin) < -slack*float64(t.AllowedLoss):
		return Undecided, fmt.Sprintf("a loss of %s ± %s may be above the %s allowed; hold longer, or use finer instruments",
			pressureText(r.Loss), pressureText(u), pressureText(t.AllowedLoss))
	}
	return Pass, fmt.Sprintf("a loss of %s ± %s is within the %s allowed", pressureText(r.Loss), pressureText(u), pressureText(t.AllowedLoss))
}

func (t StandingTest) valid() error {
	const highest = 10e6 // Pa; above the strength of any line in this work
	return errors.Join(
		t.Start.conditions("start"), t.Start.uncertainties("start"),
		t.End.conditions("end"), t.End.uncertainties("end"),
		within("test pressure", float64(t.TestPressure), 1, highest, "Pa"),
		within("nameplate pressure", float64(t.Nameplate), 1, highest, "Pa"),
		within("allowed loss", float64(t.AllowedLoss), 0, highest, "Pa"),
		within("hold", t.Held.Hours(), 0, 24*30, "h"),
		within("required hold", t.Required.Hours(), 1.0/60, 24*30, "h"),
	)
}

func (a Reading) conditions(which string) error {
	return errors.Join(
		within(which+" gauge pressure", float64(a.Gauge), 0, 600.5*psi, "Pa"),
		within(which+" line temperature", float64(a.Line), -20, 60, "°C"),
		within(which+" barometer", float64(a.Barometer), 50e3, 110e3, "Pa"),
	)
}

func (a Reading) uncertainties(which string) error {
	return errors.Join(
		within(which+" gauge uncertainty", float64(a.GaugeUncertainty), 1, 1e6, "Pa"),
		within(which+" thermometer uncertainty", float64(a.LineUncertainty), 0.001, 10, "K"),
		within(which+" barometer uncertainty", float64(a.BarometerUncertainty), 0, 10e3, "Pa"),
	)
}

package proof

import (
	"fmt"
	"math"

	"proveout/checks/units"
)

// Hold answers whether the room will hold on its design day.
type Hold struct {
	Outcome units.Outcome
	Reason  string
	// Marginal: it passes, but runs for more than 18 hours of the day.
	Marginal bool
	// Provisional: the prediction is a pass, but rests on days unlike the design
	// day, more than half their span away. A log of the opposite season proves it.
	Provisional bool
	Duty        Estimate[float64] // predicted, with the interval for the day itself
	Margin      float64           // 1 − the upper end of Duty
	Difference  units.TemperatureDifference
	// Beyond is how far the design day lies outside of the days seen, in spans of
	// these; 0 inside.
	Beyond float64
	Steps  []Step
}

// The rule of the prediction. Assumed, no published one was found; 18 hours a day
// is common practice for sizing.
const (
	holdsDuty    = 0.75
	marginalDuty = 0.90
	warnBeyond   = 0.5
	refuseBeyond = 1.5
	narrowSpan   = 3.0 // K
)

// designOf fills in the design day.
func (a *analyser) designOf(m *model, days []Day) {
	d := a.in.Design
	if d == nil {
		return
	}
	room, coil, seen, n := 0.0, 0.0, 0.0, 0.0
	for _, x := range days {
		if x.Used {
			room, coil, n = room+float64(x.Room), coil+x.coil, n+1
			if x.Duty > 0 {
				seen += x.cap / x.Duty
			}
		}
	}
	m.designRoom, m.designLatent = room/n, m.latent
	for _, s := range a.in.Room.Sides {
		t, ok := d.Sides[s.Name]
		if !ok {
			a.skip("will it hold", fmt.Errorf("the design day does not name the temperature of %q", s.Name))
			return
		}
		m.design = append(m.design, float64(t))
	}
	q, err := a.capacity(units.Temperature(m.designRoom+coil/n), d.Intake)
	if err != nil {
		a.skip("will it hold", err)
		return
	}
	m.designCap, m.seenCap = float64(q), seen/n
	if d.Latent != nil && m.heat {
		m.designLatent = float64(*d.Latent)
	}
	m.duty = finite(m.designRoom, m.designCap, m.designLatent)
}

// Hold predicts the design day and judges it; false without a design day.
func (r *Signature) Hold() (Hold, bool) {
	m := &r.model
	if !m.duty || r.Line.N == 0 {
		return Hold{}, false
	}
	x := m.designX()
	duty := m.designDuty(r.Line)
	sd, u := r.Line.spread(x)
	scatter := math.Hypot(sd, r.Line.S*r.Line.inflation()) / m.designCap
	half := combined(scatter, r.Line.Freedom(), math.Hypot(u/m.designCap, r.system(func(c Contribution) float64 { return c.Duty })))
	h := Hold{Duty: around(duty, half), Difference: units.TemperatureDifference(x)}
	h.Duty.Low = max(0, h.Duty.Low)
	h.Margin = 1 - h.Duty.High
	h.Beyond = r.beyond(x)
	h.judge(r.Line)
	h.steps(r)
	return h, true
}

// beyond is how far x lies outside the days, in spans of these.
func (r *Signature) beyond(x float64) float64 {
	l := r.Line
	out := max(0, x-l.MaxX, l.MinX-x)
	if out <= xNoise {
		return 0
	}
	return out / (l.MaxX - l.MinX)
}

// xNoise is the difference within which a day counts as seen: what two good
// loggers differ by, K (assumed).
const xNoise = 0.3

func (h *Hold) judge(l Line) {
	upper, lower := h.Duty.High, h.Duty.Low
	span := l.MaxX - l.MinX
	switch {
	case !finite(upper, lower):
		h.Reason = "the prediction is not a number"
	case lower > marginalDuty:
		// What is sure to fail fails also on a narrow span: the interval says so.
		h.Outcome, h.Reason = units.Fail, fmt.Sprintf("on the design day the unit would run for %.0f to %.0f %% of the time; at most 90 %% is wanted", 100*lower, 100*upper)
	case h.Beyond > 0 && span < narrowSpan:
		h.Provisional = upper <= marginalDuty
		h.Reason = fmt.Sprintf("the days lie within %.1f K and the design day outside of them; log until they span 3 K, or in the other season", span)
	case h.Beyond > refuseBeyond:
		h.Provisional = upper <= marginalDuty
		h.Reason = fmt.Sprintf("the design day lies %.1f spans beyond the days seen; 1.5 at most", h.Beyond)
	case upper > marginalDuty:
		h.Reason = fmt.Sprintf("the unit would run for %.0f to %.0f %% of the design day: 90 %% lies between", 100*lower, 100*upper)
	default:
		h.Outcome, h.Marginal = units.Pass, upper > holdsDuty
		h.Provisional = h.Beyond > warnBeyond
		h.Reason = h.pass()
	}
}

func (h *Hold) pass() string {
	text := fmt.Sprintf("on the design day the unit runs for %.0f %% of the time, %.0f %% at most", 100*h.Duty.Value, 100*h.Duty.High)
	if h.Marginal {
		text += "; more than 18 hours a day, it holds with little left"
	}
	if h.Provisional {
		text += "; provisional until a log of warmer days shows it"
	}
	return text
}

func (h *Hold) steps(r *Signature) {
	const source = "energy signature"
	h.Steps = []Step{
		{Name: "design day", Formula: "x0 = Σ w_j·T_j − T_r", Value: fmt.Sprintf("%.2f K; days seen %.2f to %.2f K", h.Difference, r.Line.MinX, r.Line.MaxX), Source: "design conditions"},
		{Name: "beyond the days seen", Formula: "distance / span", Value: fmt.Sprintf("%.2f", h.Beyond), Source: "warned above 0.5, refused above 1.5 (assumed)"},
		{Name: "duty", Formula: "(b0 + b1·x0 + latent)/Q", Value: fmt.Sprintf("%.1f %% (%.1f to %.1f %%)", 100*h.Duty.Value, 100*h.Duty.Low, 100*h.Duty.High), Source: "95 % prediction interval"},
		{Name: "margin", Formula: "1 − upper end", Value: fmt.Sprintf("%.1f %%", 100*h.Margin), Source: source},
		{Name: "verdict", Formula: "pass to 90 %, marginal from 75 %", Value: h.Outcome.String() + ": " + h.Reason, Source: "assumed rule; 18 h a day common practice"},
	}
}

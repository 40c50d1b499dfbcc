package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"proveout/checks/logs"
	"proveout/checks/proof"
	"proveout/checks/units"
)

// proofPrinter puts what logs prove into an answer.
type proofPrinter struct {
	*asking
	*answer
	*loggedRun
	within   time.Duration // accepted for the pull-down; 0: nothing was said
	which    string        // which of two runs, " later"; "" with one
	verdicts []partVerdict
}

// partVerdict is what one part of an analysis comes to.
type partVerdict struct {
	what, why string
	outcome   units.Outcome
}

func (p *proofPrinter) verdict(what string, o units.Outcome, why string) {
	p.verdicts = append(p.verdicts, partVerdict{what, why, o})
}

// settle gives the answer the worst of its parts' outcomes.
func (p *proofPrinter) settle() {
	for _, o := range []units.Outcome{units.Fail, units.Undecided, units.Pass} {
		var whys []string
		for _, v := range p.verdicts {
			if v.outcome == o {
				whys = append(whys, v.what+": "+v.why)
			}
		}
		if whys != nil {
			p.Outcome, p.Reason = o.String(), strings.Join(whys, "; ")
			return
		}
	}
}

func (p *proofPrinter) print() {
	p.Of = fmt.Sprintf("Logged %s to %s, kept itself from %s to %s", clock(p.Span.From, p.local), clock(p.Span.To, p.local), clock(p.Analysis.Steady.From, p.local), clock(p.Analysis.Steady.To, p.local))
	p.findings()
	p.pullDowns()
	p.keeping()
	p.cycles()
	p.signature()
	p.hold()
	p.decay()
	p.fit()
	p.mold()
	p.overlay()
	p.skips(p.Skipped)
}

// skips says what was not said and why; too short a record is one reason of many.
func (r *answer) skips(all []proof.Skip) {
	for _, s := range all {
		r.note("not said: %s: %s", s.What, strings.TrimPrefix(s.Why, proof.ErrTooLittle.Error()+": "))
	}
}

// from says in JSON which file the newest result is from.
func (r *answer) from(file string) { r.Results[len(r.Results)-1].Of = file }

// roomFaults are those that a room is not handed over with.
var roomFaults = []proof.Fault{proof.ShortCycling, proof.Leak, proof.UnitTooSmall}

func (p *proofPrinter) findings() {
	for _, f := range p.Findings {
		where := "the room"
		if f.Logger != "" {
			where = f.Logger + ", " + f.Column
		}
		if f.Excluded {
			where += "; left out of the proof"
		}
		p.addText(string(f.Fault)+p.which, where)
		p.note("%s%s, %s: %s. What to do: %s.", f.Fault, p.which, where, f.Reason, f.Do)
		if slices.Contains(roomFaults, f.Fault) {
			p.verdict(string(f.Fault)+p.which, units.Fail, f.Reason)
		}
	}
	if len(p.Findings) == 0 {
		p.addText("faults found"+p.which, "none")
	}
}

// pullDowns judges by the probes in bottles; by the air where none was given.
func (p *proofPrinter) pullDowns() {
	judged := false
	for _, x := range p.PullDowns {
		text := p.pullDown(x.PullDownResult)
		p.addText(placed(x.Logger, x.Place)+", down to stay", text)
		p.from(x.Logger)
		if !p.probed || x.Place == proof.BottleProbe {
			judged = true
			p.verdict("pull-down by "+x.Logger, p.inTime(x.PullDownResult), text)
		}
	}
	if p.on && !judged {
		p.verdict("pull-down", units.Undecided, "no sound logger shows it where it counts, in a bottle if a probe was there")
	}
}

// placed is a file with where its logger stood.
func placed(file string, place proof.Place) string { return fmt.Sprintf("%s (%s)", file, place) }

// inTime compares a pull-down with the time that is accepted. Where the logger's
// uncertainty decides, it is undecided.
func (p *proofPrinter) inTime(x logs.PullDownResult) units.Outcome {
	switch {
	case !x.Proven || x.Early == nil || x.Late == nil || !x.Early.Proven || !x.Late.Proven:
		return units.Undecided
	case p.within == 0 || x.Late.Time <= p.within:
		return units.Pass
	case x.Early.Time > p.within:
		return units.Fail
	}
	return units.Undecided
}

func (p *proofPrinter) pullDown(x logs.PullDownResult) string {
	switch {
	case x.Proven && x.Early != nil && x.Late != nil && x.Early.Proven && x.Late.Proven:
		return fmt.Sprintf("after %.1f h (%.1f to %.1f h)", x.Time.Hours(), x.Early.Time.Hours(), x.Late.Time.Hours())
	case x.Proven:
		return fmt.Sprintf("after %.1f h; not proven if the logger reads low by its uncertainty", x.Time.Hours())
	case x.Found:
		return fmt.Sprintf("not proven: %s", x.Best.Fails)
	}
	return "it never came down"
}

func (p *proofPrinter) keeping() {
	for _, k := range p.Keeping {
		kind := units.TemperatureKind
		if k.Quantity == logs.RelativeHumidity {
			kind = units.HumidityKind
		}
		v := func(x float64) string { return p.of(kind, x).String() }
		p.addText(placed(k.Logger, k.Place)+", "+string(k.Quantity), fmt.Sprintf("mean %s, %s to %s, in its band %.1f %% of the time", v(k.Mean), v(k.Min), v(k.Max), 100*k.InBand))
		p.from(k.Logger)
	}
	if s := p.Spread; s != nil {
		p.add("means of the places apart", p.of(units.TemperatureDifferenceKind, s.MeansApart))
	}
	if p.Condensate.Known() {
		p.add("condensate a day", p.of(units.MassKind, float64(p.Condensate.Value)))
	}
}

func (p *proofPrinter) cycles() {
	c := p.Cycles
	if c == nil {
		return
	}
	p.addNumber("unit runs", fmt.Sprintf("%.1f %% of the time, %.1f starts an hour", 100*c.Duty, c.PerHour), c.Duty, "")
	p.addText("shortest time on, off", fmt.Sprintf("%s, %s", c.ShortestOn.Round(time.Second), c.ShortestOff.Round(time.Second)))
	p.Steps = append(p.Steps, c.Steps...)
}

// btuPerWatt is 1 W/K in Btu/(h·°F): 3600 s/h · 5/9 / 1055.056 J/Btu.
const btuPerWatt = 3600 * 5 / 9.0 / 1055.05585262

// conductance writes W/K, or Btu/(h·°F) for people who use those.
func (a *asking) conductance(e proof.Estimate[units.Conductance]) string {
	by, unit := 1.0, "W/K"
	if a.system == units.US {
		by, unit = btuPerWatt, "Btu/(h·°F)"
	}
	if !e.Known() {
		return "not known"
	}
	return fmt.Sprintf("%.1f %s (%.1f to %.1f)", by*float64(e.Value), unit, by*float64(e.Low), by*float64(e.High))
}

func (p *proofPrinter) signature() {
	s := p.Signature
	if s == nil {
		return
	}
	p.Steps = append(p.Steps, s.Steps...)
	p.Notes = append(p.Notes, s.Notes...)
	if !s.UA.Known() {
		return
	}
	p.addNumber("UA with leaks", p.conductance(s.UA), float64(s.UA.Value), "W/K")
	designed := proof.Estimate[units.Conductance]{Value: s.Designed, Low: s.Designed, High: s.Designed}
	text, _, _ := strings.Cut(p.conductance(designed), " (")
	p.addText("UA as designed", text)
	p.verdict("UA", s.Compared, fmt.Sprintf("%s, designed %s; 1.15 times that is accepted", p.conductance(s.UA), text))
	power := func(v units.Power) units.Quantity { return p.of(units.PowerKind, float64(v)) }
	p.addNumber("heat set free inside", fmt.Sprintf("%s (%s to %s)", power(s.Base.Value), power(s.Base.Low), power(s.Base.High)), float64(s.Base.Value), "W")
}

func (p *proofPrinter) hold() {
	h := p.Hold
	if h == nil {
		return
	}
	p.addNumber("duty on the design day", holdWords(h), h.Duty.Value, "")
	p.verdict("will it hold", h.Outcome, h.Reason)
	p.Steps = append(p.Steps, h.Steps...)
}

// holdWords is the prediction in one line.
func holdWords(h *proof.Hold) string {
	text := fmt.Sprintf("%.0f %% (%.0f to %.0f %%), %s", 100*h.Duty.Value, 100*h.Duty.Low, 100*h.Duty.High, h.Outcome)
	if h.Provisional {
		text += ", provisional"
	}
	return text
}

func (p *proofPrinter) decay() {
	if d := p.Decay; d != nil {
		t := d.TimeConstant
		p.addNumber("time constant, unit off", fmt.Sprintf("%.1f h (%.1f to %.1f h)", t.Value/3600, t.Low/3600, t.High/3600), t.Value, "s")
		p.Steps = append(p.Steps, d.Steps...)
	}
}

func (p *proofPrinter) fit() {
	if f := p.Fit; f != nil {
		p.addText("bottles to air, by the pull-down", p.conductance(f.Coupling))
		p.addText("UA, by the pull-down", p.conductance(f.UA))
		p.Steps = append(p.Steps, f.Steps...)
	}
}

func (p *proofPrinter) mold() {
	for _, m := range p.Mold {
		p.addNumber(placed(m.Logger, m.Place)+", mold index after a year like it", fmt.Sprintf("%.2f, %.2f at worst, %s", float64(m.Year), float64(m.Worst), m.Outcome), float64(m.Year), "")
		p.from(m.Logger)
		p.verdict("mold by "+m.Logger, m.Outcome, m.Reason)
		for _, s := range m.Steps {
			s.Name = m.Logger + ", " + s.Name
			p.Steps = append(p.Steps, s)
		}
	}
}

func (p *proofPrinter) overlay() {
	o := p.Overlay
	if o == nil {
		return
	}
	text := "undecided"
	switch {
	case o.Follows:
		text = fmt.Sprintf("follows within %.0f h: house air comes in", o.Lag.Hours())
	case o.Steady:
		text = "does not follow"
	}
	p.addText("room's dew point against the house's", fmt.Sprintf("%s; its vapor pressure moves %.2f Pa for each Pa", text, math.Round(100*o.Gain)/100+0))
}

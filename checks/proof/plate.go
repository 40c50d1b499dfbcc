package proof

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// Plate is a heat-flux plate on a face with the surface temperatures of both sides.
type Plate struct {
	Name string
	Flux logs.Series // positive from Warm to Cold
	Warm logs.Series // surface temperature on the other side
	Cold logs.Series // of the room's side
	// Layers from the side that the plate is on; none: no storage correction.
	Layers    []PlateLayer
	OnRoom    bool // the plate is on the room's side
	Designed  units.ThermalResistance
	From      time.Time // zero: the beginning of the logs
	NightOnly bool      // a light element in the sun: judged by three nights
}

// PlateLayer is one layer of the element.
type PlateLayer struct {
	Resistance   units.ThermalResistance
	HeatCapacity float64 // per area, ρ·c·d, J/(m²·K)
}

// Resistance is what a heat-flux log proves.
type Resistance struct {
	Name    string
	Outcome units.Outcome
	Reason  string
	// Value is the resistance, surface to surface, corrected for storage when it
	// had to be; Low and High are 14 % about it.
	Value Estimate[units.ThermalResistance]
	Raw   units.ThermalResistance // without the correction
	Days  float64
	// Ended: the end criteria are met. DayChange is how far R moved within the last
	// 24 h, Parts how far the first and the last two thirds differ, Stored the heat
	// stored over the heat passed, 0 when no layers were given.
	Ended            bool
	DayChange, Parts float64
	Stored           float64
	Corrected        bool
	Steps            []Step
}

const (
	// The combined uncertainty of a careful measurement, ISO 9869-1 clause 9 (from
	// memory): 14 % added in quadrature, 28 % in a sum.
	plateUncertainty = 0.14
	plateAgreement   = 0.05 // ISO 9869-1, end criteria
	plateStored      = 0.05
	plateStep        = 10 * time.Minute
	stepsADay        = 144
	leastDays        = 3
	lightElement     = 20e3 // J/(m²·K), ISO 9869-1
)

// Resistance evaluates the log by the average method of ISO 9869-1:2014:
//
//	R = Σ(θ_warm − θ_cold)/Σq
//
// over whole days, ended when it lasted three of them, R moved by no more than 5 %
// within the last 24 h, the first and the last INT(2·D/3) days agree within 5 %
// and the heat stored is at most 5 % of the heat passed. Otherwise it is corrected
// by the thermal mass factors of the layers, with the difference of 24-hour means
// (clause 7; criteria read in a summary, factors and INT from memory; the factors
// confirmed by finite differences).
//
// Pass when R is at least the designed value; fail when 1.14·R is below it;
// undecided between, and while the criteria are not met. These three are this
// project's choice.
func (p Plate) Resistance() (Resistance, error) {
	w, err := p.read()
	if err != nil {
		return Resistance{}, fmt.Errorf("heat-flux plate %q: %w", p.Name, err)
	}
	r := Resistance{Name: p.Name, Days: float64(w.days)}
	r.Raw = units.ThermalResistance(w.r(0, w.days))
	r.DayChange = math.Abs(w.r(0, w.days)/w.r(0, w.days-1) - 1)
	m := max(1, 2*w.days/3)
	r.Parts = math.Abs(w.r(0, m)/w.r(w.days-m, w.days) - 1)
	value := p.correct(&r, w)
	r.Value = Estimate[units.ThermalResistance]{units.ThermalResistance(value), units.ThermalResistance(value * (1 - plateUncertainty)), units.ThermalResistance(value * (1 + plateUncertainty))}
	p.judge(&r, w)
	p.steps(&r)
	return r, nil
}

// plateLog are the three columns in steps of 10 min over whole days.
type plateLog struct {
	flux, warm, cold []float64
	days             int
	missing          float64 // share of steps
}

func (p Plate) read() (w plateLog, err error) {
	var errs []error
	from, to := p.From, time.Time{}
	for _, s := range []logs.Series{p.Flux, p.Warm, p.Cold} {
		if why := unusable(s); why != "" {
			return w, fmt.Errorf("%w: the column %q: %s", ErrTooLittle, s.Name, why)
		}
		if first := at(s.Times[0]); first.After(from) {
			from = first
		}
		if last := at(s.Times[len(s.Times)-1]).Add(s.Interval()); to.IsZero() || last.Before(to) {
			to = last
		}
	}
	w.days = int(to.Sub(from) / (24 * time.Hour))
	if w.days < 2 {
		return w, fmt.Errorf("%w: %.0f h are common to the three columns; three days are wanted", ErrTooLittle, to.Sub(from).Hours())
	}
	n := w.days * stepsADay
	for _, c := range []struct {
		s  logs.Series
		to *[]float64
		q  logs.Quantity
	}{{p.Flux, &w.flux, logs.HeatFlux}, {p.Warm, &w.warm, logs.Temperature}, {p.Cold, &w.cold, logs.Temperature}} {
		if c.s.Quantity != c.q {
			errs = append(errs, fmt.Errorf("the column %q is %q, not %s", c.s.Name, c.s.Quantity, c.q))
			continue
		}
		*c.to, err = c.s.Means(from, plateStep, n, 0.5)
		errs = append(errs, err)
	}
	if err := errors.Join(errs...); err != nil {
		return w, err
	}
	bad := 0
	for i := range w.flux {
		if !finite(w.flux[i], w.warm[i], w.cold[i]) {
			w.flux[i], w.warm[i], w.cold[i] = math.NaN(), math.NaN(), math.NaN()
			bad++
		}
	}
	w.missing = float64(bad) / float64(n)
	return w, nil
}

// sums returns Σq and Σ(θ_warm − θ_cold) of the days from ≤ d < to.
func (w plateLog) sums(from, to int) (flux, difference float64) {
	for i := from * stepsADay; i < to*stepsADay; i++ {
		if v := w.flux[i]; v == v {
			flux += v
			difference += w.warm[i] - w.cold[i]
		}
	}
	return flux, difference
}

func (w plateLog) r(from, to int) float64 {
	q, d := w.sums(from, to)
	return d / q
}

// change is the mean of the last 24 h less that of the first.
func (w plateLog) change(values []float64) float64 {
	first, _ := mean(values[:stepsADay])
	last, _ := mean(values[(w.days-1)*stepsADay:])
	return last - first
}

// massFactors are ΣF_i and ΣF_e of ISO 9869-1 clause 7, J/(m²·K): of the side that
// the plate is on, and of the other.
func massFactors(layers []PlateLayer) (own, other float64) {
	total := 0.0
	for _, l := range layers {
		total += float64(l.Resistance)
	}
	before := 0.0
	for _, l := range layers {
		r, c := float64(l.Resistance), l.HeatCapacity
		after := total - before - r
		own += c * (after/total + r*r/(3*total*total) - before*after/(total*total))
		other += c * (r/total*(1.0/6+(before+after)/(3*total)) + before*after/(total*total))
		before += r
	}
	return own, other
}

// correct applies the storage correction where it is needed and possible, and
// returns the resistance that counts.
func (p Plate) correct(r *Resistance, w plateLog) float64 {
	if len(p.Layers) == 0 {
		return float64(r.Raw)
	}
	flux, difference := w.sums(0, w.days)
	seconds := plateStep.Seconds()
	// Heat stored counts positive in the direction of the flux.
	own, other, sign := w.change(w.warm), w.change(w.cold), 1.0
	if p.OnRoom {
		own, other, sign = other, own, -1
	}
	fi, fe := massFactors(p.Layers)
	stored := sign * (fi*own + fe*other)
	r.Stored = math.Abs(stored / (flux * seconds))
	if r.Stored <= plateStored {
		return float64(r.Raw)
	}
	r.Corrected = true
	return difference * seconds / (flux*seconds - stored)
}

func (p Plate) judge(r *Resistance, w plateLog) {
	value := float64(r.Value.Value)
	capacity := 0.0
	for _, l := range p.Layers {
		capacity += l.HeatCapacity
	}
	switch {
	case !finite(value) || value <= 0:
		r.Reason = "heat flux and temperature difference do not go the same way; is the plate's sign right?"
	case w.missing > 0.1:
		r.Reason = fmt.Sprintf("%.0f %% of the record is missing; at most 10 %% may be", 100*w.missing)
	case w.days < leastDays:
		r.Reason = fmt.Sprintf("%d whole days; three are wanted", w.days)
	case !(r.DayChange <= plateAgreement*(1+1e-9)):
		r.Reason = fmt.Sprintf("the value still moved by %.1f %% within the last day; at most 5 %%", 100*r.DayChange)
	case !(r.Parts <= plateAgreement*(1+1e-9)):
		r.Reason = fmt.Sprintf("the first and the last days differ by %.1f %%; at most 5 %%", 100*r.Parts)
	case p.NightOnly && capacity < lightElement:
		r.Reason = "a light element in the sun is judged by three nights, which this method does not do"
	default:
		r.Ended = true
	}
	design := float64(p.Designed)
	switch {
	case !r.Ended:
	case len(p.Layers) == 0:
		r.Reason = "without the layers of the element it is not known whether stored heat had to be corrected for"
	case !(design > 0):
		r.Reason = "no designed resistance to compare with"
	case value >= design*(1-1e-9):
		r.Outcome, r.Reason = units.Pass, fmt.Sprintf("%.2f m²K/W is at least the designed %.2f", value, design)
	case value*(1+plateUncertainty) < design:
		r.Outcome, r.Reason = units.Fail, fmt.Sprintf("%.2f m²K/W with 14 %% on top is below the designed %.2f", value, design)
	default:
		r.Reason = fmt.Sprintf("%.2f m²K/W is below the designed %.2f, by less than the method tells", value, design)
	}
}

func (p Plate) steps(r *Resistance) {
	const source = "ISO 9869-1:2014, average method"
	stored := "layers not given"
	if len(p.Layers) > 0 {
		stored = fmt.Sprintf("%.1f %% of the heat passed", 100*r.Stored)
	}
	r.Steps = []Step{
		{Name: "whole days", Value: fmt.Sprintf("%.0f", r.Days), Source: source},
		{Name: "as averaged", Formula: "Σ(θ_warm − θ_cold)/Σq", Value: fmt.Sprintf("%.3f m²K/W", r.Raw), Source: source},
		{Name: "within the last 24 h", Formula: "|R(end)/R(end − 24 h) − 1| ≤ 5 %", Value: fmt.Sprintf("%.2f %%", 100*r.DayChange), Source: source},
		{Name: "first and last days", Formula: "|R(first m)/R(last m) − 1| ≤ 5 %, m = INT(2·D/3)", Value: fmt.Sprintf("%.2f %%", 100*r.Parts), Source: source},
		{Name: "heat stored", Formula: "(ΣF_i·δθ_i + ΣF_e·δθ_e)/Σq·Δt ≤ 5 %", Value: stored, Source: source + ", clause 7"},
		{Name: "resistance", Formula: "± 14 %", Value: fmt.Sprintf("%.3f m²K/W (%.2f to %.2f)", r.Value.Value, r.Value.Low, r.Value.High), Source: source + ", clause 9 (from memory)"},
	}
}

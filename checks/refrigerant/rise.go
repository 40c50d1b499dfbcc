package refrigerant

import (
	"errors"
	"fmt"
	"math"
	"time"

	"gonum.org/v1/gonum/stat"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Rise is the pressure in an isolated circuit over time, with the valve shut at the
// system, not at the hose, and the gauge at the far end.
type Rise struct {
	Readings         []RiseReading // 6 or more, in the order of time
	GaugeUncertainty units.Pressure
	Coldest          units.Temperature // of the circuit, which water would show
	Volume           units.Volume      // inside; 0 when it is not known
}

// RiseReading is one reading of the vacuum gauge, absolute.
type RiseReading struct {
	After    time.Duration // since the valve was shut
	Pressure units.Pressure
}

// Cause is what a rise comes from. The zero value is UnknownRise.
type Cause int

// What a rise can tell.
const (
	UnknownRise Cause = iota
	NoRise            // within the gauge's uncertainty
	LeakRise          // straight
	WaterRise         // flattens: water, or gas out of oil
)

func (c Cause) String() string {
	switch c {
	case NoRise:
		return "no rise"
	case LeakRise:
		return "leak"
	case WaterRise:
		return "moisture"
	}
	return "undecided"
}

// RiseResult tells what the rise comes from. It says nothing of pass or fail, which
// the limits of an Evacuation do.
type RiseResult struct {
	Cause  Cause
	Reason string
	Rate   float64 // of the straight line, Pa/s
	Leak   float64 // Pa·m³/s; 0 when the volume is not known or it is no leak
	// Levels is the pressure that the rise flattens towards, Slowed the rate at the
	// end over that at the start, by the flattening curve.
	Levels units.Pressure
	Slowed float64
	Steps  []Step
}

const (
	fewestReadings = 6
	// A difference of 2 in AICc is customary (Burnham and Anderson, from memory); the
	// other two are common practice.
	evidence    = 2.0
	slowedTo    = 0.5
	straightTo  = 1000 * micron // below, gas out of oil may still flatten it
	leastSquare = 0.98
)

// Judge fits a straight line and a curve that flattens,
//
//	p = p0 + r·t        p = p∞ − (p∞ − p0)·e^(−t/τ)
//
// and takes the one that Akaike's criterion for small samples prefers. It is
// undecided where neither is clearly better or the hold was too short to tell.
func (r Rise) Judge() (RiseResult, error) {
	if err := r.valid(); err != nil {
		return RiseResult{}, fmt.Errorf("vacuum rise: %w", err)
	}
	water, err := humidair.SaturationPressure(r.Coldest)
	if err != nil {
		return RiseResult{}, fmt.Errorf("vacuum rise: %w", err)
	}
	t, p := r.series()
	line, curve := fitStraight(t, p), fitFlattening(t, p)
	out := RiseResult{Rate: line.slope, Levels: units.Pressure(curve.level), Slowed: math.Exp(-t[len(t)-1] / curve.tau)}
	n, floor := float64(len(t)), math.Pow(float64(r.GaugeUncertainty)/20, 2)
	better := akaike(line.sse, floor, n, 3) - akaike(curve.sse, floor, n, 4) // above 0: the curve
	total := p[len(p)-1] - p[0]
	switch {
	case total <= float64(r.GaugeUncertainty):
		out.Cause, out.Reason = NoRise, "the rise is within the gauge's uncertainty"
	case better >= evidence && out.Slowed <= slowedTo:
		out.Cause, out.Reason = WaterRise, "it flattens: gas out of oil, or water; break the vacuum with dry nitrogen and pump again"
		if out.Levels >= water*7/10 {
			out.Reason = fmt.Sprintf("it flattens near %s, where water of the coldest part boils (%s): break the vacuum with dry nitrogen and pump again", vacuumText(out.Levels), vacuumText(water))
		}
	case better <= 0 && line.r2 >= leastSquare && p[len(p)-1] >= straightTo:
		out.Cause, out.Reason = LeakRise, "it goes on straight: a leak; find it with nitrogen and leak solution"
		if r.Volume > 0 {
			out.Leak = line.slope * float64(r.Volume)
		}
	default:
		out.Reason = "straight line and flattening curve fit about as well; hold longer and go on reading"
	}
	out.Steps = r.steps(out, line, curve, better, water)
	return out, nil
}

func (r Rise) series() (t, p []float64) {
	for _, x := range r.Readings {
		t, p = append(t, x.After.Seconds()), append(p, float64(x.Pressure))
	}
	return t, p
}

// straight is a line through readings; curved one that flattens.
type straight struct{ start, slope, sse, r2 float64 }
type curved struct{ level, tau, sse float64 }

func fitStraight(t, p []float64) straight {
	var l straight
	l.start, l.slope = stat.LinearRegression(t, p, nil, false)
	l.r2 = stat.RSquared(t, p, nil, l.start, l.slope)
	for i := range t {
		e := p[i] - l.start - l.slope*t[i]
		l.sse += e * e
	}
	return l
}

// fitFlattening looks for the time constant between a twentieth of the hold and
// twenty holds, first on a grid and then by thirds; level and start follow by least
// squares.
func fitFlattening(t, p []float64) curved {
	hold := t[len(t)-1]
	x := make([]float64, len(t))
	at := func(logTau float64) curved {
		tau := math.Exp(logTau)
		for i := range t {
			x[i] = math.Exp(-t[i] / tau)
		}
		l := fitStraight(x, p)
		return curved{l.start, tau, l.sse}
	}
	const steps = 24
	low, high := math.Log(hold/20), math.Log(hold*20)
	width := (high - low) / steps
	best := at(low)
	for i := 1; i <= steps; i++ {
		if c := at(low + float64(i)*width); c.sse < best.sse {
			best = c
		}
	}
	a, b := math.Log(best.tau)-width, math.Log(best.tau)+width
	for range 25 {
		left, right := a+(b-a)/3, b-(b-a)/3
		if at(left).sse < at(right).sse {
			b = right
		} else {
			a = left
		}
	}
	return at((a + b) / 2)
}

// akaike is AICc of a fit with k parameters, scatter counted (Hurvich and Tsai 1989,
// from memory). A scatter below what the gauge can show counts as that.
func akaike(sse, floor, n, k float64) float64 {
	return n*math.Log(max(sse/n, floor)) + 2*k + 2*k*(k+1)/(n-k-1)
}

func (r Rise) steps(out RiseResult, line straight, curve curved, better float64, water units.Pressure) []Step {
	steps := []Step{
		{Name: "readings", Value: fmt.Sprintf("%d over %s", len(r.Readings), durationText(r.Readings[len(r.Readings)-1].After)), Source: readings},
		{Name: "straight line", Formula: "p = p0 + r·t", Value: fmt.Sprintf("%s/h, r² %.4f", vacuumText(units.Pressure(line.slope*3600)), line.r2), Source: "least squares"},
		{Name: "flattening curve", Formula: "p = p∞ − (p∞ − p0)·e^(−t/τ)", Value: fmt.Sprintf("towards %s, τ %.0f min, rate down to %.0f %%", vacuumText(units.Pressure(curve.level)), curve.tau/60, 100*out.Slowed), Source: "least squares"},
		{Name: "which fits", Formula: "AICc of line − of curve", Value: fmt.Sprintf("%.1f", better), Source: "Akaike's criterion for small samples; 2 is evidence"},
		{Name: "water at the coldest part", Value: vacuumText(water), Source: "ASHRAE Fundamentals 2017 ch. 1"},
	}
	if out.Leak > 0 {
		steps = append(steps, Step{Name: "leak", Formula: "r·V", Value: fmt.Sprintf("%.2e Pa·m³/s", out.Leak), Source: "EN 1330-8, from memory"})
	}
	return steps
}

func (r Rise) valid() error {
	problems := []error{
		within("vacuum gauge uncertainty", float64(r.GaugeUncertainty), 0.001, 10e3, "Pa"),
		within("coldest part", float64(r.Coldest), -40, 60, "°C"),
		within("volume", float64(r.Volume), 0, 1, "m³"),
	}
	if len(r.Readings) < fewestReadings {
		problems = append(problems, fmt.Errorf("%d readings, at least %d are wanted to tell a leak from moisture", len(r.Readings), fewestReadings))
	}
	for i, x := range r.Readings {
		problems = append(problems, within(fmt.Sprintf("vacuum %d", i+1), float64(x.Pressure), 0.01, 10e3, "Pa"))
		if i > 0 && x.After <= r.Readings[i-1].After {
			problems = append(problems, fmt.Errorf("reading %d is not after the one before", i+1))
		}
	}
	return errors.Join(problems...)
}

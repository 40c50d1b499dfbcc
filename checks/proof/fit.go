package proof

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// Fit is the two-node pull-down model fitted to a log.
type Fit struct {
	Coupling Estimate[units.Conductance] // H, bottles to air
	UA       Estimate[units.Conductance] // with leaks, in the signature's light where there is one
	Light    Estimate[cooling.HeatCapacity]
	// Bottle is the time constant of a bottle in this room, C_p/H, in s; Fast the
	// fast mode of the room with its unit off.
	Bottle Estimate[float64]
	Fast   float64
	// Apart are the standard deviations of air and bottles from the model, K.
	AirApart, BottleApart float64
	// Model is the room as it was pulled down, with its own figures.
	Model cooling.PullDown
	Steps []Step
}

// Full returns the fitted room with another number of bottles, as a multiple of
// those that were in it, its surroundings at source and a unit of capacity there:
// the same rack holds each bottle in the same air.
func (f *Fit) Full(bottles float64, source units.Temperature, capacity units.Power) cooling.PullDown {
	p := f.Model.With(capacity)
	p.Bottles *= cooling.HeatCapacity(bottles)
	p.Coupling *= units.Conductance(bottles)
	p.Source = source
	return p
}

// fitSpan is how long after switching on the model is compared.
const fitSpan = 72 * time.Hour

const (
	airWeight    = 0.30 // K, how far air in one point is from a node (assumed)
	bottleWeight = 0.10 // K
	lightKnown   = 0.50 // relative standard uncertainty of Room.Light (assumed)
	uaKnown      = 0.30 // of the designed UA, where there is no signature (assumed)
)

// pulled is the log of a pull-down in steps, and the model at the start.
type pulled struct {
	base        cooling.PullDown
	after       []time.Duration
	air, bottle []float64
	ua, uaU     float64 // known beforehand, in ln
	light       float64
}

// model returns the pull-down with the parameters ln H, ln UA, ln C_a.
func (p *pulled) model(x [3]float64) cooling.PullDown {
	m := p.base
	m.Coupling, m.Gain, m.Light = units.Conductance(math.Exp(x[0])), units.Conductance(math.Exp(x[1])), cooling.HeatCapacity(math.Exp(x[2]))
	return m
}

// apart returns what the log lies above the model, weighted: air then bottles.
func (p *pulled) apart(x [3]float64) ([]float64, error) {
	c, err := p.model(x).Course()
	if err != nil {
		return nil, err
	}
	n := len(p.after)
	rest := make([]float64, 2*n)
	for i, t := range p.after {
		air, bottle := c.At(t)
		rest[i], rest[n+i] = (p.air[i]-float64(air))/airWeight, (p.bottle[i]-float64(bottle))/bottleWeight
	}
	return rest, nil
}

// solve runs Gauss–Newton with halved steps.
func (p *pulled) solve(x [3]float64) ([3]float64, normal, error) {
	rest, err := p.apart(x)
	if err != nil {
		return x, normal{}, err
	}
	var f normal
	for range 30 {
		rows := make([][]float64, len(rest))
		for i := range rows {
			rows[i] = make([]float64, 3)
		}
		for j := range x {
			const h = 1e-4
			moved := x
			moved[j] += h
			other, err := p.apart(moved)
			if err != nil {
				return x, f, err
			}
			for i := range rest {
				rows[i][j] = (rest[i] - other[i]) / h
			}
		}
		known := []float64{0, p.ua - x[1], p.light - x[2]}
		if f, err = solveNormal(rows, rest, known, []float64{0, p.uaU, lightKnown}); err != nil {
			return x, f, err
		}
		next, better := p.shorten(x, f, rest)
		size := math.Abs(next[0]-x[0]) + math.Abs(next[1]-x[1]) + math.Abs(next[2]-x[2])
		x, rest = next, better
		if size < 1e-7 {
			break
		}
	}
	return x, f, nil
}

// shorten halves a step until it makes things better.
func (p *pulled) shorten(x [3]float64, f normal, rest []float64) ([3]float64, []float64) {
	// What is known beforehand counts in the unit of the scatter.
	cost := func(x [3]float64, rest []float64) float64 {
		sum := 0.0
		for _, e := range rest {
			sum += e * e / (f.s * f.s)
		}
		a, b := (x[1]-p.ua)/p.uaU, (x[2]-p.light)/lightKnown
		return sum + a*a + b*b
	}
	before := cost(x, rest)
	for part := 1.0; part > 1e-3; part /= 2 {
		next := x
		for j := range next {
			next[j] += part * min(1, max(-1, f.step[j]))
		}
		if other, err := p.apart(next); err == nil && cost(next, other) < before {
			return next, other
		}
	}
	return x, rest
}

// fit fits the model to the time after switching on.
func (a *analyser) fit() (*Fit, error) {
	p, err := a.pulled()
	if err != nil {
		return nil, err
	}
	start := [3]float64{math.Log(float64(p.base.Bottles) / (4 * hour)), p.ua, p.light}
	x, f, err := p.solve(start)
	if err != nil {
		return nil, err
	}
	var u [3]float64
	move := func(change func(*pulled)) {
		q := *p
		change(&q)
		if moved, _, err := q.solve(x); err == nil {
			for j := range u {
				u[j] = math.Hypot(u[j], moved[j]-x[j])
			}
		}
	}
	share := a.in.Unit.relative()
	move(func(q *pulled) {
		q.base.Capacity *= units.Power(1 + share/2)
		q.base.PerKelvin *= units.Conductance(1 + share/2)
	})
	move(func(q *pulled) { q.base.Bottles *= 1.05 })
	move(func(q *pulled) { q.base.Set += 0.2 })
	return p.result(x, f, u)
}

// pulled gathers the log of the pull-down.
func (a *analyser) pulled() (*pulled, error) {
	in := a.in
	switch {
	case in.On.IsZero():
		return nil, fmt.Errorf("%w: the log holds no pull-down", ErrTooLittle)
	case in.Unit.Capacity == nil:
		return nil, fmt.Errorf("the unit's capacity is not known")
	case in.Room.Bottles <= 0:
		return nil, fmt.Errorf("the room was empty: there are no bottles to fit")
	}
	span := logs.TimeSpan{From: in.On, To: in.On.Add(fitSpan)}
	if a.whole.To.Before(span.To) {
		span.To = a.whole.To
	}
	g := newGrid(in, a.sound, span, decayStep)
	if g.n < 36 || g.room == nil || g.bottle == nil {
		return nil, fmt.Errorf("%w: it takes six hours of air and bottle probe after switching on", ErrTooLittle)
	}
	p := &pulled{}
	source, intake := 0.0, 0.0
	for i := range g.n {
		out := g.outside(i, a.conductances())
		if g.intake == nil || !finite(g.room[i], g.bottle[i], out, g.intake[i]) {
			continue
		}
		p.after = append(p.after, g.step*time.Duration(i)+g.step/2)
		p.air, p.bottle = append(p.air, g.room[i]), append(p.bottle, g.bottle[i])
		source, intake = source+out, intake+g.intake[i]
	}
	n := len(p.after)
	if float64(n) < leastOfDay*float64(g.n) || p.after[0] > time.Hour {
		return nil, fmt.Errorf("%w: gaps over the pull-down", ErrTooLittle)
	}
	return p, a.start(p, source/float64(n), intake/float64(n))
}

// start fills in the model at switching on.
func (a *analyser) start(p *pulled, source, intake float64) error {
	room := a.in.Room
	set := room.Set
	if a.out.Room.Known() {
		set = a.out.Room.Value
	}
	q0, err := a.capacity(set, units.Temperature(intake))
	if err != nil {
		return err
	}
	q5, err := a.capacity(set+5, units.Temperature(intake))
	if err != nil {
		return err
	}
	p.base = cooling.PullDown{
		Bottles: room.Bottles, Source: units.Temperature(source), Inside: room.Inside,
		Capacity: q0, PerKelvin: units.Conductance((q5 - q0) / 5), Set: set,
		Air: units.Temperature(p.air[0]), Contents: units.Temperature(p.bottle[0]),
	}
	p.light = math.Log(max(1000, float64(room.Light)))
	total := 0.0
	for _, c := range a.conductances() {
		total += c
	}
	p.ua, p.uaU = math.Log(total), uaKnown
	if s := a.out.Signature; s != nil && s.UA.Known() && s.UA.Low > 0 {
		p.ua, p.uaU = math.Log(float64(s.UA.Value)), float64(s.UA.Half()/s.UA.Value)/normal95
		p.base.Inside = units.Power(max(-1e4, float64(s.Base.Value))) + s.Latent
	}
	return nil
}

func (p *pulled) result(x [3]float64, f normal, u [3]float64) (*Fit, error) {
	r := &Fit{Model: p.model(x)}
	interval := func(j int) (value, low, high float64) {
		half := combined(f.sd(j), f.ν, u[j])
		return math.Exp(x[j]), math.Exp(x[j] - half), math.Exp(x[j] + half)
	}
	h, low, high := interval(0)
	r.Coupling = Estimate[units.Conductance]{units.Conductance(h), units.Conductance(low), units.Conductance(high)}
	c := float64(p.base.Bottles)
	r.Bottle = Estimate[float64]{c / h, c / high, c / low}
	ua, low, high := interval(1)
	r.UA = Estimate[units.Conductance]{units.Conductance(ua), units.Conductance(low), units.Conductance(high)}
	ca, low, high := interval(2)
	r.Light = Estimate[cooling.HeatCapacity]{cooling.HeatCapacity(ca), cooling.HeatCapacity(low), cooling.HeatCapacity(high)}
	off, err := r.Model.Off()
	if err != nil {
		return nil, err
	}
	r.Fast = off.Fast.Seconds()
	rest, err := p.apart(x)
	if err != nil {
		return nil, err
	}
	n := len(p.after)
	for i := range n {
		r.AirApart += rest[i] * rest[i] / float64(n)
		r.BottleApart += rest[n+i] * rest[n+i] / float64(n)
	}
	r.AirApart, r.BottleApart = airWeight*math.Sqrt(r.AirApart), bottleWeight*math.Sqrt(r.BottleApart)
	const source = "two-node model fitted to this log, 95 %"
	r.Steps = []Step{
		{Name: "bottles to air", Formula: "H", Value: fmt.Sprintf("%.0f W/K (%.0f to %.0f)", h, r.Coupling.Low, r.Coupling.High), Source: source},
		{Name: "a bottle follows the air in", Formula: "C_p/H", Value: fmt.Sprintf("%.2f h (%.2f to %.2f)", r.Bottle.Value/hour, r.Bottle.Low/hour, r.Bottle.High/hour), Source: source},
		{Name: "UA with leaks", Value: fmt.Sprintf("%.1f W/K (%.1f to %.1f)", ua, r.UA.Low, r.UA.High), Source: source},
		{Name: "what follows the air", Formula: "C_a", Value: fmt.Sprintf("%.0f kJ/K (%.0f to %.0f)", ca/1000, r.Light.Low/1000, r.Light.High/1000), Source: source},
		{Name: "log against model", Value: fmt.Sprintf("air %.2f K, bottles %.2f K (standard deviation)", r.AirApart, r.BottleApart), Source: source},
	}
	return r, nil
}

package proof

import (
	"fmt"
	"math"
	"slices"
	"time"

	"gonum.org/v1/gonum/mat"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// Decay is how the room warmed up with its unit and fan off.
type Decay struct {
	// TimeConstant of the slow mode, with its 95 % interval.
	TimeConstant Estimate[float64] // s
	From         time.Time         // after the fast mode
	Lasted       time.Duration     // from there
	Rise         units.TemperatureDifference
	// UA is ΣC over the time constant, with no interval: it reads some percent low, since the
	// slow mode is not quite the mode of one lump. Good for comparing.
	UA    units.Conductance
	Steps []Step
}

// Seconds to skip and least length, from the two-node model: the air and what is
// light in the room settle within 3 h (five fast time constants).
const (
	decaySkip  = 3 * time.Hour
	decayLeast = 6 * time.Hour
	decayStep  = 10 * time.Minute
)

// decayData is the room and what is around it, in steps.
type decayData struct {
	room, outside []float64
	step          float64 // s
}

// The air's own answer to the outside without the slow mass, UA/H, and how well it is known
// (assumed, for the bottles of a rack).
const (
	quickShare  = 0.08
	quickShareU = 0.08
)

// solve fits
//
//	T(t) = T0 + λ·(1 + κ)·∫(T_out − T)dt + κ·[D(t) − D(0)]
//
// in λ = 1/τ: the slow mass follows the integral, the air beside it a share κ at
// once. With steady surroundings this is T_out − T = D0·e^(−λt), whatever κ is. It
// returns λ and the standard deviation by scatter, widened for autocorrelation.
func (d *decayData) solve() (λ, sd, ν float64, err error) {
	n := len(d.room)
	integral, diff := make([]float64, n), make([]float64, n)
	for i := range n {
		diff[i] = d.outside[i] - d.room[i]
		if i > 0 {
			integral[i] = integral[i-1] + (diff[i]+diff[i-1])/2*d.step
		}
	}
	t0, κ := d.room[0], quickShare
	λ = (d.room[n-1] - t0) / integral[n-1]
	var fit normal
	for range 20 {
		rows, rest := make([][]float64, 0, n+1), make([]float64, 0, n+1)
		for i := range n {
			moved := diff[i] - diff[0] + λ*integral[i]
			rows = append(rows, []float64{1, (1 + κ) * integral[i], moved})
			rest = append(rest, d.room[i]-(t0+λ*integral[i]+κ*moved))
		}
		if fit, err = solveNormal(rows, rest, []float64{0, 0, quickShare - κ}, []float64{0, 0, quickShareU}); err != nil {
			return 0, 0, 0, err
		}
		t0, λ, κ = t0+fit.step[0], λ+fit.step[1], κ+fit.step[2]
		if math.Abs(fit.step[1]) < 1e-12*math.Abs(λ) {
			break
		}
	}
	return λ, fit.sd(1), fit.ν, nil
}

// normal is one step of least squares with what is known beforehand.
type normal struct {
	step []float64
	cov  *mat.SymDense // by scatter and by what is known beforehand
	s, ν float64
}

func (f normal) sd(i int) float64 { return math.Sqrt(max(0, f.cov.At(i, i))) }

// solveNormal solves rows·step ≈ rest, each parameter i held at known[i] with a
// standard deviation u[i], 0 not held. The scatter s is that of the rest, in the order of
// time, widened for autocorrelation.
func solveNormal(rows [][]float64, rest, known, u []float64) (normal, error) {
	p, n := len(known), len(rows)
	scale := make([]float64, p)
	for _, row := range rows {
		for j, v := range row {
			scale[j] = max(scale[j], math.Abs(v))
		}
	}
	for j := range scale {
		if scale[j] == 0 {
			scale[j] = 1
		}
	}
	s := scatterOf(rest, p)
	a, b := mat.NewSymDense(p, nil), mat.NewVecDense(p, nil)
	for i, row := range rows {
		for j := range p {
			b.SetVec(j, b.AtVec(j)+row[j]/scale[j]*rest[i]/(s*s))
			for k := j; k < p; k++ {
				a.SetSym(j, k, a.At(j, k)+row[j]/scale[j]*row[k]/scale[k]/(s*s))
			}
		}
	}
	for j := range p {
		if u[j] > 0 {
			w := 1 / (u[j] * u[j] * scale[j])
			a.SetSym(j, j, a.At(j, j)+w/scale[j])
			b.SetVec(j, b.AtVec(j)+w*known[j])
		}
	}
	var c mat.Cholesky
	if !c.Factorize(a) {
		return normal{}, fmt.Errorf("%w: the log does not tell the parameters apart", ErrTooLittle)
	}
	var x mat.VecDense
	f := normal{cov: mat.NewSymDense(p, nil), s: s, ν: float64(n - p)}
	if err := c.SolveVecTo(&x, b); err != nil {
		return normal{}, fmt.Errorf("%w: %v", ErrTooLittle, err)
	}
	if err := c.InverseTo(f.cov); err != nil {
		return normal{}, fmt.Errorf("%w: %v", ErrTooLittle, err)
	}
	for j := range p {
		f.step = append(f.step, x.AtVec(j)/scale[j])
		for k := j; k < p; k++ {
			f.cov.SetSym(j, k, f.cov.At(j, k)/scale[j]/scale[k])
		}
	}
	return f, nil
}

// scatterOf is the standard deviation of what is left, widened for its
// autocorrelation, and never quite 0.
func scatterOf(rest []float64, p int) float64 {
	var sse, lag float64
	for i, e := range rest {
		sse += e * e
		if i > 0 {
			lag += e * rest[i-1]
		}
	}
	n := float64(len(rest))
	s := math.Sqrt(sse / max(1, n-float64(p)))
	if sse > 0 {
		effective := effective(n, lag/sse)
		s *= math.Sqrt(max(1, (n-float64(p))/max(1, effective-float64(p))))
	}
	return max(s, 1e-6)
}

// decay evaluates the time with the unit off.
func (a *analyser) decay() (*Decay, error) {
	off := a.in.Off
	skip := decaySkip
	if a.out.Fit != nil {
		skip = min(decayMostSkip, max(skip, 5*time.Duration(a.out.Fit.Fast*float64(time.Second))))
	}
	if left := off.To.Sub(off.From) - skip; left < decayLeast {
		return nil, fmt.Errorf("%w: %.1f h are left after the first %.0f; %.0f are wanted", ErrTooLittle, max(0, left.Hours()), skip.Hours(), decayLeast.Hours())
	}
	// The walls remember what was around them: two days before, as far as logged.
	before := min(48*time.Hour, off.From.Sub(a.whole.From))
	before = max(0, before.Truncate(decayStep))
	g := newGrid(a.in, a.sound, logs.TimeSpan{From: off.From.Add(-before), To: off.To}, decayStep)
	m := decayMove{grid: &g, conductances: a.conductances(), sides: make([]float64, len(g.sides)), lag: wallLag, skip: int((before + skip) / decayStep)}
	λ, sd, ν, err := m.rate()
	if err != nil {
		return nil, err
	}
	return a.decayed(&g, m.skip, λ, combined(sd, ν, a.decayU(&m, λ)))
}

// decayMostSkip keeps enough of a night's test, whatever the fit says.
const decayMostSkip = 6 * time.Hour

// decayU is the standard uncertainty of λ by all that is not scatter.
func (a *analyser) decayU(m *decayMove, λ float64) float64 {
	u := 0.0
	add := func(weight float64, by func(*decayMove)) {
		c := *m
		c.conductances, c.sides = slices.Clone(m.conductances), slices.Clone(m.sides)
		by(&c)
		if moved, _, _, err := c.rate(); err == nil {
			u = math.Hypot(u, weight*(moved-λ))
		}
	}
	add(1, func(c *decayMove) { c.room += m.grid.roomU })
	for j, s := range a.in.Room.Sides {
		add(1, func(c *decayMove) { c.sides[j] += m.grid.sideU[j] })
		if len(a.in.Room.Sides) > 1 {
			add(1, func(c *decayMove) { c.conductances[j] *= 1 + s.share() })
		}
	}
	// The lag lies anywhere between: each end counts over √3, and of two the half.
	add(1/math.Sqrt(6), func(c *decayMove) { c.lag = 0 })
	add(1/math.Sqrt(6), func(c *decayMove) { c.lag *= 2 })
	// What is left of the quick modes shows when more of the beginning is left out.
	add(1/math.Sqrt(3), func(c *decayMove) { c.skip += (m.grid.n - c.skip) / 3 })
	return u
}

// decayMove is the reduction of a warming, with values that can be moved to see a
// sensitivity.
type decayMove struct {
	grid                *grid
	conductances, sides []float64
	room                float64
	lag                 time.Duration
	skip                int // steps
}

// rate returns λ with its scatter.
func (m *decayMove) rate() (λ, sd, ν float64, err error) {
	d, err := m.data()
	if err != nil {
		return 0, 0, 0, err
	}
	return d.solve()
}

// data are the steps after the quick modes, with what is outside as the walls pass
// it on: smoothed exponentially.
func (m *decayMove) data() (*decayData, error) {
	g := m.grid
	if g.room == nil {
		return nil, fmt.Errorf("%w: no sound logger in the room", ErrTooLittle)
	}
	shift, total := 0.0, 0.0
	for j, c := range m.conductances {
		shift, total = shift+c*m.sides[j], total+c
	}
	d := &decayData{step: g.step.Seconds()}
	outs := make([]float64, g.n)
	for i := range outs {
		outs[i] = g.outside(i, m.conductances)
	}
	felt := lagged(outs, g.step, m.lag)
	for i, out := range outs {
		if i < m.skip {
			continue
		}
		if !finite(g.room[i], out) {
			return nil, fmt.Errorf("%w: a gap while the room warms up, at %s", ErrTooLittle, g.span(i, 1).From.Format("2 January 15:04"))
		}
		d.room, d.outside = append(d.room, g.room[i]+m.room), append(d.outside, felt[i]+shift/total)
	}
	if len(d.room) < 18 {
		return nil, fmt.Errorf("%w: %d steps of ten minutes are left", ErrTooLittle, len(d.room))
	}
	return d, nil
}

func (a *analyser) decayed(g *grid, skip int, λ, half float64) (*Decay, error) {
	if !(λ > half) {
		return nil, fmt.Errorf("%w: the room's warming, %.2g ± %.2g 1/h, does not stand out", ErrTooLittle, λ*hour, half*hour)
	}
	r := &Decay{
		TimeConstant: Estimate[float64]{1 / λ, 1 / (λ + half), 1 / (λ - half)},
		From:         g.span(skip, 1).From, Lasted: g.step * time.Duration(g.n-skip),
		Rise: units.TemperatureDifference(g.room[g.n-1] - g.room[skip]),
	}
	r.UA = units.Conductance(float64(a.in.Room.Light+a.in.Room.Bottles) * λ)
	const source = "least squares, this log"
	r.Steps = []Step{
		{Name: "fast mode left out", Formula: "5·τ2, 3 h at least", Value: fmt.Sprintf("%.1f h", r.From.Sub(a.in.Off.From).Hours()), Source: "two-node model"},
		{Name: "warmed up", Value: fmt.Sprintf("%.2f K in %.1f h", r.Rise, r.Lasted.Hours()), Source: source},
		{Name: "time constant", Formula: "T = T0 + (1/τ)·∫(T_out − T)dt", Value: fmt.Sprintf("%.1f h (%.1f to %.1f)", 1/λ/hour, r.TimeConstant.Low/hour, r.TimeConstant.High/hour), Source: source + ", 95 %"},
		{Name: "UA for comparison", Formula: "ΣC/τ", Value: fmt.Sprintf("%.1f W/K", r.UA), Source: "heat capacities as entered"},
	}
	return r, nil
}

package proof

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/logs"
	"proveout/checks/units"
)

// Contribution is one source of uncertainty: what 95 % of it move the results by.
type Contribution struct {
	Name string
	UA   units.Conductance
	Duty float64 // on the design day
}

// Signature is the heat that a room takes in over the difference of temperatures.
type Signature struct {
	Days []Day
	Line Line // of the days; Line.Slope is UA
	// UA is the conductance with leaks, Base the sensible heat inside, by all sources of
	// uncertainty. UA is unknown, zero, when the unit's capacity is.
	UA       Estimate[units.Conductance]
	Designed units.Conductance
	Base     Estimate[units.Power]
	Latent   units.Power // heat of the condensate, on average
	Budget   []Contribution
	// Compared is pass when UA's interval ends at or below 1.15 times the designed value, fail
	// when it begins above it, undecided between.
	Compared units.Outcome
	Notes    []string
	Steps    []Step

	model model
	moves []move
}

// tolerance is how far the measured UA may lie above the designed one: what the
// design's own transmittances are good for (common practice).
const tolerance = 1.15

// leastPoints is the number of days from which on a line is fitted (assumed).
const leastPoints = 5

// model is what the days are reduced with; a copy with one value moved gives that
// value's sensitivity.
type model struct {
	conductances    []float64 // of the sides
	sideOffsets     []float64 // K, added to a side's temperature
	late            []int     // which of Day.sides
	roomOffset      float64
	capacity        float64 // factor
	light, bottles  float64 // J/K
	latent          float64 // W
	weighed         bool    // condensate day by day
	inside, insideU float64 // W; insideU 0: not used
	heat            bool    // y is in W
	anchored        bool
	gain            gain    // of the anchor
	designCap       float64 // of the design day, W or 1
	seenCap         float64 // of the days, W; 0 not known
	design          []float64
	designLatent    float64
	designRoom      float64
	duty            bool // there is a design day
}

// reduce returns x and y of the days that are used.
func (m *model) reduce(days []Day) (x, y []float64) {
	for _, d := range days {
		if d.Used {
			x = append(x, m.outside(d.sides)-float64(d.Room)-m.roomOffset)
			y = append(y, m.heatOf(d))
		}
	}
	return x, y
}

func (m *model) heatOf(d Day) float64 {
	if !m.heat {
		return d.cap
	}
	return m.capacity*d.cap - m.latent - d.latent - m.stored(d)
}

// stored is the heat that the room's contents gave off, W.
func (m *model) stored(d Day) float64 { return -(m.light*d.drift[0] + m.bottles*d.drift[1]) / day }

func (m *model) outside(sides [3][]float64) float64 {
	sum, total := 0.0, 0.0
	for j, c := range m.conductances {
		if c > 0 {
			sum += c * (sides[m.late[j]][j] + m.sideOffsets[j])
			total += c
		}
	}
	return sum / total
}

// fit reduces the days and fits the line, held at the heat inside where that is
// asked for.
func (m *model) fit(days []Day) (Line, error) {
	x, y := m.reduce(days)
	l, err := FitLine(x, y)
	if err != nil || !m.anchored {
		return l, err
	}
	return l.held(m.gain, m.inside, m.insideU), nil
}

// designDuty is the duty of the design day by a line.
func (m *model) designDuty(l Line) float64 {
	if !m.duty {
		return math.NaN()
	}
	return (l.At(m.designX()) + m.designLatent) / (m.designCap * m.capacity)
}

// designX is the design day's difference as the loggers would show it.
func (m *model) designX() float64 {
	sum, total := 0.0, 0.0
	for j, c := range m.conductances {
		sum += c * m.design[j]
		total += c
	}
	return sum/total - m.designRoom - m.roomOffset
}

// sign reduces the steady time to days and fits them.
func (a *analyser) sign(except []logs.TimeSpan) (*Signature, error) {
	if c := a.out.Cycles; c != nil && c.coarse(a.sound.states.Interval) {
		return nil, fmt.Errorf("%w: the unit's meter was read every %s, too seldom for its runs: half of those seen last %s or less, %d fell between; four readings in a run are wanted",
			ErrTooLittle, a.sound.states.Interval, min(c.MedianOn, c.MedianOff), c.Brief)
	}
	// A day before, as far as it is logged: walls remember.
	before := max(0, min(24*time.Hour, a.keeping.From.Sub(a.whole.From))).Truncate(time.Hour)
	g := newGrid(a.in, a.sound, logs.TimeSpan{From: a.keeping.From.Add(-before), To: a.keeping.To}, time.Hour)
	if err := a.lacks(&g); err != nil {
		return nil, err
	}
	g.coilAir(a.in, a.sound)
	return a.signature(&g, a.days(&g, int(before/time.Hour), except))
}

// lacks says which logger is missing for a signature.
func (a *analyser) lacks(g *grid) error {
	total := 0.0
	for j, s := range a.in.Room.Sides {
		total += float64(s.Conductance)
		if s.Conductance > 0 && (j >= len(g.sides) || g.sides[j] == nil) {
			return fmt.Errorf("%w: no sound logger beyond the faces to %q", ErrTooLittle, s.Name)
		}
	}
	switch {
	case total == 0:
		return fmt.Errorf("%w: the conductances of the room's faces are not given", ErrTooLittle)
	case g.room == nil:
		return fmt.Errorf("%w: no sound logger in the room", ErrTooLittle)
	case g.duty == nil:
		return fmt.Errorf("%w: no meter of the unit tells when it ran", ErrTooLittle)
	case g.intake == nil:
		return fmt.Errorf("%w: no sound logger at the condenser's intake", ErrTooLittle)
	}
	return nil
}

// signature fits the days.
func (a *analyser) signature(g *grid, days []Day) (*Signature, error) {
	r := &Signature{Days: days}
	r.model = a.model(g, days)
	for _, c := range r.model.conductances {
		r.Designed += units.Conductance(c)
	}
	used := 0
	for i := range days {
		if days[i].Used {
			used++
			d := &days[i]
			d.Outside = units.Temperature(r.model.outside(d.sides))
			d.Difference = d.Outside.Sub(d.Room)
			d.Stored, d.Heat = units.Power(r.model.stored(*d)), r.model.heatOf(*d)
		}
	}
	if used < leastPoints {
		return r, fmt.Errorf("%w: %d days can be used, %d are wanted%s", ErrTooLittle, used, leastPoints, firstWhy(days))
	}
	r.moves = a.moves(g, &r.model)
	if err := r.fit(r.moves); err != nil {
		return r, err
	}
	if err := r.uncertainty(r.moves); err != nil {
		return r, err
	}
	r.compare()
	r.steps()
	return r, nil
}

// model gathers what the reduction needs.
func (a *analyser) model(g *grid, days []Day) model {
	room := a.in.Room
	m := model{
		conductances: a.conductances(), sideOffsets: make([]float64, len(room.Sides)), late: make([]int, len(room.Sides)), capacity: 1,
		light: float64(room.Light), bottles: float64(room.Bottles),
		inside: float64(room.Inside), insideU: float64(room.InsideUncertainty) / 2,
		heat: a.in.Unit.Capacity != nil,
	}
	for j := range m.late {
		m.late[j] = 1
	}
	if n := len(days); n > 0 && m.heat {
		if water, ok := Drained(a.in.Water, days[0].From.Add(-12*time.Hour), days[n-1].From.Add(36*time.Hour)); ok {
			m.latent = water * vaporize / day
			m.weighed = weighDays(days, a.in.Water, water)
		} else {
			m.insideU = 0 // the days' heat then holds latent heat
		}
	}
	a.designOf(&m, days)
	return m
}

// fit fits the line, held at the heat inside when that is known and the days do
// not contradict it. How far the days can be trusted against it is told by their
// scatter and by all that is not scatter.
func (r *Signature) fit(moves []move) error {
	m := &r.model
	l, err := m.fit(r.Days)
	if err != nil {
		return err
	}
	r.Line = l
	v00, v01 := l.c00, l.c01
	for _, x := range moves {
		moved, err := m.moved(x).fit(r.Days)
		if err != nil {
			return err
		}
		d := x.part * (moved.Intercept - l.Intercept)
		v00, v01 = v00+d*d, v01+d*x.part*(moved.Slope-l.Slope)
	}
	u := m.insideU
	switch {
	case !m.heat:
	case !(u > 0):
		r.Notes = append(r.Notes, "the heat inside is not known, or the condensate not weighed: the line rests on the days alone")
	case !l.Agrees(m.inside, math.Sqrt(u*u+v00-l.c00)):
		r.Notes = append(r.Notes, fmt.Sprintf("the days give a base load of %.0f W where fan and lights give %.0f W: heat inside, or water, that is not accounted for; the line rests on the days alone", l.Intercept, m.inside))
	default:
		m.anchored, m.gain = true, gain{v00 / (v00 + u*u), v01 / (v00 + u*u)}
		r.Line = l.held(m.gain, m.inside, u)
	}
	return nil
}

func (r *Signature) compare() {
	if !r.model.heat {
		return
	}
	limit := r.Designed * tolerance
	switch {
	case r.UA.High <= limit*(1+1e-9):
		r.Compared = units.Pass
	case r.UA.Low > limit:
		r.Compared = units.Fail
	}
}

func (r *Signature) steps() {
	const source = "least squares of daily means (this log)"
	l, unit := r.Line, "W"
	if !r.model.heat {
		unit = "of the running unit"
	}
	r.Steps = []Step{
		{Name: "days", Formula: "90 % of the hours known", Value: fmt.Sprintf("%d of %d", l.N, len(r.Days)), Source: source},
		{Name: "difference of temperatures", Formula: "x = Σ w_j·T_j − T_r", Value: fmt.Sprintf("%.2f to %.2f K", l.MinX, l.MaxX), Source: "loggers; w_j = U_jA_j/ΣUA as designed"},
		{Name: "slope", Formula: "b1 = Sxy/Sxx", Value: fmt.Sprintf("%.4g ± %.2g %s/K by scatter", l.Slope, l.SlopeHalf(), unit), Source: source},
		{Name: "intercept", Formula: "b0 = ȳ − b1·x̄", Value: fmt.Sprintf("%.4g ± %.2g %s", l.Intercept, l.InterceptHalf(), unit), Source: source},
		{Name: "scatter", Formula: "s² = SSE/(n − 2)", Value: fmt.Sprintf("%.3g %s, R² %.3f", l.S, unit, l.R2), Source: source},
		{Name: "autocorrelation", Formula: "n′ = n·(1 − ρ1)/(1 + ρ1)", Value: fmt.Sprintf("ρ1 %.2f, n′ %.1f of %d", l.Lag1, l.Effective, l.N), Source: "ASHRAE Guideline 14 (from memory)"},
	}
	if r.model.anchored {
		r.Steps = append(r.Steps, Step{Name: "held at the heat inside", Formula: "generalized least squares", Value: fmt.Sprintf("%.0f ± %.0f W, latent %.0f W taken off", r.model.inside, 2*r.model.insideU, r.Latent), Source: "labels of fan and lights; drain"})
	}
	for _, c := range r.Budget {
		r.Steps = append(r.Steps, Step{Name: "uncertainty: " + c.Name, Value: fmt.Sprintf("± %.2g W/K, ± %.1f %% duty", c.UA, 100*c.Duty), Source: "moved by its standard uncertainty"})
	}
	if r.UA.Known() {
		r.Steps = append(r.Steps, Step{Name: "UA", Value: fmt.Sprintf("%.2f W/K (%.2f to %.2f), designed %.2f", r.UA.Value, r.UA.Low, r.UA.High, r.Designed), Source: "95 %"})
	}
}

package proof

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/cooling"
	"proveout/checks/logs"
	"proveout/checks/units"
)

// Day is one day of the energy signature.
type Day struct {
	From       time.Time
	Outside    units.Temperature           // Σ w_j·T_j, as the walls pass it on
	Room       units.Temperature           // mean of the room
	Intake     units.Temperature           // mean of the condenser's intake
	Difference units.TemperatureDifference // x
	Duty       float64                     // mean
	// Heat is what the unit took out, without latent heat and corrected for heat
	// stored: y, in W; in shares of the running unit when its capacity is not known.
	Heat   float64
	Stored units.Power // correction that Heat contains
	Used   bool
	Why    string // when it is not used

	sides [3][]float64 // means of each side as the walls pass it on: at once, late, very late
	cap   float64      // Σ duty·Q/24 with Q of the maker
	// latent is the heat of the day's condensate over that of an average day, W; 0
	// where it was not weighed.
	latent float64
	coil   float64 // K, of the room while the unit runs over its mean
	drift  [2]float64
}

// leastOfDay is the share of a day's hours that must be known.
const leastOfDay = 0.9

// wallLag is how late a wall answers to what is outside: between 0 and twice this,
// by its heat capacity (assumed; frame walls 1 to 3 h, masonry 8 and more).
const wallLag = 4 * time.Hour

// days cuts a grid of hours, from hour first on, into days.
func (a *analyser) days(g *grid, first int, except []logs.TimeSpan) []Day {
	conductances := a.conductances()
	var felt [3][][]float64
	for k := range felt {
		for _, s := range g.sides {
			felt[k] = append(felt[k], lagged(s, g.step, wallLag*time.Duration(k)))
		}
	}
	var days []Day
	for i := first; i+24 <= g.n; i += 24 {
		d := Day{From: g.span(i, 24).From}
		for k := range felt {
			for _, s := range felt[k] {
				m := math.NaN()
				if s != nil {
					m, _ = mean(s[i : i+24])
				}
				d.sides[k] = append(d.sides[k], m)
			}
		}
		a.sum(&d, g, i, conductances)
		if d.Why == "" && overlaps(g.span(i, 24), except) {
			d.Why = "left out: visitors, restocking or an open door"
		}
		d.Used = d.Why == ""
		days = append(days, d)
	}
	return days
}

// lagged smooths exponentially: what a wall passes on of the temperature behind
// it. Over a gap it keeps the last value.
func lagged(values []float64, step, lag time.Duration) []float64 {
	if lag <= 0 || values == nil {
		return values
	}
	keep, felt := math.Exp(-step.Seconds()/lag.Seconds()), math.NaN()
	out := make([]float64, len(values))
	for i, v := range values {
		switch {
		case felt != felt:
			felt = v
		case v == v:
			felt = keep*felt + (1-keep)*v
		}
		out[i] = felt
	}
	return out
}

// sum fills a day from its hours.
func (a *analyser) sum(d *Day, g *grid, i int, conductances []float64) {
	var room, intake, duty, cap, below float64
	n := 0
	for k := i; k < i+24; k++ {
		if !finite(g.room[k], g.outside(k, conductances), g.duty[k]) {
			continue
		}
		q, t, err := a.capacityAt(g, k)
		if err != nil {
			d.Why = err.Error()
			return
		}
		if !finite(q) {
			continue
		}
		n++
		room, intake = room+g.room[k], intake+t
		duty, cap = duty+g.duty[k], cap+g.duty[k]*q
		below += g.duty[k] * (g.coil[k] - g.room[k])
	}
	if float64(n) < leastOfDay*24 {
		d.Why = fmt.Sprintf("%d of 24 hours are known; 22 are wanted", n)
		return
	}
	f := float64(n)
	d.Room, d.Intake = units.Temperature(room/f), units.Temperature(intake/f)
	d.Duty, d.cap = duty/f, cap/f
	if duty > 0 {
		d.coil = below / duty
	}
	d.drift[0] = change(g.room, i)
	d.drift[1] = d.drift[0]
	if g.bottle != nil {
		d.drift[1] = change(g.bottle, i)
	}
}

// capacityAt is the unit's capacity in hour k and the intake temperature.
func (a *analyser) capacityAt(g *grid, k int) (q, intake float64, err error) {
	if intake = g.intake[k]; !finite(intake) {
		return math.NaN(), intake, nil
	}
	power, err := a.capacity(units.Temperature(g.coil[k]), units.Temperature(intake))
	return float64(power), intake, err
}

func (a *analyser) capacity(room, intake units.Temperature) (units.Power, error) {
	u := a.in.Unit
	if u.LeastIntake != 0 {
		intake = max(intake, u.LeastIntake)
	}
	if u.Capacity == nil {
		return a.usualUnit().At(room, intake)
	}
	return u.Capacity.At(room, intake)
}

// usualUnit stands for a unit whose capacity is not known: 1 W at the design day,
// and from there as an air-cooled unit with R134a to R513A goes (slopes and coil
// as package cooling gives them, computed).
func (a *analyser) usualUnit() cooling.Rating {
	r := cooling.Rating{Capacity: 1, Room: a.in.Room.Set, Outdoor: 35, Difference: 8.5, Slopes: cooling.Slopes{Evaporating: 0.041, Condensing: 0.0145}}
	if a.in.Design != nil {
		r.Outdoor = a.in.Design.Intake
	}
	return r
}

// change is how far a temperature moved over a day: the hours around its end less
// those around its beginning; 0 when they are not known.
func change(values []float64, i int) float64 {
	edge := func(k int) float64 {
		v, _ := mean(values[max(0, k-1):min(len(values), k+1)])
		return v
	}
	if d := edge(i+24) - edge(i); finite(d) {
		return d
	}
	return 0
}

func (a *analyser) conductances() []float64 {
	var c []float64
	for _, s := range a.in.Room.Sides {
		c = append(c, float64(s.Conductance))
	}
	return c
}

// weighDays gives each day its own condensate, and reports whether most have one.
func weighDays(days []Day, water []Water, perDay float64) bool {
	own, used := 0, 0
	for i := range days {
		d := &days[i]
		if d.Used {
			used++
		}
		mass, seen := 0.0, 0.0
		for _, w := range water {
			length := w.Span.To.Sub(w.Span.From).Seconds()
			from, to := max(w.Span.From.Unix(), d.From.Unix()), min(w.Span.To.Unix(), d.From.Unix()+86400)
			// A bucket that stood for days does not tell them apart.
			if to > from && length <= 1.5*day && w.Mass >= 0 {
				mass += float64(w.Mass) * float64(to-from) / length
				seen += float64(to - from)
			}
		}
		if seen >= 0.7*day && d.Used {
			d.latent = (mass/seen*day - perDay) * vaporize / day
			own++
		}
	}
	return own*5 >= used*4
}

func firstWhy(days []Day) string {
	for _, d := range days {
		if !d.Used {
			return "; " + d.From.Format("2 January") + ": " + d.Why
		}
	}
	return ""
}

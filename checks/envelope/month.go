package envelope

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// yearSpace is the part of a workspace that a year needs: values by month and
// site or node.
type yearSpace struct {
	months   []Month
	r        []float64     // month × slab, air layers differ
	θ        []float64     // month × node
	psat     []float64     // month × node
	mean     []float64     // p of the sites, mean over the month at hand
	history  []SurfaceMass // month × site
	masses   []SurfaceMass // site × month
	begin    []float64     // mass per site at the start of the year
	growth   []float64
	balances []MonthBalance
	planes   []PlaneBalance
}

// prepare computes films, temperatures and saturation pressures of all months.
func (w *Workspace) prepare(a Assembly, face Face, months []Month) error {
	if len(months) == 0 || len(months) > 366 {
		return fmt.Errorf("%d months; give 12, or 1 to 366 steps that make up a year", len(months))
	}
	if err := w.load(a); err != nil {
		return err
	}
	y, slabs, nodes := &w.year, len(w.r), len(w.places)
	y.months, y.balances = months, sized(y.balances, len(months))
	y.r = sized(y.r, len(months)*slabs)
	y.θ, y.psat = sized(y.θ, len(months)*nodes), sized(y.psat, len(months)*nodes)
	y.history = sized(y.history, len(months)*len(w.x))
	y.mean, y.begin, y.growth = sized(y.mean, len(w.x)), sized(y.begin, len(w.x)), sized(y.growth, len(w.x))
	for m := range months {
		if err := w.prepareMonth(face, m); err != nil {
			return fmt.Errorf("month %d, %q: %w", m+1, months[m].Name, err)
		}
		copy(y.r[m*slabs:], w.r)
		copy(y.θ[m*nodes:], w.θ)
		copy(y.psat[m*nodes:], w.psat)
	}
	return nil
}

func (w *Workspace) prepareMonth(face Face, m int) error {
	month, b := &w.year.months[m], &w.year.balances[m]
	if !(month.Days > 0 && month.Days <= 366) {
		return fmt.Errorf("%v days; give the number of days, 28 to 31", month.Days)
	}
	if month.Films != nil {
		b.Films = *month.Films
	} else {
		films, err := SurfaceResistances(face, month.Other.Temperature, month.Room.Temperature)
		if err != nil {
			return err
		}
		b.Films = films
	}
	_, flux, err := w.heat(b.Films, month.Other, month.Room)
	if err != nil {
		return err
	}
	b.HeatFlux = flux
	b.OtherSideWet, b.RoomWet = w.surfaceWet(month.Other, month.Room)
	return nil
}

// turnTo brings back what prepare computed for a month.
func (w *Workspace) turnTo(m int) {
	copy(w.r, w.year.r[m*len(w.r):])
	copy(w.θ, w.year.θ[m*len(w.θ):])
	copy(w.psat, w.year.psat[m*len(w.psat):])
	w.setLimits()
}

func (w *Workspace) total() float64 {
	var sum float64
	for _, m := range w.mass {
		sum += m
	}
	return sum
}

// month moves the masses through one month, ending parts of it where a plane
// dries, and fills its balance.
func (w *Workspace) month(m int) error {
	w.turnTo(m)
	y, b := &w.year, &w.year.balances[m]
	length := y.months[m].Days * 86400
	b.In, b.Out = 0, 0
	clear(y.mean)
	left := length
	for range 4*len(w.x) + 16 {
		if err := w.balance(float64(y.months[m].Other.VaporPressure), float64(y.months[m].Room.VaporPressure)); err != nil {
			return err
		}
		dt := w.untilDry(left)
		w.advance(dt, dt/length, b)
		if left -= dt; left <= 0 {
			w.finish(m, b)
			return nil
		}
	}
	return errors.New("a plane dries and wets without end within a month; report this wall")
}

// untilDry returns the time until the first plane has dried, at most left.
func (w *Workspace) untilDry(left float64) float64 {
	for s, g := range w.rate {
		if g < 0 && w.mass[s] > 0 {
			left = min(left, w.mass[s]/-g)
		}
	}
	return left
}

// advance adds dt seconds, a share of the month.
func (w *Workspace) advance(dt, share float64, b *MonthBalance) {
	b.In += SurfaceMass(w.in() * dt)
	b.Out += SurfaceMass(w.out() * dt)
	for s, g := range w.rate {
		w.mass[s] += g * dt
		if g < 0 && w.mass[s] < 1e-14 {
			w.mass[s] = 0
		}
		w.year.mean[s] += share * w.p[s]
	}
	last := len(w.x) - 1
	w.year.mean[0], w.year.mean[last] = w.p[0], w.p[last]
}

// finish notes the masses and the wettest concealed plane.
func (w *Workspace) finish(m int, b *MonthBalance) {
	row := w.year.history[m*len(w.x):]
	for s, mass := range w.mass {
		row[s] = SurfaceMass(mass)
	}
	b.Mass = SurfaceMass(w.total())
	b.Wettest = WettestPlace{Month: m, Humidity: units.RelativeHumidity(math.Inf(-1))}
	for j := 1; j < len(w.places)-1; j++ {
		φ := units.RelativeHumidity(100 * w.year.mean[w.site[j]] / w.psat[j])
		if φ > b.Wettest.Humidity {
			b.Wettest.Humidity, b.Wettest.Place = φ, w.places[j]
		}
	}
	if len(w.places) < 3 {
		b.Wettest.Humidity = 0 // one slab: nothing is concealed
	}
}

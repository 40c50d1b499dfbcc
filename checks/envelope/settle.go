package envelope

import (
	"errors"
	"math"
)

// dryMass is the condensate below which a plane counts as dry, kg/m²: a
// microgram, float noise and no more.
const dryMass = 1e-9

func (w *Workspace) anySurfaceWet() bool {
	for i := range w.year.balances {
		if w.year.balances[i].OtherSideWet || w.year.balances[i].RoomWet {
			return true
		}
	}
	return false
}

// firstWet computes every month from dry and returns the first that condenses
// after one that does not; month 0 if all do.
func (w *Workspace) firstWet() (start int, wet bool, err error) {
	n := len(w.year.months)
	first, dry := -1, false
	before := false
	for k := range n + 1 { // once round and the first again, for the wrap
		m := k % n
		clear(w.mass)
		if err := w.month(m); err != nil {
			return 0, false, err
		}
		now := w.total() > dryMass
		if now && !before && k > 0 && first < 0 {
			first = m
		}
		wet, dry, before = wet || now, dry || !now, now
	}
	if wet && dry {
		return first, true, nil
	}
	return 0, wet, nil
}

func wettest(months []MonthBalance) WettestPlace {
	best := months[0].Wettest
	for i := range months {
		if months[i].Wettest.Humidity > best.Humidity {
			best = months[i].Wettest
		}
	}
	return best
}

// maxYears bounds the repetition. Evaporation does not depend on the mass, and
// from dry the masses only rise from year to year, so each repetition adds at
// least one month in which a plane stays wet.
const maxYears = 60

// settle runs years from dry until one returns to itself or grows by the same
// amount as the one before. When it grows, the balances are those of the first
// year, which is how the standard counts.
func (w *Workspace) settle(start int) error {
	y := &w.year
	clear(w.mass)
	for range maxYears {
		copy(y.begin, w.mass)
		if err := w.run(start); err != nil {
			return err
		}
		returned, steady := true, true
		for s, mass := range w.mass {
			growth := mass - y.begin[s]
			returned = returned && math.Abs(growth) <= dryMass
			steady = steady && math.Abs(growth-y.growth[s]) <= dryMass
			y.growth[s] = growth
		}
		if returned {
			return nil
		}
		if steady {
			clear(w.mass)
			return w.run(start)
		}
	}
	return errors.New("the balance does not settle from year to year; report this wall")
}

func (w *Workspace) run(start int) error {
	n := len(w.year.months)
	for k := range n {
		if err := w.month((start + k) % n); err != nil {
			return err
		}
	}
	return nil
}

// judge lists the planes and gives the verdict.
func (w *Workspace) judge(b *YearBalance) {
	y, sites := &w.year, len(w.x)
	planes := y.planes[:0]
	y.masses = sized(y.masses, sites*len(y.months))
	b.Verdict = DriesOut
	for s := range sites {
		p := PlaneBalance{Growth: SurfaceMass(max(0, y.growth[s]))}
		p.Mass = y.masses[s*len(y.months) : (s+1)*len(y.months)]
		driest := SurfaceMass(math.Inf(1))
		for m := range y.months {
			mass := y.history[m*sites+s]
			p.Mass[m] = mass
			driest = min(driest, mass)
			if mass > p.Peak {
				p.Peak, p.PeakMonth = mass, m
			}
		}
		if p.Peak <= dryMass {
			continue
		}
		w.turnTo(p.PeakMonth)
		p.Place = w.placeOf(s)
		p.Limit, p.Rule = b.Assembly.CondensateLimit(p.Place)
		b.Verdict = worse(b.Verdict, p.verdict(driest))
		planes = append(planes, p)
	}
	y.planes, b.Planes = planes, planes
	for m := range b.Months {
		if b.Months[m].Mass > b.Peak {
			b.Peak, b.PeakMonth = b.Months[m].Mass, m
		}
	}
	if b.Peak > generalLimit*(1+slack) {
		b.Verdict = worse(b.Verdict, TooWet)
	}
}

// verdict judges one plane by its least mass at the end of a month.
func (p PlaneBalance) verdict(driest SurfaceMass) YearVerdict {
	switch {
	case driest > dryMass || p.Growth > dryMass:
		return StaysWet
	case p.Rule == NoDensityRule:
		return Undecided
	case p.Peak > p.Limit*(1+slack):
		return TooWet
	}
	return DriesOut
}

// worse returns the worse of two verdicts: undecided is worse than a pass and
// better than a failure.
func worse(a, b YearVerdict) YearVerdict {
	rank := [...]int{NeverWet: 0, DriesOut: 1, Undecided: 2, TooWet: 3, StaysWet: 4, SurfaceWet: 5}
	if rank[b] > rank[a] {
		return b
	}
	return a
}

package envelope

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/units"
)

// Month is one step of a yearly balance: mean conditions on both sides.
type Month struct {
	Name        string
	Days        float64
	Other, Room Air
	// Films overrides the surface resistances that follow from the face and
	// the direction of heat.
	Films *Films
}

// monthNames and monthDays are a common year's.
var (
	monthNames = [12]string{"January", "February", "March", "April", "May", "June",
		"July", "August", "September", "October", "November", "December"}
	monthDays = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
)

// SteadyYear returns twelve months of the same conditions, as for a partition
// inside a house that is heated and cooled all year.
func SteadyYear(other, room Air) []Month {
	months := make([]Month, 12)
	for i := range months {
		months[i] = Month{Name: monthNames[i], Days: monthDays[i], Other: other, Room: room}
	}
	return months
}

// MonthBalance is one month of a yearly balance.
type MonthBalance struct {
	Films        Films
	HeatFlux     float64      // W/m², into the room
	OtherSideWet bool         // the surface on the other side is below dew point
	RoomWet      bool         // the surface in the room is below dew point
	Mass         SurfaceMass  // condensate in all planes at the end of the month
	In, Out      SurfaceMass  // vapor from the other side in; into the room
	Wettest      WettestPlace // concealed, mean over the month
}

// WettestPlace is a concealed plane with its mean humidity in one month.
type WettestPlace struct {
	Place    Place
	Month    int // index into the months given
	Humidity units.RelativeHumidity
}

// PlaneBalance is one plane that condenses in a year.
type PlaneBalance struct {
	Place     Place
	Mass      []SurfaceMass // at the end of each month given
	Peak      SurfaceMass
	PeakMonth int
	Growth    SurfaceMass // left over and added each year
	Limit     SurfaceMass // what the plane may hold, DIN 4108-3
	Rule      LimitRule
}

// YearVerdict says what becomes of condensate over the year. The zero value is
// undecided.
type YearVerdict int

const (
	// Undecided: nothing has been computed, or a limit could not be.
	Undecided YearVerdict = iota
	// NeverWet: no plane condenses in any month.
	NeverWet
	// DriesOut: planes condense and are dry again within the year, with less
	// condensate than the limits.
	DriesOut
	// TooWet: planes dry out within the year, but hold more than the limits.
	TooWet
	// StaysWet: condensate is left over at the end of the year.
	StaysWet
	// SurfaceWet: in some month a surface is below the dew point of its air;
	// the balance inside would mean nothing.
	SurfaceWet
)

func (v YearVerdict) String() string {
	names := [...]string{"undecided", "never wet", "dries out within the year", "dries out, but holds too much", "stays wet", "surface condensation"}
	if v < 0 || int(v) >= len(names) {
		return fmt.Sprintf("verdict %d", int(v))
	}
	return names[v]
}

// Passes reports whether the verdict is one to build by. The method knows no
// air movement and no rain: passing is necessary, not sufficient.
func (v YearVerdict) Passes() bool { return v == NeverWet || v == DriesOut }

// YearBalance is the moisture balance of an assembly over a year of months.
type YearBalance struct {
	Verdict   YearVerdict
	Start     int // first wet month after a dry one, from which the year is counted
	Months    []MonthBalance
	Planes    []PlaneBalance
	Peak      SurfaceMass // greatest sum over all planes
	PeakMonth int
	Wettest   WettestPlace // over the year
	Assembly  Assembly
}

// Year balances condensation and drying over a year of months, which may start
// anywhere (ISO 13788:2012, clause 6). Surface resistances follow each month
// from the face and the direction of heat. The year is counted from the first
// wet month after a dry one and repeated until it returns to itself or grows by
// the same amount each time.
func Year(a Assembly, face Face, months []Month) (YearBalance, error) {
	var w Workspace
	return w.Year(a, face, months)
}

// yearSpace is the part of a workspace that a year needs: values by month and
// site or node.
type yearSpace struct {
	months   []Month
	seconds  []float64
	films    []Films
	flux     []float64
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

// dryMass is the condensate below which a plane counts as dry, kg/m²: a
// microgram, float noise and no more.
const dryMass = 1e-9

// Year is as the function Year, in the memory of the workspace.
func (w *Workspace) Year(a Assembly, face Face, months []Month) (YearBalance, error) {
	if err := w.prepare(a, face, months); err != nil {
		return YearBalance{}, err
	}
	b := YearBalance{Months: w.year.balances, Assembly: a}
	if w.anySurfaceWet() {
		b.Verdict = SurfaceWet
		return b, nil
	}
	start, wet, err := w.firstWet()
	if err != nil {
		return YearBalance{}, err
	}
	b.Start = start
	if !wet {
		b.Verdict = NeverWet
		b.Wettest = wettest(b.Months)
		return b, nil
	}
	if err := w.settle(start); err != nil {
		return YearBalance{}, err
	}
	b.Wettest = wettest(b.Months)
	w.judge(&b)
	return b, nil
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

func wettest(months []MonthBalance) WettestPlace {
	best := months[0].Wettest
	for i := range months {
		if months[i].Wettest.Humidity > best.Humidity {
			best = months[i].Wettest
		}
	}
	return best
}

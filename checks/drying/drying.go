// Package drying reads the moisture log of one marked point: whether it falls, when
// it will be dry, and whether it is.
//
// Wood that dries in steady air loses moisture towards the balance with that air,
//
//	M(t) = Mb + (M0 − Mb)·e^(−k·t)
//
// so ln(M − Mb) falls on a straight line, which least squares find. Mb is what wood
// of the same kind holds at a dry place of the house, or the balance with the air
// (package wood). The date at which the line reaches the goal is a forecast: it
// holds while the equipment runs as it did, and a new reading replaces it.
//
// Daily readings of the same marks with the same meter are the text of IICRC S500
// (quoted); two days running at or below the goal is common practice.
package drying

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"proveout/checks/units"
)

// Reading is one reading of a mark.
type Reading struct {
	Time     time.Time
	Moisture units.Percent // 4 to 100 %
}

// Mark is the log of one marked point.
type Mark struct {
	Readings []Reading     // in any order
	Goal     units.Percent // 5 to 40 %
	Balance  units.Percent // what it tends to, 0 when not known
}

// Course says where a mark stands.
type Course int

// The courses.
const (
	Unclear Course = iota // too few readings, or all at once
	Rising                // the newest reading is above the one before
	Falling               // it dries, and is not there yet
	Once                  // the newest reading is at the goal, the one before was not
	Dry                   // at the goal on two days running
)

func (c Course) String() string {
	return [...]string{"unclear", "rising", "falling", "at the goal once", "dry"}[c]
}

// Trend is what a log says.
type Trend struct {
	Course Course
	Last   Reading
	Fell   units.Percent // from the first reading to the last
	Span   time.Duration // between them
	// Rose is the greatest rise from one reading to the next, 0 for none.
	Rose units.Percent
	// Rate is k in 1/day; 0 where no line can be laid.
	Rate float64
	// DryOn is when the line reaches the goal; zero where it does not.
	DryOn time.Time
	Steps []units.Step
}

// aDay is how far apart two readings must lie to be of two days: a day, less four
// hours for crews that come earlier (our choice).
const aDay = 20 * time.Hour

// Trend reads the log. A reading that is missing, not finite or out of range is an
// error, as are two readings at one time; too few readings are Unclear.
func (m Mark) Trend() (Trend, error) {
	if err := m.valid(); err != nil {
		return Trend{}, fmt.Errorf("drying log: %w", err)
	}
	log := slices.Clone(m.Readings)
	slices.SortFunc(log, func(a, b Reading) int { return a.Time.Compare(b.Time) })
	for i := range log[1:] {
		if log[i].Time.Equal(log[i+1].Time) {
			return Trend{}, fmt.Errorf("drying log: two readings at %s", log[i].Time.Format("2006-01-02 15:04"))
		}
	}
	first, last := log[0], log[len(log)-1]
	t := Trend{Last: last, Fell: first.Moisture - last.Moisture, Span: last.Time.Sub(first.Time)}
	for i := range log[1:] {
		t.Rose = max(t.Rose, log[i+1].Moisture-log[i].Moisture)
	}
	t.Course = m.course(log)
	t.Rate, t.DryOn = m.line(log)
	t.Steps = m.steps(log, t)
	return t, nil
}

func (m Mark) course(log []Reading) Course {
	if len(log) < 2 || log[len(log)-1].Time.Sub(log[0].Time) < aDay {
		return Unclear
	}
	last := log[len(log)-1]
	before := m.dayBefore(log)
	switch {
	case last.Moisture > log[len(log)-2].Moisture && !m.reached(last):
		return Rising
	case m.reached(last) && m.reached(before):
		return Dry
	case m.reached(last):
		return Once
	case last.Moisture > before.Moisture:
		return Rising
	}
	return Falling
}

// dayBefore is the newest reading that is a day older than the last.
func (m Mark) dayBefore(log []Reading) Reading {
	last := log[len(log)-1]
	for i := len(log) - 2; i >= 0; i-- {
		if last.Time.Sub(log[i].Time) >= aDay {
			return log[i]
		}
	}
	return log[0]
}

func (m Mark) reached(r Reading) bool {
	const slack = 1e-9
	return float64(r.Moisture) <= float64(m.Goal)*(1+slack)
}

// line lays ln(M − Mb) = a − k·t through the readings above the balance.
func (m Mark) line(log []Reading) (rate float64, dryOn time.Time) {
	var n, sx, sy, sxx, sxy float64
	for _, r := range log {
		if r.Moisture <= m.Balance {
			continue
		}
		x, y := r.Time.Sub(log[0].Time).Hours()/24, math.Log(float64(r.Moisture-m.Balance))
		n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
	}
	spread := n*sxx - sx*sx
	if n < 2 || spread <= 0 {
		return 0, time.Time{}
	}
	slope := (n*sxy - sx*sy) / spread
	if !(slope < 0) || m.Goal <= m.Balance {
		return -slope, time.Time{}
	}
	days := (math.Log(float64(m.Goal-m.Balance)) - (sy-slope*sx)/n) / slope
	if days > 365 {
		return -slope, time.Time{}
	}
	return -slope, log[0].Time.Add(time.Duration(days * 24 * float64(time.Hour)))
}

func (m Mark) steps(log []Reading, t Trend) []units.Step {
	const source = "exponential drying, least squares on ln(M − Mb)"
	steps := []units.Step{
		{Name: "first reading", Value: fmt.Sprintf("%.4g %%, %s", log[0].Moisture, log[0].Time.Format("2006-01-02 15:04")), Source: "reading"},
		{Name: "last reading", Value: fmt.Sprintf("%.4g %%, %s", t.Last.Moisture, t.Last.Time.Format("2006-01-02 15:04")), Source: "reading"},
		{Name: "readings", Value: fmt.Sprintf("%d in %.1f days", len(log), t.Span.Hours()/24), Source: "reading"},
		{Name: "balance", Value: fmt.Sprintf("%.4g %%", m.Balance), Source: "dry reference, or balance with the air"},
		{Name: "course", Value: t.Course.String(), Source: "daily readings: IICRC S500 (quoted); two days at the goal: common practice"},
	}
	if t.Rate != 0 {
		steps = append(steps, units.Step{Name: "rate", Formula: "slope of ln(M − Mb)", Value: fmt.Sprintf("%.3f a day", t.Rate), Source: source})
	}
	if !t.DryOn.IsZero() {
		steps = append(steps, units.Step{Name: "at the goal by this line", Value: t.DryOn.Format("2006-01-02 15:04"), Source: source})
	}
	return steps
}

func (m Mark) valid() error {
	err := errors.Join(units.Within("goal", float64(m.Goal), 5, 40, "%"), units.Within("balance", float64(m.Balance), 0, 40, "%"))
	if len(m.Readings) == 0 {
		err = errors.Join(err, errors.New("no reading"))
	}
	for _, r := range m.Readings {
		err = errors.Join(err, units.Within("moisture", float64(r.Moisture), 4, 100, "%"))
		if r.Time.IsZero() {
			err = errors.Join(err, errors.New("a reading has no time"))
		}
	}
	return err
}

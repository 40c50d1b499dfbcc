package airflow

import (
	"errors"
	"fmt"
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// Leakage is the leakage of a room at the reference air of a method.
type Leakage struct {
	Fit     PowerLaw
	Density humidair.MassPerVolume // of the reference air
}

// At returns the flow at a pressure difference above 0.
func (l Leakage) At(p units.Pressure) units.Airflow { return l.Fit.At(p) }

// EffectiveArea returns the opening with a discharge coefficient of 1 that would
// pass the same at the reference pressure: C·√(ρ0/2)·Δp^(n−½). ASTM E779 takes
// 4 Pa, others 10 Pa.
func (l Leakage) EffectiveArea(p units.Pressure) units.Area {
	return units.Area(l.Fit.Coefficient * math.Sqrt(float64(l.Density)/2) * math.Pow(float64(p), l.Fit.Exponent-0.5))
}

// Cracks returns the leakage for the stack of a cold room of a height.
func (l Leakage) Cracks(height units.Length) Cracks {
	return Cracks{Coefficient: l.Fit.Coefficient, Exponent: l.Fit.Exponent, Height: height}
}

// Extent is the size of a room as it is tested.
type Extent struct {
	Volume   units.Volume // inside
	Envelope units.Area   // inside surface of walls, ceiling and floor
	Floor    units.Area
}

// Derived are the quantities of ISO 9972:2015, 6.3 (clause number from memory).
type Derived struct {
	Flow         units.Airflow // q50
	AirChange    float64       // n50, 1/h
	Permeability float64       // q_E50, m³/(h·m²)
	PerFloor     float64       // q_F50, m³/(h·m²)
}

// Derive relates the flow at 50 Pa to the size of the room.
func (l Leakage) Derive(e Extent) (Derived, error) {
	err := errors.Join(
		within("volume", float64(e.Volume), 0.1, 1e5, "m³"),
		within("envelope area", float64(e.Envelope), 0.1, 1e5, "m²"),
		within("floor area", float64(e.Floor), 0.1, 1e5, "m²"),
	)
	if err != nil {
		return Derived{}, fmt.Errorf("room: %w", err)
	}
	q := l.At(50)
	perHour := float64(q) * 3600
	return Derived{q, perHour / float64(e.Volume), perHour / float64(e.Envelope), perHour / float64(e.Floor)}, nil
}

// Both returns the mean of the two directions: of the flows at 4 and 50 Pa, through
// which a power law is drawn. Standards ask for both since flaps and gaskets open
// one way. The intervals of one more fit are not known: they are the wider one's.
func Both(a, b FanResult) (Leakage, error) {
	if a.Direction == b.Direction || a.Direction == 0 || b.Direction == 0 {
		return Leakage{}, fmt.Errorf("both directions are wanted: got %v and %v", a.Direction, b.Direction)
	}
	if a.Leakage.Density != b.Leakage.Density {
		return Leakage{}, errors.New("the two directions were worked out by two methods; use one")
	}
	mean := func(p units.Pressure) float64 { return float64(a.Leakage.At(p)+b.Leakage.At(p)) / 2 }
	l := a.Leakage
	if b.Leakage.Fit.half(50) > l.Fit.half(50) {
		l = b.Leakage
	}
	l.Fit.Exponent = math.Log(mean(50)/mean(4)) / math.Log(50.0/4)
	l.Fit.Coefficient = mean(50) / math.Pow(50, l.Fit.Exponent)
	l.Fit.R2 = min(a.Leakage.Fit.R2, b.Leakage.Fit.R2)
	return l, nil
}

// Change compares the leakage at 50 Pa of a room as found with the same as rebuilt.
type Change struct {
	Found, Rebuilt units.Airflow
	// Share is what is left, rebuilt over found; Low and High its 95 % interval by
	// the scatter of both tests, 0 where one has fewer than three points.
	Share, Low, High float64
	Steps            []Step
}

// Proved reports whether the rebuilt room is tighter beyond the scatter.
func (c Change) Proved() bool { return c.High > 0 && c.High < 1 }

// Rebuilt compares the leakage as found with that as rebuilt.
func (l Leakage) Rebuilt(rebuilt Leakage) Change {
	c := Change{Found: l.At(50), Rebuilt: rebuilt.At(50)}
	c.Share = float64(c.Rebuilt / c.Found)
	left := fmt.Sprintf("%.1f %%", 100*c.Share)
	if l.Fit.Points > 2 && rebuilt.Fit.Points > 2 {
		half := math.Exp(math.Hypot(l.Fit.half(50), rebuilt.Fit.half(50)))
		c.Low, c.High = c.Share/half, c.Share*half
		left += fmt.Sprintf(", %.1f to %.1f %% (95 %%, scatter of both tests)", 100*c.Low, 100*c.High)
	}
	c.Steps = []Step{
		{Name: "as found, 50 Pa", Formula: "C·50^n", Value: flowText(c.Found), Source: "fan test as found"},
		{Name: "as rebuilt, 50 Pa", Formula: "C·50^n", Value: flowText(c.Rebuilt), Source: "fan test as rebuilt"},
		{Name: "left", Formula: "rebuilt / found", Value: left, Source: "quotient of two lognormal values"},
	}
	return c
}

func (t FanTest) steps(r FanResult) []Step {
	source := t.Method.String()
	low, high := r.Leakage.Fit.Between(50)
	f := r.Leakage.Fit
	return []Step{
		{Name: "direction", Value: r.Direction.String(), Source: "sign of the pressures"},
		{Name: "zero-flow pressure", Formula: "(before + after) / 2", Value: fmt.Sprintf("%.2f Pa", (t.Before.Mean+t.After.Mean)/2), Source: source},
		{Name: "density of room and house air", Formula: "p / (R·T), moist", Value: fmt.Sprintf("%.4f, %.4f kg/m³", t.Room.Density, t.House.Density), Source: "ASHRAE Fundamentals 2017 ch. 1"},
		{Name: "exponent n", Formula: "least squares of ln(flow) on ln Δp", Value: fmt.Sprintf("%.4f ± %.4f (95 %%), %d points, r² %.4f", f.Exponent, f.ExponentHalf, f.Points, f.R2), Source: source},
		{Name: "C of the envelope", Value: fmt.Sprintf("%.4f m³/(h·Pa^n)", r.Envelope*3600), Source: source},
		{Name: "C at reference air", Formula: t.Method.correctionText(), Value: fmt.Sprintf("%.4f m³/(h·Pa^n), %.1f to %.1f %% (95 %%)", f.Coefficient*3600, 100*math.Exp(-f.CoefficientHalf), 100*math.Exp(f.CoefficientHalf)), Source: source},
		{Name: "flow at 50 Pa", Formula: "C · 50^n", Value: fmt.Sprintf("%s, %s to %s (95 %%)", flowText(r.Leakage.At(50)), flowText(low), flowText(high)), Source: source},
		{Name: "effective leakage area at 4 and 10 Pa", Formula: "C·√(ρ0/2)·Δp^(n−½)", Value: fmt.Sprintf("%.1f and %.1f cm²", 1e4*r.Leakage.EffectiveArea(4), 1e4*r.Leakage.EffectiveArea(10)), Source: "ASTM E779"},
	}
}

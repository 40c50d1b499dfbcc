package airflow

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// FanTest is a fan pressurisation test of a room in one direction. Pressures are
// those of the room above the house: negative while the fan draws air out.
type FanTest struct {
	Method      Method
	Room, House State // the two airs; only temperature and density are used
	Height      units.Length
	// Before and After are the pressures with the fan sealed.
	Before, After ZeroFlow
	Readings      []FanReading
	// Smallest and Largest are the calibrated range of the fan as it was set up.
	Smallest, Largest units.Airflow
}

// ZeroFlow is the pressure across the envelope with the fan sealed. Positive and
// Negative are the means of the readings above and below zero; 0 where there
// were none.
type ZeroFlow struct {
	Mean, Positive, Negative units.Pressure
	Over                     time.Duration
}

// largest is the size of the largest of the means.
func (z ZeroFlow) largest() float64 {
	return max(math.Abs(float64(z.Mean)), math.Abs(float64(z.Positive)), math.Abs(float64(z.Negative)))
}

// FanReading is one pressure with the flow through the fan as its instrument
// states it, at the density of the air that passes the fan.
type FanReading struct {
	Pressure units.Pressure
	Flow     units.Airflow
}

// Direction is the way that the fan moves the air.
type Direction int

// The two directions.
const (
	Depressurization Direction = iota + 1
	Pressurization
)

func (d Direction) String() string {
	switch d {
	case Depressurization:
		return "depressurization"
	case Pressurization:
		return "pressurization"
	}
	return "no direction"
}

// FanPoint is a reading as it enters the regression.
type FanPoint struct {
	Pressure units.Pressure // across the envelope, zero flow taken off, above 0
	Flow     units.Airflow  // through the envelope
}

// FanResult is what a test in one direction gives.
type FanResult struct {
	Direction Direction
	Points    []FanPoint
	Envelope  float64 // C_env in m³/(s·Paⁿ), air as it was
	Fit       PowerLaw
	// Leakage is the fit at the reference air of the method.
	Leakage Leakage
	Steps   []Step
}

// Result works the test out. It returns an error for values that are missing, not
// finite or implausible; and Refusals, with the clause of each, for data that
// the method does not accept.
func (t FanTest) Result() (FanResult, error) {
	if err := t.valid(); err != nil {
		return FanResult{}, fmt.Errorf("fan test: %w", err)
	}
	if refusals := t.refuse(); refusals != nil {
		return FanResult{}, refusals
	}
	r := FanResult{Direction: t.direction(), Points: t.points()}
	r.Fit = fitPowerLaw(r.Points)
	if refusals := t.Method.refuseFit(r.Fit); refusals != nil {
		return FanResult{}, refusals
	}
	r.Envelope = r.Fit.Coefficient
	r.Leakage = Leakage{r.Fit, t.Method.Density()}
	r.Leakage.Fit.Coefficient *= t.correction(r.Fit.Exponent)
	r.Steps = t.steps(r)
	return r, nil
}

func (t FanTest) direction() Direction {
	if t.Readings[0].Pressure < 0 {
		return Depressurization
	}
	return Pressurization
}

// points takes the zero-flow pressure off and turns the fan's flow into that of
// the envelope, whose air has the density of the side it comes from.
func (t FanTest) points() []FanPoint {
	zero := (t.Before.Mean + t.After.Mean) / 2
	ratio := float64(t.Room.Density / t.House.Density)
	if t.direction() == Pressurization {
		ratio = 1 / ratio
	}
	points := make([]FanPoint, len(t.Readings))
	for i, r := range t.Readings {
		points[i] = FanPoint{
			Pressure: units.Pressure(math.Abs(float64(r.Pressure - zero))),
			Flow:     r.Flow * units.Airflow(ratio),
		}
	}
	return points
}

// correction turns C_env into the coefficient of the reference air: (ρ/ρ0)^(1−n)
// with the density of the air that passes the envelope, and in ASTM E779
// (μ/μ0)^(2n−1) of its viscosity.
func (t FanTest) correction(n float64) float64 {
	through := t.House
	if t.direction() == Pressurization {
		through = t.Room
	}
	c := math.Pow(float64(through.Density/t.Method.Density()), 1-n)
	if t.Method == E779 {
		c *= math.Pow(viscosity(through.Temperature)/viscosity(20), 2*n-1)
	}
	return c
}

// viscosity of air in Pa·s by Sutherland's law with the constants of the U.S.
// Standard Atmosphere, 1976 (from memory).
func viscosity(t units.Temperature) float64 {
	const b, s = 1.458e-6, 110.4 // kg/(s·m·√K), K
	k := t.Kelvin()
	return b * math.Sqrt(k) / (1 + s/k)
}

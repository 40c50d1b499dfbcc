package refrigerant

import (
	"errors"
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

// StandingTest is a nitrogen test: the line is filled, closed, and read again
// after a hold.
type StandingTest struct {
	Start, End Reading

	// TestPressure is the gauge pressure that the procedure asks for.
	TestPressure units.Pressure
	// Nameplate is the highest gauge pressure that the nameplate of the weakest
	// connected part allows. No reading may be above it.
	Nameplate units.Pressure
	// AllowedLoss is the loss, beyond what temperature explains, that the
	// procedure accepts.
	AllowedLoss units.Pressure
	// Held is the time between the readings, Required the least that is asked.
	Held, Required time.Duration
}

// Reading is the state of the closed line at one moment. Uncertainties are
// expanded ones (k = 2): the accuracy on the data sheet, unless a certificate
// says better.
type Reading struct {
	Gauge                units.Pressure // 0 to 600 psig
	GaugeUncertainty     units.Pressure // above 0: no gauge is exact
	Line                 units.Temperature
	LineUncertainty      units.TemperatureDifference // above 0
	Barometer            units.Pressure              // of the place, not reduced to sea level
	BarometerUncertainty units.Pressure              // 0 when it was read at that moment
}

// StandingResult is what a standing test proves.
type StandingResult struct {
	Outcome Outcome
	Reason  string // why, and what to do when it is not a pass

	Expected units.Pressure // gauge pressure of a tight line at the end
	Loss     units.Pressure // expected − read; negative is a gain
	// Uncertainty is that of the loss from the instruments, k = 2.
	Uncertainty units.Pressure
	// RealGas is how far nitrogen departs from the ideal gas between the two
	// readings.
	RealGas units.Pressure
	// Margin is what remains of the allowed loss after loss and both
	// uncertainties. Negative margins do not pass.
	Margin units.Pressure

	Steps []Step
}

// Judge works the test out. It returns an error for readings that are missing,
// not finite or outside the range named in the package comment.
func (t StandingTest) Judge() (StandingResult, error) {
	if err := t.valid(); err != nil {
		return StandingResult{}, fmt.Errorf("standing test: %w", err)
	}
	var r StandingResult
	r.Expected = t.Start.expected(t.End)
	r.Loss = r.Expected - t.End.Gauge
	r.Uncertainty = t.uncertainty()
	r.RealGas = t.realGas()
	r.Margin = t.AllowedLoss - max(r.Loss, 0) - r.Uncertainty - r.RealGas
	r.Outcome, r.Reason = t.decide(r)
	r.Steps = t.steps(r)
	return r, nil
}

// ExpectedPressure returns the gauge pressure that a tight volume of gas shows
// at temperature t2 and barometer b2 when it showed gauge at t1 and b1. It is
// the ideal gas law at constant volume.
func ExpectedPressure(gauge units.Pressure, t1 units.Temperature, b1 units.Pressure, t2 units.Temperature, b2 units.Pressure) (units.Pressure, error) {
	start := Reading{Gauge: gauge, Line: t1, Barometer: b1}
	end := Reading{Line: t2, Barometer: b2}
	if err := errors.Join(start.conditions("start"), end.conditions("end")); err != nil {
		return 0, fmt.Errorf("expected pressure: %w", err)
	}
	return start.expected(end), nil
}

func (a Reading) absolute() units.Pressure { return a.Gauge + a.Barometer }

func (a Reading) expected(b Reading) units.Pressure {
	return a.absolute()*units.Pressure(b.Line.Kelvin()/a.Line.Kelvin()) - b.Barometer
}

// uncertainty combines the instruments' by the root of the sum of squares
// (JCGM 100:2008, 5.1.2). The start's terms carry the slope T2/T1; a slope below
// 1 is taken as 1, so that cooling does not flatter the start gauge.
func (t StandingTest) uncertainty() units.Pressure {
	slope := max(1, t.End.Line.Kelvin()/t.Start.Line.Kelvin())
	perKelvin := float64(t.Start.absolute()) / t.Start.Line.Kelvin()
	sum := 0.0
	for _, u := range []float64{
		slope * float64(t.Start.GaugeUncertainty),
		float64(t.End.GaugeUncertainty),
		slope * float64(t.Start.BarometerUncertainty),
		float64(t.End.BarometerUncertainty),
		slope * perKelvin * float64(t.Start.LineUncertainty),
		perKelvin * float64(t.End.LineUncertainty),
	} {
		sum += u * u
	}
	return units.Pressure(math.Sqrt(sum))
}

// realGas is the size of the change that the ideal gas law leaves out.
func (t StandingTest) realGas() units.Pressure {
	ideal := t.Start.expected(t.End) + t.End.Barometer - t.Start.absolute()
	return units.Pressure(math.Abs(float64(ideal))) * units.Pressure(isochoricExcess(t.Start.absolute()))
}

// isochoricExcess is the share by which nitrogen's (∂p/∂T) at constant volume
// exceeds p/T at 24 °C: 2.7, 5.1, 8.3 and 9.9 % at 150, 300, 500 and 600 psig
// (CoolProp, computed), nothing in vacuum, straight between.
func isochoricExcess(p units.Pressure) float64 {
	table := [...]struct{ psia, excess float64 }{
		{0, 0}, {164.7, 0.027}, {314.7, 0.051}, {514.7, 0.083}, {614.7, 0.099},
	}
	x := float64(p) / psi
	i := 1
	for i < len(table)-1 && x > table[i].psia {
		i++
	}
	a, b := table[i-1], table[i]
	return a.excess + (b.excess-a.excess)*(x-a.psia)/(b.psia-a.psia)
}

package airflow

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"proveout/checks/humidair"
)

// Method is the standard a fan test is worked out by.
type Method int

// The two methods.
const (
	ISO9972 Method = iota + 1 // ISO 9972:2015
	E779                      // ASTM E779-19
)

func (m Method) String() string {
	switch m {
	case ISO9972:
		return "ISO 9972:2015"
	case E779:
		return "ASTM E779-19"
	}
	return "no method"
}

// Density returns that of the method's reference air: 1.20 kg/m³ (ISO 9972) or
// 1.2041 kg/m³, 20 °C (E779).
func (m Method) Density() humidair.MassPerVolume {
	if m == E779 {
		return 1.2041
	}
	return 1.20
}

func (m Method) correctionText() string {
	if m == E779 {
		return "C · (μ/μ0)^(2n−1) · (ρ/ρ0)^(1−n)"
	}
	return "C · (ρ/ρ0)^(1−n)"
}

// What a test has to be like. The figures of 5 Pa, five points, steps of 10 Pa,
// five times the zero-flow pressure, 50 Pa and 0.5 to 1 are read in a guide to
// both standards; clause numbers, 0.98, 30 s, 250 m·K and 200 m·K are from memory.
const (
	mostZeroFlow   = 5.0 // Pa
	leastZeroFlow  = 30 * time.Second
	fewestPoints   = 5
	widestStep     = 10.0 // Pa
	leastPressure  = 10.0 // Pa
	timesZeroFlow  = 5.0
	highestAtLeast = 50.0 // Pa
	leastFit       = 0.98 // r²
	mostHeatISO    = 250.0
	mostHeatE779   = 200.0
	leastExponent  = 0.5
	mostExponent   = 1.0
)

// roundOff is the float noise that a comparison of pressures leaves room for, Pa.
const roundOff = 1e-6

// Refusal is one reason why the method does not accept the data.
type Refusal struct{ Reason, Clause string }

func (r Refusal) String() string { return r.Reason + " [" + r.Clause + "]" }

// Refusals are all of them. As an error it says that the readings were understood
// and that the method refuses them.
type Refusals []Refusal

func (r Refusals) Error() string {
	texts := make([]string, len(r))
	for i, one := range r {
		texts[i] = one.String()
	}
	return strings.Join(texts, "; ")
}

func (r *Refusals) add(clause, format string, args ...any) {
	*r = append(*r, Refusal{fmt.Sprintf(format, args...), clause})
}

// clause names where the method says so.
func (m Method) clause(iso, astm string) string {
	if m == E779 {
		return "ASTM E779-19, " + astm + " (from memory)"
	}
	return "ISO 9972:2015, " + iso + " (clause number from memory)"
}

// refuse lists what the method does not accept of the readings.
func (t FanTest) refuse() Refusals {
	var r Refusals
	t.refuseZeroFlow(&r)
	most := mostHeatISO
	if t.Method == E779 {
		most = mostHeatE779
	}
	if h := math.Abs(float64(t.Room.Temperature-t.House.Temperature)) * float64(t.Height); h > most {
		r.add(t.Method.clause("5.3.2", "clause on environmental limits"), "temperature difference × height is %.0f m·K, at most %.0f is accepted", h, most)
	}
	t.refusePressures(&r)
	for _, reading := range t.Readings {
		if reading.Flow < t.Smallest || reading.Flow > t.Largest {
			r.add(t.Method.clause("4.2.3", "clause on apparatus"), "flow of %s is outside the fan's calibrated %s to %s; change the ring or the fan",
				flowText(reading.Flow), flowText(t.Smallest), flowText(t.Largest))
		}
	}
	return r
}

func (t FanTest) refuseZeroFlow(r *Refusals) {
	clause := t.Method.clause("5.3.3", "clause on zero-flow pressures")
	for i, z := range []ZeroFlow{t.Before, t.After} {
		when := [...]string{"before", "after"}[i]
		if z.Over < leastZeroFlow {
			r.add(clause, "zero-flow pressure %s was taken over %v, at least %v is wanted", when, z.Over, leastZeroFlow)
		}
		if z.largest() > mostZeroFlow {
			r.add(clause, "zero-flow pressure %s is %.1f Pa, at most %.0f Pa is accepted; wait for calm, shut off fans", when, z.largest(), mostZeroFlow)
		}
	}
}

func (t FanTest) refusePressures(r *Refusals) {
	clause := t.Method.clause("5.3.4", "clause on the pressure sequence")
	if len(t.Readings) < fewestPoints {
		r.add(clause, "%d points, at least %d are wanted", len(t.Readings), fewestPoints)
	}
	pressures := sorted(t.points())
	least := max(leastPressure, timesZeroFlow*max(t.Before.largest(), t.After.largest()))
	if p := pressures[0]; p < least-roundOff {
		r.add(clause, "lowest pressure is %.1f Pa, at least %.1f Pa is wanted: 10 Pa or five times the zero-flow pressure", p, least)
	}
	if p := pressures[len(pressures)-1]; p < highestAtLeast-roundOff {
		r.add(clause, "highest pressure is %.1f Pa, at least %.0f Pa is wanted", p, highestAtLeast)
	}
	for i := 1; i < len(pressures); i++ {
		if step := pressures[i] - pressures[i-1]; step > widestStep+roundOff {
			r.add(clause, "step of %.1f Pa from %.1f Pa, at most %.0f Pa is accepted", step, pressures[i-1], widestStep)
		}
	}
}

// refuseFit lists what the method does not accept of the regression.
func (m Method) refuseFit(f PowerLaw) Refusals {
	var r Refusals
	clause := m.clause("6.2", "clause on calculation")
	if !(f.Exponent >= leastExponent && f.Exponent <= mostExponent) {
		r.add(clause, "exponent is %.3f, %g to %g is possible; something moved during the test: doors, seals, the fan's panel", f.Exponent, leastExponent, mostExponent)
	}
	if !(f.R2 >= leastFit) {
		r.add(clause, "r² is %.4f, at least %g is wanted; wind, or something moved", f.R2, leastFit)
	}
	return r
}

// valid returns an error for what cannot be a reading at all.
func (t FanTest) valid() error {
	problems := []error{
		within("method", float64(t.Method), float64(ISO9972), float64(E779), ""),
		within("density of room air", float64(t.Room.Density), 0.5, 2, "kg/m³"),
		within("density of house air", float64(t.House.Density), 0.5, 2, "kg/m³"),
		within("room temperature", float64(t.Room.Temperature), -30, 60, "°C"),
		within("house temperature", float64(t.House.Temperature), -30, 60, "°C"),
		within("height", float64(t.Height), 0.5, 20, "m"),
		within("zero flow before", float64(t.Before.Mean), -100, 100, "Pa"),
		within("zero flow after", float64(t.After.Mean), -100, 100, "Pa"),
		within("largest zero flow", max(t.Before.largest(), t.After.largest()), 0, 100, "Pa"),
		within("smallest calibrated flow", float64(t.Smallest), 1e-6, 50, "m³/s"),
		within("largest calibrated flow", float64(t.Largest), float64(t.Smallest), 50, "m³/s"),
	}
	if len(t.Readings) == 0 {
		problems = append(problems, errors.New("no reading; enter pressure and flow of at least five"))
	}
	for i, r := range t.Readings {
		problems = append(problems,
			within(fmt.Sprintf("pressure %d", i+1), math.Abs(float64(r.Pressure)), 0.1, 500, "Pa"),
			within(fmt.Sprintf("flow %d", i+1), float64(r.Flow), 1e-6, 50, "m³/s"))
		if (r.Pressure < 0) != (t.Readings[0].Pressure < 0) {
			problems = append(problems, fmt.Errorf("pressure %d has another sign than the first; work each direction out by itself", i+1))
		}
		if zero := (t.Before.Mean + t.After.Mean) / 2; math.Abs(float64(r.Pressure)) > 0 && float64(r.Pressure-zero)*float64(r.Pressure) <= 0 {
			problems = append(problems, fmt.Errorf("pressure %d is no larger than the zero-flow pressure", i+1))
		}
	}
	return errors.Join(problems...)
}

package proof

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"proveout/checks/units"
)

// ErrTooLittle is returned by analyses of a record that is too short or holds too
// little to say anything.
var ErrTooLittle = errors.New("the record is too short for this")

// Step is one line of a calculation.
type Step = units.Step

// Estimate is a value with its 95 % interval.
type Estimate[T ~float64] struct{ Value, Low, High T }

// Half returns half the width of the interval.
func (e Estimate[T]) Half() T { return (e.High - e.Low) / 2 }

// Known reports whether there is a value: the zero Estimate is none.
func (e Estimate[T]) Known() bool {
	return e != Estimate[T]{} && finite(float64(e.Value), float64(e.Low), float64(e.High))
}

func around[T ~float64](value T, half float64) Estimate[T] {
	return Estimate[T]{value, value - T(half), value + T(half)}
}

const (
	normal95 = 1.959964 // 97.5 % of the normal distribution
	hour     = 3600.0   // s
	day      = 24 * hour
	vaporize = 2501e3 // J/kg, evaporation at 0 °C, ASHRAE Fundamentals ch. 1
)

// student95 is t(0.975, ν).
func student95(ν float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: max(ν, 1)}.Quantile(0.975)
}

// combined adds a scatter of standard deviation sd with ν degrees of freedom and
// a systematic standard uncertainty u to one half-width for 95 %.
func combined(sd, ν, u float64) float64 { return math.Hypot(student95(ν)*sd, normal95*u) }

func finite(values ...float64) bool {
	return !slices.ContainsFunc(values, func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) })
}

// within returns an error unless lo ≤ x ≤ hi, which no NaN is.
func within(name string, x, lo, hi float64, unit string) error {
	if x >= lo && x <= hi {
		return nil
	}
	return fmt.Errorf("%s %q is outside %g to %g %s; read or enter it again", name, fmt.Sprintf("%g %s", x, unit), lo, hi, unit)
}

// mean returns the mean of the values that are numbers, NaN when there are none,
// and how many they are.
func mean(values []float64) (float64, int) {
	sum, n := 0.0, 0
	for _, v := range values {
		if v == v {
			sum, n = sum+v, n+1
		}
	}
	return sum / float64(n), n
}

// median returns the middle of the values that are numbers, NaN when there are
// none. It reorders nothing that is passed in.
func median(values []float64) float64 { return quantile(values, 0.5) }

// quantile is of type 7 of Hyndman & Fan (1996), over the values that are numbers.
func quantile(values []float64, p float64) float64 {
	sorted := make([]float64, 0, len(values))
	for _, v := range values {
		if v == v {
			sorted = append(sorted, v)
		}
	}
	if len(sorted) == 0 {
		return math.NaN()
	}
	slices.Sort(sorted)
	at := p * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-1)
	k := min(i+1, len(sorted)-1)
	return sorted[i] + (at-float64(i))*(sorted[k]-sorted[i])
}

package airflow

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"proveout/checks/units"
)

// PowerLaw is flow = C·Δpⁿ fitted to points by least squares on the logarithms.
type PowerLaw struct {
	Coefficient float64 // C in m³/(s·Paⁿ)
	Exponent    float64 // n
	R2          float64
	Points      int
	// ExponentHalf and CoefficientHalf are half-widths of the 95 % intervals, of
	// n and of ln C.
	ExponentHalf, CoefficientHalf float64

	scatter, mean, variance float64 // S_n, mean and variance of ln Δp
}

// fitPowerLaw needs three points of different pressure, all above 0; with fewer
// its results are no numbers.
func fitPowerLaw(points []FanPoint) PowerLaw {
	x, y := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		x[i], y[i] = math.Log(float64(p.Pressure)), math.Log(float64(p.Flow))
	}
	n := float64(len(points))
	intercept, slope := stat.LinearRegression(x, y, nil, false)
	f := PowerLaw{Coefficient: math.Exp(intercept), Exponent: slope, Points: len(points)}
	f.R2 = stat.RSquared(x, y, nil, intercept, slope)
	f.mean, f.variance = stat.MeanVariance(x, nil)
	sse, square := 0.0, 0.0
	for i := range x {
		e := y[i] - intercept - slope*x[i]
		sse, square = sse+e*e, square+x[i]*x[i]
	}
	f.scatter = math.Sqrt(sse / (n - 2) / (f.variance * (n - 1)))
	f.ExponentHalf = f.student() * f.scatter
	f.CoefficientHalf = f.ExponentHalf * math.Sqrt(square/n)
	return f
}

// student is t(95 %, N − 2), two-sided.
func (f PowerLaw) student() float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(f.Points - 2)}.Quantile(0.975)
}

// At returns the flow at a pressure difference above 0.
func (f PowerLaw) At(p units.Pressure) units.Airflow {
	return units.Airflow(f.Coefficient * math.Pow(float64(p), f.Exponent))
}

// half is the half-width of the 95 % interval of ln(flow) at a pressure: S_n ·
// √((N−1)/N·s_x² + (ln Δp − mean)²) · t.
func (f PowerLaw) half(p units.Pressure) float64 {
	d := math.Log(float64(p)) - f.mean
	n := float64(f.Points)
	return f.student() * f.scatter * math.Sqrt((n-1)/n*f.variance+d*d)
}

// Between returns the 95 % confidence interval of the flow at a pressure, by the
// scatter of the points; the calibration of fan and gauge comes on top.
func (f PowerLaw) Between(p units.Pressure) (low, high units.Airflow) {
	q, half := f.At(p), units.Airflow(math.Exp(f.half(p)))
	return q / half, q * half
}

// sorted returns the pressures, lowest first.
func sorted(points []FanPoint) []float64 {
	pressures := make([]float64, len(points))
	for i, p := range points {
		pressures[i] = float64(p.Pressure)
	}
	slices.Sort(pressures)
	return pressures
}

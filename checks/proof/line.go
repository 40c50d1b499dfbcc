package proof

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// Line is a straight line through points by least squares, y = Intercept +
// Slope·x, with what its scatter tells.
type Line struct {
	N                int
	Intercept, Slope float64
	S                float64 // standard deviation of the residuals, SSE/(n − 2)
	R2               float64
	CV               float64 // S over the mean of y
	Lag1             float64 // autocorrelation of the residuals, ρ1
	DurbinWatson     float64
	// Effective is n′, the number of points that do not repeat each other; n
	// unless ρ1 is positive, 3 at least.
	Effective  float64
	MinX, MaxX float64
	MeanX, Sxx float64
	Anchored   bool // held at a known intercept

	residuals []float64
	// Covariance of intercept and slope by scatter, widened for autocorrelation,
	// and how far the two move with one standard uncertainty of the anchor.
	c00, c01, c11 float64
	a0, a1        float64
}

// FitLine fits a line to points in the order of time. It returns ErrTooLittle for
// fewer than three points, or points that all have the same x.
func FitLine(x, y []float64) (Line, error) {
	if len(x) != len(y) || len(x) < 3 {
		return Line{}, fmt.Errorf("%w: a line needs three points: %d", ErrTooLittle, min(len(x), len(y)))
	}
	if !finite(x...) || !finite(y...) {
		return Line{}, fmt.Errorf("line: a point is not a number")
	}
	l := Line{N: len(x), MinX: x[0], MaxX: x[0]}
	n := float64(len(x))
	meanY := stat.Mean(y, nil)
	l.MeanX, l.Sxx = stat.Mean(x, nil), stat.Variance(x, nil)*(n-1)
	if l.Sxx <= 1e-12*n*max(1, l.MeanX*l.MeanX) {
		return Line{}, fmt.Errorf("%w: all %d points lie at the same x of %g", ErrTooLittle, len(x), l.MeanX)
	}
	l.Intercept, l.Slope = stat.LinearRegression(x, y, nil, false)
	var sse, syy, lag, steps float64
	l.residuals = make([]float64, len(x))
	for i := range x {
		e := y[i] - l.At(x[i])
		l.residuals[i] = e
		sse, syy = sse+e*e, syy+(y[i]-meanY)*(y[i]-meanY)
		l.MinX, l.MaxX = min(l.MinX, x[i]), max(l.MaxX, x[i])
		if i > 0 {
			lag += e * l.residuals[i-1]
			steps += (e - l.residuals[i-1]) * (e - l.residuals[i-1])
		}
	}
	l.S = math.Sqrt(sse / (n - 2))
	if syy > 0 {
		l.R2 = 1 - sse/syy
	}
	if meanY != 0 {
		l.CV = l.S / meanY
	}
	if sse > 0 {
		l.Lag1, l.DurbinWatson = lag/sse, steps/sse
	}
	l.Effective = effective(n, l.Lag1)
	l.scatter()
	return l, nil
}

// effective is n′ of ASHRAE Guideline 14 (from memory).
func effective(n, ρ1 float64) float64 {
	if ρ1 <= 0 {
		return n
	}
	return max(3, n*(1-ρ1)/(1+ρ1))
}

// inflation is √((n − 2)/(n′ − 2)).
func (l *Line) inflation() float64 {
	return math.Sqrt(max(1, (float64(l.N)-2)/(l.Effective-2)))
}

func (l *Line) scatter() {
	s := l.S * l.inflation()
	l.c11 = s * s / l.Sxx
	l.c00 = s*s/float64(l.N) + l.c11*l.MeanX*l.MeanX
	l.c01 = -l.MeanX * l.c11
}

// Freedom is the number of degrees of freedom of the scatter.
func (l Line) Freedom() float64 { return float64(l.N - 2) }

// At returns the line at x.
func (l Line) At(x float64) float64 { return l.Intercept + l.Slope*x }

// SlopeHalf and InterceptHalf are half-widths of the 95 % intervals.
func (l Line) SlopeHalf() float64 { return combined(math.Sqrt(l.c11), l.Freedom(), l.a1) }

// InterceptHalf is that of the intercept.
func (l Line) InterceptHalf() float64 { return combined(math.Sqrt(l.c00), l.Freedom(), l.a0) }

// MeanHalf is the half-width of the 95 % confidence interval of the line at x.
func (l Line) MeanHalf(x float64) float64 {
	sd, u := l.spread(x)
	return combined(sd, l.Freedom(), u)
}

// NextHalf is the half-width of the 95 % prediction interval of one more point.
func (l Line) NextHalf(x float64) float64 {
	sd, u := l.spread(x)
	return combined(math.Hypot(sd, l.S*l.inflation()), l.Freedom(), u)
}

// spread returns the standard deviation of the line at x by scatter, and its
// standard uncertainty by the anchor.
func (l Line) spread(x float64) (sd, u float64) {
	return math.Sqrt(max(0, l.c00+2*x*l.c01+x*x*l.c11)), math.Abs(l.a0 + l.a1*x)
}

// Agrees reports whether an intercept known with a standard uncertainty u lies
// where the points alone put it, within half as much again as 95 %, about 99.5 %:
// one room in twenty would be refused by chance otherwise.
func (l Line) Agrees(intercept, u float64) bool {
	return math.Abs(intercept-l.Intercept) <= 1.5*combined(math.Sqrt(l.c00), l.Freedom(), u)
}

// Anchor returns the line held at an intercept that is known with a standard
// uncertainty u, as if it had been measured: generalized least squares with one
// more observation.
func (l Line) Anchor(intercept, u float64) Line {
	if l.c00 == 0 && u == 0 {
		return l
	}
	return l.held(gain{l.c00 / (l.c00 + u*u), l.c01 / (l.c00 + u*u)}, intercept, u)
}

// gain is how far intercept and slope move for each unit that an anchor lies above
// the intercept.
type gain struct{ intercept, slope float64 }

// held moves the line towards an anchor.
func (l Line) held(k gain, intercept, u float64) Line {
	miss := intercept - l.Intercept
	r := l
	r.Anchored = true
	r.Intercept, r.Slope = l.Intercept+k.intercept*miss, l.Slope+k.slope*miss
	r.c00 = (1 - k.intercept) * (1 - k.intercept) * l.c00
	r.c01 = (1 - k.intercept) * (l.c01 - k.slope*l.c00)
	r.c11 = max(0, l.c11-2*k.slope*l.c01+k.slope*k.slope*l.c00)
	r.a0, r.a1 = k.intercept*u, k.slope*u
	return r
}

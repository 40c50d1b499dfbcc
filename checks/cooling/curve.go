package cooling

import "math"

// curve is end + k1·e^(λ1·t) + k2·e^(λ2·t) with rates in 1/s below 0, the slow one
// first. It has at most one maximum or minimum.
type curve struct {
	end  float64
	k, λ [2]float64
}

// at returns value and slope at t.
func (c *curve) at(t float64) (value, slope float64) {
	slow, fast := c.k[0]*math.Exp(c.λ[0]*t), c.k[1]*math.Exp(c.λ[1]*t)
	return c.end + slow + fast, c.λ[0]*slow + c.λ[1]*fast
}

// maximum returns when the curve passes its maximum, 0 when it has none after the
// start. From then on it falls as long as it is above its end: without a maximum it
// falls from the start on, or has a minimum below its end first.
func (c *curve) maximum() float64 {
	ratio := -c.k[1] * c.λ[1] / (c.k[0] * c.λ[0])
	if c.k[0] <= 0 || !(ratio > 1) {
		return 0
	}
	return math.Log(ratio) / (c.λ[0] - c.λ[1])
}

// falls returns when the curve, from the time of its maximum on, meets a target
// above its end: Newton's steps, and halving where they leave the bracket.
// Infinity when it never does.
func (c *curve) falls(from, target float64) float64 {
	low, high := from, from-1/c.λ[0]
	for ; ; low, high = high, high+2*(high-from) {
		x, _ := c.at(high)
		if x <= target {
			break
		}
		if math.IsInf(high, 1) {
			return high
		}
	}
	t := high
	for range 100 {
		x, slope := c.at(t)
		if x > target {
			low = t
		} else {
			high = t
		}
		next := t - (x-target)/slope
		if !(next > low && next < high) {
			next = low + (high-low)/2
		}
		if math.Abs(next-t) <= 1e-13*t {
			break
		}
		t = next
	}
	return t
}

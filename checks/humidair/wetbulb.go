package humidair

import (
	"math"

	"proveout/checks/units"
)

// A wick holds the coefficients of the wet-bulb relation over one phase:
//
//	W·(a + cv·t − d·t*) = (a − b·t*)·Ws(t*) − cp·(t − t*)
//
// with W and Ws in kg/kg and temperatures in °C.
type wick struct{ a, b, d float64 }

// ASHRAE Fundamentals 2017, ch. 1 (read in a copy).
var (
	wetWick = wick{2501, 2.326, 4.186} // eq. 33, t* ≥ 0 °C
	icyWick = wick{2830, 0.24, 2.1}    // eq. 35, t* < 0 °C
)

// cp and cv are the specific heats in kJ/(kg·K) of dry air and of water vapor
// in eqs. 30, 33 and 35; h0 the heat of vaporization at 0 °C in kJ/kg.
const (
	cp = 1.006
	cv = 1.86
	h0 = 2501
)

func (k *wick) humidityRatio(t, tw, Ws float64) float64 {
	return ((k.a-k.b*tw)*Ws - cp*(t-tw)) / (k.a + cv*t - k.d*tw)
}

// excess returns the relation, cleared of both denominators so that it stays
// smooth through the boiling point, and its derivative by t*. Both rise with t*.
func (k *wick) excess(t, tw, W, p float64) (f, slope float64) {
	c := over(tw)
	T := tw + zeroCelsius
	pws := c.pressure(T)
	dpws := pws * c.slope(T)
	latent := k.a - k.b*tw
	air := cp*(t-tw) + W*(k.a+cv*t-k.d*tw)
	f = massRatio*latent*pws - air*(p-pws)
	slope = massRatio*(latent*dpws-k.b*pws) + air*dpws + (cp+k.d*W)*(p-pws)
	return f, slope
}

// solve finds t* from above by Newton's method. But for the slight bend at the
// triple point the relation is convex, so that no step overshoots by much.
func (k *wick) solve(t, W, p, from float64) float64 {
	tw := from
	for range 50 {
		f, slope := k.excess(t, tw, W, p)
		step := f / slope
		tw -= step
		if math.Abs(step) < 1e-6 {
			break
		}
	}
	return tw
}

// wetBulb takes the liquid wick when it has an answer at or above 0 °C, else the
// frozen one.
func wetBulb(t, W, p float64) float64 {
	if t >= 0 {
		if f, _ := wetWick.excess(t, 0, W, p); f <= 0 {
			return min(max(wetWick.solve(t, W, p, t), 0), t)
		}
	}
	return min(max(icyWick.solve(t, W, p, min(t, 0)), temperatures.low), t)
}

// WetBulb returns the thermodynamic wet-bulb temperature of air at t and rh at
// total pressure p.
//
// The relations for a wet and for a frozen wick do not meet at 0 °C: in dry air
// with a wet bulb within about half a kelvin of freezing both have an answer,
// one on each side. WetBulb then gives the one of the wet wick, WetBulbOverIce
// the other.
//
// ASHRAE Fundamentals 2017, ch. 1, eqs. 33 and 35, solved for t*.
func WetBulb(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (units.Temperature, error) {
	W, err := HumidityRatioFromRelativeHumidity(t, rh, p)
	if err != nil {
		return 0, err
	}
	return units.Temperature(wetBulb(float64(t), float64(W), float64(p))), nil
}

// WetBulbFromHumidityRatio is WetBulb for air of humidity ratio W. A ratio above
// saturation is an error.
func WetBulbFromHumidityRatio(t units.Temperature, W HumidityRatio, p units.Pressure) (units.Temperature, error) {
	if err := unsaturated(t, W, p); err != nil {
		return 0, err
	}
	return units.Temperature(wetBulb(float64(t), float64(W), float64(p))), nil
}

// unsaturated reports what makes t, W and p no state of moist air.
func unsaturated(t units.Temperature, W HumidityRatio, p units.Pressure) error {
	if err := temperatures.check(float64(t)); err != nil {
		return err
	}
	if err := ratios.check(float64(W)); err != nil {
		return err
	}
	if err := pressures.check(float64(p)); err != nil {
		return err
	}
	pws := saturation(float64(t))
	if pw := float64(p) * float64(W/(massRatio+W)); pw > pws*(1+noise) {
		return supersaturated(W, HumidityRatio(massRatio*pws/(float64(p)-pws)))
	}
	return nil
}

// WetBulbOverIce returns the temperature of a frozen wick in air at t of
// humidity ratio W: at most 0 °C. Air too moist or too warm for ice on the wick
// is an error.
//
// ASHRAE Fundamentals 2017, ch. 1, eq. 35.
func WetBulbOverIce(t units.Temperature, W HumidityRatio, p units.Pressure) (units.Temperature, error) {
	if err := unsaturated(t, W, p); err != nil {
		return 0, err
	}
	from := min(float64(t), 0)
	Ws := massRatio * saturation(from) / (float64(p) - saturation(from))
	if most := icyWick.humidityRatio(float64(t), from, Ws); float64(W) > most*(1+noise) {
		return 0, &RangeError{"humidity ratio", float64(W), 0, max(most, 0), "kg/kg", "a wick in this air stays above 0 °C"}
	}
	tw := icyWick.solve(float64(t), float64(W), float64(p), from)
	return units.Temperature(min(max(tw, temperatures.low), from)), nil
}

// HumidityRatioFromWetBulb returns the humidity ratio of air at t with the wet
// bulb tw at total pressure p; a wet bulb below 0 °C is that of a frozen wick. A
// wet bulb above t, or below that of perfectly dry air, is an error.
//
// ASHRAE Fundamentals 2017, ch. 1, eqs. 33 and 35.
func HumidityRatioFromWetBulb(t, tw units.Temperature, p units.Pressure) (HumidityRatio, error) {
	if err := temperatures.check(float64(t)); err != nil {
		return 0, err
	}
	if err := pressures.check(float64(p)); err != nil {
		return 0, err
	}
	if !(tw >= -100 && tw <= t) {
		return 0, &RangeError{"wet bulb", float64(tw), -100, float64(t), "°C", "the air's temperature"}
	}
	pws := units.Pressure(saturation(float64(tw)))
	if pws >= p {
		boiling := saturationTemperature(float64(p))
		return 0, &RangeError{"wet bulb", float64(tw), -100, boiling, "°C", "water boils at this total pressure"}
	}
	k := &wetWick
	if tw < 0 {
		k = &icyWick
	}
	W := HumidityRatio(k.humidityRatio(float64(t), float64(tw), float64(massRatio*pws/(p-pws))))
	if W < -noise {
		dry := wetBulb(float64(t), 0, float64(p))
		return 0, &RangeError{"wet bulb", float64(tw), dry, float64(t), "°C", "the wet bulb of perfectly dry air"}
	}
	if W > 1+noise {
		return 0, ratios.outside(float64(W))
	}
	return min(max(W, 0), 1), nil
}

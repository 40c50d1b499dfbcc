package humidair

import (
	"errors"
	"math"
	"testing"

	"proveout/checks/units"
)

// states calls f for moist air all over the range, and says how often.
func states(f func(t units.Temperature, rh units.RelativeHumidity, p units.Pressure, W HumidityRatio)) (n int) {
	for t := units.Temperature(-60); t <= 120; t += 1.7 {
		for rh := units.RelativeHumidity(1); rh <= 100; rh += 4.95 {
			for _, p := range []units.Pressure{30e3, 83427, 101325, 170e3} {
				if W, err := HumidityRatioFromRelativeHumidity(t, rh, p); err == nil {
					f(t, rh, p, W)
					n++
				}
			}
		}
	}
	return n
}

func TestHumidityComesBack(t *testing.T) {
	n := states(func(θ units.Temperature, rh units.RelativeHumidity, p units.Pressure, W HumidityRatio) {
		back := value[units.RelativeHumidity](t)
		pw := units.Pressure(value[units.Pressure](t)(VaporPressure(θ, rh)))
		td := units.Temperature(value[units.Temperature](t)(DewPoint(θ, rh)))
		tw := units.Temperature(value[units.Temperature](t)(WetBulb(θ, rh, p)))
		near(t, "from vapor pressure", back(RelativeHumidity(θ, pw)), float64(rh), 1e-10)
		near(t, "from humidity ratio", back(RelativeHumidityFromHumidityRatio(θ, W, p)), float64(rh), 1e-10)
		near(t, "from dew point", back(RelativeHumidityFromDewPoint(θ, td)), float64(rh), 1e-6)
		near(t, "W from dew point", value[HumidityRatio](t)(HumidityRatioFromDewPoint(td, p)), float64(W), 1e-8*float64(W))
		near(t, "dew point from W", value[units.Temperature](t)(DewPointFromHumidityRatio(W, p)), float64(td), 1e-7)
		near(t, "W from wet bulb", value[HumidityRatio](t)(HumidityRatioFromWetBulb(θ, tw, p)), float64(W), 1e-11)
		h := SpecificEnthalpy(value[SpecificEnthalpy](t)(Enthalpy(θ, W)))
		near(t, "t from h", value[units.Temperature](t)(TemperatureFromEnthalpy(h, W)), float64(θ), 1e-9)
		near(t, "W from h", value[HumidityRatio](t)(HumidityRatioFromEnthalpy(θ, h)), float64(W), 1e-12)
		if t.Failed() {
			t.Fatalf("at %v °C, %v %%, %v Pa", θ, rh, p)
		}
	})
	if n < 5000 {
		t.Errorf("only %d states", n)
	}
}

// Relative humidity from a wet bulb, away from deep cold, where a wet bulb in
// double precision no longer fixes it.
func TestRelativeHumidityFromWetBulb(t *testing.T) {
	states(func(θ units.Temperature, rh units.RelativeHumidity, p units.Pressure, _ HumidityRatio) {
		if θ < -20 {
			return
		}
		tw := units.Temperature(value[units.Temperature](t)(WetBulb(θ, rh, p)))
		got := value[units.RelativeHumidity](t)(RelativeHumidityFromWetBulb(θ, tw, p))
		near(t, "RelativeHumidityFromWetBulb", got, float64(rh), 1e-7)
	})
}

func TestOrderOfTemperatures(t *testing.T) {
	states(func(θ units.Temperature, rh units.RelativeHumidity, p units.Pressure, W HumidityRatio) {
		td := value[units.Temperature](t)(DewPoint(θ, rh))
		tw := value[units.Temperature](t)(WetBulb(θ, rh, p))
		if !(td <= tw+1e-9 && tw <= float64(θ)) {
			t.Errorf("dew point %v, wet bulb %v, dry bulb %v", td, tw, θ)
		}
		if w, err := DewPointOverWater(θ, rh); err == nil && td < 0 && float64(w) > td {
			t.Errorf("over water %v is above the frost point %v", w, td)
		}
		Ws, err := SaturationHumidityRatio(θ, p)
		if err != nil {
			return // beyond 1 kg/kg
		}
		μ := value[float64](t)(DegreeOfSaturation(θ, W, p))
		if μ > float64(rh)/100+1e-9 || μ < float64(W/Ws)-1e-9 {
			t.Errorf("degree of saturation %v at %v %%", μ, rh)
		}
	})
}

func TestMonotone(t *testing.T) {
	for θ := units.Temperature(-39); θ <= 80; θ += 3 {
		td, tw := -200.0, -200.0
		for rh := units.RelativeHumidity(1); rh <= 100; rh++ {
			d := value[units.Temperature](t)(DewPoint(θ, rh))
			w := value[units.Temperature](t)(WetBulb(θ, rh, 101325))
			if d <= td || w <= tw {
				t.Fatalf("at %v °C, %v %%: dew point %v after %v, wet bulb %v after %v", θ, rh, d, td, w, tw)
			}
			td, tw = d, w
		}
	}
}

// Every temperature, humidity and pressure of the grid in psychrolib's own test
// of convergence (read) has a wet bulb, or an error because the vapor exceeds
// 1 kg/kg.
func TestWetBulbConverges(t *testing.T) {
	for θ := units.Temperature(-100); θ < 200; θ++ {
		for rh := units.RelativeHumidity(0); rh <= 90; rh += 10 {
			for p := units.Pressure(60e3); p <= 110e3; p += 10e3 {
				W, err := HumidityRatioFromRelativeHumidity(θ, rh, p)
				if err != nil {
					if pw := rh.Fraction() * value[units.Pressure](t)(SaturationPressure(θ)); pw*1.621945 <= float64(p) {
						t.Fatalf("%v °C, %v %%, %v Pa: %v", θ, rh, p, err)
					}
					continue
				}
				tw := units.Temperature(value[units.Temperature](t)(WetBulb(θ, rh, p)))
				if tw == -100 {
					continue // the wick is colder than the curve goes, by less than 1e-4 K
				}
				near(t, "W from wet bulb", value[HumidityRatio](t)(HumidityRatioFromWetBulb(θ, tw, p)), float64(W), 1e-11)
			}
		}
	}
}

// With a wet bulb close to freezing both wicks have an answer. The wet one is
// WetBulb; both satisfy their own equation.
func TestTwoWicks(t *testing.T) {
	const θ, p = 7, 101325
	both := 0
	for rh := units.RelativeHumidity(10); rh < 30; rh += 0.25 {
		W := HumidityRatio(value[HumidityRatio](t)(HumidityRatioFromRelativeHumidity(θ, rh, p)))
		wet := value[units.Temperature](t)(WetBulbFromHumidityRatio(θ, W, p))
		icy, err := WetBulbOverIce(θ, W, p)
		if err != nil {
			outOfRange(t, "humidity ratio", icy, err)
			continue
		}
		near(t, "W over ice", value[HumidityRatio](t)(HumidityRatioFromWetBulb(θ, icy, p)), float64(W), 1e-11)
		if wet >= 0 {
			both++
		} else {
			near(t, "the only answer", wet, float64(icy), 1e-9)
		}
	}
	// The humidity ratios at t* = 0 °C over ice and over water are 0.33 g/kg
	// apart, which is 5.3 % RH at 7 °C: 21 steps (computed by hand).
	if both < 20 || both > 22 {
		t.Errorf("%d humidities with two answers, want 21 ± 1", both)
	}
}

func FuzzMoistAir(f *testing.F) {
	f.Add(13.0, 60.0, 101325.0)
	f.Add(-100.0, 0.0, 20e3)
	f.Add(200.0, 100.0, 180e3)
	f.Add(0.01, 100.0, 101325.0)
	f.Add(math.NaN(), math.Inf(1), -1.0)
	f.Fuzz(func(t *testing.T, temperature, humidity, pressure float64) {
		θ, rh, p := units.Temperature(temperature), units.RelativeHumidity(humidity), units.Pressure(pressure)
		W, err := HumidityRatioFromRelativeHumidity(θ, rh, p)
		var e *RangeError
		if err != nil {
			if W != 0 || !errors.As(err, &e) {
				t.Fatalf("%v, %v", W, err)
			}
			return
		}
		tw := value[units.Temperature](t)(WetBulb(θ, rh, p))
		v := value[VolumePerMass](t)(SpecificVolume(θ, W, p))
		if !(W >= 0 && W <= 1) || !(tw <= temperature && tw >= -100) || !(v > 0.27 && v < 18) {
			t.Errorf("W %v, wet bulb %v, volume %v", W, tw, v)
		}
	})
}

package humidair

import (
	"math"
	"strings"
	"testing"

	"proveout/checks/units"
)

// calls has one closure for each argument of each exported function, the other
// arguments being those of room air at 13 °C.
var calls = []struct {
	name      string
	low, high float64 // where the argument is valid
	f         func(v float64) (float64, error)
}{
	{"SaturationPressure", -100, 200, func(v float64) (float64, error) { return plain(SaturationPressure(units.Temperature(v))) }},
	{"SaturationPressureOverIce", -100, 0.01, func(v float64) (float64, error) { return plain(SaturationPressureOverIce(units.Temperature(v))) }},
	{"SaturationPressureOverWater", -40, 200, func(v float64) (float64, error) { return plain(SaturationPressureOverWater(units.Temperature(v))) }},
	{"SaturationSlope", -100, 200, func(v float64) (float64, error) { return SaturationSlope(units.Temperature(v)) }},
	{"SaturationTemperature", 0.00141, 1.555e6, func(v float64) (float64, error) { return plain(SaturationTemperature(units.Pressure(v))) }},
	{"SaturationTemperatureOverIce", 0.00141, 611.656, func(v float64) (float64, error) { return plain(SaturationTemperatureOverIce(units.Pressure(v))) }},
	{"SaturationTemperatureOverWater", 19.1, 1.555e6, func(v float64) (float64, error) { return plain(SaturationTemperatureOverWater(units.Pressure(v))) }},
	{"ISOSaturationPressure", -40, 80, func(v float64) (float64, error) { return plain(ISOSaturationPressure(units.Temperature(v))) }},
	{"ISOSaturationTemperature", 12.7, 47.43e3, func(v float64) (float64, error) { return plain(ISOSaturationTemperature(units.Pressure(v))) }},
	{"StandardPressure", -5000, 11000, func(v float64) (float64, error) { return plain(StandardPressure(units.Length(v))) }},
	{"StandardTemperature", -5000, 11000, func(v float64) (float64, error) { return plain(StandardTemperature(units.Length(v))) }},
	{"VaporPressure t", -100, 200, func(v float64) (float64, error) { return plain(VaporPressure(units.Temperature(v), 60)) }},
	{"VaporPressure rh", 0, 100, func(v float64) (float64, error) { return plain(VaporPressure(13, units.RelativeHumidity(v))) }},
	{"VaporPressureFromHumidityRatio W", 0, 1, func(v float64) (float64, error) {
		return plain(VaporPressureFromHumidityRatio(HumidityRatio(v), 101325))
	}},
	{"VaporPressureFromHumidityRatio p", 20e3, 180e3, func(v float64) (float64, error) {
		return plain(VaporPressureFromHumidityRatio(0.005, units.Pressure(v)))
	}},
	{"RelativeHumidity t", -2.7, 200, func(v float64) (float64, error) { return plain(RelativeHumidity(units.Temperature(v), 488)) }},
	{"RelativeHumidity pw", 0, 1497.8, func(v float64) (float64, error) { return plain(RelativeHumidity(13, units.Pressure(v))) }},
	{"RelativeHumidityFromDewPoint t", 5, 200, func(v float64) (float64, error) {
		return plain(RelativeHumidityFromDewPoint(units.Temperature(v), 5))
	}},
	{"RelativeHumidityFromDewPoint td", -100, 13, func(v float64) (float64, error) {
		return plain(RelativeHumidityFromDewPoint(13, units.Temperature(v)))
	}},
	{"RelativeHumidityFromHumidityRatio W", 0, 0.00933, func(v float64) (float64, error) {
		return plain(RelativeHumidityFromHumidityRatio(13, HumidityRatio(v), 101325))
	}},
	{"RelativeHumidityFromWetBulb tw", 2.1, 13, func(v float64) (float64, error) {
		return plain(RelativeHumidityFromWetBulb(13, units.Temperature(v), 101325))
	}},
	{"HumidityRatioFromVaporPressure pw", 0, 62470, func(v float64) (float64, error) {
		return plain(HumidityRatioFromVaporPressure(units.Pressure(v), 101325))
	}},
	{"HumidityRatioFromVaporPressure p", 20e3, 180e3, func(v float64) (float64, error) {
		return plain(HumidityRatioFromVaporPressure(900, units.Pressure(v)))
	}},
	{"HumidityRatioFromRelativeHumidity t", -100, 98, func(v float64) (float64, error) {
		return plain(HumidityRatioFromRelativeHumidity(units.Temperature(v), 60, 101325))
	}},
	{"HumidityRatioFromDewPoint td", -100, 86.9, func(v float64) (float64, error) {
		return plain(HumidityRatioFromDewPoint(units.Temperature(v), 101325))
	}},
	{"HumidityRatioFromWetBulb t", 9, 26.5, func(v float64) (float64, error) {
		return plain(HumidityRatioFromWetBulb(units.Temperature(v), 9, 101325))
	}},
	{"HumidityRatioFromWetBulb p", 20e3, 180e3, func(v float64) (float64, error) {
		return plain(HumidityRatioFromWetBulb(13, 12.9, units.Pressure(v)))
	}},
	{"SpecificHumidity", 0, 1, func(v float64) (float64, error) { return SpecificHumidity(HumidityRatio(v)) }},
	{"DegreeOfSaturation W", 0, 0.00933, func(v float64) (float64, error) {
		return DegreeOfSaturation(13, HumidityRatio(v), 101325)
	}},
	{"DewPoint rh", 1e-4, 100, func(v float64) (float64, error) { return plain(DewPoint(13, units.RelativeHumidity(v))) }},
	{"FrostPoint rh", 1e-4, 40.8, func(v float64) (float64, error) { return plain(FrostPoint(13, units.RelativeHumidity(v))) }},
	{"DewPoint rh, cold", 0.02, 100, func(v float64) (float64, error) { return plain(DewPoint(-20, units.RelativeHumidity(v))) }},
	{"FrostPoint rh, cold", 0.02, 100, func(v float64) (float64, error) { return plain(FrostPoint(-20, units.RelativeHumidity(v))) }},
	{"DewPointOverWater rh", 1.28, 100, func(v float64) (float64, error) { return plain(DewPointOverWater(13, units.RelativeHumidity(v))) }},
	{"DewPointFromHumidityRatio W", 1e-8, 1, func(v float64) (float64, error) {
		return plain(DewPointFromHumidityRatio(HumidityRatio(v), 101325))
	}},
	{"WetBulb t", -100, 98, func(v float64) (float64, error) { return plain(WetBulb(units.Temperature(v), 60, 101325)) }},
	{"WetBulb rh", 0, 100, func(v float64) (float64, error) { return plain(WetBulb(13, units.RelativeHumidity(v), 101325)) }},
	{"WetBulb p", 20e3, 180e3, func(v float64) (float64, error) { return plain(WetBulb(13, 60, units.Pressure(v))) }},
	{"WetBulbFromHumidityRatio t", 5.3, 200, func(v float64) (float64, error) {
		return plain(WetBulbFromHumidityRatio(units.Temperature(v), 0.0055, 101325))
	}},
	{"WetBulbFromHumidityRatio W", 0, 0.00933, func(v float64) (float64, error) {
		return plain(WetBulbFromHumidityRatio(13, HumidityRatio(v), 101325))
	}},
	{"WetBulbOverIce W", 0, 0.001279, func(v float64) (float64, error) {
		return plain(WetBulbOverIce(7, HumidityRatio(v), 101325))
	}},
	{"Enthalpy t", -100, 200, func(v float64) (float64, error) { return plain(Enthalpy(units.Temperature(v), 0.005)) }},
	{"Enthalpy W", 0, 1, func(v float64) (float64, error) { return plain(Enthalpy(13, HumidityRatio(v))) }},
	{"TemperatureFromEnthalpy h", -89e3, 215e3, func(v float64) (float64, error) {
		return plain(TemperatureFromEnthalpy(SpecificEnthalpy(v), 0.005))
	}},
	{"HumidityRatioFromEnthalpy h", 13.1e3, 2.5e6, func(v float64) (float64, error) {
		return plain(HumidityRatioFromEnthalpy(13, SpecificEnthalpy(v)))
	}},
	{"SpecificVolume p", 20e3, 180e3, func(v float64) (float64, error) {
		return plain(SpecificVolume(13, 0.005, units.Pressure(v)))
	}},
	{"Density t", -100, 200, func(v float64) (float64, error) { return plain(Density(units.Temperature(v), 0.005, 101325)) }},
	{"SaltHumidity", 0, 80, func(v float64) (float64, error) { return plain(SaltHumidity(SodiumChloride, units.Temperature(v))) }},
}

func plain[T ~float64](v T, err error) (float64, error) { return float64(v), err }

func TestRanges(t *testing.T) {
	for _, c := range calls {
		for _, v := range []float64{c.low, (c.low + c.high) / 2, c.high} {
			got, err := c.f(v)
			if err != nil || math.IsNaN(got) || math.IsInf(got, 0) {
				t.Errorf("%s: f(%v) = %v, %v; want a number", c.name, v, got, err)
			}
		}
		width := c.high - c.low
		for _, v := range []float64{c.low - 0.04*width, c.high + 0.04*width, -1e300, 1e300,
			math.NaN(), math.Inf(1), math.Inf(-1)} {
			got, err := c.f(v)
			e := outOfRange(t, quantityOf(err), got, err)
			if !(e.Low <= e.High) || math.IsNaN(e.Low) || math.IsInf(e.High, 0) {
				t.Errorf("%s: f(%v): range %v to %v", c.name, v, e.Low, e.High)
			}
		}
	}
}

func quantityOf(err error) string {
	if e, ok := err.(*RangeError); ok {
		return e.Quantity
	}
	return "argument"
}

func TestRangeErrorText(t *testing.T) {
	_, err := Enthalpy(13, 5.57)
	want := "humidity ratio 5.57 kg/kg is outside 0 to 1 kg/kg: moist-air relations; divide g/kg by 1000"
	if err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
	_, err = VaporPressure(units.Temperature(math.NaN()), 50)
	if err == nil || !strings.Contains(err.Error(), "temperature NaN °C is outside -100 to 200 °C") {
		t.Errorf("got %v", err)
	}
	_, err = RelativeHumidityFromWetBulb(25, 26, 101325)
	if err == nil || !strings.Contains(err.Error(), "wet bulb 26 °C is outside -100 to 25 °C") {
		t.Errorf("got %v", err)
	}
}

func TestNoAllocation(t *testing.T) {
	for _, c := range calls {
		v := (c.low + c.high) / 2
		if n := testing.AllocsPerRun(100, func() { c.f(v) }); n != 0 {
			t.Errorf("%s allocates %v times", c.name, n)
		}
	}
}

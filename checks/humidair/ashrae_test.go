package humidair

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/units"
)

func TestStandardAtmosphere(t *testing.T) {
	for _, r := range readTable(t, "ashrae-2017-ch1-table1-atmosphere.csv") {
		z := units.Length(r["altitude"])
		near(t, fmt.Sprintf("StandardPressure(%v)", z), value[units.Pressure](t)(StandardPressure(z)), r["pressure"], 1)
		near(t, fmt.Sprintf("StandardTemperature(%v)", z), value[units.Temperature](t)(StandardTemperature(z)), r["temperature"], 0.0501)
	}
}

func TestSaturationPressureTable3(t *testing.T) {
	for _, r := range readTable(t, "ashrae-2017-ch1-table3-saturation.csv") {
		got := value[units.Pressure](t)(SaturationPressure(units.Temperature(r["t"])))
		near(t, fmt.Sprintf("SaturationPressure(%v)", r["t"]), got, r["pws"], max(3e-4*r["pws"], 0.005))
	}
	for _, r := range readTable(t, "ashrae-2017-ch1-table3-saturation-ip.csv") {
		got := value[units.Pressure](t)(SaturationPressure(celsius(r["f"])))
		psi := got / float64(pascal(1))
		near(t, fmt.Sprintf("SaturationPressure(%v °F) in psi", r["f"]), psi, r["psi"], max(3e-4*r["psi"], 5e-7))
	}
}

func TestSaturatedAirTable2(t *testing.T) {
	const p = 101325
	for _, r := range readTable(t, "ashrae-2017-ch1-table2-saturated-air.csv") {
		θ := units.Temperature(r["t"])
		W := value[HumidityRatio](t)(SaturationHumidityRatio(θ, p))
		pws := value[units.Pressure](t)(SaturationPressure(θ))
		tolW := 0.006*r["W"]*p/(p-pws) + lastDigit(r["W"])/2
		near(t, fmt.Sprintf("SaturationHumidityRatio(%v)", θ), W, r["W"], tolW)

		h := value[SpecificEnthalpy](t)(Enthalpy(θ, HumidityRatio(W)))
		near(t, fmt.Sprintf("Enthalpy(%v, saturated)", θ), h, r["h"], tolW*1000*(2501+1.86*r["t"])+30+8000*r["W"])
	}
}

// lastDigit is the worth of the last digit printed in Table 2.
func lastDigit(W float64) float64 {
	if W < 0.005 {
		return 1e-7
	}
	return 1e-6
}

// Points of the published tests of the general-purpose library psychrolib, which
// credits ASHRAE Fundamentals 2017, ch. 1 (read).
func TestMoistAirPoints(t *testing.T) {
	W := value[HumidityRatio](t)
	const rounding = 3e-4 // relative; that of the tables behind the points

	near(t, "W(3169.7 Pa)", W(HumidityRatioFromVaporPressure(3169.7, 95461)), 0.0213603998047487, 1e-6*0.02136)
	near(t, "pw(W)", value[units.Pressure](t)(VaporPressureFromHumidityRatio(0.0213603998047487, 95461)), 3169.7, 1e-6*3169.7)
	near(t, "t*", value[units.Temperature](t)(WetBulb(7, 61, 100000)), 3.92667433781955, 0.001)
	near(t, "W(30, t* 25)", W(HumidityRatioFromWetBulb(30, 25, 95461)), 0.0192281274241096, rounding*0.0192)
	near(t, "W(-1, t* -5)", W(HumidityRatioFromWetBulb(-1, -5, 95461)), 0.00120399819933844, rounding*0.0012)

	near(t, "h dry", value[SpecificEnthalpy](t)(Enthalpy(25, 0)), 25148, rounding*25148)
	near(t, "v dry", value[VolumePerMass](t)(SpecificVolume(25, 0, 101325)), 0.8443, 0.001*0.8443)
	near(t, "h", value[SpecificEnthalpy](t)(Enthalpy(30, 0.02)), 81316, rounding*81316)
	near(t, "v", value[VolumePerMass](t)(SpecificVolume(30, 0.02, 95461)), 0.940855374352943, rounding*0.94)
	near(t, "ρ", value[MassPerVolume](t)(Density(30, 0.02, 95461)), 1.08411986348219, rounding*1.08)

	for _, td := range []units.Temperature{-20, 5, 50} {
		pws, err := SaturationPressure(td)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "dew point round trip", value[units.Temperature](t)(SaturationTemperature(pws)), float64(td), 1e-9)
	}
}

// ASHRAE Fundamentals 2017 (SI), ch. 1, Example 1: 40 °C, wet bulb 20 °C,
// 101,325 Pa. Solved there on the chart, which is of real air and gives
// 6.5 g/kg, 7 °C, 14 %, 56.7 kJ/kg, 0.896 m³/kg.
func Example() {
	const t, tw, p = 40, 20, 101325
	W, _ := HumidityRatioFromWetBulb(t, tw, p)
	rh, _ := RelativeHumidityFromWetBulb(t, tw, p)
	td, _ := DewPoint(t, rh)
	h, _ := Enthalpy(t, W)
	v, _ := SpecificVolume(t, W, p)
	fmt.Printf("W %.2f g/kg, dew point %.0f °C, %.0f %%, h %.1f kJ/kg, v %.3f m³/kg\n",
		1000*W, td, rh, h/1000, v)
	// Output: W 6.40 g/kg, dew point 7 °C, 14 %, h 56.7 kJ/kg, v 0.896 m³/kg
}

// The chart is read to half a digit: 0.05 g/kg, 0.5 °C, 0.5 %, 0.05 kJ/kg,
// 0.0005 m³/kg. W and, through it, h have besides the real-gas part of the
// saturated ratio at the wet bulb, 0.5 % of 14.7 g/kg.
func TestChartExample(t *testing.T) {
	const db, wb, p = 40, 20, 101325
	const realGas = 0.005 * 0.0147
	W := value[HumidityRatio](t)(HumidityRatioFromWetBulb(db, wb, p))
	near(t, "W", W, 0.0065, 0.00005+realGas)
	rh := value[units.RelativeHumidity](t)(RelativeHumidityFromWetBulb(db, wb, p))
	near(t, "φ", rh, 14, 0.5)
	near(t, "dew point", value[units.Temperature](t)(DewPoint(db, units.RelativeHumidity(rh))), 7, 0.5)
	near(t, "h", value[SpecificEnthalpy](t)(Enthalpy(db, HumidityRatio(W))), 56700, 50+realGas*2.57e6)
	near(t, "v", value[VolumePerMass](t)(SpecificVolume(db, HumidityRatio(W), p)), 0.896, 0.0005)
}

// ASHRAE Fundamentals 2017 (I-P), ch. 1, Example 1: 100 °F, wet bulb 65 °F,
// 14.696 psi, also on the chart: W 0.00523, 40 °F, 13 %, 29.80 Btu/lb,
// 14.22 ft³/lb. W again lacks 0.5 % of the saturated 0.0132 at the wet bulb, and a
// perfect gas takes 0.05 % more room.
func TestInchPoundExample(t *testing.T) {
	const btu, pound, foot = 1055.056, 0.45359237, 0.3048
	const realGas = 0.005 * 0.0132
	db, wb, p := celsius(100), celsius(65), pascal(14.696)
	W := value[HumidityRatio](t)(HumidityRatioFromWetBulb(db, wb, p))
	near(t, "W", W, 0.00523, 0.000005+realGas)
	rh := value[units.RelativeHumidity](t)(RelativeHumidityFromWetBulb(db, wb, p))
	near(t, "φ", rh, 13, 0.5)
	td := value[units.Temperature](t)(DewPoint(db, units.RelativeHumidity(rh)))
	near(t, "dew point in °F", td*1.8+32, 40, 0.5)
	// The I-P scale counts dry air from 0 °F and water, like the SI one, from
	// its freezing point.
	h := value[SpecificEnthalpy](t)(Enthalpy(db, HumidityRatio(W)))
	near(t, "h in Btu/lb", (h+1006*32/1.8)*pound/btu, 29.80, 0.005+realGas*1105)
	v := value[VolumePerMass](t)(SpecificVolume(db, HumidityRatio(W), p))
	near(t, "v in ft³/lb", v*pound/math.Pow(foot, 3), 14.22, 0.005+0.0005*14.22)
}

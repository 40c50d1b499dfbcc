package humidair

import (
	"fmt"
	"math"
	"testing"

	"proveout/checks/units"
)

// TestPsychrolib compares with a general-purpose library at 2,290 points; the
// table says how it was made and what the tolerances are.
func TestPsychrolib(t *testing.T) {
	rows := readTable(t, "psychrolib-points.csv")
	if len(rows) < 2000 {
		t.Fatalf("%d points, want at least 2,000", len(rows))
	}
	twoAnswers := 0
	for _, r := range rows {
		θ, rh, p := units.Temperature(r["t"]), units.RelativeHumidity(r["rh"]), units.Pressure(r["p"])
		relative := func(column string, got float64) {
			t.Helper()
			near(t, fmt.Sprintf("%s at %v °C, %v %%, %v Pa", column, θ, rh, p), got, r[column], 1e-5*math.Abs(r[column]))
		}
		W := HumidityRatio(value[HumidityRatio](t)(HumidityRatioFromRelativeHumidity(θ, rh, p)))
		relative("pws", value[units.Pressure](t)(SaturationPressure(θ)))
		relative("pw", value[units.Pressure](t)(VaporPressure(θ, rh)))
		relative("W", float64(W))
		relative("h", value[SpecificEnthalpy](t)(Enthalpy(θ, W)))
		relative("v", value[VolumePerMass](t)(SpecificVolume(θ, W, p)))
		relative("rho", value[MassPerVolume](t)(Density(θ, W, p)))
		at := fmt.Sprintf("at %v °C, %v %%, %v Pa", θ, rh, p)
		near(t, "DewPoint "+at, value[units.Temperature](t)(DewPoint(θ, rh)), r["td"], 0.002)

		tw := value[units.Temperature](t)(WetBulb(θ, rh, p))
		if tw >= 0 && r["tw"] < -0.001 {
			// Both wicks have an answer; the library's bisection met the frozen one.
			tw = value[units.Temperature](t)(WetBulbOverIce(θ, W, p))
			twoAnswers++
		}
		near(t, "WetBulb "+at, tw, r["tw"], 0.002)
	}
	// None of these on a wet wick may pass by being looked up as a frozen one.
	if twoAnswers > 10 {
		t.Errorf("the frozen wick was taken at %d points, want at most 10", twoAnswers)
	}
	t.Logf("%d points, %d with a wet bulb on either side of 0 °C", len(rows), twoAnswers)
}

func TestPsychrolibReference(t *testing.T) {
	for _, r := range readTable(t, "psychrolib-reference.csv") {
		θ, rh := units.Temperature(r["t"]), units.RelativeHumidity(r["rh"])
		p := units.Pressure(value[units.Pressure](t)(StandardPressure(units.Length(r["z"]))))
		check := func(column string, got, halfDigit float64) {
			t.Helper()
			near(t, fmt.Sprintf("%s at %v °C, %v %%, %v m", column, θ, rh, r["z"]), got, r[column], halfDigit)
		}
		W := HumidityRatio(value[HumidityRatio](t)(HumidityRatioFromRelativeHumidity(θ, rh, p)))
		check("p", float64(p), 0.05)
		check("pws", value[units.Pressure](t)(SaturationPressure(θ)), 0.0005)
		check("pw", value[units.Pressure](t)(VaporPressure(θ, rh)), 0.0005)
		check("W", 1000*float64(W), 0.000005)
		check("td", value[units.Temperature](t)(DewPoint(θ, rh)), 0.0005)
		check("tdwater", value[units.Temperature](t)(DewPointOverWater(θ, rh)), 0.0005)
		check("tw", value[units.Temperature](t)(WetBulb(θ, rh, p)), 0.001)
		check("h", value[SpecificEnthalpy](t)(Enthalpy(θ, W))/1000, 0.00005)
		check("v", value[VolumePerMass](t)(SpecificVolume(θ, W, p)), 0.000005)
		check("iso", value[units.Pressure](t)(ISOSaturationPressure(θ)), 0.005)

		tf, err := FrostPoint(θ, rh)
		if want, ok := r["tfrost"]; ok {
			near(t, fmt.Sprintf("FrostPoint(%v, %v)", θ, rh), value[units.Temperature](t)(tf, err), want, 0.0005)
		} else {
			outOfRange(t, "vapor pressure", tf, err)
		}
	}
}

func TestRealGas(t *testing.T) {
	for _, r := range readTable(t, "coolprop-humid-air.csv") {
		θ, rh := units.Temperature(r["t"]), units.RelativeHumidity(r["rh"])
		W := HumidityRatio(value[HumidityRatio](t)(HumidityRatioFromRelativeHumidity(θ, rh, 101325)))
		if short := 1 - float64(W)/r["W"]; short < 0.003 || short > 0.006 {
			t.Errorf("W(%v, %v) is %.2f %% below the real gas, want 0.3 to 0.6 %%", θ, rh, 100*short)
		}
		h := value[SpecificEnthalpy](t)(Enthalpy(θ, W))
		missing := (r["W"] - float64(W)) * 1000 * (2501 + 1.86*r["t"])
		near(t, fmt.Sprintf("h(%v, %v)", θ, rh), h+missing, r["h"], 30)
	}
}

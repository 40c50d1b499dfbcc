package wood

import (
	"math"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// A Species corrects a resistance meter for the wood it is used in: the meter's
// own scale is a times the moisture content plus b. The maker of the meter or a
// table of the forest laboratories gives a and b.
type Species struct{ A, B float64 }

// DouglasFir is the wood that pin meters are calibrated to (common practice).
var DouglasFir = Species{A: 1, B: 0}

// MeterMoisture returns the moisture content of wood at t, 0 to 40 °C, in which
// a pin meter calibrated at room temperature shows reading, 6 to 30 %. A cold
// stud reads low: 15 % at 13 °C is really 16.1 %.
//
// The correction is that of Pfaff and Garrahan (Forest Products Journal 36,
// 1986; from memory). Below 6 % and above fiber saturation the resistance tells
// nothing, and in frozen wood and in wood treated with copper or borate salts
// something else (USDA FPL note 1168, 1953, read); the bounds 0 and 40 °C are our
// choice. A meter that corrects for temperature itself needs none of this.
func MeterMoisture(reading units.Percent, t units.Temperature, species Species) (units.Percent, error) {
	if !(reading >= 6 && reading <= 30) {
		return 0, outside("meter reading", float64(reading), 6, 30, "%", "resistance tells moisture from 6 % to fiber saturation")
	}
	if !(t >= 0 && t <= 40) {
		return 0, outside("wood temperature", float64(t), 0, 40, "°C", "pin-meter correction")
	}
	if !(species.A >= 0.5 && species.A <= 2) {
		return 0, outside("species factor a", species.A, 0.5, 2, "", "pin-meter correction; Douglas-fir has 1")
	}
	if !(species.B >= -10 && species.B <= 10) {
		return 0, outside("species offset b", species.B, -10, 10, "%", "pin-meter correction; Douglas-fir has 0")
	}
	T := float64(t)
	atCalibration := (float64(reading) + 0.567 - 0.0260*T + 0.000051*T*T) / (0.881 * math.Pow(1.0056, T))
	return units.Percent((atCalibration - species.B) / species.A), nil
}

func outside(quantity string, v, low, high float64, unit, because string) error {
	return &humidair.RangeError{Quantity: quantity, Value: v, Low: low, High: high, Unit: unit, Because: because}
}

package units

import (
	"fmt"
	"math"
	"time"
)

// The typed accessors hand a value to the physics. Each panics when q is unknown
// or of another kind: to ask for it is a bug of the program, not of its input.

// as returns the base value of q, which must be of one of the kinds.
func (q Quantity) as(kinds ...Kind) float64 {
	for _, k := range kinds {
		if q.Kind() == k && q.Known() {
			return q.Base()
		}
	}
	panic(fmt.Sprintf("units: %q (%s) used as %s", q.Text, q.Kind(), kinds[0]))
}

// Temperature returns q in °C.
func (q Quantity) Temperature() Temperature { return Temperature(q.as(TemperatureKind)) }

// TemperatureDifference returns q in K.
func (q Quantity) TemperatureDifference() TemperatureDifference {
	return TemperatureDifference(q.as(TemperatureDifferenceKind))
}

// RelativeHumidity returns q in percent, 0 to 100.
func (q Quantity) RelativeHumidity() RelativeHumidity {
	return RelativeHumidity(q.as(HumidityKind))
}

// Percent returns a moisture content, a slope or another share in percent.
func (q Quantity) Percent() Percent {
	return Percent(q.as(PercentKind, MoistureContentKind, SlopeKind))
}

// Count returns a count.
func (q Quantity) Count() int { return int(math.Round(q.as(CountKind))) }

// Length returns q in m.
func (q Quantity) Length() Length { return Length(q.as(LengthKind)) }

// Area returns q in m².
func (q Quantity) Area() Area { return Area(q.as(AreaKind)) }

// Volume returns q in m³.
func (q Quantity) Volume() Volume { return Volume(q.as(VolumeKind)) }

// Mass returns q in kg.
func (q Quantity) Mass() Mass { return Mass(q.as(MassKind)) }

// Duration returns q to the nanosecond.
func (q Quantity) Duration() time.Duration {
	return time.Duration(math.Round(q.as(DurationKind) * float64(time.Second)))
}

// Pressure returns a pressure or a vacuum in Pa: absolute, or a difference where
// that is what was asked for.
func (q Quantity) Pressure() Pressure { return Pressure(q.as(PressureKind, VacuumKind)) }

// GaugePressure returns q in Pa above the atmosphere.
func (q Quantity) GaugePressure() Pressure { return Pressure(q.as(GaugePressureKind)) }

// AreaLoad returns q in Pa, the weight on 1 m².
func (q Quantity) AreaLoad() Pressure { return Pressure(q.as(AreaLoadKind)) }

// ThermalResistance returns q in m²·K/W.
func (q Quantity) ThermalResistance() ThermalResistance {
	return ThermalResistance(q.as(ThermalResistanceKind))
}

// Transmittance returns q in W/(m²·K).
func (q Quantity) Transmittance() Transmittance { return Transmittance(q.as(TransmittanceKind)) }

// Conductivity returns q in W/(m·K).
func (q Quantity) Conductivity() Conductivity { return Conductivity(q.as(ConductivityKind)) }

// Permeance returns q in kg/(s·m²·Pa).
func (q Quantity) Permeance() Permeance { return Permeance(q.as(PermeanceKind)) }

// Power returns q in W.
func (q Quantity) Power() Power { return Power(q.as(PowerKind)) }

// Airflow returns q in m³/s.
func (q Quantity) Airflow() Airflow { return Airflow(q.as(AirflowKind)) }

// Voltage returns q in V.
func (q Quantity) Voltage() Voltage { return Voltage(q.as(VoltageKind)) }

// Current returns q in A.
func (q Quantity) Current() Current { return Current(q.as(CurrentKind)) }

// Resistance returns an electrical resistance in Ω.
func (q Quantity) Resistance() Resistance { return Resistance(q.as(ResistanceKind)) }

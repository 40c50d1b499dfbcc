package diagnosis

import (
	"fmt"
	"time"

	"proveout/checks/humidair"
	"proveout/checks/units"
)

// shown prints quantities for the sentences of a report.
type shown units.System

func (s shown) of(kind units.Kind, base float64) string {
	return units.Of(kind, base, units.System(s)).Text
}

func (s shown) temperature(t units.Temperature) string {
	return s.of(units.TemperatureKind, float64(t))
}

func (s shown) kelvin(d units.TemperatureDifference) string {
	return s.of(units.TemperatureDifferenceKind, float64(d))
}

func (s shown) power(q units.Power) string       { return s.of(units.PowerKind, float64(q)) }
func (s shown) flow(q units.Airflow) string      { return s.of(units.AirflowKind, float64(q)) }
func (s shown) water(m units.Mass) string        { return s.of(units.MassRateKind, float64(m)) }
func (s shown) area(a units.Area) string         { return s.of(units.AreaKind, float64(a)) }
func (s shown) pressure(p units.Pressure) string { return fmt.Sprintf("%.1f Pa", float64(p)) }

func (s shown) transmittance(u units.Transmittance) string {
	return s.of(units.TransmittanceKind, float64(u))
}

func humidityText(rh units.RelativeHumidity) string { return fmt.Sprintf("%.0f %% RH", float64(rh)) }
func percentText(p float64) string                  { return fmt.Sprintf("%.0f %%", p) }

func ratioText(w humidair.HumidityRatio) string { return fmt.Sprintf("%.1f g/kg", 1000*float64(w)) }

func timeText(d time.Duration) string {
	if d < time.Hour {
		return fmt.Sprintf("%.0f min", d.Minutes())
	}
	return fmt.Sprintf("%.1f h", d.Hours())
}

// lagText prints a lag found to the hour.
func lagText(d time.Duration) string {
	if d < time.Hour {
		return "an hour"
	}
	return fmt.Sprintf("%.0f h", d.Hours())
}

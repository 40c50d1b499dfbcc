package refrigerant

import (
	"fmt"
	"math"
	"time"

	"proveout/checks/units"
)

const (
	gasLaw   = "ideal gas at constant volume; UFGS 15217"
	guide    = "JCGM 100:2008, 5.1.2"
	guarded  = "guard band of ILAC-G8:09/2019"
	realGas  = "CoolProp, 24 °C (computed)"
	readings = "reading"
)

func (t StandingTest) steps(r StandingResult) []Step {
	ratio := t.End.Line.Kelvin() / t.Start.Line.Kelvin()
	return []Step{
		{Name: "start, absolute", Formula: "p1 = gauge + barometer", Value: pressureText(t.Start.absolute()), Source: readings},
		{Name: "line at start and end", Formula: "T = t + 273.15", Value: fmt.Sprintf("%s, %s", temperatureText(t.Start.Line), temperatureText(t.End.Line)), Source: readings},
		{Name: "temperature ratio", Formula: "T2/T1", Value: fmt.Sprintf("%.5f", ratio), Source: gasLaw},
		{Name: "expected at end, gauge", Formula: "p1·T2/T1 − barometer", Value: pressureText(r.Expected), Source: gasLaw},
		{Name: "read at end, gauge", Value: pressureText(t.End.Gauge), Source: readings},
		{Name: "loss", Formula: "expected − read", Value: pressureText(r.Loss)},
		{Name: "uncertainty of the loss, k = 2", Formula: "√(ΣU²) of gauges, thermometers, barometers", Value: pressureText(r.Uncertainty), Source: guide},
		{Name: "real gas", Formula: fmt.Sprintf("%.1f %% of the change by temperature", 100*isochoricExcess(t.Start.absolute())), Value: pressureText(r.RealGas), Source: realGas},
		{Name: "allowed loss", Value: pressureText(t.AllowedLoss), Source: "procedure"},
		{Name: "margin", Formula: "allowed − loss − uncertainty − real gas", Value: pressureText(r.Margin), Source: guarded},
		{Name: "held", Value: fmt.Sprintf("%s of %s", durationText(t.Held), durationText(t.Required)), Source: readings},
	}
}

// LeakRate returns the flow in Pa·m³/s that a loss of pressure from an internal
// volume over a time stands for: Δp·V/Δt (EN 1330-8, from memory).
func LeakRate(loss units.Pressure, volume units.Volume, over time.Duration) (float64, error) {
	q := float64(loss) * float64(volume) / over.Seconds()
	if over <= 0 || !(volume > 0) || math.IsNaN(q) || math.IsInf(q, 0) {
		return 0, fmt.Errorf("leak rate: %g Pa, %g m³, %s: volume and time must be above 0 and all finite", loss, volume, over)
	}
	return q, nil
}

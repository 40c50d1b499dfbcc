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
		{"start, absolute", "p1 = gauge + barometer", pressureText(t.Start.absolute()), readings},
		{"line at start and end", "T = t + 273.15", fmt.Sprintf("%s, %s", temperatureText(t.Start.Line), temperatureText(t.End.Line)), readings},
		{"temperature ratio", "T2/T1", fmt.Sprintf("%.5f", ratio), gasLaw},
		{"expected at end, gauge", "p1·T2/T1 − barometer", pressureText(r.Expected), gasLaw},
		{"read at end, gauge", "", pressureText(t.End.Gauge), readings},
		{"loss", "expected − read", pressureText(r.Loss), ""},
		{"uncertainty of the loss, k = 2", "√(ΣU²) of gauges, thermometers, barometers", pressureText(r.Uncertainty), guide},
		{"real gas", fmt.Sprintf("%.1f %% of the change by temperature", 100*isochoricExcess(t.Start.absolute())), pressureText(r.RealGas), realGas},
		{"allowed loss", "", pressureText(t.AllowedLoss), "procedure"},
		{"margin", "allowed − loss − uncertainty − real gas", pressureText(r.Margin), guarded},
		{"held", "", fmt.Sprintf("%s of %s", durationText(t.Held), durationText(t.Required)), readings},
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

package envelope

import (
	"fmt"

	"proveout/checks/units"
)

// Step is one line of a calculation.
type Step = units.Step

func showR(r units.ThermalResistance) string {
	return fmt.Sprintf("%.4f m²·K/W (R-%.2f)", float64(r), RValue(r))
}

func showU(u units.Transmittance) string {
	return fmt.Sprintf("%.4f W/(m²·K) (U-%.4f)", float64(u), IPTransmittance(u))
}

func showLength(l units.Length) string {
	return fmt.Sprintf("%.1f mm (%.2f in)", float64(l)*1000, float64(l)/metersPerInch)
}
